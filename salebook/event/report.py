"""The accounts after the sale: reckoned from the lines themselves, with what still needs a look."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from functools import cached_property

from salebook.event.bank import WayBanked, ways_banked
from salebook.event.breakdown import TakingsBreakdown, breakdown_of
from salebook.event.cash_up import CashUp
from salebook.event.claims import ClaimState, waiting_claims
from salebook.event.entries import Entries, LineIdentity, LineRows
from salebook.event.event import Event, entries_up_to, reckon_event
from salebook.event.gifts import gifts_of
from salebook.event.givers import Giver, givers_of
from salebook.event.question import Question, questions_of
from salebook.event.reconciliation import SheetSums, reconcile
from salebook.event.stock import Stock, stock_of
from salebook.plan.model import Plan
from salebook.plan.money import ZERO
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Report:
    """One sale's accounts; `up_to` is the last day of an interim report, None for all that is filled in."""

    reckoning: Reckoning
    event: Event
    questions: tuple[Question, ...]
    notes: tuple[Question, ...] = ()
    """What was understood although the workbook's own sheets may count it otherwise."""
    up_to: date | None = None

    @property
    def plan(self) -> Plan:
        """The plan of the sale."""
        return self.reckoning.plan

    @property
    def is_final(self) -> bool:
        """Whether nothing needs a look, and nothing is left out."""
        return not self.questions and self.up_to is None

    @property
    def to_look_at(self) -> int:
        """How many lines need a look: what is asked of one row counts once."""
        rows = {(question.sheet, question.row) for question in self.questions if question.row}
        return len(rows) + sum(not question.row for question in self.questions)

    @property
    def missing(self) -> Decimal:
        """What the takings fall short of what they must meet; 0 where they do not."""
        return max(ZERO, -self.event.share_out.pool)

    @property
    def cash_ups(self) -> tuple[CashUp, ...]:
        """The cash boxes of the days that the report covers; tills at which nothing happened are left out."""
        tills = {line.line.till for line in self.event.state.lines}
        boxes = [box for box in self.event.cash_ups if self.up_to is None or box.day <= self.up_to]
        used = tuple(box for box in boxes if box.till in tills or box.paid_out or box.difference)
        return used or tuple(boxes)

    @cached_property
    def received(self) -> TakingsBreakdown:
        """What came in, taken apart."""
        return breakdown_of(self.plan, self.event.state)

    @cached_property
    def givers(self) -> tuple[Giver, ...]:
        """Everyone who gave pieces."""
        return givers_of(self.plan, self.event.state.pieces)

    @cached_property
    def banked(self) -> tuple[WayBanked, ...]:
        """Money in the bank beside the takings, way by way."""
        return ways_banked(self.plan, self.event)

    @cached_property
    def stock(self) -> tuple[Stock, ...]:
        """What became of the pieces."""
        return stock_of(self.event.state, self.plan.sale.digits)

    @cached_property
    def gifts(self) -> int:
        """How often money was given."""
        return gifts_of(self.event.state)

    @cached_property
    def waiting(self) -> tuple[ClaimState, ...]:
        """What is still to hand over."""
        return waiting_claims(self.event.entries.claims, self.event.state)


def report_of(
    reckoning: Reckoning,
    entries: Entries,
    *,
    asked: Sequence[Question] = (),
    notes: Sequence[Question] = (),
    rows: LineRows | None = None,
    stored: SheetSums | None = None,
    uncounted: Collection[LineIdentity] = (),
    up_to: date | None = None,
) -> Report:
    """Reckon the accounts from what was filled in.

    `asked` is what could not be read, `notes` what could although it was typed loosely; `rows` are the lines'
    rows on their sheet; `stored` is what the workbook's own sheets show: a difference is a question.
    `uncounted` are lines, by their identities, that those sheets cannot count, such as one whose amount is
    typed as text.
    """
    whole = reckon_event(reckoning, entries)
    event = whole if up_to is None else reckon_event(reckoning, entries_up_to(whole, up_to))
    questions = (
        *asked,
        *questions_of(reckoning, event, rows or {}),
        *reconcile(reckoning, whole, stored or SheetSums(), uncounted),
    )
    return Report(
        reckoning=reckoning,
        event=event,
        questions=_by_place(questions),
        notes=tuple(notes),
        up_to=up_to,
    )


def _by_place(questions: Sequence[Question]) -> tuple[Question, ...]:
    """Return questions by sheet, in the order in which the sheets come up, and by row."""
    sheets = list(dict.fromkeys(question.sheet for question in questions))
    return tuple(sorted(questions, key=lambda question: (sheets.index(question.sheet), question.row)))
