"""The agreement with one group, before the sale: its name, its parts, what comes off, and who signs."""

from salebook.plan.model import Beneficiary
from salebook.prints.render import Printer
from salebook.reckoning import Reckoning


def agreement_html(printer: Printer, reckoning: Reckoning, group: Beneficiary) -> str:
    """Return the agreement with one group of the plan."""
    plan = reckoning.plan
    return printer.fill(
        "agreement.html",
        group=group,
        groups=plan.beneficiaries,
        costs=[line for line in reckoning.costs.lines if line.met_by == "sale"],
        ways=[way for way in plan.payments if way.percent or way.fixed],
        given=[given for given in plan.donated if given.keeps],
        promise=plan.labels.promise,
    )
