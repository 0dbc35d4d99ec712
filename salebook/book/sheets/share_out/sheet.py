"""The sheet Share-out: from the takings to each group's share, to the last penny, and what is to pay."""

from decimal import Decimal
from typing import Final, get_args

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, quoted
from salebook.book.page import Book, Page
from salebook.book.row_height import new_page
from salebook.book.sheets.share_out.groups import write_groups
from salebook.book.table import Table, put_line
from salebook.event.entries import Entries, GroupPayment, LineKind
from salebook.event.event import Event
from salebook.event.receipts import banked, money_in, paid_to_groups, ready_to_pay, to_pay
from salebook.event.share_out import ShareOut, WayTaken
from salebook.event.state import EventState
from salebook.reckoning import Reckoning

WIDTHS: Final = (3, 33, 14, 13, 12, 12, 12, 13, 13, 13, 13, 13)
SPARE_PAYMENTS: Final = 12
"""Empty rows for payments to groups, beyond those filled in."""


def write_share_out(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Share-out."""
    page = book.page(N_("Share-out"), widths=WIDTHS, landscape=True)
    page.title(
        _("Share-out"),
        _(
            "What came in, what comes off, and what each group gets. Pay only what has "
            "reached the bank; late money is a second payment."
        ),
    )
    _write_sum(page, event.share_out, digits=reckoning.plan.sale.digits)
    write_groups(page, reckoning.plan, event.share_out)
    _write_bank(page, event)
    _write_payments(page, event.entries)
    new_page(page)
    _write_ways(page, event)
    _write_kinds(page, event.state)


def _write_sum(page: Page, share_out: ShareOut, *, digits: int) -> None:
    page.band(_("The money to share"))
    for name, label, formula, value, note in _lines_of_sum(share_out):
        put_line(page, label, Figure(formula, value), "result money", name=name, note=(note, "note"))
    pool = "takings_total-named_total-fees_total-costs_taken_off-to_givers_total"
    short = _("The takings do not yet meet the costs: nothing to share.")
    said = Figure(f'=IF(pool<0,{quoted(short)},"")', short if share_out.pool < 0 else "")
    total = Figure(f"={money_rounded(pool)}", share_out.pool)
    put_line(
        *(page, _("Money to share"), total, "total money"),
        name="pool",
        note=(said, "remark"),
        label_style="total",
    )
    units = Figure("=ROUND(MAX(0,pool)*minor_units,0)", int(max(Decimal(0), share_out.pool).scaleb(digits)))
    put_line(
        *(page, _("The same in the smallest coins"), units, "worked whole"),
        name="pool_units",
        label_style="worked",
    )
    page.row += 1


def _lines_of_sum(share_out: ShareOut) -> tuple[tuple[str, str, str, Decimal, str], ...]:
    """Return name, label, formula, value and note of each line above the money to share."""
    return (
        (
            "direct_total",
            _("Paid straight to groups, beside this"),
            '=SUMPRODUCT((way_paid_to<>"")*1,way_money)',
            share_out.direct,
            _("counts for the target, not for what is shared"),
        ),
        (
            "takings_total",
            _("Takings"),
            "=SUM(takings_money)-direct_total",
            share_out.takings,
            _("all else that arrived, see below"),
        ),
        (
            "named_total",
            _("less: given for a group by name"),
            "=SUM(takings_named)",
            share_out.named,
            _("goes to that group in full"),
        ),
        (
            "fees_total",
            _("less: fees of the ways to pay"),
            "=SUM(way_fees)",
            share_out.fees,
            _("by the plan, or the statement's where it is filled in below"),
        ),
        (
            "costs_taken_off",
            _("less: costs that the takings meet"),
            "=costs_met_by_sale_now",
            share_out.costs_met_by_sale,
            _("from Costs: actual where filled in, else as planned"),
        ),
        (
            "to_givers_total",
            _("less: givers' parts of pieces sold"),
            "=SUM(pieces_to_giver)",
            share_out.to_givers,
            _("from Pieces"),
        ),
    )


def ways_table() -> Table[tuple[WayTaken, Decimal | None]]:
    """Declare the table of the ways to pay; beside what came in stands the fee on the statement."""
    table: Table[tuple[WayTaken, Decimal | None]] = Table(
        "ways", N_("Share-out"), record=lambda row: row[0].payment.name, needed="sale"
    )

    def of_way(column: str) -> str:
        return f"SUMPRODUCT((takings_way=[way])*1,{column})"

    straight = 'IF([payments.paid_to]="","",[payments.paid_to])'
    fee = money_rounded("[payments.percent]/100*[taken]+[payments.fixed]*[payments]")
    counts = "IF(ISNUMBER([actual_fee]),[actual_fee],[planned_fee])"
    table.live("=way", _("Way to pay"), "text", "[payments.name]", lambda row: row[0].payment.name, read=True)
    table.live("=paid_to", _("Straight to"), "text", straight, lambda row: row[0].payment.paid_to)
    table.live("=money", _("Money that arrived"), "money", of_way("takings_money"), name="way_money")
    table.live(
        *("=taken", _("Without refunds"), "worked money", of_way("takings_positive")),
        lambda row: row[0].positive,
    )
    table.live("=payments", _("Payments"), "worked whole", of_way("takings_is_payment"))
    table.live("=planned_fee", _("Fee by the plan"), "money", fee)
    table.input("actual_fee", _("Fee on the statement"), "money", lambda row: row[1])
    table.live("=fee", _("Fee that counts"), "total money", counts, name="way_fees")
    table.live("=waiting", _("Not yet arrived"), "money", of_way("takings_waiting_money"))
    return table


def kinds_table() -> Table[tuple[LineKind, Decimal]]:
    """Declare the table of what came in by each kind of line."""
    table: Table[tuple[LineKind, Decimal]] = Table("kinds", N_("Share-out"))
    money = "SUMPRODUCT((takings_kind=[kind])*1,takings_money)"
    table.fixed("=kind", _("Kind"), "label", lambda row: row[0])
    table.live("=money", _("Money that arrived"), "money", money, lambda row: row[1])
    return table


def paid_table() -> Table[GroupPayment]:
    """Declare the table of payments to groups."""
    table: Table[GroupPayment] = Table("paid", N_("Share-out"), needed="sale")
    groups = _("Choose one of the groups on Plan")
    table.input(
        *("group", _("Group"), "text"), choices="group_names", says=groups, name="group_payment_groups"
    )
    table.input("day", _("Day"), "date")
    table.input("amount", _("Amount"), "money", name="group_payment_money")
    table.input("reference", _("Reference"), "text")
    return table


def _write_ways(page: Page, event: Event) -> None:
    page.band(_("What came in, by way to pay"))
    fees = event.entries.actual_fees
    ways = ways_table().write(page, [(way, fees.get(way.payment.name)) for way in event.share_out.ways])
    unknown = Figure("=SUM(takings_money)-SUM([ways.money:])", money_in(event.state, way=""))
    put_line(
        *(page, _("No way to pay named"), unknown, "result money"),
        name="money_without_way",
        column=ways.column("money"),
    )
    page.row += 1


def _write_kinds(page: Page, state: EventState) -> None:
    page.band(_("What came in, by kind"))
    kinds_table().write(page, [(kind, money_in(state, kind=kind)) for kind in get_args(LineKind)])
    total = Figure("=SUM(takings_money)", money_in(state))
    put_line(page, _("All"), total, "total money", label_style="total")
    page.row += 1


def _write_bank(page: Page, event: Event) -> None:
    page.band(_("What can be paid now"))
    entries, share_out = event.entries, event.share_out
    rows: tuple[tuple[str, str, Decimal, str], ...] = (
        (_("Arrived in the bank"), "=banked_arrived", banked(entries), "result money"),
        (_("Paid to groups so far"), "=SUM(group_payment_money)", paid_to_groups(entries), "result money"),
        (_("Still to pay"), "=to_pay_total", to_pay(share_out), "result money"),
        (
            _("Of it in the bank: pay this now"),
            "=MAX(0,MIN(to_pay_total,banked_arrived-SUM(group_payment_money)))",
            ready_to_pay(entries, share_out),
            "total money",
        ),
    )
    for label, formula, value, style in rows:
        put_line(page, label, Figure(formula, value), style)
    page.row += 1


def _write_payments(page: Page, entries: Entries) -> None:
    page.band(_("Payments to groups"))
    paid_table().write(page, entries.payments, spare=SPARE_PAYMENTS)
    page.row += 1
