"""What must hold of the kiln, its firings and their energy."""

from collections import Counter
from collections.abc import Iterator
from decimal import Decimal

from salebook.base.words import _
from salebook.plan.dates import MINUTES_A_DAY, clock_text
from salebook.plan.draft import Draft
from salebook.plan.faults import Finding, described, missing, ordinal, unknown_name, wrong
from salebook.plan.model import Energy, EnergyRate, Firing, Kiln, Shelf, Ware
from salebook.plan.quantities import plain

WALL_KEYS = ("wall_area_m2", "wall_thickness_mm", "wall_conductivity", "wall_mass_kg")
SHELF_KEYS = {"round": ("diameter",), "rectangle": ("width", "depth")}


def firings_have_a_kiln_and_energy(draft: Draft) -> Iterator[Finding]:
    """Where there are firings there is a kiln to fire and energy to buy."""
    if draft.has(Firing):
        if not draft.has(Kiln):
            yield missing(_("[kiln] with its shelf and usable height, as there are firings"), "kiln")
        if not draft.has(Energy):
            yield missing(_("[energy] with its rates, as there are firings"), "energy")


def wares_that_are_fired_have_sizes(draft: Draft) -> Iterator[Finding]:
    """Where there are firings each ware has a height and a width, made or fired."""
    if draft.has(Firing):
        for ware in draft.all(Ware):
            yield from _sizes_missing(ware.record, ware.place)


def _sizes_missing(ware: Ware, place: tuple[str, ...]) -> Iterator[Finding]:
    if ware.made_height is None and ware.fired_height is None:
        yield missing(_('a height such as "160 mm", as there are firings'), *place, "made_height")
    if ware.made_diameter is None and ware.fired_diameter is None and ware.footprint is None:
        yield missing(_('a diameter such as "110 mm", as there are firings'), *place, "made_diameter")


def walls_are_given_whole(draft: Draft) -> Iterator[Finding]:
    """The four wall keys of a kiln are given together or not at all."""
    kiln = draft.one(Kiln)
    absent = [key for key in WALL_KEYS if kiln and getattr(kiln, key) is None]
    if len(absent) < len(WALL_KEYS):
        for key in absent:
            yield missing(_("a number, as the four wall keys are given together or not at all"), "kiln", key)


def a_kiln_without_walls_has_its_power(draft: Draft) -> Iterator[Finding]:
    """Where the walls are not known, a firing is reckoned from the rated power."""
    kiln = draft.one(Kiln)
    walls_known = kiln and any(getattr(kiln, key) is not None for key in WALL_KEYS)
    if kiln and draft.has(Firing) and not walls_known and kiln.rated_kw is None:
        yield missing(_("the kiln's rated power in kW, as its walls are not given"), "kiln", "rated_kw")


def a_gas_kiln_has_its_efficiency(draft: Draft) -> Iterator[Finding]:
    """Gas is bought for more than reaches the chamber."""
    kiln = draft.one(Kiln)
    if kiln and kiln.fuel == "gas" and kiln.burner_efficiency is None:
        expected = _("the share of the heat in the gas that reaches the chamber, such as 0.2")
        yield missing(expected, "kiln", "burner_efficiency")


def a_shelf_has_the_sizes_of_its_shape(draft: Draft) -> Iterator[Finding]:
    """A round shelf has a diameter, a rectangular one width and depth."""
    kiln = draft.one(Kiln)
    if kiln is None:
        return
    for shape, keys in SHELF_KEYS.items():
        for key in keys:
            yield from _shelf_key(kiln.shelf, shape, key)


def _shelf_key(shelf: Shelf, shape: str, key: str) -> Iterator[Finding]:
    value = getattr(shelf, key)
    if shelf.shape == shape and value is None:
        yield missing(_('a length such as "460 mm", for a shelf of this shape'), "kiln", "shelf", key)
    if shelf.shape != shape and value is not None:
        expected = _("nothing, for a shelf of this shape")
        yield wrong(described(value.to_text()), expected, "kiln", "shelf", key)


def the_calibration_is_of_a_known_firing(draft: Draft) -> Iterator[Finding]:
    """The metered firing that sets the estimates right is one of [[firings]]."""
    kiln, known = draft.one(Kiln), draft.names(Firing)
    if kiln and kiln.calibration and kiln.calibration.firing not in known:
        named = kiln.calibration.firing
        yield unknown_name(named, known, _("a firing of [[firings]]"), "kiln", "calibration", "firing")


def firing_steps_lead_somewhere(draft: Draft) -> Iterator[Finding]:
    """A step changes the temperature or holds it, and never goes below the room's."""
    kiln = draft.one(Kiln)
    room = kiln.room if kiln else Decimal(20)
    for firing in draft.all(Firing) if kiln or not draft.has(Kiln) else ():
        yield from _idle_steps(firing.record, firing.place, room)


def _idle_steps(firing: Firing, place: tuple[str, ...], room: Decimal) -> Iterator[Finding]:
    before = room
    for position, step in enumerate(firing.steps, 1):
        expected = ""
        if step.to.celsius < room:
            expected = _("at least the room's temperature, {room} °C").format(room=plain(room))
        elif step.to.celsius == before and step.hold == 0:
            expected = _("another temperature than the one before, or a hold")
        if expected:
            yield wrong(described(step.to.to_text()), expected, *place, "steps", ordinal(position), "to")
        before = step.to.celsius


def rates_cover_the_day_once(draft: Draft) -> Iterator[Finding]:
    """Each minute of the day has one price of energy."""
    energy = draft.one(Energy)
    for start, end, times in _stretches(_rates_in_each_minute(energy)) if energy else ():
        if times != 1:
            says = _("{times} rates from {start} to {end}") if times else _("no rate from {start} to {end}")
            found = says.format(times=times, start=clock_text(start), end=clock_text(end))
            yield wrong(found, _("rates that cover the day exactly once"), "energy", "rates")


def _rates_in_each_minute(energy: Energy) -> list[int]:
    times = Counter(minute for rate in energy.rates for minute in _minutes_of(rate))
    return [times[minute] for minute in range(MINUTES_A_DAY)]


def _minutes_of(rate: EnergyRate) -> Iterator[int]:
    """Yield the minutes of the day in which a rate holds; from = to is the whole day."""
    length = (rate.to - rate.from_) % MINUTES_A_DAY or MINUTES_A_DAY
    return (minute % MINUTES_A_DAY for minute in range(rate.from_, rate.from_ + length))


def _stretches(times: list[int]) -> Iterator[tuple[int, int, int]]:
    """Return start, end and number of rates of each stretch of the day; one may pass midnight."""
    changes = [minute for minute in range(MINUTES_A_DAY) if times[minute] != times[minute - 1]]
    ends = [*changes[1:], *changes[:1]]
    yield from ((start, end, times[start]) for start, end in zip(changes, ends, strict=True))
    if not changes:
        yield 0, MINUTES_A_DAY, times[0]
