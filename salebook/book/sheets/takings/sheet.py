"""The sheet Takings: a line for each sale or gift, with what follows from it beside it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, get_args

from openpyxl.utils import get_column_letter

from salebook.base.words import _
from salebook.book.figure import Figure, Value, serial
from salebook.book.formulas import quoted
from salebook.book.marks import UNSAID
from salebook.book.page import Book, Content, Page, number
from salebook.book.sheets.takings.formulas import formulas_of
from salebook.event.entries import Line, LineKind
from salebook.event.event import Event
from salebook.event.lines import MOST_LINES, OF_A_PIECE, bundle_of, kind_label
from salebook.event.receipts import in_order_of_time
from salebook.event.remarks import FAR_ABOVE, in_words
from salebook.event.state import PostedLine
from salebook.event.table_count import off_table
from salebook.reckoning import Reckoning

LINES_A_PIECE: Final = 3
FEWEST_LINES: Final = 100
SPARE_SHARE: Final = 4
"""A book with lines in it already has room for at least a quarter more."""
NEARLY_FULL: Final = 0.8
HELPER_WIDTH: Final = 7.0


@dataclass(frozen=True)
class Column:
    """One column: key, heading, width in characters, style; live ones have a key that begins with "="."""

    key: str
    heading: str
    width: float
    style: str
    name: str = ""


def _columns() -> tuple[Column, ...]:
    return (*_typed_columns(), *_shown_columns(), *_helper_columns())


def _typed_columns() -> tuple[Column, ...]:
    return (
        Column("line", _("Line"), 5, "label whole", "takings_line"),
        Column("day", _("Day"), 10.5, "input day", "takings_days"),
        Column("time", _("Time"), 6, "input clock"),
        # In a cell for any content, programs take MAY-001 for a day in May.
        Column("piece", _("Piece"), 10.5, "input verbatim"),
        Column("way", _("Paid by"), 8.5, "input text", "takings_ways"),
        Column("amount", _("Amount, if not the list price"), 8.5, "input money"),
        Column("kind", _("Kind, if not a sale"), 12, "input text"),
        Column("gift", _("Gift on top"), 7.5, "input money"),
        Column("group", _("For one group"), 12, "input text"),
        Column("with_above", _("With the line above"), 6.5, "input text", "takings_above"),
        Column("waiting", _("Not yet arrived"), 7.5, "input text"),
        Column("count", _("How many"), 5.5, "input whole"),
        Column("claim", _("Claim number"), 8, "input text", "takings_claim"),
        Column("note", _("Note"), 6, "input text"),
    )


def _shown_columns() -> tuple[Column, ...]:
    return (
        Column("=name", _("What it is"), 14, "worked text"),
        Column("=list", _("List price"), 8.5, "worked money", "takings_list"),
        Column("=status", _("Stands as"), 9, "worked text"),
        Column("=to_pay", _("To pay"), 8, "worked owed"),
        Column("=money", _("Counts as"), 8.5, "result money", "takings_money"),
        Column("=remark", _("Needs a look"), 22, "remark text", "takings_remark"),
    )


def _helper_columns() -> tuple[Column, ...]:
    helpers = (
        ("till", _("Till"), "text", "takings_till"),
        ("agreed_price", _("Order: price of one"), "money", "takings_agreed_price"),
        ("bundle", _("Bundle"), "whole", ""),
        ("book", _("Typed in book"), "text", ""),
        ("=order", _("Order"), "whole", "takings_order"),
        ("=days_before", _("Days typed"), "whole", "takings_days_before"),
        ("=day", _("Day"), "day", "takings_day"),
        ("=kind", _("Kind"), "text", "takings_kind"),
        ("=typed_piece", _("Piece as typed"), "text", ""),
        ("=found", _("Its row in Pieces"), "whole", ""),
        ("=bare", _("Bare of signs"), "text", ""),
        ("=loose", _("Its row so"), "whole", ""),
        ("=piece", _("Piece"), "text", "takings_piece"),
        ("=index", _("Row in Pieces"), "whole", "takings_index"),
        ("=count", _("Pieces"), "whole", "takings_count"),
        ("=typed_way", _("Way as typed"), "text", ""),
        ("=way", _("Paid by"), "text", "takings_way"),
        ("=group", _("Group"), "text", "takings_group"),
        ("=same", _("Lines of this piece"), "whole", "takings_same"),
        ("=first", _("First of them, by its order"), "whole", "takings_first"),
        ("=asks", _("Amount to find"), "text", "takings_asks"),
        ("=typed", _("Typed"), "money", "takings_typed"),
        ("=at_list", _("At list price"), "money", "takings_at_list"),
        ("=left", _("What is left or given back"), "money", ""),
        ("=amount", _("Without gift"), "money", "takings_amount"),
        ("=gift", _("Gift"), "money", ""),
        ("=waiting", _("Not yet arrived"), "money", "takings_waiting_money"),
        ("=positive", _("Bears a fee"), "money", "takings_positive"),
        ("=is_payment", _("One payment"), "whole", "takings_is_payment"),
        ("=named", _("For the group named"), "money", "takings_named"),
        ("=off_table", _("Off the table"), "whole", "takings_off_table"),
        ("=about_piece", _("About the piece"), "text", ""),
    )
    return tuple(
        Column(key, heading, HELPER_WIDTH, f"small {style}", name) for key, heading, style, name in helpers
    )


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
    columns = _columns()
    visible = [column.width for column in (*_typed_columns(), *_shown_columns())]
    page = book.page(_("Takings"), widths=[1.6, *visible], landscape=True)
    page.title(_("Takings"))
    top = page.row - 1
    page.row += 1
    headings = page.headings(
        [column.key for column in columns], [column.heading for column in columns], section="takings"
    )
    lines = in_order_of_time(event.state)
    empty = Line(number=0, till=till, book=book.mark)
    free = _free_lines(lines, empty, pieces=sum(piece.count for piece in event.register))
    first, last = page.row, page.row + len(lines) + len(free) - 1
    _name_columns(page, columns, first, last)
    _write_constants(page, top, column=len(visible) + 2)
    said = _("Came in here") if one_table else _("Raised so far")
    _write_top(page, top, event, rows=last - first + 1, said=said)
    _write_lines(page, columns, lines, [replace(empty, number=number) for number in free])
    _offer(page, columns, first, last)
    _lay_out(page, columns, headings, last)


def _free_lines(lines: Sequence[PostedLine], empty: Line, *, pieces: int) -> range:
    """Return the numbers of the empty lines: three a piece in all, and never too few."""
    room = max(FEWEST_LINES, LINES_A_PIECE * pieces, len(lines) + len(lines) // SPARE_SHARE + 1)
    bundle = bundle_of(empty)
    last = max((line.line.number for line in lines if bundle_of(line.line) == bundle), default=0)
    return range(last + 1, last + 1 + room - len(lines))


def _name_columns(page: Page, columns: Sequence[Column], first: int, last: int) -> None:
    for at, column in enumerate(columns, start=2):
        if column.name:
            page.name(column.name, first, at, last_row=last)


def _write_constants(page: Page, row: int, *, column: int) -> None:
    of_a_piece = (kind for kind in get_args(LineKind) if kind in OF_A_PIECE)
    constants: tuple[tuple[str, Content, str], ...] = (
        ("most_lines", MOST_LINES, "small whole"),
        ("nearly_full", NEARLY_FULL, "small percents"),
        ("kind_words", f",{','.join(get_args(LineKind))},", "small text"),
        (
            "piece_words",
            f",{','.join(of_a_piece)},",
            "small text",
        ),
        ("far_above", FAR_ABOVE, "small whole"),
    )
    for at, (name, value, style) in enumerate(constants, start=column):
        page.put(row, at, value, style)
        page.name(name, row, at)


def _write_top(page: Page, row: int, event: Event, *, rows: int, said: str) -> None:
    used = len(event.state.lines)
    remarks = sum(bool(line.remark) for line in event.state.lines)
    full = _("Nearly full: renew the book before the lines run out.")
    nearly_full = f'=IF(COUNT(takings_order)>nearly_full*ROWS(takings_order),{quoted(full)},"")'
    page.put(row, 5, said, "label")
    page.put_wide(row, (7, 9), Figure("=raised", event.share_out.reached), "bigger money")
    page.put(row, 10, _("Lines that need a look"), "label")
    page.put_wide(row, (12, 13), Figure('=SUMPRODUCT((takings_remark<>"")*1)', remarks), "bigger whole")
    page.name("remarks_count", row, 12)
    page.put(row, 14, _("Lines left"), "label")
    page.put_wide(
        row, (16, 17), Figure("=ROWS(takings_order)-COUNT(takings_order)", rows - used), "bigger whole"
    )
    page.put(row, 18, Figure(nearly_full, full if used > NEARLY_FULL * rows else ""), "remark text")
    page.highlight(get_column_letter(12) + str(row), "remarks_count>0")


def _write_lines(
    page: Page, columns: Sequence[Column], lines: Sequence[PostedLine], free: Sequence[Line]
) -> None:
    formulas = formulas_of([column.key for column in columns], 2)
    plan = [(at, c.key, c.style, formulas.get(c.key, "")) for at, c in enumerate(columns, start=2)]
    for line in lines:
        _write_line(page, plan, line.line, _worked_out(line))
    for empty in free:
        _write_line(page, plan, empty, {})


def _write_line(
    page: Page,
    plan: Sequence[tuple[int, str, str, str]],
    line: Line,
    worked_out: Mapping[str, Value],
) -> None:
    row, row_number, typed = page.row, str(page.row), _typed(line)
    page.put(row, 1, f"takings{UNSAID}{','.join(line.settled)}" if line.settled else "takings", "key")
    for at, key, style, formula in plan:
        if formula:
            content: Content = Figure(formula.replace("#", row_number), worked_out.get(key, ""))
        else:
            content = typed.get(key)
        page.put(row, at, content, style)
    page.row += 1


def _typed(line: Line) -> Mapping[str, Content]:
    return {
        "line": line.number,
        "day": line.day,
        "time": line.at,
        "piece": line.piece.strip() or None,
        "way": line.way.strip() or None,
        "amount": None if line.amount is None else number(line.amount),
        "kind": None if line.kind == "sale" else line.kind,
        "gift": None if line.gift is None else number(line.gift),
        "group": line.group.strip() or None,
        "with_above": "yes" if line.with_above else None,
        "waiting": "yes" if line.waiting else None,
        "count": line.count,
        "claim": line.claim.strip() or None,
        "note": line.note.strip() or None,
        "till": line.till,
        "agreed_price": None if line.agreed_price is None else number(line.agreed_price),
        "bundle": bundle_of(line),
        "book": line.book or None,
    } | dict(line.unread)


def _worked_out(counted: PostedLine) -> dict[str, Value]:
    return _understood(counted) | _counts(counted)


def _understood(counted: PostedLine) -> dict[str, Value]:
    return {
        "=order": counted.order,
        "=days_before": counted.days_before,
        "=day": serial(counted.day),
        "=kind": kind_label(counted.line),
        "=typed_piece": counted.typed_piece,
        "=found": counted.found,
        "=bare": counted.bare,
        "=loose": counted.loose,
        "=piece": counted.piece_number,
        "=index": counted.index,
        "=count": counted.count,
        "=typed_way": counted.typed_way,
        "=way": counted.way,
        "=group": counted.group,
        "=name": counted.name,
        "=list": "" if counted.list_price is None else counted.list_price,
        "=asks": counted.asks.value,
    }


def _counts(counted: PostedLine) -> dict[str, Value]:
    piece = counted.piece
    arrived = not counted.line.waiting
    return {
        "=status": piece.status if piece else "",
        "=to_pay": piece.to_pay if piece else "",
        "=money": counted.arrived,
        "=remark": in_words(counted.remark),
        "=same": counted.same,
        "=first": counted.order if counted.is_first else 0,
        "=typed": counted.typed,
        "=at_list": counted.at_list,
        "=left": counted.left,
        "=amount": counted.amount,
        "=gift": counted.gift,
        "=waiting": counted.waiting,
        "=positive": counted.bears_fee,
        "=is_payment": int(counted.is_payment and arrived),
        "=named": counted.named if arrived else 0,
        "=off_table": off_table(counted),
        "=about_piece": in_words(counted.about_piece),
    }


def _offer(page: Page, columns: Sequence[Column], first: int, last: int) -> None:
    at = {column.key: get_column_letter(n) for n, column in enumerate(columns, start=2)}

    def cells(key: str) -> str:
        return f"{at[key]}{first}:{at[key]}{last}"

    page.dropdown(cells("way"), "way_names", says=_("Choose one of the ways to pay on Plan"))
    page.dropdown(cells("group"), "group_names", says=_("Choose one of the groups on Plan"))
    page.dropdown(cells("kind"), get_args(LineKind), says=_("Choose one of the list; empty is a sale"))
    page.dropdown(f"{at['with_above']}{first}:{at['waiting']}{last}", ("yes",), says=_("yes, or empty"))
    for key in ("amount", "gift", "count"):
        page.number_only(cells(key), says=_("A number without a minus is expected here"))
    page.highlight(cells("=remark"), f'{at["=remark"]}{first}<>""')


def _lay_out(page: Page, columns: Sequence[Column], headings: int, last: int) -> None:
    shown = len(page.widths)
    for at in range(shown + 1, len(columns) + 2):
        page.sheet.column_dimensions[get_column_letter(at)].width = HELPER_WIDTH
    page.freeze(headings + 1, 3)
    page.repeat_headings(headings, headings)
    page.sheet.print_area = f"B1:{get_column_letter(shown)}{last}"
