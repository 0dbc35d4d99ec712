"""The sheet Cash-up: the cash box of each day, the count of the table, and what reached the bank."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded
from salebook.book.inputs import yes_or_no
from salebook.book.page import Book, Page
from salebook.book.row_height import new_page
from salebook.book.sheets.cash_up.table_count import write_table_count
from salebook.book.table import Table, put_line
from salebook.event.bank import REASONS, WayBanked, arrived_without_way, ways_banked
from salebook.event.cash_up import CashUp
from salebook.event.denominations import Denominations, denominations_for
from salebook.event.entries import Banked, DayCount, Entries
from salebook.event.event import Event
from salebook.event.receipts import banked, cash_elsewhere, money_in
from salebook.plan.model import Payment, Plan
from salebook.plan.money import ZERO
from salebook.reckoning import Reckoning

WIDTHS: Final = (3, 13, 10, 20, 16, 12, 12, 12, 13, 12, 20)
COUNTS_ON_A_PAGE: Final = 2
"""As many counts fit on one page; the first stands below the boxes."""
SPARE_BANKED: Final = 8
"""Empty rows for money banked, beyond those filled in."""


@dataclass(frozen=True, kw_only=True)
class Box:
    """One day's cash box: what is known of it, and what was filled in."""

    cash_up: CashUp
    typed: DayCount

    @property
    def name(self) -> str:
        """The name of the box's own count of coins."""
        return f"{self.cash_up.day}/{self.cash_up.till}"


@dataclass(frozen=True, kw_only=True)
class DayWay:
    """One way to pay on one day."""

    day: date
    till: str
    way: Payment
    money: Decimal
    of_till: str
    """What the formula asks beside the day, where there are several tills."""


@dataclass(frozen=True, kw_only=True)
class Coin:
    """One coin or note in the count of a box."""

    day: date
    till: str
    denomination: Decimal
    count: int | None


IN_BOX: Final = 'IF(AND([payments.cash]="yes",[payments.paid_to]=""),"yes","no")'
DIFFERS: Final = "AND(ISNUMBER([difference]),[difference]<>0)"


def cash_table() -> Table[Box]:
    """Declare the table of cash boxes."""
    table: Table[Box] = Table("cash", N_("Cash-up"), record=lambda box: box.name, needed="book")
    of_box = '([day_ways.day:]=[day])*([day_ways.till:]=[till])*([day_ways.cash:]="yes")'
    taken = f"SUMPRODUCT({of_box},[day_ways.money:])"
    expected = money_rounded("[float]+[takings]-[paid_out]")
    counted = 'IF(COUNT([coins.count:])=0,"",SUM([coins.worth:]))'
    difference = f'IF([counted]="","",{money_rounded("[counted]-[expected]")})'
    table.fixed("day", _("Day"), "label date", lambda box: box.cash_up.day, read=True)
    table.fixed("till", _("Till"), "label", lambda box: box.cash_up.till, read=True)
    table.input("counted_by", _("Who counted"), "text", lambda box: box.typed.counted_by)
    table.input("checked_by", _("Who checked"), "text", lambda box: box.typed.checked_by)
    table.input("float", _("Float at the start"), "money", lambda box: box.typed.float_ or None)
    table.live("=takings", _("Cash taken"), "money", taken, lambda box: box.cash_up.cash_takings)
    table.input("paid_out", _("Paid out of the box"), "money", lambda box: box.typed.paid_out or None)
    table.live(
        *("=expected", _("Should be in the box"), "money", expected),
        lambda box: box.cash_up.float_ + box.cash_up.expected,
    )
    table.live("=counted", _("Counted (coins below)"), "money", counted, lambda box: box.cash_up.counted)
    table.live(
        *("=difference", _("Difference"), "total money", difference, lambda box: box.cash_up.difference),
        alarm=DIFFERS,
    )
    return table


def day_ways_table() -> Table[DayWay]:
    """Declare the table of what came in by each way to pay on each day."""
    table: Table[DayWay] = Table("day_ways", N_("Cash-up"), record=lambda row: row.way.name)
    table.fixed("day", _("Day"), "label date")
    table.fixed("till", _("Till"), "label")
    table.live("=way", _("Way to pay"), "text", "[payments.name]", lambda row: row.way.name)
    table.live(
        *("=cash", _("In the cash box"), "text", IN_BOX),
        lambda row: yes_or_no(row.way.cash and not row.way.paid_to),
    )
    table.live(
        *("=money", _("Money that arrived"), "money"),
        lambda row: f"SUMPRODUCT((takings_day=[day])*(takings_way=[way]){row.of_till},takings_money)",
    )
    return table


def coins_table() -> Table[Coin]:
    """Declare the count of a box by coin and note; each box has a part of its own."""
    table: Table[Coin] = Table("coins", N_("Cash-up"), needed="book")
    says = _("How many coins or notes: a whole number, not below 0")
    table.fixed("day", _("Day"), "worked date", read=True)
    table.fixed("till", _("Till"), "worked", read=True)
    table.fixed("denomination", _("Coin or note"), "label money", read=True)
    table.input("count", _("How many"), "whole", says=says)
    table.live(
        *("=worth", _("Worth"), "money", "[denomination]*[count]"),
        lambda coin: coin.denomination * (coin.count or 0),
    )
    return table


def bank_table() -> Table[Banked]:
    """Declare the table of money banked."""
    table: Table[Banked] = Table("bank", N_("Cash-up"), needed="sale")
    difference = f'IF(COUNT([expected]:[arrived])<2,"",{money_rounded("[arrived]-[expected]")})'
    # The label below the table stands in this column.
    table.input("day", _("Day"), "date", evidence=False)
    table.gap()
    way = _("Choose the way to pay that this money came by")
    table.input("what", _("By which way to pay"), "text", choices="way_names", says=way)
    table.input("expected", _("Expected"), "money")
    table.input("arrived", _("Arrived"), "money")
    table.live("=difference", _("Difference"), "money", difference, _difference, alarm=DIFFERS)
    return table


def _difference(entry: Banked) -> Decimal | None:
    if entry.expected is None or entry.arrived is None:
        return None
    return entry.arrived - entry.expected


def bank_ways_table() -> Table[WayBanked]:
    """Declare the table of what should arrive in the bank by each way to pay, what did, and why not."""
    table: Table[WayBanked] = Table("bank_ways", N_("Cash-up"), record=lambda way: way.name)
    first = 'AND([cash]="yes",COUNTIF([cash^],"yes")=1)'
    expected = money_rounded("[taken]-[fee]-[paid_out]+[found]")
    of_way = "([bank.what:]=[way])"
    none = 'OR([payments.paid_to]<>"",COUNT([bank.arrived:])=0)'
    difference = f'IF([arrived]="","",{money_rounded("[arrived]-[expected]")})'
    table.live("=way", _("Way to pay"), "text", "[payments.name]", lambda way: way.name, read=True)
    table.live("=cash", _("In the cash box"), "text", IN_BOX, lambda way: yes_or_no(way.is_cash))
    table.live("=taken", _("Taken"), "money", 'IF([payments.paid_to]="",[ways.money],0)')
    table.live("=fee", _("Fee that counts"), "money", 'IF([payments.paid_to]="",[ways.fee],0)')
    table.live("=paid_out", _("Paid out of the box"), "money", f"IF({first},SUM([cash.paid_out:]),0)")
    table.live("=found", _("Count differs"), "money", f"IF({first},SUM([cash.difference:]),0)")
    table.live("=expected", _("Should be in the bank"), "money", expected)
    table.live("=arrived", _("Arrived"), "money", f'IF({none},"",SUMPRODUCT({of_way}*1,[bank.arrived:]))')
    table.live(
        "=difference",
        _("Difference"),
        "total money",
        difference,
        alarm='AND(ISNUMBER([difference]),[difference]<>0,[explained]="")',
    )
    table.input("explained", _("Explained by"), "text", "reason", choices=REASONS, says=_("Choose a reason"))
    return table


def write_cash_up(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Cash-up."""
    page = _write_cash(book, reckoning, event)
    new_page(page)
    write_table_count(page, reckoning, event)
    new_page(page)
    _write_banked(page, event.entries)
    _write_bank_ways(page, reckoning.plan, event)
    page.print_so_far()


def write_cash_box(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Cash-up of one table: its cash box only."""
    _write_cash(book, reckoning, event, lead=_("This table only. {lead}"))


def _write_cash(book: Book, reckoning: Reckoning, event: Event, *, lead: str = "{lead}") -> Page:
    page = book.page(N_("Cash-up"), widths=WIDTHS, landscape=True)
    page.title(
        _("Cash-up"),
        lead.format(
            lead=_(
                "Count the float before opening and the box after closing. Two people who are not "
                "of one family count together and both write their name: that protects them as "
                "much as the money. What is paid out of the box is no cost yet: put it on Costs too, if the "
                "sale bears it."
            )
        ),
    )
    plan = reckoning.plan
    typed = {(count.day, count.till): count for count in event.entries.cash}
    boxes = [
        Box(cash_up=box, typed=typed.get((box.day, box.till), DayCount(day=box.day, till=box.till)))
        for box in event.cash_ups
    ]
    page.band(_("The cash box, day by day"))
    column = cash_table().write(page, boxes).column("float")
    _write_ways(page, plan, event)
    _write_coins(page, plan, boxes)
    _sum_up(page, plan, event, column)
    return page


def _write_ways(page: Page, plan: Plan, event: Event) -> None:
    page.row += 1
    page.band(_("What came in, by day and way to pay"))
    several_tills = len({box.till for box in event.cash_ups}) > 1
    rows = [
        DayWay(
            day=box.day,
            till=box.till,
            way=way,
            money=money_in(event.state, day=box.day, way=way.name, till=box.till if several_tills else None),
            of_till='*(takings_till&""=[till])' if several_tills else "",
        )
        for box in event.cash_ups
        for way in plan.payments
    ]
    day_ways_table().write(page, rows)


def _write_coins(page: Page, plan: Plan, boxes: Sequence[Box]) -> None:
    known = denominations_for(plan.sale.currency, plan.sale.denominations)
    page.row += 1
    page.band(_("The count, by coin and note"))
    page.paragraph(_source_of(known, plan.sale.currency), "note" if known.known else "warn")
    for nth, box in enumerate(boxes, start=1):
        if nth % COUNTS_ON_A_PAGE == 0:
            new_page(page)
        counts = box.typed.counts
        coins = [
            Coin(day=box.cash_up.day, till=box.cash_up.till, denomination=face, count=counts.get(face))
            for face in sorted({*known.values, *counts}, reverse=True)
        ]
        coins_table().write(page, coins, part=box.name)
        page.row += 1


def _source_of(known: Denominations, currency: str) -> str:
    if not known.known:
        return _(
            "The coins and notes of {currency} are not known here: a usual series stands in their place. "
            "Write yours on Plan (coins and notes) and run “salebook renew”."
        ).format(currency=currency)
    if known.source == "sale.denominations":
        return _("Coins and notes as the plan names them.")
    return _(
        "Coins and notes of {currency}: {source}. Others: name yours on Plan and run “salebook renew”."
    ).format(currency=currency, source=known.source)


def _sum_up(page: Page, plan: Plan, event: Event, column: int) -> None:
    """Write how many boxes differ, and cash taken on days that have no box here."""
    differing = sum(bool(box.difference) for box in event.cash_ups)
    differ = "=COUNT([cash.difference:])-COUNTIF([cash.difference:],0)"
    cash = 'SUMPRODUCT((way_cash="yes")*(way_paid_to=""),way_money)'
    elsewhere = Figure(
        f"={money_rounded(f'{cash}-SUM([cash.takings:])')}",
        cash_elsewhere(plan, event.state, event.cash_ups),
    )
    page.band(_("Checks"))
    put_line(
        *(page, _("Boxes whose count differs"), Figure(differ, differing), "result whole"),
        name="cash_differences",
        column=column,
    )
    put_line(
        *(page, _("Cash taken on days that have no box here"), elsewhere, "result money"),
        name="cash_elsewhere",
        column=column,
    )
    page.row += 1


def _write_banked(page: Page, entries: Entries) -> None:
    page.band(_("Paid into the bank"))
    placed = bank_table().write(page, entries.banked, spare=SPARE_BANKED)
    arrived = Figure("=SUM([bank.arrived:])", banked(entries))
    put_line(
        *(page, _("All that arrived in the bank"), arrived, "total money"),
        name="banked_arrived",
        column=placed.column("arrived"),
    )
    page.row += 1


def _write_bank_ways(page: Page, plan: Plan, event: Event) -> None:
    page.band(_("In the bank, way by way"))
    page.paragraph(
        _(
            "Taken, less fees and what was paid out of the box, as it was counted, should be in "
            "the bank. What arrived stands above. Where the two differ choose the reason, or the "
            "statement calls it open."
        ),
        "note",
    )
    reasons, banked = event.entries.bank_reasons, ways_banked(plan, event)
    by_name = {way.name: way for way in banked}
    rows = [
        by_name.get(name) or WayBanked(name=name, taken=ZERO, arrived=None, reason=reasons.get(name, ""))
        for name in (way.name for way in plan.payments)
    ]
    placed = bank_ways_table().write(page, rows)
    unnamed = Figure(
        "=SUM([bank.arrived:])-SUM([bank_ways.arrived:])", arrived_without_way(plan, event.entries)
    )
    put_line(
        *(page, _("Arrived, no way to pay named"), unnamed, "result money"),
        name="bank_unnamed",
        column=placed.column("arrived"),
    )
    differ = '([bank_ways.difference:]<>"")*([bank_ways.difference:]<>0)*([bank_ways.explained:]="")'
    nameless = "AND(ROUND(bank_unnamed,6)<>0,ROUND(bank_unnamed-money_without_way,6)<>0)"
    put_line(
        page,
        _("Differences that nobody explains"),
        Figure(f"=SUMPRODUCT({differ})+IF({nameless},1,0)", sum(way.is_open for way in banked)),
        "result whole",
        name="bank_open",
        column=placed.column("arrived"),
    )
