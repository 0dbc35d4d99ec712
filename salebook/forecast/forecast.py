"""A sale at one moment, and all that is asked of it from then on."""

from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from functools import cached_property
from typing import Final

from salebook.event.entries import Entries
from salebook.event.event import Event, entries_up_to, reckon_event
from salebook.forecast.figures import chance_of_target
from salebook.forecast.from_book import standing_from_book
from salebook.forecast.must_fetch import MustFetch, must_fetch
from salebook.forecast.options import Option, options_of
from salebook.forecast.rungs import RungLeft, ladder_left, rung_left
from salebook.forecast.selling_time import evening_of, share_over
from salebook.forecast.standing import Standing, state_at
from salebook.forecast.studio_ahead import StudioAhead, studio_ahead
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning

FIRST_DAY: Final = (Decimal("0.4"), Decimal("0.6"))
"""Shares of a sale that its first day may be."""


@dataclass(frozen=True, kw_only=True)
class Forecast:
    """A sale as its book has it at one moment; what takes long is worked out when it is asked for."""

    reckoning: Reckoning
    event: Event
    now: datetime
    standing: Standing
    ahead: StudioAhead
    last_line: date | None
    """The day of the last line in the book; lines after `now` are left out."""

    @property
    def plan(self) -> Plan:
        """The plan of the sale."""
        return self.reckoning.plan

    @property
    def is_over(self) -> bool:
        """Whether no selling time is left."""
        return self.standing.over >= 1

    @property
    def has_begun(self) -> bool:
        """Whether the first day of the sale has come."""
        return self.now.date() >= self.plan.sale.days[0]

    @cached_property
    def as_it_is(self) -> RungLeft:
        """What is left at the plan's prices."""
        return rung_left(self.standing)

    @cached_property
    def ladder(self) -> tuple[RungLeft, ...]:
        """What is left at other prices; nothing where the sale is over."""
        return () if self.is_over else ladder_left(self.standing)

    @cached_property
    def options(self) -> tuple[Option, ...]:
        """What can still be done."""
        return options_of(self.standing, self.ladder, self.ahead, self.now.date())

    @cached_property
    def must_fetch(self) -> tuple[MustFetch, ...]:
        """What each piece that is left must fetch."""
        return must_fetch(self.standing)

    @cached_property
    def if_first_day_is(self) -> tuple[tuple[Decimal, float], ...]:
        """Other shares that the first of several days may be of the sale, and the chance of the target then.

        Nothing before the sale and after it.
        """
        if self.is_over or not self.standing.over or len(self.plan.sale.days) == 1:
            return ()
        return tuple((share, self.chance_if_first_day_is(share)) for share in FIRST_DAY)

    def chance_if_first_day_is(self, share: Decimal) -> float:
        """Return the chance of the target if the first day were so large a share of the whole sale."""
        over = share_over(self.plan.sale, self.now, first_day=share)
        return chance_of_target(state_at(replace(self.standing, over=over)))


def forecast_of(reckoning: Reckoning, event: Event, now: datetime) -> Forecast:
    """Return a sale as it stands at a moment by what was filled in up to the evening of that day."""
    last_line = last_line_of(event)
    if last_line is not None and last_line > now.date():
        event = reckon_event(reckoning, entries_up_to(event, now.date()))
    ahead = studio_ahead(reckoning, event.entries, now.date())
    return Forecast(
        reckoning=reckoning,
        event=event,
        now=now,
        standing=standing_from_book(reckoning, event, now, ahead),
        ahead=ahead,
        last_line=last_line,
    )


def usual_moment(reckoning: Reckoning, event: Event, clock: datetime) -> datetime:
    """Return the moment from which to reckon where nobody says: by the clock, yet after the last line."""
    sale, last_line = reckoning.plan.sale, last_line_of(event)
    if last_line is None or last_line <= clock.date():
        return clock
    return max(clock, evening_of(min(last_line, sale.days[-1]), sale))


def last_line_of(event: Event) -> date | None:
    """Return the day of the last line of takings; None where there is none."""
    return max((line.day for line in event.state.lines), default=None)


def has_nothing_filled_in(entries: Entries) -> bool:
    """Whether a book says no more than its plan: nothing made, counted, marked or taken."""
    return not (entries.lines or entries.made or entries.studio or entries.pieces)
