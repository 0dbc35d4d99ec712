"""The sheet Cash-up: the cash box of each day, the count of the table, and what reached the bank."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded
from salebook.book.inputs import number_or_none, yes_or_no
from salebook.book.page import Book, Content, Page, number
from salebook.book.sheets.rows import new_page
from salebook.book.sheets.table_count import write_table_count
from salebook.event.cash_up import CashUp
from salebook.event.denominations import Denominations, denominations_for
from salebook.event.entries import Banked, DayCount, Entries
from salebook.event.event import Event
from salebook.event.receipts import banked, cash_elsewhere, money_in
from salebook.event.standing import Standing
from salebook.plan.model import Payment, Plan
from salebook.reckoning import Reckoning
from salebook.words import _

WIDTHS: Final = (3, 13, 10, 20, 16, 12, 12, 12, 13, 12, 12)
COUNTS_ON_A_PAGE: Final = 2
"""As many counts fit on one page; the first stands below the boxes."""
SPARE_BANKED: Final = 8
"""Empty rows for money banked, beyond those filled in."""


@dataclass(frozen=True, kw_only=True)
class Box:
    """One day's cash box on the sheet: what is known of it and the row where it stands."""

    cash_up: CashUp
    typed: DayCount | None
    row: int


def write_cash_up(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Cash-up."""
    page = _write_cash(book, reckoning, event)
    new_page(page)
    write_table_count(page, reckoning, event)
    _write_banked(page, event.entries)


def write_cash_box(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Cash-up of one table: its cash box only."""
    _write_cash(book, reckoning, event, lead=_("This table only. "))


def _write_cash(book: Book, reckoning: Reckoning, event: Event, *, lead: str = "") -> Page:
    page = book.page(_("Cash-up"), widths=WIDTHS, landscape=True)
    page.title(
        _("Cash-up"),
        lead
        + _(
            "Count the float before opening and the box after closing. Two people who are not "
            "of one family count together and both write their name: that protects them as "
            "much as the money. What is paid out of the box is no cost yet: put it on Costs too, if the "
            "sale bears it."
        ),
    )
    boxes = _write_boxes(page, event)
    ways = _write_ways(page, reckoning.plan, event, boxes)
    counts = _write_coins(page, reckoning.plan, boxes)
    for box in boxes:
        _finish_box(page, box, ways=ways, counts=counts[box.row])
    _sum_up(page, reckoning.plan, event, boxes)
    return page


def _write_boxes(page: Page, event: Event) -> list[Box]:
    page.band(_("The cash box, day by day"))
    page.headings(
        (
            "day",
            "till",
            "counted_by",
            "checked_by",
            "float",
            "=takings",
            "paid_out",
            "=expected",
            "=counted",
            "=difference",
        ),
        (
            _("Day"),
            _("Till"),
            _("Who counted"),
            _("Who checked"),
            _("Float at the start"),
            _("Cash taken"),
            _("Paid out of the box"),
            _("Should be in the box"),
            _("Counted, from below"),
            _("Difference"),
        ),
        section="cash",
    )
    typed = {(count.day, count.till): count for count in event.entries.cash}
    boxes = [_write_box(page, cash_up, typed.get((cash_up.day, cash_up.till))) for cash_up in event.cash_ups]
    amounts = [f"{letter}{boxes[0].row}:{letter}{boxes[-1].row}" for letter in "FH"]
    for cells in amounts:
        page.number_only(cells, says=_("An amount, not below 0, is expected here"))
    return boxes


def _write_box(page: Page, cash_up: CashUp, typed: DayCount | None) -> Box:
    row = page.put_row(
        (
            ("cash", "key"),
            (cash_up.day, "label date"),
            (cash_up.till, "label"),
            (typed.counted_by if typed else None, "input text"),
            (typed.checked_by if typed else None, "input text"),
            (number(typed.float_) if typed and typed.float_ else None, "input money"),
            (None, ""),
            (number(typed.paid_out) if typed and typed.paid_out else None, "input money"),
        )
    )
    return Box(cash_up=cash_up, typed=typed, row=row)


def _finish_box(page: Page, box: Box, *, ways: tuple[int, int], counts: tuple[int, int]) -> None:
    """Put the results of one day's box, now that the rows they add up are known."""
    row, cash_up = box.row, box.cash_up
    taken = _of_box(row, *ways, f'($E${ways[0]}:$E${ways[1]}="yes")')
    counted = f"E{counts[0]}:E{counts[1]}"
    results: tuple[tuple[str, Content], ...] = (
        ("result money", Figure(f"={taken}", cash_up.cash_takings)),
        (
            "result money",
            Figure(f"={money_rounded(f'F{row}+G{row}-H{row}')}", cash_up.float_ + cash_up.expected),
        ),
        (
            "result money",
            Figure(f'=IF(COUNT({counted})=0,"",SUM(F{counts[0]}:F{counts[1]}))', _known(cash_up.counted)),
        ),
        (
            "total money",
            Figure(f'=IF(J{row}="","",{money_rounded(f"J{row}-I{row}")})', _known(cash_up.difference)),
        ),
    )
    for column, (style, figure) in zip((7, 9, 10, 11), results, strict=True):
        page.put(row, column, figure, style)
    page.mark(f"K{row}", f"AND(ISNUMBER(K{row}),K{row}<>0)")


def _of_box(row: int, first: int, last: int, condition: str) -> str:
    of_day = f"($B${first}:$B${last}=B{row})*($C${first}:$C${last}=C{row})"
    return f"SUMPRODUCT({of_day}*{condition},$F${first}:$F${last})"


def _known(amount: Decimal | None) -> Decimal | str:
    return "" if amount is None else amount


def _write_ways(page: Page, plan: Plan, event: Event, boxes: Sequence[Box]) -> tuple[int, int]:
    """Write what came in by each way to pay on each day; return the first and last row."""
    page.row += 1
    page.band(_("What came in, by day and way to pay"))
    page.headings(
        ("day", "till", "=way", "=cash", "=money"),
        (_("Day"), _("Till"), _("Way to pay"), _("In the cash box"), _("Money that arrived")),
        section="days",
    )
    first = page.row
    several_tills = len({box.cash_up.till for box in boxes}) > 1
    for box in boxes:
        for way in plan.payments:
            _write_way(page, event.standing, box.cash_up, way, several_tills=several_tills)
    return first, page.row - 1


def _write_way(page: Page, standing: Standing, cash_up: CashUp, way: Payment, *, several_tills: bool) -> None:
    row = page.row
    of_till = f'*(takings_till&""=C{row})' if several_tills else ""
    money = f"=SUMPRODUCT((takings_day=B{row})*(takings_way=D{row}){of_till},takings_money)"
    till = cash_up.till if several_tills else None
    name, cash, paid_to = (page.book.places["payments", way.name, key] for key in ("name", "cash", "paid_to"))
    page.put_row(
        (
            ("days", "key"),
            (cash_up.day, "label date"),
            (cash_up.till, "label"),
            (Figure(f"={name}", way.name), "result text"),
            (
                Figure(
                    f'=IF(AND({cash}="yes",{paid_to}=""),"yes","no")',
                    yes_or_no(way.cash and not way.paid_to),
                ),
                "result text",
            ),
            (Figure(money, money_in(standing, day=cash_up.day, way=way.name, till=till)), "result money"),
        )
    )


def _write_coins(page: Page, plan: Plan, boxes: Sequence[Box]) -> dict[int, tuple[int, int]]:
    """Write a count of coins and notes for each box; return its first and last row by the box's row."""
    known = denominations_for(plan.sale.currency, plan.sale.denominations)
    page.row += 1
    page.band(_("The count, by coin and note"))
    page.paragraph(_source_of(known, plan.sale.currency), "note" if known.known else "warn")
    counts = {}
    for nth, box in enumerate(boxes, start=1):
        if nth % COUNTS_ON_A_PAGE == 0:
            new_page(page)
        counts[box.row] = _write_count(page, box, known)
    return counts


def _source_of(known: Denominations, currency: str) -> str:
    if not known.known:
        return _(
            "The coins and notes of {currency} are not known here: a usual series stands in their place. "
            "Write yours on Plan (coins and notes) and renew the book."
        ).format(currency=currency)
    if known.source == "sale.denominations":
        return _("Coins and notes as the plan names them.")
    return _(
        "Coins and notes of {currency}: {source}. Others: name yours on Plan and renew the book."
    ).format(currency=currency, source=known.source)


def _write_count(page: Page, box: Box, known: Denominations) -> tuple[int, int]:
    typed = box.typed.counts if box.typed else {}
    page.headings(
        ("day", "till", "denomination", "count", "=worth"),
        (_("Day"), _("Till"), _("Coin or note"), _("How many"), _("Worth")),
        section="coins",
    )
    first = page.row
    for face in sorted({*known.values, *typed}, reverse=True):
        row = page.row
        count = typed.get(face)
        page.put_row(
            (
                ("coins", "key"),
                (box.cash_up.day, "worked date"),
                (box.cash_up.till, "worked"),
                (number(face), "label money"),
                (count, "input whole"),
                (Figure(f"=D{row}*E{row}", face * (count or 0)), "result money"),
            )
        )
    page.number_only(
        f"E{first}:E{page.row - 1}", says=_("How many coins or notes: a whole number, not below 0")
    )
    last = page.row - 1
    page.row += 1
    return first, last


def _sum_up(page: Page, plan: Plan, event: Event, boxes: Sequence[Box]) -> None:
    """Write how many boxes differ, and cash taken on days that have no box here."""
    first, last = boxes[0].row, boxes[-1].row
    differing = sum(bool(box.cash_up.difference) for box in boxes)
    cash = 'SUMPRODUCT((way_cash="yes")*(way_paid_to=""),way_money)'
    elsewhere = f"={money_rounded(f'{cash}-SUM(G{first}:G{last})')}"
    page.band(_("Checks"))
    rows = (
        (
            "cash_differences",
            _("Boxes whose count differs"),
            Figure(f"=SUMPRODUCT(ISNUMBER(K{first}:K{last})*(K{first}:K{last}<>0))", differing),
            "result whole",
        ),
        (
            "cash_elsewhere",
            _("Cash taken on days that have no box here"),
            Figure(elsewhere, cash_elsewhere(plan, event.standing, event.cash_ups)),
            "result money",
        ),
    )
    for name, label, figure, style in rows:
        row = page.put_row(
            ((label, "label"), (None, ""), (None, ""), (None, ""), (figure, style)), first_column=2
        )
        page.name(name, row, 6)
    page.row += 1


def _write_banked(page: Page, entries: Entries) -> None:
    page.band(_("Banked"))
    page.headings(
        ("day", "", "what", "expected", "arrived", "=difference"),
        (_("Day"), "", _("What"), _("Expected"), _("Arrived"), _("Difference")),
        section="bank",
    )
    first = page.row
    rows: list[Banked | None] = [*entries.banked, *[None] * SPARE_BANKED]
    for entry in rows:
        _write_banked_row(page, entry)
    last = page.row - 1
    page.number_only(f"E{first}:F{last}", says=_("An amount, not below 0, is expected here"))
    page.mark(f"G{first}:G{last}", f"AND(ISNUMBER(G{first}),G{first}<>0)")
    row = page.put_row(
        (
            (_("All that arrived in the bank"), "label"),
            (None, ""),
            (None, ""),
            (None, ""),
            (Figure(f"=SUM(F{first}:F{last})", banked(entries)), "total money"),
        ),
        first_column=2,
    )
    page.name("banked_arrived", row, 6)


def _write_banked_row(page: Page, entry: Banked | None) -> None:
    row = page.row
    both = entry is not None and entry.expected is not None and entry.arrived is not None
    difference = entry.arrived - entry.expected if both else ""  # type: ignore[union-attr,operator] # both are known
    page.put_row(
        (
            ("bank", "key"),
            (entry.day if entry else None, "input date"),
            (None, ""),
            (entry.what if entry else None, "input text"),
            (number_or_none(entry.expected if entry else None), "input money"),
            (number_or_none(entry.arrived if entry else None), "input money"),
            (
                Figure(f'=IF(COUNT(E{row}:F{row})<2,"",{money_rounded(f"F{row}-E{row}")})', difference),
                "result money",
            ),
        )
    )
