"""A picture of one kiln shelf of a ware, each piece in its place."""

from dataclasses import dataclass

from salebook.base.words import _
from salebook.making.clay import fired_from, sizes_of
from salebook.making.loading import Loading, centres_on_shelf
from salebook.making.packing.circles import Centre
from salebook.plan.model import Plan, Shelf, Ware

MARGIN = 0.01
"""White round the shelf, as a share of its longest side: half of the line that is drawn on its edge."""


@dataclass(frozen=True, kw_only=True)
class Piece:
    """A piece seen from above, in mm from the middle of the shelf: round where it has a radius."""

    x: float
    y: float
    radius: float = 0.0
    width: float = 0.0
    depth: float = 0.0


@dataclass(frozen=True, kw_only=True)
class ShelfPicture:
    """A shelf seen from above in mm, its middle at 0, with the pieces on it and what to say of them."""

    code: str
    name: str
    says: str
    width: float
    depth: float
    radius: float
    """Of a round shelf; 0 where it is not round."""
    pieces: tuple[Piece, ...]

    @property
    def view(self) -> str:
        """The part of the drawing that is shown, as SVG writes it."""
        margin = MARGIN * max(self.width, self.depth)
        left, top = -self.width / 2 - margin, -self.depth / 2 - margin
        return f"{left:.2f} {top:.2f} {self.width + 2 * margin:.2f} {self.depth + 2 * margin:.2f}"


def shelf_pictures(loading: Loading, plan: Plan) -> tuple[ShelfPicture, ...]:
    """Return a picture for each ware of a stage."""
    if plan.kiln is None:
        return ()
    return tuple(_picture(ware, loading, plan, plan.kiln.shelf) for ware in plan.wares)


def _picture(ware: Ware, loading: Loading, plan: Plan, shelf: Shelf) -> ShelfPicture:
    centres = centres_on_shelf(ware, plan, loading.stage)
    found, said = len(centres), loading.per_shelf[ware.code]
    across = 0.0 if shelf.diameter is None else float(shelf.diameter.mm)
    return ShelfPicture(
        code=ware.code,
        name=ware.name,
        says=_("{found} on a shelf").format(found=found)
        if said == found
        else _("{found} found, {said} as you say").format(found=found, said=said),
        width=across or (0.0 if shelf.width is None else float(shelf.width.mm)),
        depth=across or (0.0 if shelf.depth is None else float(shelf.depth.mm)),
        radius=across / 2,
        pieces=tuple(_piece(ware, plan, centre) for centre in centres),
    )


def _piece(ware: Ware, plan: Plan, centre: Centre) -> Piece:
    clay = plan.clay_of(ware)
    if ware.footprint is None:
        diameter = float(sizes_of(ware, clay).kiln_diameter_mm or 0)
        return Piece(x=centre.x_mm, y=centre.y_mm, radius=diameter / 2)
    sides = (ware.footprint.widest.mm, ware.footprint.narrowest.mm)
    widest, narrowest = (float(fired_from(side, clay.drying_shrinkage)) for side in sides)
    width, depth = (narrowest, widest) if centre.turned else (widest, narrowest)
    return Piece(x=centre.x_mm, y=centre.y_mm, width=width, depth=depth)
