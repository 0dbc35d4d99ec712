"""How each group's share is reached from the money to share, so that a hand reaches it too."""

from collections.abc import Mapping

from salebook.base.words import _, ngettext
from salebook.event.report import Report
from salebook.plan.money import ZERO, Quota, in_units, quotas
from salebook.prints.after.page import in_figures


def share_words(report: Report) -> Mapping[str, str]:
    """Say of each group's share, by its name, which parts of what it is, and how it was rounded."""
    groups, left_over = report.plan.beneficiaries, _left_over(report)
    return {
        group.name: _phrase(step, report, takes_one=step.place <= left_over).format(
            parts=group.parts,
            total=sum(each.parts for each in groups),
            pool=in_figures(report.event.share_out.pool, report.plan.sale),
            unit=in_figures(in_units(1, report.plan.sale.digits), report.plan.sale),
        )
        for group, step in zip(groups, _steps(report), strict=True)
    }


def _phrase(step: Quota, report: Report, *, takes_one: bool) -> str:
    if report.missing:
        return _("{parts} of {total} parts, but there is nothing to share")
    if len(report.plan.beneficiaries) == 1:
        return _("all of {pool}")
    if not step.remainder:
        return _("{parts} of {total} parts of {pool}")
    if takes_one:
        return _("{parts} of {total} parts of {pool}, rounded down, and {unit} left over")
    return _("{parts} of {total} parts of {pool}, rounded down")


def left_over_sentence(report: Report) -> str:
    """Say who gets what rounding the shares down leaves over; nothing where it leaves nothing."""
    sale, count = report.plan.sale, _left_over(report)
    if not count:
        return ""
    says = ngettext(
        "Rounding down leaves {sum} over: it goes to the group that rounding took most from, the one listed "
        "first where it took the same.",
        "Rounding down leaves {sum} over: {unit} each goes to the {count} groups that rounding took most "
        "from, those listed first where it took the same.",
        count,
    )
    return says.format(
        sum=sale.format_money(in_units(count, sale.digits)),
        unit=sale.format_money(in_units(1, sale.digits)),
        count=count,
    )


def _steps(report: Report) -> tuple[Quota, ...]:
    return quotas(_units(report), [group.parts for group in report.plan.beneficiaries])


def _units(report: Report) -> int:
    """Return the money to share in whole minor units."""
    return int(max(ZERO, report.event.share_out.pool).scaleb(report.plan.sale.digits))


def _left_over(report: Report) -> int:
    return _units(report) - sum(step.whole for step in _steps(report))
