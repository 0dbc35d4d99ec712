"""The agreement with one group, before the sale: its name, its parts, what comes off, and who signs."""

from dataclasses import dataclass
from pathlib import Path

from salebook.base.words import _
from salebook.plan.model import Beneficiary
from salebook.plan.quantities import plain
from salebook.prints.file_name import file_name
from salebook.prints.page import page_html
from salebook.prints.wording import cost_label, money, part_label
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class CostOff:
    """A cost that comes off before the groups get their parts."""

    name: str
    amount: str


def agreement_html(reckoning: Reckoning, group: Beneficiary, *, templates: Path | None = None) -> str:
    """Return the agreement with one group of the plan.

    Raises TemplateFaultError for a faulty template, FileError for a folder of templates that is not there.
    """
    plan = reckoning.plan
    return page_html(
        "agreement.html",
        plan,
        templates=templates,
        group=group,
        part=part_label(group, plan.beneficiaries),
        costs=_costs(reckoning),
        promise=plan.labels.promise,
    )


def agreement_file(group: Beneficiary, number: int) -> str:
    """Return the file name of a group's agreement: its place in the plan and its name in plain letters."""
    return file_name("agreement", number, group.name)


def _costs(reckoning: Reckoning) -> tuple[CostOff, ...]:
    plan = reckoning.plan
    planned = [
        CostOff(name=cost_label(line), amount=_("about {sum}").format(sum=money(line.total, plan.sale)))
        for line in reckoning.costs.lines
        if line.met_by == "sale"
    ]
    fees = [
        CostOff(
            name=_("fee for paying by {way}").format(way=way.name),
            amount=_("{percent} % and {fixed} a sale").format(
                percent=plain(way.percent), fixed=money(way.fixed, plan.sale)
            ),
        )
        for way in plan.payments
        if way.percent or way.fixed
    ]
    kept = [
        CostOff(
            name=_("{name}: what goes back to its giver").format(name=given.name),
            amount=_("{percent} % of its price").format(percent=plain(given.keeps * 100)),
        )
        for given in plan.donated
        if given.keeps
    ]
    return (*planned, *fees, *kept)
