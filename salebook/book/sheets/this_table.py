"""The first sheet of one table's own book: what is sold here, how it can be paid, and for whom."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal
from operator import attrgetter
from typing import Final, NamedTuple

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.inputs import yes_or_no
from salebook.book.page import Book, Content, Page
from salebook.book.sheets.at_the_table import write_at_the_table
from salebook.book.sheets.name_lookup import add_lookup, add_way_lookup
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.event.offers import offers_of
from salebook.event.receipts import money_in
from salebook.plan.model import Beneficiary, Payment, Sale, Source
from salebook.reckoning import Reckoning

WIDTHS: Final = (3, 30, 20, 14, 14, 20)
LOOKUP_COLUMN: Final = len(WIDTHS) + 1
"""Right of what is printed."""


@dataclass(frozen=True)
class Entry:
    """What the table needs to know of the sale: a row with its key, and a name that formulas use."""

    key: str
    label: str
    value: Content
    style: str = "text"
    name: str = ""


class Good(NamedTuple):
    """What is sold at the table, and how many of it there are."""

    good: Source
    for_sale: int


class Way(NamedTuple):
    """A way to pay, and what came in so."""

    way: Payment
    money: Decimal


def till_table() -> Table[Entry]:
    """Declare what the table needs to know of the sale."""
    table: Table[Entry] = Table("till", N_("This table"), mark=lambda entry: f"till.{entry.key}")
    table.fixed("label", _("What"), "label")
    table.fixed("value", _("As planned"), lambda entry: f"worked {entry.style}", read=True)
    return table


def goods_table() -> Table[Good]:
    """Declare what is sold here, in place of the wares and donated pieces of the plan."""
    table: Table[Good] = Table(
        *("goods", N_("This table")),
        record=lambda row: row.good.code,
        stands_for=("wares", "donated", "carried", "starts"),
    )
    table.fixed("=name", _("Name"), "label text")
    table.fixed("=code", _("Code"), "label text")
    table.fixed("=price", _("Price"), "label money")
    table.fixed(
        *("=seconds_price", _("Price of a second"), "label money"),
        lambda row: getattr(row.good, "seconds_price", None),
    )
    table.fixed("=for_sale", _("How many"), "label whole")
    return table


def table_ways_table(ways: Sequence[Way]) -> Table[Way]:
    """Declare the ways to pay, in place of the plan's, and what came in by each."""
    table: Table[Way] = Table(
        "table_ways", N_("This table"), record=lambda row: row.way.name, stands_for=("payments",)
    )
    money = "SUMPRODUCT((takings_way=[name])*1,takings_money)"
    table.fixed("=name", _("Way"), "label text", name="way_names")
    table.fixed("=paid_to", _("Paid straight to"), "label text", name="way_paid_to")
    table.fixed(
        *("=cash", _("In the cash box"), "label text"),
        lambda row: yes_or_no(row.way.cash),
        name="way_cash",
    )
    table.live("=money", _("Came in"), "money", money, name="way_money")
    return add_way_lookup(table, [row.way for row in ways], attrgetter("way"), column=LOOKUP_COLUMN)


def table_groups_table(groups: Sequence[Beneficiary]) -> Table[Beneficiary]:
    """Declare the groups."""
    table: Table[Beneficiary] = Table("table_groups", N_("This table"))
    table.fixed("=name", _("Group"), "label text", name="group_names")
    names = [group.name for group in groups]
    return add_lookup(table, "group", names, attrgetter("name"), column=LOOKUP_COLUMN)


def write_this_table(book: Book, reckoning: Reckoning, event: Event, *, till: str) -> None:
    """Write the sheet This table."""
    plan = reckoning.plan
    page = book.page(N_("This table"), widths=WIDTHS)
    page.title(
        _("Table {till}: {title}").format(till=till, title=plan.sale.title),
        _(
            "This book is the till of one table. Use Takings for each sale, Hand over for what is fetched "
            "later, Cash-up in the evening. Afterwards “salebook join” puts all tables together: nothing "
            "here needs to be copied by hand."
        ),
    )
    _write_marks(page, reckoning, till)
    page.band(_("What is sold here"))
    goods_table().write(page, _goods(reckoning, event))
    page.row += 1
    _write_ways(page, reckoning, event)
    page.band(_("The groups"))
    table_groups_table(plan.beneficiaries).write(page, plan.beneficiaries)
    page.row += 1
    write_at_the_table(page)


def _write_marks(page: Page, reckoning: Reckoning, till: str) -> None:
    page.band(_("The sale"))
    entries = _entries(page.book, reckoning.plan.sale, till)
    placed = till_table().write(page, entries)
    for row, entry in enumerate(entries, start=placed.first):
        if entry.name:
            page.name(entry.name, row, placed.column("value"))
    page.row += 1


def _entries(book: Book, sale: Sale, till: str) -> list[Entry]:
    own_id = [Entry("book", _("This book's mark"), book.book_id, name="this_book")]
    days = [Entry("days", _("Day {n}").format(n=n), day, "date") for n, day in enumerate(sale.days, start=1)]
    return [
        Entry("till", _("Table"), till, name="this_till"),
        Entry("sale_id", _("This sale's mark"), book.sale_id, name="sale_id"),
        *(own_id if book.book_id else ()),
        Entry("currency", _("Currency"), sale.currency),
        Entry("locale", _("Language and country"), sale.locale),
        Entry("minor_units", _("Smallest coins in one unit"), 10**sale.digits, "whole", "minor_units"),
        *(replace(day, name="" if n else "first_day") for n, day in enumerate(days)),
    ]


def _goods(reckoning: Reckoning, event: Event) -> list[Good]:
    offers = offers_of(reckoning, event)
    own = [Good(run.ware, offers[run.ware.code].pieces) for run in reckoning.studio.runs]
    return [*own, *(Good(source, source.count) for source in reckoning.plan.there)]


def _write_ways(page: Page, reckoning: Reckoning, event: Event) -> None:
    page.band(_("Ways to pay, and what came in here"))
    ways = [Way(way, money_in(event.state, way=way.name)) for way in reckoning.plan.payments]
    placed = table_ways_table(ways).write(page, ways)
    total = Figure("=SUM(takings_money)", money_in(event.state))
    put_line(
        *(page, _("All at this table"), total, "total money"),
        name="raised",
        column=placed.column("money"),
        label_style="total",
    )
    page.row += 1
