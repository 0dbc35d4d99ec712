"""What stands on several prints after the sale: that figures are not final, what comes off the takings."""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from salebook.base.words import _, ngettext
from salebook.event.bank import WayBanked
from salebook.event.costs import CostMet
from salebook.event.givers import GivenPieces, Giver
from salebook.event.report import Report
from salebook.event.share_out import GroupShare, WayTaken
from salebook.plan.model import Sale
from salebook.plan.money import rounded
from salebook.plan.quantities import plain
from salebook.prints.wording import day_in_full, figure, listed


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
        yield nothing_to_share(report)


def nothing_to_share(report: Report) -> str:
    """Say what the takings fall short of what comes off them."""
    says = _("Nothing to share yet: {sum} is missing until the takings meet what comes off them.")
    return says.format(sum=report.plan.sale.format_money(report.missing))


@dataclass(frozen=True, kw_only=True)
class TakenOff:
    """What comes off the takings before they are shared, as positive sums: only what does at this sale."""

    named: tuple[GroupShare, ...]
    fees: tuple[tuple[WayTaken, str], ...]
    """Each with how it is known."""
    costs: tuple[CostMet, ...]
    givers: tuple[tuple[Giver, str], ...]
    """Each with what the part is taken of."""
    total: Decimal

    @property
    def count(self) -> int:
        """How many lines that makes."""
        return len(self.named) + len(self.fees) + len(self.costs) + len(self.givers)


def taken_off(report: Report) -> TakenOff:
    """Return what comes off the takings of a sale."""
    share_out, sale = report.event.share_out, report.plan.sale
    return TakenOff(
        named=tuple(share for share in share_out.groups if share.named),
        fees=tuple((taken, _fee_note(taken, report)) for taken in share_out.ways if taken.fee),
        costs=tuple(cost for cost in report.event.share_out.costs if cost.line.met_by == "sale"),
        givers=tuple((giver, _giver_note(giver, sale)) for giver in report.givers if giver.to_giver),
        total=share_out.named + share_out.fees + share_out.costs_met_by_sale + share_out.to_givers,
    )


def _fee_note(taken: WayTaken, report: Report) -> str:
    """Say what a fee was taken on, so that a hand reaches it."""
    if taken.payment.name in report.event.entries.actual_fees:
        return _("by the statement")
    way, sale, count = taken.payment, report.plan.sale, taken.payments
    has_refunds = taken.money != taken.positive
    if not way.percent:
        says = ngettext("{each} for {count} payment", "{each} for each of {count} payments", count)
    elif not way.fixed:
        says = _("{percent} % of {sum}, before refunds") if has_refunds else _("{percent} % of {sum}")
    elif has_refunds:
        says = ngettext(
            "{percent} % of {sum}, before refunds, and {each} for {count} payment",
            "{percent} % of {sum}, before refunds, and {each} for each of {count} payments",
            count,
        )
    else:
        says = ngettext(
            "{percent} % of {sum}, and {each} for {count} payment",
            "{percent} % of {sum}, and {each} for each of {count} payments",
            count,
        )
    sums = {"sum": in_figures(taken.positive, sale), "each": in_figures(way.fixed, sale)}
    return says.format(percent=plain(way.percent), count=count, **sums)


def _giver_note(giver: Giver, sale: Sale) -> str:
    """Say of what a giver's part is taken."""
    return listed([_given_terms(row, sale) for row in giver.pieces if row.to_giver], sale.locale)


def _given_terms(row: GivenPieces, sale: Sale) -> str:
    is_exact = rounded(row.given.keeps * row.shared, sale.digits) == row.to_giver
    says = _("{percent} % of {sum}") if is_exact else _("{percent} % of {sum}, rounded for each piece")
    return says.format(percent=plain(row.given.keeps * 100), sum=in_figures(row.shared, sale))


def in_figures(amount: Decimal, sale: Sale) -> str:
    """Write a sum as it stands in a column of figures."""
    return figure(amount, currency=sale.currency, locale=sale.locale)


def reason_label(way: WayBanked) -> str:
    """Say why more or less arrived in the bank than should, or that nobody does; nothing where it did not."""
    if way.is_open:
        return _("open")
    return _("explained: {reason}").format(reason=_(way.reason)) if way.difference else ""
