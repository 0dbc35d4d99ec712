"""The sheet Pieces: how many of each ware there are, and every piece by its number."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, get_args

from openpyxl.utils import get_column_letter

from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, quoted
from salebook.book.page import Book, Content, Page
from salebook.book.sheets.tally import places_of, write_tallies
from salebook.event.entries import Grade, Mishap, PieceEntry
from salebook.event.event import Event
from salebook.event.remarks import Remark, say
from salebook.event.standing import PieceStanding
from salebook.making.clay import Sizes
from salebook.plan.model import Donated
from salebook.plan.money import rounded
from salebook.reckoning import Reckoning
from salebook.words import _

WIDTHS: Final = (1.6, 11, 20, 10, 10, 22, 11, 10, 11, 12, 20, 10, 10)
HELPER_WIDTH: Final = 7.0
KEYS: Final = (
    *("number", "=name", "grade", "=price", "=size", "=status", "=to_pay", "reserved_for", "mishap"),
    *("=giver", "=paid", "=held_for"),
    *("=code", "=index", "=row", "=lines", "=settled", "=sold", "=to_giver", "=fills_order", "=warning"),
)
NAMED: Final = (
    *("number", "=name", "=price", "=status", "=to_pay", "reserved_for", "=paid", "=held_for"),
    *("=code", "=lines", "=sold", "=to_giver", "=fills_order", "=warning"),
)
NO_ENTRY: Final = PieceEntry()


def write_pieces(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Pieces."""
    page = book.page(_("Pieces"), widths=WIDTHS, landscape=True)
    page.title(
        _("Pieces"),
        _(
            "Every piece has a row. Put the right grade where a piece came out otherwise than expected, a "
            "claim number where it is reserved, and what became of it where it cannot be sold. The rest "
            "follows from Takings."
        ),
    )
    outs = write_tallies(page, event)
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
            _("What became of it"),
            _("Given by"),
            _("Paid so far"),
            _("Waits for claim"),
            _("Code"),
            _("Which of its code"),
            _("Row"),
            _("Lines"),
            _("Settled"),
            _("Sold"),
            _("To the giver"),
            _("Fills an order"),
            _("Odd"),
        ),
        section="pieces",
    )
    first = page.row
    sizes = {size.ware.code: _size_text(size) for size in reckoning.studio.sizes}
    for standing in event.standing.pieces:
        piece = standing.piece
        row = _Row(
            standing=standing,
            entry=event.entries.pieces.get(piece.number, NO_ENTRY),
            size=sizes.get(piece.code, ""),
            place=places_of(page, piece),
            out=outs[piece.code],
            first=first,
            row=page.row,
        )
        page.put_row(row.cells())
    _finish_register(page, headings, first, page.row - 1)


def _finish_register(page: Page, headings: int, first: int, last: int) -> None:
    for name in NAMED:
        page.name(f"pieces_{name.strip('=')}", first, KEYS.index(name) + 2, last_row=last)
    page.choose(f"D{first}:D{last}", get_args(Grade), says=_("first or second"))
    page.choose(f"J{first}:J{last}", get_args(Mishap), says=_("Choose one of the list, or leave it empty"))
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

    standing: PieceStanding
    entry: PieceEntry
    size: str
    place: Mapping[str, str]
    out: str
    first: int
    row: int

    def cells(self) -> Sequence[tuple[Content, str]]:
        standing, piece = self.standing, self.standing.piece
        return (
            ("pieces", "key"),
            (piece.number, "label"),
            (Figure(f"={self.place['name']}", piece.name), "result text"),
            self._grade(),
            (Figure(f"={self._price()}", standing.price), "result money"),
            (self.size, "worked text"),
            (Figure(f"={self._status()}", standing.status), "result text"),
            (Figure(f"={self._to_pay()}", standing.to_pay), "result owed"),
            self._input(self.entry.reserved_for.strip()),
            self._input(self.entry.mishap),
            (piece.giver, "label wrapped"),
            (Figure(f"={self._paid()}", standing.paid), "worked owed"),
            (Figure(f"={self._held_for()}", standing.held_for), "worked text"),
            *self._helpers(),
        )

    def _helpers(self) -> Sequence[tuple[Content, str]]:
        standing, piece, row = self.standing, self.standing.piece, self.row
        return (
            (piece.code, "small text"),
            (piece.index, "small whole"),
            (Figure(f"=ROWS($B${self.first}:B{row})", row - self.first + 1), "small whole"),
            (Figure(f"=COUNTIF(takings_index,P{row})", len(standing.account.lines)), "small whole"),
            (Figure(f"={self._settled()}", standing.account.settled), "small owed"),
            (Figure(f"={self._sold()}", standing.sold), "small whole"),
            self._to_giver(),
            (Figure(f"={self._fills_order()}", int(standing.fills_order)), "small whole"),
            (Figure(f"={self._warning()}", standing.warning), "small text"),
        )

    @property
    def _is_numbered(self) -> bool:
        return self.standing.piece.index > 0

    def _grade(self) -> tuple[Content, str]:
        if isinstance(self.standing.piece.source, Donated) or not self._is_numbered:
            return "", ""
        return self.standing.grade, "input text"

    def _input(self, typed: str | None) -> tuple[Content, str]:
        return (typed or None, "input text") if self._is_numbered else ("", "")

    def _price(self) -> str:
        price, seconds = self.place["price"], self.place.get("seconds_price")
        if seconds is None or not self._is_numbered:
            return price
        planned = quoted(self.standing.piece.planned_grade)
        grade = f'IF(TRIM(D{self.row})="",{planned},TRIM(D{self.row}))'
        return f'IF(AND({grade}="second",N({seconds})>0),{seconds},{price})'

    def _status(self) -> str:
        row = self.row
        if not self._is_numbered:
            return f'IF(AND({self.out}=0,S{row}=0),"not made",IF(S{row}<{self.out},"here","sold"))'
        ordered = f"IF(Q{row}=0,FALSE,{_lines_of_kind(row, 'order')}>0)"
        unpaid = f'IF(O{row}>{self.out},"not made",IF(OR(TRIM(I{row})<>"",{ordered}),"reserved","here"))'
        mishap = f'IF(TRIM(J{row})<>"",LOWER(TRIM(J{row})),{unpaid})'
        ends = "+".join(_lines_of_kind(row, kind) for kind in ("sale", "balance"))
        is_sold = f"IF(R{row}>0,TRUE,IF(U{row}=1,{ends}>{_lines_of_kind(row, 'refund')},FALSE))"
        return f'IF({is_sold},"sold",IF(L{row}>0,"deposit",{mishap}))'

    def _to_pay(self) -> str:
        row = self.row
        left = f"MAX(0,{money_rounded(f'E{row}-L{row}')})"
        return f'IF(OR(G{row}="deposit",G{row}="reserved"),{left},0)'

    def _paid(self) -> str:
        return f"IF(Q{self.row}=0,0,{money_rounded(f'SUMIFS(takings_amount,takings_index,P{self.row})')})"

    def _settled(self) -> str:
        row = self.row
        ahead = f"{_of_kind(row, 'deposit')}+{_of_kind(row, 'order')}"
        balances = _lines_of_kind(row, "balance")
        of_several = f"IF({balances}>0,L{row},{money_rounded(f'L{row}-({ahead})')})"
        # Most pieces have one line, and each sum by kind reads all lines: in a large sale that would be felt.
        only_kind = f"INDEX(takings_kind,MATCH(P{row},takings_index,0))"
        of_one = f'IF(ISNUMBER(FIND(","&{only_kind}&",",",deposit,order,")),0,L{row})'
        return f"IF(Q{row}=0,0,IF(Q{row}=1,{of_one},{of_several}))"

    def _sold(self) -> str:
        row = self.row
        if self._is_numbered:
            return f'IF(G{row}="sold",1,0)'
        moved = "{}+{}-{}".format(
            *(_of_kind(row, kind, "takings_count") for kind in ("sale", "balance", "refund"))
        )
        return f"IF(Q{row}=0,0,MAX(0,{moved}))"

    def _to_giver(self) -> tuple[Content, str]:
        keeps, row = self.place.get("keeps"), self.row
        if keeps is None:
            return None, ""
        part = f"=IF(S{row}=0,0,{money_rounded(f'{keeps}*L{row}')})"
        return Figure(part, self.standing.to_giver), "small owed"

    def _held_for(self) -> str:
        row = self.row
        if not self._is_numbered:
            return '""'
        first = f"SUMIFS(takings_first,takings_index,P{row})"
        of_line = f'TRIM(INDEX(takings_claim,MATCH({first},takings_order,0))&"")'
        return f'IF(TRIM(I{row})<>"",TRIM(I{row}),IF(Q{row}=0,"",{of_line}))'

    def _fills_order(self) -> str:
        row = self.row
        orders = f'(takings_kind="order")*(takings_piece=N{row})*(TRIM(takings_claim)=M{row})'
        return f'IF(M{row}="",0,IF(SUMPRODUCT({orders})>0,1,0))'

    def _warning(self) -> str:
        row = self.row
        if not self._is_numbered:
            return '""'
        marked = f"{quoted(say(Remark.MARKED_AS))}&LOWER(TRIM(J{row}))"
        not_out = f'IF(O{row}>{self.out},{quoted(say(Remark.NOT_OUT_OF_THE_KILN))},"")'
        return f'IF(OR(G{row}="sold",G{row}="deposit"),IF(TRIM(J{row})<>"",{marked},{not_out}),"")'


def _lines_of_kind(row: int, kind: str) -> str:
    return f"COUNTIFS(takings_index,P{row},takings_kind,{quoted(kind)})"


def _of_kind(row: int, kind: str, values: str = "takings_amount") -> str:
    return f"SUMIFS({values},takings_index,P{row},takings_kind,{quoted(kind)})"
