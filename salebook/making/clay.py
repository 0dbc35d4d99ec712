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
    made_height, kiln_height, fired_height = _stages(ware.made_height, ware.fired_height, clay)
    made_diameter, kiln_diameter, fired_diameter = _stages(ware.made_diameter, ware.fired_diameter, clay)
    return Sizes(
        ware=ware,
        made_height_mm=made_height,
        made_diameter_mm=made_diameter,
        kiln_height_mm=kiln_height,
        kiln_diameter_mm=kiln_diameter,
        fired_height_mm=fired_height,
        fired_diameter_mm=fired_diameter,
    )


def _stages(made: Length | None, fired: Length | None, clay: Clay) -> tuple[Decimal | None, ...]:
    """Return a length in mm as thrown, in the kiln, and fired; None where the plan does not say."""
    if made is not None:
        thrown_mm = made.mm
    elif fired is not None:
        thrown_mm = made_from(fired.mm, clay.shrinkage)
    else:
        return None, None, None
    fired_mm = fired_from(thrown_mm, clay.shrinkage) if fired is None else fired.mm
    return thrown_mm, fired_from(thrown_mm, clay.drying_shrinkage), fired_mm


def seen_from_above(ware: Ware, clay: Clay) -> tuple[Decimal, ...]:
    """Return what a ware takes of a shelf, in mm as it stands in the kiln: its diameter, or two sides.

    The widest side comes first; there is none where the plan says neither.
    """
    ground = ware.footprint
    if ground is not None:
        return tuple(fired_from(side.mm, clay.drying_shrinkage) for side in (ground.widest, ground.narrowest))
    diameter = sizes_of(ware, clay).kiln_diameter_mm
    return () if diameter is None else (diameter,)


def clay_needs(plan: Plan, runs: Iterable[Run]) -> Iterator[ClayNeed]:
    """Yield what all the wares of each clay take, in plan order."""
    for clay in plan.clays:
        balls = (run.started * run.ware.ball.kg for run in runs if run.ware.clay == clay.name)
        kg = sum(balls, Decimal(0)) * (1 + clay.waste)
        bags = kg / clay.pack.kg
        packs = ceil(bags)
        cost = (packs if clay.whole_packs else bags) * clay.pack_price
        yield ClayNeed(clay=clay, kg=kg, packs=packs, cost=rounded(cost, plan.sale.digits))
