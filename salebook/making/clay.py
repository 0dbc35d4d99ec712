"""Clay: how much to buy, and how it shrinks."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal

from salebook.base.rounding import ceil
from salebook.making.losses import Run
from salebook.plan.model import Clay, Plan, Ware
from salebook.plan.money import rounded
from salebook.plan.quantities import Length


@dataclass(frozen=True, kw_only=True)
class ClayNeed:
    """The clay of one name that all its wares take: mass in kg, bags, and cost in money."""

    clay: Clay
    kg: Decimal
    packs: int
    cost: Decimal


@dataclass(frozen=True, kw_only=True)
class Sizes:
    """One ware's size in mm as thrown, in the kiln, and fired; None where the plan does not say."""

    ware: Ware
    made_height_mm: Decimal | None
    made_diameter_mm: Decimal | None
    kiln_height_mm: Decimal | None
    kiln_diameter_mm: Decimal | None
    fired_height_mm: Decimal | None
    fired_diameter_mm: Decimal | None


def fired_from(made: Decimal, shrinkage: Decimal) -> Decimal:
    """Return a length after a linear shrinkage on the plastic length (ASTM C326)."""
    return made * (1 - shrinkage)


def made_from(fired: Decimal, shrinkage: Decimal) -> Decimal:
    """Return the length to make for a wanted length after a linear shrinkage (ASTM C326)."""
    # Not fired × (1 + shrinkage): it counts on the plastic length. Stages of shrinkage multiply.
    return fired / (1 - shrinkage)


def sizes_of(ware: Ware, clay: Clay) -> Sizes:
    """Return a ware's sizes at each stage, from whichever kind the plan gives."""
    height = _made_mm(ware.made_height, ware.fired_height, clay)
    diameter = _made_mm(ware.made_diameter, ware.fired_diameter, clay)
    return Sizes(
        ware=ware,
        made_height_mm=height,
        made_diameter_mm=diameter,
        kiln_height_mm=_after(height, clay.drying_shrinkage),
        kiln_diameter_mm=_after(diameter, clay.drying_shrinkage),
        fired_height_mm=_fired_mm(height, ware.fired_height, clay),
        fired_diameter_mm=_fired_mm(diameter, ware.fired_diameter, clay),
    )


def seen_from_above(ware: Ware, clay: Clay) -> tuple[Decimal, ...]:
    """Return what a ware takes of a shelf, in mm as it stands in the kiln: its diameter, or two sides.

    The widest side comes first; there is none where the plan says neither.
    """
    ground = ware.footprint
    if ground is not None:
        return tuple(fired_from(side.mm, clay.drying_shrinkage) for side in (ground.widest, ground.narrowest))
    diameter = sizes_of(ware, clay).kiln_diameter_mm
    return () if diameter is None else (diameter,)


def _made_mm(made: Length | None, fired: Length | None, clay: Clay) -> Decimal | None:
    if made is not None:
        return made.mm
    return None if fired is None else made_from(fired.mm, clay.shrinkage)


def _fired_mm(made_mm: Decimal | None, fired: Length | None, clay: Clay) -> Decimal | None:
    return _after(made_mm, clay.shrinkage) if fired is None else fired.mm


def _after(made_mm: Decimal | None, shrinkage: Decimal) -> Decimal | None:
    return None if made_mm is None else fired_from(made_mm, shrinkage)


def clay_needs(plan: Plan, runs: Iterable[Run]) -> Iterator[ClayNeed]:
    """Yield what all the wares of each clay take, in plan order."""
    for clay in plan.clays:
        balls = (run.started * run.ware.ball.kg for run in runs if run.ware.clay == clay.name)
        kg = sum(balls, Decimal(0)) * (1 + clay.waste)
        bags = kg / clay.pack.kg
        packs = ceil(bags)
        cost = (packs if clay.whole_packs else bags) * clay.pack_price
        yield ClayNeed(clay=clay, kg=kg, packs=packs, cost=rounded(cost, plan.sale.digits))
