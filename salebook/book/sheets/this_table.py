"""The first sheet of one table's own book: what is sold here, how it can be paid, and for whom."""

from collections.abc import Callable, Sequence
from typing import Any, Final

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.inputs import number_or_none, yes_or_no
from salebook.book.page import Book, Content, Page, number
from salebook.book.sheets.at_the_table import write_at_the_table
from salebook.event.event import Event
from salebook.event.receipts import money_in
from salebook.plan.model import Donated, Plan, Ware
from salebook.reckoning import Reckoning

WIDTHS: Final = (3, 30, 20, 14, 14, 20)

Cells = Sequence[tuple[str, str, Callable[[Any], Content]]]
"""Key, style and what to show, column by column."""


def write_this_table(book: Book, reckoning: Reckoning, event: Event, *, till: str) -> None:
    """Write the sheet This table."""
    plan = reckoning.plan
    page = book.page(_("This table"), widths=WIDTHS)
    page.title(
        _("Table {till}: {title}").format(till=till, title=plan.sale.title),
        _(
            "This book is the till of one table. Use Takings for each sale, Hand over for what is fetched "
            "later, Cash-up in the evening. Afterwards “salebook join” puts all tables together: nothing "
            "here needs to be copied by hand."
        ),
    )
    _write_marks(page, plan, till)
    page.band(_("What is sold here"))
    _write_goods(page, reckoning)
    _write_people(page, plan, event)
    write_at_the_table(page)


def _write_marks(page: Page, plan: Plan, till: str) -> None:
    page.band(_("The sale"))
    page.headings(("label", "value"), (_("What"), _("As planned")), section="till")
    sale = plan.sale
    days = [("days", _("Day {n}").format(n=n), day) for n, day in enumerate(sale.days, start=1)]
    rows: Sequence[tuple[str, str, Content]] = (
        ("till", _("Table"), till),
        ("sale_id", _("This sale's mark"), page.book.sale_id),
        *([("book", _("This book's mark"), page.book.mark)] if page.book.mark else []),
        ("currency", _("Currency"), sale.currency),
        ("locale", _("Language and country"), sale.locale),
        ("minor_units", _("Smallest coins in one unit"), 10**sale.digits),
        *days,
    )
    names = {"till": "this_till", "sale_id": "sale_id", "book": "this_book", "minor_units": "minor_units"}
    for key, label, content in rows:
        style = "worked date" if key == "days" else "worked whole" if key == "minor_units" else "worked text"
        row = page.put_row(((f"till.{key}", "key"), (label, "label"), (content, style)))
        if key in names:
            page.name(names[key], row, 3)
        if label == days[0][1]:
            page.name("first_day", row, 3)
    page.row += 1


def _write_goods(page: Page, reckoning: Reckoning) -> None:
    runs = {run.ware.code: run for run in reckoning.studio.runs}
    plan = reckoning.plan
    goods: tuple[Ware | Donated, ...] = (*plan.wares, *plan.donated)

    def for_sale(good: Any) -> Content:
        return good.count if isinstance(good, Donated) else runs[good.code].for_sale

    def seconds_price(good: Any) -> Content:
        return number_or_none(getattr(good, "seconds_price", None))

    cells: Cells = (
        ("name", "label text", lambda good: good.name),
        ("code", "label text", lambda good: good.code),
        ("price", "label money", lambda good: number(good.price)),
        ("seconds_price", "label money", seconds_price),
        ("for_sale", "label whole", for_sale),
    )
    headings = (_("Name"), _("Code"), _("Price"), _("Price of a second"), _("How many"))
    page.headings([f"={key}" for key, _style, _value in cells], headings, section="goods")
    first = page.row
    for good in goods:
        section = "donated" if isinstance(good, Donated) else "wares"
        _write_record(page, section, good.code, good, cells)
    page.name("ware_for_sale", first, 6, last_row=page.row - 1)
    page.row += 1


def _write_record(page: Page, section: str, identity: str, record: Any, cells: Cells) -> None:
    row = page.put_row([(None, ""), *((value(record), style) for _key, style, value in cells)])
    for column, (key, _style, _value) in enumerate(cells, start=2):
        page.book.addresses[section, identity, key] = page.address(row, column)


def _write_people(page: Page, plan: Plan, event: Event) -> None:
    page.band(_("Ways to pay, and what came in here"))
    page.headings(
        ("=name", "=paid_to", "=cash", "=money"),
        (_("Way"), _("Paid straight to"), _("In the cash box"), _("Came in")),
        section="table_ways",
    )
    first = page.row
    for way in plan.payments:
        formula = f"=SUMPRODUCT((takings_way=B{page.row})*1,takings_money)"
        money = Figure(formula, money_in(event.state, way=way.name))
        cells: Cells = (
            ("name", "label text", lambda way: way.name),
            ("paid_to", "label text", lambda way: way.paid_to or None),
            ("cash", "label text", lambda way: yes_or_no(way.cash)),
        )
        row = page.row
        _write_record(page, "payments", way.name, way, cells)
        page.put(row, 5, money, "result money")
    last = page.row - 1
    for column, name in enumerate(("way_names", "way_paid_to", "way_cash", "way_money"), start=2):
        page.name(name, first, column, last_row=last)
    total = Figure("=SUM(takings_money)", money_in(event.state))
    row = page.put_row(
        ((_("All at this table"), "total"), (None, ""), (None, ""), (total, "total money")), first_column=2
    )
    page.name("raised", row, 5)
    page.row += 1
    page.band(_("The groups"))
    page.headings(("=name",), (_("Group"),), section="table_groups")
    first = page.row
    for group in plan.beneficiaries:
        page.put_row(((None, ""), (group.name, "label text")))
    page.name("group_names", first, 2, last_row=page.row - 1)
    page.row += 1
