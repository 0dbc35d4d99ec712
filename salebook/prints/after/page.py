"""What stands on several prints after the sale: that figures are not final, what comes off the takings."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from salebook.base.words import _, ngettext
from salebook.event.costs import CostMet
from salebook.event.givers import Giver
from salebook.event.report import Report
from salebook.event.share_out import GroupShare, WayTaken
from salebook.plan.quantities import plain
from salebook.prints.wording import day_in_full


def status_lines(report: Report) -> Iterator[str]:
    """Say that figures are not final, that they are of some days only, or that there is nothing to share."""
    sale = report.plan.sale
    if report.questions:
        says = ngettext(
            "Not final: {count} line needs a look.",
            "Not final: {count} lines need a look.",
            report.to_look_at,
        )
        yield says.format(count=report.to_look_at)
    if report.up_to:
        says = _("Interim: as it stood on the evening of {day}; costs as they are known now.")
        yield says.format(day=day_in_full(report.up_to, sale.locale))
    if report.missing:
        says = _("Nothing to share yet: {sum} is missing until the takings meet what comes off them.")
        yield says.format(sum=sale.format_money(report.missing))


@dataclass(frozen=True, kw_only=True)
class TakenOff:
    """What comes off the takings before they are shared, as positive sums: only what does at this sale."""

    named: tuple[GroupShare, ...]
    fees: tuple[tuple[WayTaken, str], ...]
    """Each with how it is known."""
    costs: tuple[CostMet, ...]
    givers: tuple[Giver, ...]
    total: Decimal

    @property
    def count(self) -> int:
        """How many lines that makes."""
        return len(self.named) + len(self.fees) + len(self.costs) + len(self.givers)


def taken_off(report: Report) -> TakenOff:
    """Return what comes off the takings of a sale."""
    share_out = report.event.share_out
    return TakenOff(
        named=tuple(share for share in share_out.groups if share.named),
        fees=tuple((taken, _fee_note(taken, report)) for taken in share_out.ways if taken.fee),
        costs=tuple(cost for cost in report.event.share_out.costs if cost.line.met_by == "sale"),
        givers=tuple(giver for giver in report.givers if giver.to_giver),
        total=share_out.named + share_out.fees + share_out.costs_met_by_sale + share_out.to_givers,
    )


def _fee_note(taken: WayTaken, report: Report) -> str:
    if taken.payment.name in report.event.entries.actual_fees:
        return _("by the statement")
    way, terms = taken.payment, []
    if way.percent:
        terms.append(_("{percent} %").format(percent=plain(way.percent)))
    if way.fixed:
        terms.append(f"{taken.payments} × {report.plan.sale.format_money(way.fixed)}")
    return " + ".join(terms)
