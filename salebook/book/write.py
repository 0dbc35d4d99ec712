"""From a reckoning and an event to the workbook's file."""

import hashlib
from dataclasses import replace
from datetime import datetime
from typing import Any

from openpyxl.packaging.custom import StringProperty

from salebook.book.file.fingerprint import PLAN_PROPERTY, fingerprint
from salebook.book.file.stored_results import saved_with_results
from salebook.book.marks import BOOK_PROPERTY, JOINED_PROPERTY, SALE_PROPERTY, TILL_PROPERTY
from salebook.book.page import Book
from salebook.book.sheets.cash_up.sheet import write_cash_box, write_cash_up
from salebook.book.sheets.cautions import write_cautions
from salebook.book.sheets.costs import write_costs
from salebook.book.sheets.firing.sheet import write_firing
from salebook.book.sheets.hand_over import write_hand_over
from salebook.book.sheets.making.sheet import write_making
from salebook.book.sheets.pieces.sheet import write_pieces
from salebook.book.sheets.plan.sheet import write_plan
from salebook.book.sheets.price.sheet import write_price
from salebook.book.sheets.progress import write_progress
from salebook.book.sheets.share_out.sheet import write_share_out
from salebook.book.sheets.start_here import write_start_here
from salebook.book.sheets.takings.sheet import write_takings
from salebook.book.sheets.this_table import write_this_table
from salebook.event.entries import DayCount
from salebook.event.event import Event, reckon_event
from salebook.event.offers import as_it_stands
from salebook.event.on_pieces import of_pieces
from salebook.plan.model import Plan, Sale
from salebook.plan.paper import usual_page
from salebook.reckoning import Reckoning

FIRST_TILL = "1"

SHEETS = (
    write_start_here,
    write_plan,
    write_making,
    write_firing,
    write_costs,
    write_price,
    write_pieces,
    write_takings,
    write_hand_over,
    write_cash_up,
    write_progress,
    write_share_out,
    write_cautions,
)
"""The sheets in the order in which they stand in the workbook."""


def sale_id_of(sale: Sale) -> str:
    """Return the id by which workbooks of one sale know each other."""
    said = "\n".join((sale.title, sale.maker, sale.days[0].isoformat()))
    return hashlib.sha256(said.encode()).hexdigest()[:12]


def book_bytes(
    reckoning: Reckoning,
    event: Event,
    *,
    sale_id: str = "",
    book_id: str = "",
    till: str = FIRST_TILL,
    is_joined: bool = False,
) -> bytes:
    """Return the workbook's file; `sale_id` is one that was given before, `book_id` the book's own.

    Empty lines of takings belong to `till`. A book that others were put together into shows by a fingerprint
    when somebody has filled in something since.
    """
    book = _new_book(reckoning.plan, sale_id, book_id)
    for write_sheet in SHEETS:
        if write_sheet is write_takings:
            write_takings(book, reckoning, event, till=till)
        elif write_sheet is write_price:
            write_price(book, as_it_stands(reckoning, event), event)
        else:
            write_sheet(book, reckoning, event)
    _describe(book, reckoning.plan.sale)
    _put_property(book, PLAN_PROPERTY, fingerprint(book.plan_inputs))
    if is_joined:
        _put_property(book, JOINED_PROPERTY, fingerprint(book.inputs))
    book.finish()
    return saved_with_results(book.workbook, book.stored)


def till_book_bytes(
    reckoning: Reckoning, so_far: Event, *, till: str, sale_id: str = "", book_id: str = ""
) -> bytes:
    """Return the workbook of one table: prices, takings, cash box; no costs, and nothing else of the plan.

    What is out of the kiln, its grades and what is reserved are as they stand `so_far`.
    """
    sale = reckoning.plan.sale
    boxes = tuple(DayCount(day=day, till=till) for day in sale.days)
    event = reckon_event(reckoning, replace(of_pieces(so_far), cash=boxes))
    book = _new_book(reckoning.plan, sale_id, book_id)
    write_this_table(book, reckoning, event, till=till)
    write_pieces(book, reckoning, event, one_table=True)
    write_takings(book, reckoning, event, till=till, one_table=True)
    write_hand_over(book, reckoning, event)
    write_cash_box(book, reckoning, event)
    _describe(book, sale)
    _put_property(book, TILL_PROPERTY, till)
    book.finish()
    return saved_with_results(book.workbook, book.stored)


def _new_book(plan: Plan, sale_id: str, book_id: str) -> Book:
    sale = plan.sale
    return Book(
        currency=sale.currency,
        locale=sale.locale,
        paper=usual_page(plan),
        sale_id=sale_id or sale_id_of(sale),
        book_id=book_id,
    )


def _describe(book: Book, sale: Sale) -> None:
    about = book.workbook.properties
    about.title, about.creator = sale.title, sale.maker
    # The same plan gives the same file: the first day stands for the time of writing.
    about.created = about.modified = datetime.combine(sale.days[0], datetime.min.time())
    _put_property(book, SALE_PROPERTY, book.sale_id)
    if book.book_id:
        _put_property(book, BOOK_PROPERTY, book.book_id)


def _put_property(book: Book, name: str, value: str) -> None:
    custom: Any = book.workbook  # the stubs lack these properties
    custom.custom_doc_props.append(StringProperty(name=name, value=value))
