"""A picture of one kiln shelf of a ware, each piece in its place."""

from collections.abc import Sequence
from dataclasses import dataclass

from salebook.base.words import _
from salebook.making.clay import seen_from_above
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
    size = [float(side) for side in seen_from_above(ware, plan.clay_of(ware))]
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
        pieces=tuple(_piece(size, centre) for centre in centres),
    )


def _piece(size: Sequence[float], centre: Centre) -> Piece:
    if len(size) == 1:
        return Piece(x=centre.x_mm, y=centre.y_mm, radius=size[0] / 2)
    width, depth = reversed(size) if centre.turned else size
    return Piece(x=centre.x_mm, y=centre.y_mm, width=width, depth=depth)
