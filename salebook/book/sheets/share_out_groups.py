"""The groups' table on Share-out: whole units for each, units left over to the largest remainders."""

from collections.abc import Callable
from decimal import Decimal

from salebook.book.figure import Figure
from salebook.book.page import Content, Page
from salebook.event.quotas import Quota, quotas
from salebook.event.receipts import to_pay
from salebook.event.share_out import GroupShare, ShareOut
from salebook.plan.model import Plan
from salebook.words import _


def write_groups(page: Page, plan: Plan, share_out: ShareOut) -> None:
    """Write each group's parts, named gifts, share, what is paid and what is still to pay."""
    page.band(_("Who gets what"))
    page.paragraph(
        _(
            "Each group gets its parts of the money to share in whole {unit}; what is left "
            "over goes one by one to the largest remainders, the group listed first where "
            "they are equal. The grey columns show the steps."
        ).format(unit=_("pence or cents") if plan.sale.digits else _("units")),
        "note",
    )
    _write_headings(page)
    units = int(max(Decimal(0), share_out.pool).scaleb(plan.sale.digits))
    steps = quotas(units, [group.parts for group in plan.beneficiaries])
    first, last = page.row, page.row + len(steps) - 1
    for share, quota in zip(share_out.groups, steps, strict=True):
        _write_group(page, share, quota, first=first, last=last)
    _write_totals(page, share_out, steps, first=first, last=last)
    page.name("group_shares", first, 8, last_row=last)
    page.name("group_so_far", first, 9, last_row=last)
    page.name("group_direct", first, 12, last_row=last)
    left = units - sum(quota.whole for quota in steps)
    row = page.put_row(
        (
            (_("Units left over, one for each of the first in line"), "worked"),
            (None, ""),
            (None, ""),
            (Figure(f"=pool_units-E{last + 1}", left), "worked whole"),
        ),
        first_column=2,
    )
    page.name("units_left", row, 5)
    overpaid = Figure(f'=COUNTIF(K{first}:K{last},"<0")', sum(group.to_pay < 0 for group in share_out.groups))
    row = page.put_row(
        ((_("Groups that were paid too much"), "worked"), (None, ""), (None, ""), (overpaid, "worked whole")),
        first_column=2,
    )
    page.name("overpaid_groups", row, 5)
    page.row += 1


def _write_headings(page: Page) -> None:
    page.headings(
        (
            "=group",
            "=parts",
            "=named",
            "=whole",
            "=remainder",
            "=place",
            "=share",
            "=total",
            "=paid",
            "=to_pay",
            "=direct",
        ),
        (
            _("Group"),
            _("Parts"),
            _("Given for it by name"),
            _("Whole units"),
            _("Remainder"),
            _("Place in line"),
            _("Share of the money to share"),
            _("In all"),
            _("Paid"),
            _("Still to pay"),
            _("Received straight from givers"),
        ),
        section="groups",
    )


def _write_group(page: Page, share: GroupShare, quota: Quota, *, first: int, last: int) -> None:
    row, group = page.row, share.group
    places = page.book.places
    of_group = f"(takings_group=B{row})*1"
    cells: tuple[tuple[Content, str], ...] = (
        ("groups", "key"),
        (Figure(f"={places['beneficiaries', group.name, 'name']}", group.name), "result text"),
        (Figure(f"={places['beneficiaries', group.name, 'parts']}", group.parts), "result whole"),
        (Figure(f"=SUMPRODUCT({of_group},takings_named)", share.named), "result money"),
        # Largest remainder in whole minor units: with fractions in floating point about 1 case in 120 is a
        # unit off. Ties go by place, which the second COUNTIF counts.
        (Figure(f"=INT(pool_units*C{row}/C${last + 1})", quota.whole), "worked whole"),
        (Figure(f"=pool_units*C{row}-C${last + 1}*E{row}", quota.remainder), "worked whole"),
        (
            Figure(f'=COUNTIF(F${first}:F${last},">"&F{row})+COUNTIF(F${first}:F{row},F{row})', quota.place),
            "worked whole",
        ),
        (Figure(f"=(E{row}+(G{row}<=units_left))/minor_units", share.share), "result money"),
        (Figure(f"=D{row}+H{row}", share.total), "total money"),
        (
            Figure(f"=SUMPRODUCT((group_payment_groups=B{row})*1,group_payment_money)", share.paid),
            "result money",
        ),
        (Figure(f"=ROUND(I{row}-J{row},6)", share.to_pay), "total money"),
        (Figure(f"=SUMPRODUCT((way_paid_to=B{row})*1,way_money)", share.direct), "result money"),
    )
    page.put_row(cells)


def _write_totals(
    page: Page, share_out: ShareOut, steps: tuple[Quota, ...], *, first: int, last: int
) -> None:
    def added(column: str) -> str:
        return f"=SUM({column}{first}:{column}{last})"

    def over(value: Callable[[GroupShare], Decimal]) -> Decimal:
        return sum((value(group) for group in share_out.groups), Decimal(0))

    parts = sum(share.group.parts for share in share_out.groups)
    row = page.put_row(
        (
            ("groups", "key"),
            (_("All groups"), "total"),
            (Figure(added("C"), parts), "total whole"),
            (Figure(added("D"), over(lambda g: g.named)), "total money"),
            (Figure(added("E"), sum(quota.whole for quota in steps)), "worked whole"),
            (None, ""),
            (None, ""),
            (Figure(added("H"), over(lambda g: g.share)), "total money"),
            (Figure(added("I"), over(lambda g: g.total)), "total money"),
            (Figure(added("J"), over(lambda g: g.paid)), "total money"),
            (Figure(f'=SUMIF(K{first}:K{last},">0")', to_pay(share_out)), "total money"),
            (Figure(added("L"), over(lambda g: g.direct)), "total money"),
        )
    )
    for name, column in (
        ("groups_named", 4),
        ("shares_total", 8),
        ("paid_total", 10),
        ("to_pay_total", 11),
    ):
        page.name(name, row, column)
