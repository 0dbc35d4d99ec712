"""The groups' table on Share-out: whole units for each, units left over to the largest remainders."""

from collections.abc import Sequence
from decimal import Decimal

from salebook.base.words import N_, _
from salebook.book.column import Sum
from salebook.book.figure import Figure, Value
from salebook.book.page import Page
from salebook.book.table import Table, put_line
from salebook.event.share_out import GroupShare, ShareOut
from salebook.plan.model import Plan
from salebook.plan.money import Quota, quotas


def groups_table() -> Table[tuple[GroupShare, Quota]]:
    """Declare the table: each group's parts, named gifts, share, what is paid and what is still to pay."""
    table: Table[tuple[GroupShare, Quota]] = Table(
        "groups", N_("Share-out"), record=lambda row: row[0].group.name
    )
    named = "SUMPRODUCT((takings_group=[group])*1,takings_named)"
    # Largest remainder in whole minor units: with fractions in floating point about 1 case in 120 is a unit
    # off. Ties go by place, which the second COUNTIF counts.
    whole, remainder = "INT(pool_units*[parts]/[parts+])", "pool_units*[parts]-[parts+]*[whole]"
    place = 'COUNTIF([remainder:],">"&[remainder])+COUNTIF([remainder^],[remainder])'
    share = "([whole]+([place]<=units_left))/minor_units"
    paid = "SUMPRODUCT((group_payment_groups=[group])*1,group_payment_money)"
    owed = Sum("to_pay_total", 'SUMIF([to_pay:],">0")', _owed)
    direct = "SUMPRODUCT((way_paid_to=[group])*1,way_money)"
    table.live("=group", _("Group"), "text", "[beneficiaries.name]", lambda row: row[0].group.name)
    table.live(
        "=parts", _("Parts"), "whole", "[beneficiaries.parts]", lambda row: row[0].group.parts, total=Sum()
    )
    table.live("=named", _("Given for it by name"), "money", named, total=Sum("groups_named"))
    table.live("=whole", _("Whole units"), "worked whole", whole, total=Sum())
    table.live("=remainder", _("Remainder"), "worked whole", remainder)
    table.live("=place", _("Place in line"), "worked whole", place)
    table.live(
        "=share",
        _("Share of the money to share"),
        "money",
        share,
        name="group_shares",
        total=Sum("shares_total"),
    )
    table.live("=total", _("In all"), "total money", "[named]+[share]", name="group_so_far", total=Sum())
    table.live("=paid", _("Paid"), "money", paid, total=Sum("paid_total"))
    table.live("=to_pay", _("Still to pay"), "total money", "ROUND([total]-[paid],6)", total=owed)
    table.live(
        "=direct", _("Received straight from givers"), "money", direct, name="group_direct", total=Sum()
    )
    table.total(_("All groups"))
    return table


def _owed(rows: Sequence[tuple[GroupShare, Quota]]) -> Value:
    return sum((max(Decimal(0), share.to_pay) for share, _quota in rows), Decimal(0))


def write_groups(page: Page, plan: Plan, share_out: ShareOut) -> None:
    """Write the groups' table and, below it, the units left over and the groups paid too much."""
    page.band(_("Who gets what"))
    page.paragraph(
        _(
            "Each group gets its parts of the money to share in whole {unit}; what is left "
            "over goes one by one to the largest remainders, the group listed first where "
            "they are equal. The grey columns show the steps."
        ).format(unit=_("pence or cents") if plan.sale.digits else _("units")),
        "note",
    )
    units = int(max(Decimal(0), share_out.pool).scaleb(plan.sale.digits))
    steps = quotas(units, [group.parts for group in plan.beneficiaries])
    groups = groups_table().write(page, list(zip(share_out.groups, steps, strict=True)))
    left = Figure("=pool_units-[groups.whole+]", units - sum(quota.whole for quota in steps))
    overpaid = Figure('=COUNTIF([groups.to_pay:],"<0")', sum(group.to_pay < 0 for group in share_out.groups))
    lines = (
        ("units_left", _("Units left over, one for each of the first in line"), left),
        ("overpaid_groups", _("Groups that were paid too much"), overpaid),
    )
    for name, label, figure in lines:
        put_line(
            page,
            label,
            figure,
            "worked whole",
            name=name,
            column=groups.column("whole"),
            label_style="worked",
        )
    page.row += 1
