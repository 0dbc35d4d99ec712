"""What needs a person before the figures are final."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Final

from salebook.base.words import _
from salebook.event.costs import cost_key
from salebook.event.entries import LineIdentity, LineRows
from salebook.event.event import Event
from salebook.event.lines import LIKE_DIGITS
from salebook.event.posted_line import PostedLine
from salebook.event.remarks import LineRemark, Remark, in_words, say
from salebook.reckoning import Reckoning

ABOUT_READING: Final = frozenset({Remark.NOT_A_NUMBER, Remark.NO_SUCH_KIND, Remark.NOT_A_DATE})
"""Remarks on what could not be read: that is asked when it is read."""


@dataclass(frozen=True, kw_only=True)
class Question:
    """One thing to look at; `row` is 0 where it is not about one row. Never says what a person typed.

    `book` is the file, where several are looked at.
    """

    # A name may have been typed in any cell, and questions are shown, printed and passed on.
    sheet: str
    row: int
    says: str
    book: str = ""


def question_line(question: Question) -> str:
    """Say a question with its book, where there are several, its sheet and row."""
    where = _("{sheet}, row {row}") if question.row else "{sheet}"
    where = where.format(sheet=question.sheet, row=question.row)
    return ": ".join(part for part in (question.book, where, question.says) if part)


def questions_of(
    reckoning: Reckoning, event: Event, rows: LineRows, *, books: Mapping[LineIdentity, str] | None = None
) -> tuple[Question, ...]:
    """Return what the entries themselves leave open: remarks on lines, and what belongs to nothing.

    `books` are the files in which the lines were typed, by their identities, where there are several.
    """
    return (*_on_lines(event, rows, books or {}), *_on_entries(reckoning, event))


def _on_lines(event: Event, rows: LineRows, books: Mapping[LineIdentity, str]) -> Iterator[Question]:
    lines = event.state.lines
    several = bool(books) or len({counted.line.till for counted in lines}) > 1
    for counted in lines:
        line, remark = counted.line, counted.remark
        if remark and not _is_asked_already(counted, remark):
            says = _("table {till}, line {number}: {remark}") if several else _("line {number}: {remark}")
            says = says.format(till=line.till, number=line.number, remark=_nameless(counted, remark, event))
            row, book = rows.get(line.identity, 0), books.get(line.identity, "")
            yield Question(sheet=_("Takings"), row=row, says=says, book=book)


def _is_asked_already(counted: PostedLine, remark: LineRemark) -> bool:
    """Whether the remark is about something that could not be read, which was asked when it was read."""
    return bool(counted.line.unread) and remark.kind in ABOUT_READING


def _nameless(counted: PostedLine, remark: LineRemark, event: Event) -> str:
    """Say a line's remark without the claim number, in whose place somebody may have typed a name."""
    if remark.kind == Remark.RESERVED_FOR:
        return say(remark.kind, _("somebody else"))
    near = _near(counted, event) if remark.kind == Remark.NO_SUCH_PIECE else ""
    return _("no such piece (is it {number}?)").format(number=near) if near else in_words(remark)


def _near(counted: PostedLine, event: Event) -> str:
    """Return the piece that may be meant: one of like letters and the same digits; empty: none."""
    code, _dash, number = counted.piece_number.rpartition("-")
    digits = number.translate(str.maketrans(*LIKE_DIGITS))
    numbers = [piece.number for piece in event.register if piece.index and piece.number.endswith(digits)]
    near = get_close_matches(f"{code}-{digits}", numbers, n=1, cutoff=0.7) if digits.isdigit() else []
    return near[0] if near else ""


def _on_entries(reckoning: Reckoning, event: Event) -> Iterator[Question]:
    """Ask about what was filled in and belongs to nothing in the plan, and about groups paid too much."""
    plan, entries, shares = reckoning.plan, event.entries, event.share_out.groups
    unknown = entries.pieces.keys() - {piece.number for piece in event.register}
    costs = entries.actual_costs.keys() - {cost_key(line) for line in reckoning.costs.lines}
    fees = entries.actual_fees.keys() - {way.name for way in plan.payments}
    groups = {payment.group for payment in entries.payments} - {group.name for group in plan.beneficiaries}
    pieces = _("pieces are marked here that are not in the plan: {count}").format(count=len(unknown))
    too_much = _("{group} was paid more than it gets")
    kept = _("kept here, from the sheet {sheet} of the book before: there is no place for it in this one")
    asked = (
        (_("Pieces"), unknown, pieces),
        (_("Costs"), costs, _("what it really cost is filled in for a cost not in the plan")),
        (_("Share-out"), fees, _("a fee is filled in for a way to pay that is not in the plan")),
        (_("Share-out"), groups, _("a payment was made to a group that is not in the plan")),
        *((_("Share-out"), one.to_pay < 0, too_much.format(group=one.group.name)) for one in shares),
        *((_("Start here"), True, kept.format(sheet=one.sheet)) for one in entries.unplaced),
    )
    return (Question(sheet=sheet, row=0, says=says) for sheet, is_asked, says in asked if is_asked)
