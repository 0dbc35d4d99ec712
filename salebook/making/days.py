"""Is there time: when to throw, dry, fire, glaze and finish, backwards from the sale and forwards from today.

Each task waits until the one before it is done for all pieces. On a working day one batch is thrown, of
one ware, and no more of it than there are free bats; a piece stands on its bat until it is leather hard.
Drying and cooling go on while nobody works; a kiln is lit and unloaded on working days. Glaze is put on in
a day before each glaze firing, and one day is kept to finish and wrap before the sale's first day (common
practice, no source).
"""

from bisect import bisect_left
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Literal, NamedTuple

from salebook.making.losses import Run
from salebook.making.studio import Studio, plan_studio
from salebook.plan.model import Plan

Kind = Literal["throw", "dry", "fire", "glaze", "finish"]
Batch = tuple[str, int]
"""A ware's code and so many pieces of it."""

EARLIEST, LATEST = date(1901, 1, 1), date(9990, 1, 1)
"""Dates beyond these are taken for these: no spreadsheet shows earlier ones, none can be later than 9999."""

SHARES_TRIED = 1000
"""Shares of what is wanted are tried in thousandths."""


@dataclass(frozen=True, kw_only=True)
class Throw:
    """What is thrown on one day: pieces of one ware, by its code."""

    day: date
    code: str
    pieces: int


@dataclass(frozen=True, kw_only=True)
class Task:
    """One stretch of the work, first to last day, both included."""

    kind: Kind
    first: date
    last: date
    firing: str = ""
    """The firing's name, where the kind is "fire", or "glaze" for the glaze that is put on before it."""
    lit: tuple[date, ...] = ()
    """The day on which each kiln load is lit."""
    throws: tuple[Throw, ...] = ()
    """What is thrown on each day, where the kind is "throw"."""


class Span(NamedTuple):
    """First and last day of a part of a task, as ordinals; of throwing, what is thrown."""

    first: int
    last: int
    batch: Batch = ("", 0)


@dataclass(frozen=True, kw_only=True)
class Instead:
    """What would fit where it is too late: a later sale, or fewer pieces."""

    sale_from: date
    """The first day on which the sale could be held with all pieces."""
    wanted: dict[str, int]
    """How many good pieces of each ware could be there by the sale, by code; a ware of none is left out."""


@dataclass(frozen=True, kw_only=True)
class Days:
    """The dated plan: every task as late as it may be and, begun today, as soon as it can be.

    Without wares of the maker's own there is no task. `earliest` is empty where no day of today is known.
    Nothing is taken to be made yet.
    """

    sale_day: date
    latest: tuple[Task, ...]
    today: date | None = None
    earliest: tuple[Task, ...] = ()
    instead: Instead | None = None

    @property
    def begin_by(self) -> date | None:
        """The last day on which throwing can begin."""
        return self.latest[0].first if self.latest else None

    @property
    def last_day_to_throw(self) -> date | None:
        """The last day on which anything can be thrown."""
        return next((task.last for task in self.latest if task.kind == "throw"), None)

    @property
    def first_firing(self) -> date | None:
        """The last day on which the first kiln load can be lit."""
        return next((task.lit[0] for task in self.latest if task.lit), None)

    @property
    def last_firing(self) -> date | None:
        """The last day on which the last kiln load can be lit."""
        return next((task.lit[-1] for task in reversed(self.latest) if task.lit), None)

    @property
    def days_in_hand(self) -> int | None:
        """By how many days the beginning can be put off; below 0 it is too late by so many."""
        if self.begin_by is None or self.today is None:
            return None
        return (self.begin_by - self.today).days

    @property
    def is_too_late(self) -> bool:
        """Whether a beginning today is ready only after the sale has begun."""
        return self.days_in_hand is not None and self.days_in_hand < 0


def days_for(plan: Plan, studio: Studio, today: date | None = None) -> Days:
    """Return the dated plan; `today` is the first day on which somebody can work."""
    steps, free = _steps(plan, studio), _ordinals(plan.making.free_days)
    days = Days(sale_day=plan.sale.days[0], latest=_latest(steps, plan.sale.days[0], free))
    if today is None or not steps:
        return days
    earliest = _earliest(steps, today, free)
    known = replace(days, today=today, earliest=earliest)
    if not known.is_too_late:
        return known
    first_day = _date(earliest[-1].last.toordinal() + 1)
    return replace(known, instead=Instead(sale_from=first_day, wanted=_fitting(plan, today, days.sale_day)))


@dataclass(frozen=True, kw_only=True)
class _Step:
    """A task before it has dates."""

    kind: Kind
    firing: str = ""
    batches: tuple[Batch, ...] = ()
    bats: int | None = None
    days: int = 1
    """On a bat, in drying, or for one kiln load."""
    loads: int = 1

    def spans(self, begin: int, free: frozenset[int]) -> list[Span]:
        """Return the days that each part takes when it may begin on `begin`, as soon as it can be."""
        if self.kind == "throw":
            return _throwing(self.batches, self.bats, self.days, begin, free)
        if self.kind == "dry":
            return [Span(begin, begin + self.days - 1)]
        return list(_one_after_another(self.loads, self.days, begin, free))

    @property
    def reversed(self) -> "_Step":
        """The same step seen backwards in time."""
        return replace(self, batches=self.batches[::-1])


def _steps(plan: Plan, studio: Studio) -> tuple[_Step, ...]:
    if not studio.runs:
        return ()
    making = plan.making
    batches = tuple(
        (run.ware.code, pieces) for run in studio.runs for pieces in batches_of(run, making.batch)
    )
    throw = _Step(kind="throw", batches=batches, bats=making.bats, days=making.days_on_bat)
    drying = making.days_on_bat + making.drying_days
    dry = (_Step(kind="dry", days=drying),) if drying else ()
    return throw, *dry, *_firing_steps(plan, studio), _Step(kind="finish")


def batches_of(run: Run, batch: int) -> Iterator[int]:
    """Yield how many pieces of a ware are thrown in each go."""
    for first in range(0, run.started, batch):
        yield min(batch, run.started - first)


def _firing_steps(plan: Plan, studio: Studio) -> Iterator[_Step]:
    if plan.kiln is None:
        return
    loads = {loading.stage: loading.to_fire for loading in studio.loadings}
    for firing in plan.firings:
        if firing.stage == "glaze":
            yield _Step(kind="glaze", firing=firing.name)
        yield _Step(kind="fire", firing=firing.name, days=plan.kiln.days_per_load, loads=loads[firing.stage])


def _earliest(steps: Sequence[_Step], today: date, free: frozenset[int]) -> tuple[Task, ...]:
    placed = _placed(steps, today.toordinal(), free)
    return tuple(_task(step, spans) for step, spans in zip(steps, placed, strict=True))


def _latest(steps: Sequence[_Step], sale_day: date, free: frozenset[int]) -> tuple[Task, ...]:
    """Place the steps backwards from the eve of the sale: time is turned round, and the same rules hold."""
    # Begun in time and ready in time are then one law, which a property tests.
    backwards = [step.reversed for step in reversed(steps)]
    placed = _placed(backwards, 1 - sale_day.toordinal(), frozenset(-day for day in free))
    turned = [
        [Span(-last, -first, batch) for first, last, batch in reversed(spans)] for spans in reversed(placed)
    ]
    return tuple(_task(step, spans) for step, spans in zip(steps, turned, strict=True))


def _placed(steps: Iterable[_Step], begin: int, free: frozenset[int]) -> list[list[Span]]:
    placed = []
    for step in steps:
        placed.append(step.spans(begin, free))
        begin = placed[-1][-1][1] + 1
    return placed


def _task(step: _Step, spans: Sequence[Span]) -> Task:
    days = tuple(_date(span.first) for span in spans)
    return Task(
        kind=step.kind,
        first=days[0],
        last=_date(spans[-1].last),
        firing=step.firing,
        lit=days if step.kind == "fire" else (),
        throws=tuple(_throws(spans, days)) if step.kind == "throw" else (),
    )


def _throws(spans: Iterable[Span], days: Iterable[date]) -> Iterator[Throw]:
    for span, day in zip(spans, days, strict=True):
        code, pieces = span.batch
        yield Throw(day=day, code=code, pieces=pieces)


def _throwing(
    batches: Iterable[Batch], bats: int | None, days_on_bat: int, begin: int, free: frozenset[int]
) -> list[Span]:
    """Throw as much as may be on each working day: one batch, or what of it the free bats take."""
    day = _working(begin, free)
    spans: list[Span] = []
    taken: deque[tuple[int, int]] = deque()
    on_bats = 0
    for code, pieces in batches:
        left = pieces
        while left:
            while taken and taken[0][0] <= day:
                on_bats -= taken.popleft()[1]
            thrown = left if bats is None else min(left, bats - on_bats)
            if thrown:
                spans.append(Span(day, day, (code, thrown)))
                taken.append((day + days_on_bat, thrown))
                on_bats += thrown
                left -= thrown
            day = _working(day + 1 if thrown else taken[0][0], free)
    return spans


def _one_after_another(count: int, days: int, begin: int, free: frozenset[int]) -> Iterator[Span]:
    """Yield stretches of so many days that begin and end on working days."""
    for _number in range(max(1, count)):
        first = _working(begin, free)
        last = _working(first + days - 1, free)
        yield Span(first, last)
        begin = last + 1


def _working(day: int, free: frozenset[int]) -> int:
    while day in free:
        day += 1
    return day


def _fitting(plan: Plan, today: date, sale_day: date) -> dict[str, int]:
    """Return how many good pieces could be there, the same share of each ware, as large a share as fits."""

    def is_in_time(share: int) -> bool:
        less = _less(plan, share)
        steps = _steps(less, plan_studio(less))
        return not steps or _earliest(steps, today, _ordinals(plan.making.free_days))[-1].last < sale_day

    return {ware.code: ware.wanted for ware in _less(plan, largest_share(is_in_time)).wares}


def largest_share(fits: Callable[[int], bool]) -> int:
    """Return the largest share below the whole that fits, of SHARES_TRIED; 0 where none does."""
    return bisect_left(range(1, SHARES_TRIED), True, key=lambda share: not fits(share))


def _less(plan: Plan, share: int) -> Plan:
    fewer = [ware.model_copy(update={"wanted": ware.wanted * share // SHARES_TRIED}) for ware in plan.wares]
    return plan.model_copy(update={"wares": tuple(ware for ware in fewer if ware.wanted)})


def _ordinals(days: Iterable[date]) -> frozenset[int]:
    return frozenset(day.toordinal() for day in days)


def _date(ordinal: int) -> date:
    return date.fromordinal(min(max(ordinal, EARLIEST.toordinal()), LATEST.toordinal()))
