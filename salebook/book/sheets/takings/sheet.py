"""The sheet Takings: a line for each sale or gift, with what follows from it beside it."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from functools import partial
from operator import attrgetter
from typing import Any, Final, NamedTuple, Unpack, get_args

from salebook.base.words import N_, _, pgettext
from salebook.book.column import Options
from salebook.book.figure import Figure, serial, serial_moment
from salebook.book.formulas import quoted
from salebook.book.marks import UNSAID
from salebook.book.page import Book, Content, Page
from salebook.book.references import Placed
from salebook.book.row_height import grow_height
from salebook.book.sheets.takings.formulas import formulas_of_a_line
from salebook.book.sheets.takings.remarks import write_words
from salebook.book.table import Table
from salebook.event.entries import Line, LineKind
from salebook.event.event import Event
from salebook.event.lines import MOST_LINES, OF_A_PIECE, bundle_of, kind_label, trimmed
from salebook.event.posted_line import PostedLine
from salebook.event.receipts import Timed, in_order_of_time, moments_of
from salebook.event.remarks import FAR_ABOVE, in_words
from salebook.event.table_count import is_aside, off_table, paid_before
from salebook.reckoning import Reckoning

MARGIN: Final = 1.6
LINES_A_PIECE: Final = 3
FEWEST_LINES: Final = 100
SPARE_SHARE: Final = 4
"""A book with lines in it already has room for at least a quarter more."""
NEARLY_FULL: Final = 0.8
NOTE_WIDTH: Final = 9.4
TILL_WIDTH: Final = 5.5
LINES_IN_SIGHT: Final = 10
"""As many lines stand above the first free one when the sheet is opened."""


class LineRow(NamedTuple):
    """A line as it was typed and as it counts; an empty one does not count."""

    line: Line
    posted: PostedLine | None = None
    place: int = 0
    """Which one from the top it is, from 1."""
    timed: Timed | None = None
    shows_till: bool = False


def takings_table() -> Table[LineRow]:
    """Declare the lines: what is typed, what is shown of them, and what only other formulas need."""
    table: Table[LineRow] = Table(
        "takings", N_("Takings"), mark=_mark, needed="book", unmarked=True, guarded=True
    )
    live = partial(_live, table, formulas_of_a_line())
    _declare_typed(table)
    _declare_shown(live)
    table.helpers()
    _declare_kept(table)
    _declare_understood(live)
    _declare_moment(table)
    _declare_counts(live)
    _declare_looks(live)
    # Other sheets look a line up by these: to work them out there, in every formula, programs do differently.
    live(
        "code",
        _("Code"),
        "text",
        value=lambda line: line.piece and line.piece.piece.code,
        name="takings_code",
    )
    table.live(
        *("=place", _("Place of its money"), "whole", formulas_of_a_line()["place"]),
        lambda row: row.posted and (row.place if row.posted.arrived else 0),
        name="takings_place",
    )
    return table


def _mark(row: LineRow) -> str:
    return f"takings{UNSAID}{','.join(row.line.settled)}" if row.line.settled else "takings"


def _declare_typed(table: Table[LineRow]) -> None:
    def typed(key: str, heading: str, style: str, **options: Unpack[Options]) -> None:
        table.input(key, heading, style, partial(_as_typed, key), **options)

    positive = _("A number without a minus is expected here")
    way, group = _("Choose one of the ways to pay on Plan"), _("Choose one of the groups on Plan")
    kind, yes = _("Choose one of the list; empty is a sale"), _("yes, or empty")
    table.fixed(
        *("line", _("Line"), "label whole", lambda row: row.line.number),
        name="takings_line",
        width=5,
        read=True,
    )
    typed("day", _("Day"), "day", name="takings_days", width=10.5)
    typed("time", _("Time"), "clock", name="takings_times", width=6)
    # In a cell for any content, programs take MAY-001 for a day in May.
    typed("piece", _("Piece"), "verbatim", width=10.5)
    typed("way", _("Paid by"), "text", name="takings_ways", choices="way_names", says=way, width=8.5)
    typed("amount", _("Amount, if not the list price"), "money", says=positive, width=8.5)
    typed("kind", _("Kind, if not a sale"), "text", choices=get_args(LineKind), says=kind, width=12)
    typed("gift", _("Gift on top"), "money", says=positive, width=7.5)
    typed("group", _("For one group"), "text", choices="group_names", says=group, width=11)
    typed(
        *("with_above", _("With the line above"), "text"),
        name="takings_above",
        choices=("yes",),
        says=yes,
        width=7.2,
    )
    typed("waiting", _("Not yet arrived"), "text", choices=("yes",), says=yes, width=7.2)
    typed("count", _("How many"), "whole", says=positive, width=5.5)
    typed("claim", _("Claim number"), "text", name="takings_claim", width=7.4)
    typed("note", _("Note"), "wrapped", width=NOTE_WIDTH)


def _as_typed(key: str, row: LineRow) -> Any:
    """Return what was typed under a key, also where it could not be understood."""
    line = row.line
    typed = line.at if key == "time" else getattr(line, key)
    usual = key == "kind" and typed == "sale"
    return dict(line.unread).get(key, None if usual else typed)


def _live(
    table: Table[LineRow],
    formulas: Mapping[str, str],
    key: str,
    heading: str,
    style: str,
    *,
    value: Callable[[PostedLine], Any] | None = None,
    **options: Unpack[Options],
) -> None:
    """Add a column that is worked out; the value is the line's attribute `key`."""
    shown = value or attrgetter(key)
    table.live(
        *(f"={key}", heading, style, formulas[key]),
        lambda row: row.posted and shown(row.posted),
        **options,
    )


def _declare_shown(live: Callable[..., None]) -> None:
    # First, as programs show columns wider or narrower: it must be in sight beside what is typed.
    live(
        *("remark", _("Needs a look"), "remark text"),
        value=lambda line: in_words(line.remark),
        name="takings_remark",
        alarm='[=remark]<>""',
        width=22,
    )
    live("name", _("What it is"), "worked text", width=13.4)
    live(
        *("list", _("List price"), "worked money"),
        value=lambda line: line.list_price,
        name="takings_list",
        width=8.5,
    )
    live("status", _("Status"), "worked text", value=lambda line: line.piece and line.piece.status, width=9)
    live("to_pay", _("To pay"), "worked owed", value=lambda line: line.piece and line.piece.to_pay, width=8)
    live("money", _("Counts as"), "money", value=lambda line: line.arrived, name="takings_money", width=8.5)


def _declare_kept(table: Table[LineRow]) -> None:
    """Declare what salebook keeps beside a line."""
    table.fixed(
        *("till", _("Till"), lambda row: "label" if row.shows_till else "small text"),
        lambda row: row.line.till,
        name="takings_till",
        read=True,
    )
    table.fixed(
        *("agreed_price", _("Order: price of one"), "small money", lambda row: row.line.agreed_price),
        name="takings_agreed_price",
        read=True,
    )
    table.fixed("bundle", _("Bundle"), "small whole", lambda row: bundle_of(row.line), read=True)
    table.fixed("book", _("Typed in book"), "small text", lambda row: row.line.book, read=True)


def _declare_understood(live: Callable[..., None]) -> None:
    live("order", pgettext("what comes first", "Order"), "whole", name="takings_order")
    live("days_before", _("Days typed"), "whole", name="takings_days_before")
    live("day", _("Day"), "day", value=lambda line: serial(line.day), name="takings_day")
    live("kind", _("Kind"), "text", value=lambda line: kind_label(line.line), name="takings_kind")
    live("typed_piece", _("Piece as typed"), "text")
    live("found", _("Its row in Pieces"), "whole")
    live("ware", _("Its row among wares"), "whole")
    live("unsigned", _("Without signs"), "text")
    live("bare", _("With digits for letters"), "text")
    live("alike", _("Pieces like that"), "whole")
    live("loose", _("Row of the only one"), "whole")
    live("piece", _("Piece"), "text", value=lambda line: line.piece_number, name="takings_piece")
    live("index", _("Row in Pieces"), "whole", name="takings_index")
    live("count", _("Pieces"), "whole", name="takings_count")
    live("own_way", _("Own way: its order"), "whole", name="takings_own_way")
    live("way_from", _("Paid like order"), "whole")
    live("typed_way", _("Way as typed"), "text")
    live("way_row", _("Row of the way"), "whole")
    live("way", _("Paid by"), "text", name="takings_way")
    live("paid_to", _("Paid straight to"), "text")
    live("group", _("Group"), "text", name="takings_group")
    live(
        "claim",
        _("Claim number"),
        "text",
        value=lambda line: trimmed(line.line.claim),
        name="takings_for_claim",
    )
    live("agreed", _("Price agreed with an order"), "money", name="takings_agreed")


def _declare_moment(table: Table[LineRow]) -> None:
    formulas = formulas_of_a_line()
    table.live(
        *("=times_before", _("Times typed"), "whole", formulas["times_before"]),
        lambda row: row.timed and row.timed.times_before,
        name="takings_times_before",
    )
    table.live(
        *("=moment", _("Moment"), "number", formulas["moment"]),
        lambda row: row.timed and serial_moment(*row.timed.moment),
        name="takings_moment",
    )


def _declare_counts(live: Callable[..., None]) -> None:
    def first(line: PostedLine) -> int:
        return line.order if line.is_first else 0

    live("same", _("Lines of this piece"), "whole", name="takings_same")
    live("first", _("First of them, by its order"), "whole", value=first, name="takings_first")
    live("asks", _("Amount to find"), "text", value=lambda line: line.asks.value, name="takings_asks")
    live("typed", _("Typed"), "money", name="takings_typed")
    live("pays", _("Money for a piece"), "whole", value=lambda line: int(line.is_paying))
    live("before", _("Open lines before"), "whole")
    live("at_list", _("At list price"), "money", name="takings_at_list")
    live("left", _("What is left or given back"), "money")
    live("amount", _("Without gift"), "money", name="takings_amount")
    live("gift", _("Gift"), "money")
    live("waiting", _("Not yet arrived"), "money", name="takings_waiting_money")
    live("positive", _("Bears a fee"), "money", value=lambda line: line.bears_fee, name="takings_positive")
    live(
        *("is_payment", _("One payment"), "whole"),
        value=lambda line: int(line.is_payment and not line.line.waiting),
        name="takings_is_payment",
    )
    live(
        *("named", _("For the group named"), "money"),
        value=lambda line: 0 if line.line.waiting else line.named,
        name="takings_named",
    )
    live("aside", _("Piece stood aside"), "whole", value=lambda line: int(is_aside(line)))
    live("paid_before", _("Paid before"), "money", value=paid_before)
    live("off_table", _("Off the table"), "whole", value=off_table, name="takings_off_table")
    live("sold_already", _("Sold before"), "money")
    live("after_refund", _("All given back before"), "whole", value=lambda line: int(line.comes_after_refund))


def _declare_looks(live: Callable[..., None]) -> None:
    """Declare what each look at a line finds."""

    def look(name: str, heading: str) -> None:
        live(f"{name}_remark", heading, "text", value=lambda line: in_words(line.remarks[name]))

    look("typed", _("Look: what was typed"))
    look("order", _("Look: the ware ordered"))
    look("which", _("Look: which piece"))
    look("other", _("Look: no piece"))
    look("refund", _("Look: a refund"))
    look("again", _("Look: sold again"))
    look("amount", _("Look: the amount"))
    look("given", _("Look: an order, a gift"))
    look("price", _("Look: the price"))
    look("piece", _("Look: the piece itself"))
    look("names", _("Look: names and claim"))
    look("paid", _("Look: how it was paid"))
    live("about_piece", _("About the piece"), "text", value=lambda line: in_words(line.about_piece))


def write_takings(
    book: Book,
    reckoning: Reckoning,
    event: Event,
    *,
    till: str = "1",
    one_table: bool = False,
) -> None:
    """Write the sheet Takings; rows that are still empty belong to `till`.

    In the book of one table the sum on top is what came in there.
    """
    del reckoning
    table = takings_table()
    page = book.page(N_("Takings"), widths=(MARGIN, *table.widths), landscape=True)
    page.title(_("Takings"))
    top = page.row - 1
    page.row += 1
    lines = in_order_of_time(event.state)
    empty = Line(number=0, till=till, book=book.book_id)
    free = _free_lines(lines, empty, pieces=sum(piece.count for piece in event.register))
    timed = {id(one.line): one for one in moments_of(event.state)}
    several = len({line.line.till for line in lines}) > 1
    rows = [
        LineRow(line.line, line, place, timed[id(line)], several) for place, line in enumerate(lines, start=1)
    ]
    rows += [LineRow(replace(empty, number=number), shows_till=several) for number in free]
    placed = table.write(page, rows)
    _write_constants(page, top, lines, column=placed.column("till"))
    write_words(page, placed, event.register[0])
    said = _("Came in here") if one_table else _("Raised so far")
    _write_top(page, top, event, placed, said=said)
    page.freeze(placed.first, placed.column("day"))
    free_row = placed.first + len(lines)
    page.begin_at(free_row, placed.column("piece"), top=max(placed.first, free_row - LINES_IN_SIGHT))
    page.repeat_headings(placed.first - 1, placed.first - 1)
    for row, line in enumerate(lines, start=placed.first):
        if len(line.line.note) > NOTE_WIDTH:
            grow_height(page, row, (placed.column("note"), line.line.note))
    page.sheet.print_area = placed.area
    if several:
        _show_till(page, placed)


def _show_till(page: Page, placed: Placed) -> None:
    """Show from which table each line comes, right of the printed columns, and print that too."""
    letter = placed.letter("till")
    shape = page.sheet.column_dimensions[letter]
    shape.width, shape.outline_level, shape.hidden = TILL_WIDTH, 0, False
    corner, _colon, _last = placed.area.partition(":")
    page.sheet.print_area = f"{corner}:{letter}{placed.last}"


def _free_lines(lines: Sequence[PostedLine], empty: Line, *, pieces: int) -> range:
    """Return the numbers of the empty lines: three a piece in all, and never too few."""
    room = max(FEWEST_LINES, LINES_A_PIECE * pieces, len(lines) + len(lines) // SPARE_SHARE + 1)
    bundle = bundle_of(empty)
    last = max((line.line.number for line in lines if bundle_of(line.line) == bundle), default=0)
    return range(last + 1, last + 1 + room - len(lines))


def _write_constants(page: Page, row: int, lines: Sequence[PostedLine], *, column: int) -> None:
    of_a_piece = (kind for kind in get_args(LineKind) if kind in OF_A_PIECE)
    constants: tuple[tuple[str, Content, str], ...] = (
        # A text first: beside an empty cell LibreOffice prints folded numbers as ###.
        ("kind_words", f",{','.join(get_args(LineKind))},", "small text"),
        ("most_lines", MOST_LINES, "small whole"),
        ("nearly_full", NEARLY_FULL, "small percents"),
        (
            "piece_words",
            f",{','.join(of_a_piece)},",
            "small text",
        ),
        ("far_above", FAR_ABOVE, "small whole"),
        (
            "times_typed",
            Figure("=COUNT(takings_times)", sum(line.line.at is not None for line in lines)),
            "small whole",
        ),
    )
    for at, (name, value, style) in enumerate(constants, start=column):
        page.put(row, at, value, style)
        page.name(name, row, at)


def _write_top(page: Page, row: int, event: Event, placed: Placed, *, said: str) -> None:
    at = placed.column
    rows, used = placed.last - placed.first + 1, len(event.state.lines)
    remarks = sum(bool(line.remark) for line in event.state.lines)
    full = _("Nearly full: run “salebook renew” before the lines run out.")
    nearly_full = f'=IF(COUNT(takings_order)>nearly_full*ROWS(takings_order),{quoted(full)},"")'
    page.put(row, at("piece"), said, "label")
    raised = Figure("=raised", event.share_out.reached)
    page.put_wide(row, (at("amount"), at("gift")), raised, "bigger money")
    page.put(row, at("group"), _("Lines that need a look"), "label")
    to_look_at = Figure('=SUMPRODUCT((takings_remark<>"")*1)', remarks)
    page.put_wide(row, (at("waiting"), at("count")), to_look_at, "bigger whole")
    page.name("remarks_count", row, at("waiting"))
    page.highlight(f"{placed.letter('waiting')}{row}", "remarks_count>0")
    page.put(row, at("claim"), _("Lines left"), "label")
    left = Figure("=ROWS(takings_order)-COUNT(takings_order)", rows - used)
    page.put(row, at("remark"), left, "bigger whole")
    page.put(row, at("name"), Figure(nearly_full, full if used > NEARLY_FULL * rows else ""), "remark text")
