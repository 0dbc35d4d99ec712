"""From a reckoning and an event to the workbook's file."""

import hashlib
from datetime import datetime
from typing import Any

from babel import Locale
from openpyxl.packaging.custom import StringProperty

from salebook.book.fingerprint import PLAN_MARK, fingerprint
from salebook.book.marks import SALE_MARK
from salebook.book.page import Book
from salebook.book.sheets.cash_up import write_cash_up
from salebook.book.sheets.cautions import write_cautions
from salebook.book.sheets.costs import write_costs
from salebook.book.sheets.firing import write_firing
from salebook.book.sheets.hand_over import write_hand_over
from salebook.book.sheets.making import write_making
from salebook.book.sheets.pieces import write_pieces
from salebook.book.sheets.plan import write_plan
from salebook.book.sheets.price import write_price
from salebook.book.sheets.progress import write_progress
from salebook.book.sheets.share_out import write_share_out
from salebook.book.sheets.start_here import write_start_here
from salebook.book.sheets.takings import write_takings
from salebook.book.stored import saved_with_results
from salebook.event.event import Event
from salebook.plan.model import Sale
from salebook.reckoning import Reckoning

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

LETTER_PAPER = frozenset({"US", "CA", "MX", "CL", "CO", "CR", "PA", "PH", "GT", "DO", "SV", "NI", "VE", "PR"})
"""Territories that use Letter paper (Unicode CLDR, supplemental measurementData, paperSize)."""


def sale_id(sale: Sale) -> str:
    """Return the mark by which workbooks of one sale know each other."""
    said = "\n".join((sale.title, sale.maker, sale.days[0].isoformat()))
    return hashlib.sha256(said.encode()).hexdigest()[:12]


def book_bytes(reckoning: Reckoning, event: Event, *, identity: str = "") -> bytes:
    """Return the workbook's file; `identity` is a sale's id that was given before."""
    sale = reckoning.plan.sale
    book = Book(
        currency=sale.currency,
        locale=sale.locale,
        paper="Letter" if Locale.parse(sale.locale).territory in LETTER_PAPER else "A4",
        sale_id=identity or sale_id(sale),
    )
    for write_sheet in SHEETS:
        write_sheet(book, reckoning, event)
    book.finish()
    _describe(book, sale)
    return saved_with_results(book.workbook, book.stored)


def _describe(book: Book, sale: Sale) -> None:
    about = book.workbook.properties
    about.title, about.creator = sale.title, sale.maker
    # The same plan gives the same file: the first day stands for the time of writing.
    about.created = about.modified = datetime.combine(sale.days[0], datetime.min.time())
    custom: Any = book.workbook  # the stubs lack these properties
    custom.custom_doc_props.append(StringProperty(name=SALE_MARK, value=book.sale_id))
    custom.custom_doc_props.append(StringProperty(name=PLAN_MARK, value=fingerprint(book.plan_inputs)))
