"""What a plan would bring at other prices and numbers, at once; and those put into its file."""

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from pathlib import Path
from typing import Any, Final

from salebook.base.errors import FileError
from salebook.base.files import write_atomically
from salebook.base.words import _
from salebook.jobs.columns import note_on_guesses
from salebook.jobs.plan_keys import state_of
from salebook.making.studio import plan_studio
from salebook.plan.changed_text import Spot, with_changes
from salebook.plan.fields import FURTHEST_DIGIT
from salebook.plan.keys import keys_of
from salebook.plan.load import plan_from_mapping, read_plan, tables_in, text_of
from salebook.plan.model import Plan
from salebook.plan.money import rounded
from salebook.plan.quantities import plain
from salebook.plan.tables import LISTS
from salebook.pricing.advice import expected_shares
from salebook.pricing.costing import cost_lines
from salebook.pricing.demand import is_guessed
from salebook.pricing.number_wanted import with_number_wanted
from salebook.pricing.outcome import outcome_at
from salebook.reckoning import made_and_costed

COUNTS: Final = frozenset({"wanted", "count"})
TRIED: Final = {"wares": ("price", "seconds_price", "wanted"), "donated": ("price", "count")}
"""What can be tried out, by table."""
SPAN: Final = 2
"""A slider goes up to so many times what the plan says."""
FEWEST_STEPS: Final = 20


@dataclass(frozen=True, kw_only=True)
class Knob:
    """A price or a number of the plan that can be tried out, as a slider shows it."""

    spot: Spot
    name: str
    """What the piece is called."""
    label: str
    value: Decimal
    step: Decimal
    most: Decimal

    @property
    def piece(self) -> tuple[str, int]:
        """Which piece it is of."""
        return self.spot.table, self.spot.at

    @property
    def field(self) -> str:
        """The name of its field in a form."""
        return f"{self.spot.table}.{self.spot.at}.{self.spot.key}"


@dataclass(frozen=True, kw_only=True)
class Brings:
    """What a plan brings, in texts as a person reads them."""

    sold: str
    net: str
    chance: str
    shares: tuple[tuple[str, str], ...]
    """Each group with what it can expect."""
    note: str
    """On prices at which nobody knows how many would sell; empty where that is known."""


def knobs_of(plan: Plan) -> tuple[Knob, ...]:
    """Return what can be tried out in a plan, in its order."""
    found = with_number_wanted(plan)
    spots = (
        (Spot(table, at, key), record)
        for table, keys in TRIED.items()
        for at, record in enumerate(getattr(found, table))
        for key in keys
    )
    return tuple(
        _knob(spot, record, found) for spot, record in spots if getattr(record, spot.key) is not None
    )


def _knob(spot: Spot, record: Any, plan: Plan) -> Knob:
    value = Decimal(getattr(record, spot.key))
    step = Decimal(1) if spot.key in COUNTS else plan.sale.price_step
    heading = next(key.words.label for key in keys_of(LISTS[spot.table]) if key.name == spot.key)
    most = max(value * SPAN, step * FEWEST_STEPS)
    return Knob(spot=spot, name=record.name, label=_(heading), value=value, step=step, most=most)


def plan_tried(file: Path, typed: Mapping[str, str]) -> Plan:
    """Return the plan in a file with what was typed for its knobs, by their fields.

    Raises FileError where it cannot be read, FaultyPlanError with all its faults.
    """
    tables = tables_in(text_of(file), file=str(file))
    for spot, value in _tried(typed):
        with suppress(LookupError, TypeError):  # a knob of a plan that was another when the form was made
            tables[spot.table][spot.at][spot.key] = value
    return plan_from_mapping(tables, file=str(file))


def brings(plan: Plan) -> Brings:
    """Return what a plan brings, without what takes longer: its ladder and what would help."""
    plan = with_number_wanted(plan)
    studio = plan_studio(plan)
    costs = cost_lines(plan, studio)
    outcome, sale = outcome_at(plan, studio.runs, costs), plan.sale
    shares = expected_shares(plan, outcome.expected_net)
    guessed = is_guessed(plan.wares, {})
    return Brings(
        sold=plain(rounded(outcome.expected_sold, 1)),
        net=sale.format_money(outcome.expected_net),
        chance=f"{outcome.chance:.0%} ?" if guessed else f"{outcome.chance:.0%}",
        shares=tuple((share.group.name, sale.format_money(share.expected)) for share in shares),
        note=note_on_guesses() if guessed else "",
    )


def take_prices(file: Path, typed: Mapping[str, str]) -> int:
    """Put what was typed for its knobs into a plan's file and return how many values that changed.

    All else in the file stays as it was typed. Raises as `plan_tried`, and FileError where it cannot be
    written or is another than it was in the `state` typed; then nothing is changed.
    """
    text = text_of(file)
    if typed.get("state", state_of(text)) != state_of(text):
        says = _("{file}: was changed meanwhile, in another window or program; open it again")
        raise FileError(says.format(file=file))
    before = {knob.spot: knob.value for knob in knobs_of(read_plan(text, file=str(file)))}
    changes = {spot: value for spot, value in _tried(typed) if before.get(spot, value) != value}
    changed = with_changes(text, changes)
    made_and_costed(read_plan(changed, file=str(file)))
    if changes:
        write_atomically(file, changed.encode())
    return len(changes)


def _tried(typed: Mapping[str, str]) -> Iterator[tuple[Spot, object]]:
    """Yield each knob's place with what was typed for it: a number where it is one."""
    for field, text in typed.items():
        table, at, key = (*field.split("."), "", "")[:3]
        if key in TRIED.get(table, ()) and at.isascii() and at.isdigit():
            yield Spot(table, int(at), key), _number(text, is_count=key in COUNTS)


def _number(text: str, *, is_count: bool) -> object:
    try:
        number = Decimal(text.strip())
    except InvalidOperation:
        return text
    # 1E+999999999 written out as a whole number would hold up everybody for minutes.
    if not number.is_finite() or abs(number.adjusted()) > FURTHEST_DIGIT:
        return text
    return int(number) if is_count and number == number.to_integral_value() else number
