"""How many pieces of each code there are, on the sheet Pieces."""

from collections.abc import Mapping
from typing import Final

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.event.event import Event
from salebook.event.register import Piece
from salebook.event.state import GONE, PieceTotals
from salebook.plan.model import Donated

KEYS: Final = (
    *("code", "=name", "=planned", "=price", "out_of_the_kiln", "=sold", "=here", "=reserved"),
    *("=deposit", "=gone", "=ordered", "=to_make", "=out"),
)
NAMED: Final = (*("code", "=name", "=price", "=sold", "=here", "=reserved", "=deposit", "=to_make"),)


def write_piece_totals(page: Page, event: Event) -> Mapping[str, str]:
    """Write a row for each code; return the cell that says how many are out of the kiln, by code."""
    page.band(_("How many there are"))
    page.headings(
        KEYS,
        (
            _("Code"),
            _("What it is"),
            _("As planned"),
            _("List price"),
            _("Out of the kiln, if not as planned"),
            _("Sold"),
            _("Here"),
            _("Reserved"),
            _("Deposit paid"),
            _("Broken, missing, given away, left over"),
            _("Ordered"),
            _("Still to make"),
            _("Out"),
        ),
        section="tally",
    )
    first = page.row
    outs = {}
    for position, totals in enumerate(event.state.piece_totals, start=1):
        outs[totals.code] = f"$N${page.row}"
        _write_totals(page, totals, position, event)
    last = page.row - 1
    for name in NAMED:
        page.name(f"tally_{name.strip('=')}", first, KEYS.index(name) + 2, last_row=last)
    page.number_only(f"F{first}:F{last}", says=_("A whole number, not below 0, is expected here"))
    page.row += 1
    return outs


def _write_totals(page: Page, totals: PieceTotals, position: int, event: Event) -> None:
    row = page.row
    pieces = [piece for piece in event.register if piece.code == totals.code]
    donated = isinstance(pieces[0].source, Donated)
    numbered = pieces[0].index > 0
    made = event.entries.made.get(totals.code)
    of_code = f"(pieces_code=B{row})"
    ordered = f'=SUMPRODUCT((takings_kind="order")*(takings_piece=B{row}),takings_count)'
    here = _count_status(row, "here") if numbered else f"MAX(0,N{row}-G{row})"
    gone = "+".join(_count_status(row, status) for status in GONE)
    planned = totals.planned if donated else Figure(f"=INDEX(ware_for_sale,{position})", totals.planned)
    place = places_of(page, pieces[0])
    page.put_row(
        (
            ("tally", "key"),
            (totals.code, "label"),
            (Figure(f"={place['name']}", totals.name), "result text"),
            (planned, "result whole"),
            (Figure(f"={place['price']}", totals.price), "result money"),
            (None if donated else made, "" if donated else "input whole"),
            (Figure(f"=SUMPRODUCT({of_code}*1,pieces_sold)", totals.sold), "result whole"),
            (Figure(f"={here}", totals.here), "total whole"),
            (Figure(f"={_count_status(row, 'reserved')}", totals.reserved), "result whole"),
            (Figure(f"={_count_status(row, 'deposit')}", totals.deposit), "result whole"),
            (Figure(f"={gone}", totals.gone), "result whole"),
            (Figure(ordered, totals.ordered), "result whole"),
            (
                Figure(f"=MAX(0,L{row}-SUMPRODUCT({of_code}*1,pieces_fills_order))", totals.to_make),
                "result whole",
            ),
            (Figure(f"=IF(ISNUMBER(F{row}),F{row},D{row})", totals.out), "small whole"),
        )
    )


def _count_status(row: int, status: str) -> str:
    return f"SUMPRODUCT((pieces_code=B{row})*(pieces_status={quoted(status)}))"


def places_of(page: Page, piece: Piece) -> Mapping[str, str]:
    """Return where Plan holds the name, price and the like of a piece's ware, by key."""
    section = "donated" if isinstance(piece.source, Donated) else "wares"
    keys = ("name", "price", "keeps" if section == "donated" else "seconds_price")
    places = page.book.addresses
    return {key: places[place] for key in keys if (place := (section, piece.code, key)) in places}
