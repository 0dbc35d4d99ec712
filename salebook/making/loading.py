"""Pots on a shelf, shelves in a kiln, loads to fire."""

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from decimal import Decimal
from itertools import groupby

from salebook.base.errors import Fault, FaultyPlanError
from salebook.base.rounding import TOLERANCE, ceil
from salebook.base.words import _
from salebook.making.clay import Sizes, seen_from_above, sizes_of
from salebook.making.losses import Run
from salebook.making.packing.blocks import rectangles_on_rectangle, rectangles_on_round
from salebook.making.packing.circles import Centre, circles_on_rectangle, circles_on_round
from salebook.plan.model import Kiln, Plan, Stage, Ware

TOLERANCE_MM = float(TOLERANCE)


@dataclass(frozen=True, kw_only=True)
class Layer:
    """One shelf with one ware on it; `height_mm` takes in the clearance and the shelf."""

    code: str
    pieces: int
    room_for: int
    height_mm: float


@dataclass(frozen=True, kw_only=True)
class Load:
    """What goes into the kiln together, bottom shelf first."""

    layers: tuple[Layer, ...]
    height_left_mm: float

    @property
    def pieces(self) -> int:
        """Pieces in this load."""
        return sum(layer.pieces for layer in self.layers)


@dataclass(frozen=True, kw_only=True)
class Loading:
    """All the loads of one stage; `per_shelf` is the pieces of each ware (by code) that one shelf takes."""

    stage: Stage
    per_shelf: dict[str, int]
    loads: tuple[Load, ...]
    lower_bound: int
    """No way of packing these layers could do with fewer loads: up(sum of heights / usable height)."""
    to_fire: int
    """Loads to reckon with: as many as `loads` holds, or the number that a person put in its place."""


def pieces_at(stage: Stage, run: Run) -> int:
    """Return how many pieces of a ware go into the kiln at a stage."""
    return {"biscuit": run.to_biscuit, "glaze": run.to_glaze}[stage]


def centres_on_shelf(ware: Ware, plan: Plan, stage: Stage) -> tuple[Centre, ...]:
    """Return the places of as many pieces of a ware as one shelf is found to take at a stage.

    Pieces stand as large as they are in the kiln, with the gap between them and to the edge only in a glaze
    firing. `per_shelf_biscuit` and `per_shelf_glaze` do not count here: they name a number, not places.
    """
    size = [float(side) for side in seen_from_above(ware, plan.clay_of(ware))]
    if plan.kiln is None or not size:
        return ()
    shelf, gap = plan.kiln.shelf, float(plan.kiln.gap.mm) if stage == "glaze" else 0.0
    is_round = len(size) == 1
    if shelf.diameter is not None:
        on_round = circles_on_round if is_round else rectangles_on_round
        return on_round(float(shelf.diameter.mm), *size, gap)
    on_rectangle = circles_on_rectangle if is_round else rectangles_on_rectangle
    return on_rectangle(*(float(side.mm) for side in (shelf.width, shelf.depth) if side), *size, gap)


def per_shelf(ware: Ware, plan: Plan, stage: Stage) -> int:
    """Return how many pieces of a ware one shelf takes at a stage: as a person says, else as found."""
    said = ware.per_shelf_biscuit if stage == "biscuit" else ware.per_shelf_glaze
    return len(centres_on_shelf(ware, plan, stage)) if said is None else said


def layer_height_mm(sizes: Sizes, kiln: Kiln) -> float:
    """Return the height that a layer of a ware takes: its height in the kiln, the clearance and the shelf."""
    return float((sizes.kiln_height_mm or Decimal(0)) + kiln.clearance.mm + kiln.shelf_thickness.mm)


def loadings_for(
    plan: Plan, runs: tuple[Run, ...], *, loads: Mapping[Stage, int] | None = None
) -> tuple[Loading, ...]:
    """Return the loads of each stage that the plan fires; `loads` overrules the number of a stage.

    Raises FaultyPlanError naming each piece that fits no empty kiln, ValueError where `loads` asks for none.
    """
    if plan.kiln is None:
        return ()
    fired = plan.wares if plan.firings else ()
    faults = [
        fault for ware in fired for fault in (*_too_tall(ware, plan, plan.kiln), *_too_wide(ware, plan))
    ]
    if faults:
        raise FaultyPlanError(faults)
    return tuple(_loading(stage, plan, plan.kiln, runs, loads or {}) for stage in stages_of(plan))


def stages_of(plan: Plan) -> tuple[Stage, ...]:
    """Return the stages that the plan fires, in the order of its firings."""
    return tuple(dict.fromkeys(firing.stage for firing in plan.firings))


def _loading(
    stage: Stage, plan: Plan, kiln: Kiln, runs: tuple[Run, ...], overruled: Mapping[Stage, int]
) -> Loading:
    room_for = {run.ware.code: per_shelf(run.ware, plan, stage) for run in runs}
    layers: list[Layer] = []
    for run in runs:
        height_mm = layer_height_mm(sizes_of(run.ware, plan.clay_of(run.ware)), kiln)
        code = run.ware.code
        layers += layers_of(code, pieces_at(stage, run), room_for[code], height_mm)
    usable_mm = float(kiln.usable_height.mm)
    loads = loads_of(layers, usable_mm, kiln.shelves)
    to_fire = overruled.get(stage, len(loads))
    if to_fire < min(1, len(loads)):
        raise ValueError(f"the {stage} firing needs at least 1 load")
    return Loading(
        stage=stage,
        per_shelf=room_for,
        loads=loads,
        lower_bound=ceil(math.fsum(layer.height_mm for layer in layers) / usable_mm),
        to_fire=to_fire,
    )


def layers_of(code: str, pieces: int, room_for: int, height_mm: float) -> Iterator[Layer]:
    """Yield the shelves that the pieces of one ware fill, the last perhaps not full."""
    for first in range(0, pieces, room_for):
        yield Layer(code=code, pieces=min(room_for, pieces - first), room_for=room_for, height_mm=height_mm)


def loads_of(layers: Iterable[Layer], usable_mm: float, shelves: int | None = None) -> tuple[Load, ...]:
    """Put layers into loads, tallest first, each into the first load with room; `shelves` is the most in one.

    No layer may be taller than `usable_mm`.
    """
    loads: list[_OpenLoad] = []
    for height_mm, alike in groupby(
        sorted(layers, key=lambda layer: -layer.height_mm), key=lambda layer: layer.height_mm
    ):
        place = 0  # what has no room for a height has none for the next layer of that height either
        for layer in alike:
            while place < len(loads) and not loads[place].has_room(height_mm, shelves):
                place += 1
            if place == len(loads):
                loads.append(_OpenLoad(left_mm=usable_mm))
            loads[place].take(layer)
    return tuple(Load(layers=tuple(load.layers), height_left_mm=max(0.0, load.left_mm)) for load in loads)


@dataclass(kw_only=True)
class _OpenLoad:
    """A load that is still being filled."""

    left_mm: float
    layers: list[Layer] = field(default_factory=list)

    def has_room(self, height_mm: float, shelves: int | None) -> bool:
        return height_mm <= self.left_mm + TOLERANCE_MM and (shelves is None or len(self.layers) < shelves)

    def take(self, layer: Layer) -> None:
        self.layers.append(layer)
        self.left_mm -= layer.height_mm


def rides_along(loading: Loading, plan: Plan) -> dict[str, int]:
    """Return how many more pieces of each ware (by code) the last load would take; each ware by itself.

    They fill up the ware's own shelves and then the height that is left.
    """
    if plan.kiln is None or not loading.loads:
        return {}
    kiln, last = plan.kiln, loading.loads[-1]
    more: dict[str, int] = {}
    for ware in plan.wares:
        on_shelves = sum(layer.room_for - layer.pieces for layer in last.layers if layer.code == ware.code)
        height_mm = layer_height_mm(sizes_of(ware, plan.clay_of(ware)), kiln)
        shelves = int((last.height_left_mm + TOLERANCE_MM) // height_mm)
        if kiln.shelves is not None:
            shelves = min(shelves, kiln.shelves - len(last.layers))
        more[ware.code] = on_shelves + shelves * loading.per_shelf[ware.code]
    return more


def _too_tall(ware: Ware, plan: Plan, kiln: Kiln) -> Iterator[Fault]:
    sizes = sizes_of(ware, plan.clay_of(ware))
    if layer_height_mm(sizes, kiln) <= float(kiln.usable_height.mm) + TOLERANCE_MM:
        return
    room_mm = kiln.usable_height.mm - kiln.clearance.mm - kiln.shelf_thickness.mm
    expected = _("at most {most} mm, the usable height less the clearance and one shelf")
    yield Fault(
        file=_("plan"),
        place=_place(ware, "fired_height" if ware.made_height is None else "made_height"),
        found=_("{size} mm as it stands in the kiln").format(size=_tenths(sizes.kiln_height_mm)),
        expected=expected.format(most=_tenths(max(Decimal(0), room_mm))),
        hint=_("{name} is too tall for the empty kiln").format(name=ware.name),
    )


def _too_wide(ware: Ware, plan: Plan) -> Iterator[Fault]:
    if all(per_shelf(ware, plan, stage) for stage in stages_of(plan)):
        return
    widest = next(iter(seen_from_above(ware, plan.clay_of(ware))), None)
    key = "fired_diameter" if ware.made_diameter is None else "made_diameter"
    yield Fault(
        file=_("plan"),
        place=_place(ware, key if ware.footprint is None else "footprint"),
        found=_("{size} mm as it stands in the kiln").format(size=_tenths(widest)),
        expected=_("a piece that fits on the shelf, in a glaze firing with the gap all round"),
        hint=_("{name} is too wide for the empty shelf").format(name=ware.name),
    )


def _place(ware: Ware, key: str) -> str:
    return f"wares → {ware.code} → {key}"


def _tenths(length_mm: Decimal | None) -> str:
    return f"{length_mm or 0:.1f}"
