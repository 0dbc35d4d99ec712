"""The sheet Share-out: from the takings to each group's share, to the last penny, and what is to pay."""

from decimal import Decimal
from typing import Final, get_args

from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, quoted
from salebook.book.inputs import number_or_none
from salebook.book.page import Book, Page, number
from salebook.book.sheets.rows import new_page
from salebook.book.sheets.share_out_groups import write_groups
from salebook.event.entries import Entries, GroupPayment, LineKind
from salebook.event.event import Event
from salebook.event.receipts import banked, money_in, paid_to_groups, ready_to_pay, to_pay
from salebook.event.share_out import ShareOut, WayTaken
from salebook.event.standing import Standing
from salebook.reckoning import Reckoning
from salebook.words import _

WIDTHS: Final = (3, 33, 14, 13, 12, 12, 12, 13, 13, 13, 13, 13)
SPARE_PAYMENTS: Final = 12
"""Empty rows for payments to groups, beyond those filled in."""


def write_share_out(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Share-out."""
    page = book.page(_("Share-out"), widths=WIDTHS, landscape=True)
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
    _write_kinds(page, event.standing)


def _write_sum(page: Page, share_out: ShareOut, *, digits: int) -> None:
    page.band(_("The money to share"))
    for name, label, formula, value, note in _lines_of_sum(share_out):
        row = page.put_row(
            ((label, "label"), (Figure(formula, value), "result money"), (note, "note")), first_column=2
        )
        page.name(name, row, 3)
    pool = "takings_total-named_total-fees_total-costs_taken_off-to_givers_total"
    short = _("The takings do not yet meet the costs: nothing to share.")
    said = Figure(f'=IF(pool<0,{quoted(short)},"")', short if share_out.pool < 0 else "")
    row = page.put_row(
        (
            (_("Money to share"), "total"),
            (Figure(f"={money_rounded(pool)}", share_out.pool), "total money"),
            (said, "remark"),
        ),
        first_column=2,
    )
    page.name("pool", row, 3)
    units = Figure("=ROUND(MAX(0,pool)*minor_units,0)", int(max(Decimal(0), share_out.pool).scaleb(digits)))
    row = page.put_row(
        ((_("The same in the smallest coins"), "worked"), (units, "worked whole")), first_column=2
    )
    page.name("pool_units", row, 3)
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


def _write_ways(page: Page, event: Event) -> None:
    page.band(_("What came in, by way to pay"))
    page.headings(
        (
            "=way",
            "=paid_to",
            "=money",
            "=taken",
            "=payments",
            "=planned_fee",
            "actual_fee",
            "=fee",
            "=waiting",
        ),
        (
            _("Way to pay"),
            _("Straight to"),
            _("Money that arrived"),
            _("Without refunds"),
            _("Payments"),
            _("Fee by the plan"),
            _("Fee on the statement"),
            _("Fee that counts"),
            _("Not yet arrived"),
        ),
        section="ways",
    )
    first = page.row
    for taken in event.share_out.ways:
        _write_way(page, taken, event.entries.actual_fees.get(taken.payment.name))
    last = page.row - 1
    page.number_only(f"H{first}:H{last}", says=_("An amount, not below 0, is expected here"))
    page.name("way_money", first, 4, last_row=last)
    page.name("way_fees", first, 9, last_row=last)
    unknown = Figure(f"=SUM(takings_money)-SUM(D{first}:D{last})", money_in(event.standing, way=""))
    row = page.put_row(
        (("ways", "key"), (_("No way to pay named"), "label"), (None, ""), (unknown, "result money"))
    )
    page.name("money_without_way", row, 4)
    page.row += 1


def _write_way(page: Page, taken: WayTaken, actual_fee: Decimal | None) -> None:
    row, way = page.row, taken.payment
    places = page.book.places
    of_way = f"(takings_way=B{row})*1"
    at = {key: places["payments", way.name, key] for key in ("name", "percent", "fixed", "paid_to")}
    fee = money_rounded(f"{at['percent']}/100*E{row}+{at['fixed']}*F{row}")
    page.put_row(
        (
            ("ways", "key"),
            (Figure(f"={at['name']}", way.name), "result text"),
            (Figure(f'=IF({at["paid_to"]}="","",{at["paid_to"]})', way.paid_to), "result text"),
            (Figure(f"=SUMPRODUCT({of_way},takings_money)", taken.money), "result money"),
            (Figure(f"=SUMPRODUCT({of_way},takings_positive)", taken.positive), "worked money"),
            (Figure(f"=SUMPRODUCT({of_way},takings_is_payment)", taken.payments), "worked whole"),
            (Figure(f"={fee}", taken.planned_fee), "result money"),
            (number_or_none(actual_fee), "input money"),
            (Figure(f"=IF(ISNUMBER(H{row}),H{row},G{row})", taken.fee), "total money"),
            (Figure(f"=SUMPRODUCT({of_way},takings_waiting_money)", taken.waiting), "result money"),
        )
    )


def _write_kinds(page: Page, standing: Standing) -> None:
    page.band(_("What came in, by kind"))
    page.headings(("=kind", "=money"), (_("Kind"), _("Money that arrived")), section="kinds")
    for kind in get_args(LineKind):
        formula = f"=SUMPRODUCT((takings_kind=B{page.row})*1,takings_money)"
        figure = Figure(formula, money_in(standing, kind=kind))
        page.put_row((("kinds", "key"), (kind, "label"), (figure, "result money")))
    total = Figure("=SUM(takings_money)", money_in(standing))
    page.put_row((("kinds", "key"), (_("All"), "total"), (total, "total money")))
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
        page.put_row(((label, "label"), (Figure(formula, value), style)), first_column=2)
    page.row += 1


def _write_payments(page: Page, entries: Entries) -> None:
    page.band(_("Payments to groups"))
    page.headings(
        ("group", "day", "amount", "reference"),
        (_("Group"), _("Day"), _("Amount"), _("Reference")),
        section="paid",
    )
    first = page.row
    payments: list[GroupPayment | None] = [*entries.payments, *[None] * SPARE_PAYMENTS]
    for payment in payments:
        page.put_row(
            (
                ("paid", "key"),
                (payment.group if payment else None, "input text"),
                (payment.day if payment else None, "input date"),
                (number(payment.amount) if payment else None, "input money"),
                (payment.reference if payment else None, "input text"),
            )
        )
    last = page.row - 1
    page.choose(f"B{first}:B{last}", "group_names", says=_("Choose one of the groups on Plan"))
    page.number_only(f"D{first}:D{last}", says=_("An amount, not below 0, is expected here"))
    page.name("group_payment_groups", first, 2, last_row=last)
    page.name("group_payment_money", first, 4, last_row=last)
    page.row += 1
