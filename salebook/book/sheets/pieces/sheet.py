"""The sheet Pieces: how many of each ware there are, and every piece by its number."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, get_args

from openpyxl.utils import get_column_letter

from salebook.base.words import _
from salebook.book.figure import Figure, Value, serial
from salebook.book.formulas import money_rounded, placed, quoted
from salebook.book.page import Book, Content, Page, number
from salebook.book.sheets.pieces.totals import places_of, write_piece_totals
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.event.entries import Grade, Mishap, PieceEntry
from salebook.event.event import Event
from salebook.event.lines import bare
from salebook.event.remarks import Remark, in_words, say
from salebook.event.state import PieceState, PieceTotals
from salebook.event.table_count import off_by_mark
from salebook.making.clay import Sizes
from salebook.plan.model import Donated
from salebook.plan.money import rounded
from salebook.reckoning import Reckoning

WIDTHS: Final = (1.6, 11, 20, 10, 10, 22, 11, 10, 11, 10, 12, 11, 20, 10, 10)
HELPER_WIDTH: Final = 7.0
KEYS: Final = (
    *("number", "=name", "grade", "=price", "=size", "=status", "=to_pay"),
    *("reserved_for", "agreed_price", "mishap", "marked_on", "=giver", "=paid", "=held_for"),
    *("=code", "=bare_code", "=index", "=row", "=lines", "=settled", "=sold", "=to_giver", "=fills_order"),
    *("=ordered_at", "=aside", "=off_by_mark", "=warning"),
)
NAMED: Final = (
    *("number", "=name", "=price", "=status", "=to_pay", "reserved_for", "=paid", "=held_for"),
    *(
        "=code",
        "=bare_code",
        "=index",
        "=row",
        "=lines",
        "=sold",
        "=to_giver",
        "=fills_order",
        "=aside",
        "=off_by_mark",
        "=warning",
    ),
)
NO_ENTRY: Final = PieceEntry()
ORDERS: Final = '(takings_kind="order")*(takings_piece=[=code])*(TRIM(takings_claim)=[=held_for])'
"""The orders that a piece fills."""


def write_pieces(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Pieces."""
    page = book.page(_("Pieces"), widths=WIDTHS, landscape=True)
    page.title(
        _("Pieces"),
        _(
            "Every piece has a row. Put the right grade where a piece came out otherwise than expected, a "
            "claim number where it is reserved, and what became of it where it cannot be sold; with the day, "
            "counts of the table on earlier days stay as they were. An agreed "
            "price holds for that piece alone, whatever the plan says. The rest follows from Takings."
        ),
    )
    outs = write_piece_totals(page, event)
    _write_register(page, reckoning, event, outs)
    for at in range(len(WIDTHS) + 1, len(KEYS) + 2):
        page.sheet.column_dimensions[get_column_letter(at)].width = HELPER_WIDTH


def _write_register(page: Page, reckoning: Reckoning, event: Event, outs: Mapping[str, str]) -> None:
    page.band(_("Every piece"))
    headings = page.headings(
        KEYS,
        (
            _("Number"),
            _("What it is"),
            _("First or second"),
            _("Price"),
            _("Fired size"),
            _("Stands as"),
            _("To pay"),
            _("Reserved for claim"),
            _("Agreed price"),
            _("What became of it"),
            _("Put aside or gone since"),
            _("Given by"),
            _("Paid so far"),
            _("Waits for claim"),
            _("Code"),
            _("Code bare of letters like digits"),
            _("Which of its code"),
            _("Row"),
            _("Lines"),
            _("Settled"),
            _("Sold"),
            _("To the giver"),
            _("Fills an order"),
            _("Price of that order"),
            _("Off the table since"),
            _("Stood there until then"),
            _("Odd"),
        ),
        section="pieces",
    )
    first = page.row
    piece_totals = {totals.code: totals for totals in event.state.piece_totals}
    sizes = {size.ware.code: _size_text(size) for size in reckoning.studio.sizes}
    for state in event.state.pieces:
        piece = state.piece
        row = _Row(
            state=state,
            entry=event.entries.pieces.get(piece.number, NO_ENTRY),
            size=sizes.get(piece.code, ""),
            place=places_of(page, piece),
            out=outs[piece.code],
            totals=piece_totals[piece.code],
            first=first,
            row=page.row,
        )
        page.put_row(row.cells())
    _finish_register(page, headings, first, page.row - 1)


def _finish_register(page: Page, headings: int, first: int, last: int) -> None:
    for name in NAMED:
        page.name(f"pieces_{name.strip('=')}", first, KEYS.index(name) + 2, last_row=last)

    def cells(key: str) -> str:
        column = get_column_letter(KEYS.index(key) + 2)
        return f"{column}{first}:{column}{last}"

    page.dropdown(cells("grade"), get_args(Grade), says=_("first or second"))
    page.number_only(cells("agreed_price"), says=_("A number without a minus is expected here"))
    page.dropdown(cells("mishap"), get_args(Mishap), says=_("Choose one of the list, or leave it empty"))
    page.repeat_headings(headings, headings)
    page.sheet.print_area = f"B1:{get_column_letter(len(WIDTHS))}{last}"


def _size_text(size: Sizes) -> str:
    """Say how large a piece is when fired, in whole millimetres; empty where the plan does not say."""
    parts = [
        _("{mm} mm high").format(mm=rounded(size.fired_height_mm, 0)) if size.fired_height_mm else "",
        _("{mm} mm wide").format(mm=rounded(size.fired_diameter_mm, 0)) if size.fired_diameter_mm else "",
    ]
    return ", ".join(part for part in parts if part)


@dataclass(frozen=True, kw_only=True)
class _Row:
    """One piece's row."""

    state: PieceState
    entry: PieceEntry
    size: str
    place: Mapping[str, str]
    out: str
    totals: PieceTotals
    first: int
    row: int

    def cells(self) -> Sequence[tuple[Content, str]]:
        state, piece = self.state, self.state.piece
        agreed = self.entry.agreed_price
        return (
            ("pieces", "key"),
            (piece.number, "label"),
            (Figure(f"={self.place['name']}", piece.name), "result text"),
            self._grade(),
            (self._live(self._price(), state.price), "result money"),
            (self.size, "worked text"),
            (self._live(self._status(), state.status), "result text"),
            (self._live(self._to_pay(), state.to_pay), "result owed"),
            self._input(self.entry.reserved_for.strip() or None),
            self._input(None if agreed is None else number(agreed), "input money"),
            self._input(self.entry.mishap),
            self._input(self.entry.marked_on, "input day"),
            (piece.giver, "label wrapped"),
            (self._live(self._paid(), state.paid), "worked owed"),
            (self._live(self._held_for(), state.held_for), "worked text"),
            *self._helpers(),
        )

    def _helpers(self) -> Sequence[tuple[Content, str]]:
        state, piece = self.state, self.state.piece
        return (
            (piece.code, "small text"),
            (bare(piece.code), "small text"),
            (piece.index, "small whole"),
            (self._live(f"ROWS($B${self.first}:[number])", self.row - self.first + 1), "small whole"),
            (self._live("COUNTIF(takings_index,[=row])", len(state.account.lines)), "small whole"),
            (self._live(self._settled(), state.account.settled), "small owed"),
            (self._live(self._sold(), state.sold), "small whole"),
            self._to_giver(),
            (self._live(self._fills_order(), int(state.fills_order)), "small whole"),
            (self._live(self._ordered_at(), state.ordered_at), "small money"),
            (self._live(self._aside(), serial(state.aside_from) or 0), "small day"),
            (self._live(self._off_by_mark(), off_by_mark(state, self.totals)), "small whole"),
            (self._live(self._warning(), in_words(state.warning)), "small text"),
        )

    def _live(self, formula: str, value: Value) -> Figure:
        return Figure("=" + placed(formula, KEYS, row=self.row), value)

    @property
    def _is_numbered(self) -> bool:
        return self.state.piece.index > 0

    def _grade(self) -> tuple[Content, str]:
        if isinstance(self.state.piece.source, Donated) or not self._is_numbered:
            return "", ""
        return self.state.grade, "input text"

    def _input(self, typed: Content, style: str = "input text") -> tuple[Content, str]:
        return (typed, style) if self._is_numbered else ("", "")

    def _price(self) -> str:
        price = self.place["price"]
        if not self._is_numbered:
            return price
        if seconds := self.place.get("seconds_price"):
            planned = quoted(self.state.piece.planned_grade)
            grade = f'IF(TRIM([grade])="",{planned},TRIM([grade]))'
            price = f'IF(AND({grade}="second",N({seconds})>0),{seconds},{price})'
        agreed = money_rounded("N([agreed_price])")
        return f"IF({agreed}>0,{agreed},IF([=ordered_at]>0,[=ordered_at],{price}))"

    def _status(self) -> str:
        if not self._is_numbered:
            return f'IF(AND({self.out}=0,[=sold]=0),"not made",IF([=sold]<{self.out},"here","sold"))'
        ordered = f"IF([=lines]=0,FALSE,{_lines_of_kind('order')}>0)"
        unpaid = (
            f'IF([=index]>{self.out},"not made",IF(OR(TRIM([reserved_for])<>"",{ordered}),"reserved","here"))'
        )
        mishap = f'IF(TRIM([mishap])<>"",LOWER(TRIM([mishap])),{unpaid})'
        ends = "+".join(_lines_of_kind(kind) for kind in ("sale", "balance"))
        is_sold = f"IF([=settled]>0,TRUE,IF([=fills_order]=1,{ends}>{_lines_of_kind('refund')},FALSE))"
        return f'IF({is_sold},"sold",IF([=paid]>0,"deposit",{mishap}))'

    def _to_pay(self) -> str:
        left = f"MAX(0,{money_rounded('[=price]-[=paid]')})"
        return f'IF(OR([=status]="deposit",[=status]="reserved"),{left},0)'

    def _paid(self) -> str:
        return f"IF([=lines]=0,0,{money_rounded('SUMIFS(takings_amount,takings_index,[=row])')})"

    def _settled(self) -> str:
        ahead = f"{_of_kind('deposit')}+{_of_kind('order')}"
        balances = _lines_of_kind("balance")
        of_several = f"IF({balances}>0,[=paid],{money_rounded(f'[=paid]-({ahead})')})"
        # Most pieces have one line, and each sum by kind reads all lines: in a large sale that would be felt.
        only_kind = "INDEX(takings_kind,MATCH([=row],takings_index,0))"
        of_one = f'IF(ISNUMBER(FIND(","&{only_kind}&",",",deposit,order,")),0,[=paid])'
        return f"IF([=lines]=0,0,IF([=lines]=1,{of_one},{of_several}))"

    def _sold(self) -> str:
        if self._is_numbered:
            return 'IF([=status]="sold",1,0)'
        priced = "{}+{}-{}".format(
            *(_of_kind(kind, "takings_count") for kind in ("sale", "balance", "refund"))
        )
        return f"IF([=lines]=0,0,MAX(0,{priced}))"

    def _to_giver(self) -> tuple[Content, str]:
        keeps = self.place.get("keeps")
        if keeps is None:
            return None, ""
        part = f"IF([=sold]=0,0,{money_rounded(f'{keeps}*[=paid]')})"
        return self._live(part, self.state.to_giver), "small owed"

    def _held_for(self) -> str:
        if not self._is_numbered:
            return '""'
        first = "SUMIFS(takings_first,takings_index,[=row])"
        of_line = f'TRIM(INDEX(takings_claim,MATCH({first},takings_order,0))&"")'
        return f'IF(TRIM([reserved_for])<>"",TRIM([reserved_for]),IF([=lines]=0,"",{of_line}))'

    def _fills_order(self) -> str:
        return f'IF([=held_for]="",0,IF(SUMPRODUCT({ORDERS})>0,1,0))'

    def _ordered_at(self) -> str:
        """Return what one piece of its orders costs on average, rounded down, where that was agreed."""
        counts = f"SUMPRODUCT({ORDERS}*ISNUMBER(takings_agreed_price)*(takings_agreed_price>0),takings_count)"
        price = f"SUMPRODUCT({ORDERS},takings_count,takings_agreed_price)/{counts}"
        return (
            f"IF([=fills_order]=0,0,IF({counts}=0,0,ROUNDDOWN(ROUND(({price})*minor_units,6),0)/minor_units))"
        )

    def _aside(self) -> str:
        if not self._is_numbered:
            return "0"
        is_marked = 'TRIM([mishap])&TRIM([reserved_for])<>""'
        return f'IF(AND(LOWER(TRIM([mishap]))<>"left over",{is_marked}),N([marked_on]),0)'

    def _off_by_mark(self) -> str:
        paid = money_rounded('SUMIFS(takings_amount,takings_index,[=row],takings_day,"<="&[=aside])')
        stood = f"IF([=lines]=0,1,IF({paid}>0,0,1))"
        return f"IF(OR([=aside]=0,[=index]>{self.out}),0,{stood})"

    def _warning(self) -> str:
        if not self._is_numbered:
            return '""'
        marked, _said = live_sentence(_(Remark.MARKED_AS.value), subject=("LOWER(TRIM([mishap]))", ""))
        not_out = f'IF([=index]>{self.out},{quoted(say(Remark.NOT_OUT_OF_THE_KILN))},"")'
        return f'IF(OR([=status]="sold",[=status]="deposit"),IF(TRIM([mishap])<>"",{marked},{not_out}),"")'


def _lines_of_kind(kind: str) -> str:
    return f"COUNTIFS(takings_index,[=row],takings_kind,{quoted(kind)})"


def _of_kind(kind: str, values: str = "takings_amount") -> str:
    return f"SUMIFS({values},takings_index,[=row],takings_kind,{quoted(kind)})"
