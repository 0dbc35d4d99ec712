"""Which photographs show which pile of stubs."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from salebook.base.errors import FileError, WrongUseError, error_text
from salebook.base.words import _
from salebook.event.lines import fold_case
from salebook.event.stubs import OTHER, way_of_pile
from salebook.photos.endings import is_photo
from salebook.photos.outlines import is_drawn
from salebook.plan.model import Plan


@dataclass(frozen=True, kw_only=True)
class Asked:
    """What was asked for: photographs, or folders of them named after ways to pay; `counts` by pile.

    `paid` is how all was paid that lies in no such folder; `day` the day of the sale.
    """

    places: tuple[Path, ...]
    paid: str | None = None
    day: date | None = None
    counts: Mapping[str, int] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class PhotoPile:
    """A pile, what is paid with it, how many stubs were counted in it, and its photographs as files."""

    name: str
    way: str
    counted: int | None
    files: tuple[Path, ...]


def piles_asked(asked: Asked, plan: Plan) -> tuple[PhotoPile, ...]:
    """Return the piles in the order in which they were named.

    Raises WrongUseError where a photograph has no way to pay, or a way or a count is not of the sale;
    FileError for a place that is not there, and a folder without photographs.
    """
    files: dict[str, dict[Path, None]] = {}
    for place in asked.places:
        name = _name(place, asked, plan)
        files.setdefault(name, {}).update(dict.fromkeys(_photos_at(place)))
    counts = {_count_of(name, files): count for name, count in asked.counts.items()}
    return tuple(
        PhotoPile(name=name, way=way_of_pile(name, plan) or "", counted=counts.get(name), files=tuple(photos))
        for name, photos in files.items()
    )


def left_out(places: Iterable[Path]) -> tuple[Path, ...]:
    """Return what lies among the photographs and is none, hidden files apart."""
    return tuple(file for place in places for file in _files_at(place) if _is_left_out(file, place))


def day_asked(asked: Asked, plan: Plan) -> date:
    """Return the day on which all was sold; the sale's only one where it has no other.

    Raises WrongUseError where it is no day of the sale, or not said and the sale has several.
    """
    days = plan.sale.days
    day = days[0] if asked.day is None and len(days) == 1 else asked.day
    if day in days:
        return day
    listed = ", ".join(each.isoformat() for each in days)
    if day is None:
        raise WrongUseError(_("Say which day the stubs are of, with --day: {days}.").format(days=listed))
    says = _("{day} is no day of the sale; expected one of {days}.")
    raise WrongUseError(says.format(day=day.isoformat(), days=listed))


def _name(place: Path, asked: Asked, plan: Plan) -> str:
    """Return the name of the pile that a folder or a photograph belongs to."""
    if not (place.is_dir() or place.is_file()):
        raise FileError(_("{place}: there is no such photograph or folder").format(place=place))
    way = way_of_pile(place.name, plan) if place.is_dir() else None
    if way is not None:
        return way or OTHER
    if asked.paid is None:
        says = _("{place}: say how it was paid, with --paid, or put it in a folder of that name: {ways}")
        raise WrongUseError(says.format(place=place, ways=_ways(plan)))
    way = way_of_pile(asked.paid, plan)
    if way is None:
        says = _("“{paid}” is no way to pay of this sale; expected one of {ways}.")
        raise WrongUseError(says.format(paid=asked.paid, ways=_ways(plan)))
    return way or OTHER


def _ways(plan: Plan) -> str:
    return ", ".join(piles_of(plan))


def piles_of(plan: Plan) -> tuple[str, ...]:
    """Return the names of the piles that a sale has: its ways to pay, and what was sold otherwise."""
    return tuple(dict.fromkeys((*(way.name for way in plan.payments), OTHER)))


def _count_of(name: str, piles: Iterable[str]) -> str:
    for pile in piles:
        if fold_case(pile) == fold_case(name):
            return pile
    says = _("There is no pile “{name}” to count; expected one of {piles}.")
    raise WrongUseError(says.format(name=name, piles=", ".join(piles)))


def _photos_at(place: Path) -> list[Path]:
    photos = [file for file in _files_at(place) if not _is_left_out(file, place)]
    if not photos and place.is_dir():
        says = _("{folder}: there is no photograph in this folder (JPEG, PNG or HEIC)")
        raise FileError(says.format(folder=place))
    return photos


def _is_left_out(file: Path, place: Path) -> bool:
    """Whether a file is no photograph; one that is named by itself is taken for one."""
    if file == place:
        return is_drawn(file)
    return not (file.is_file() and is_photo(file)) or is_drawn(file)


def _files_at(place: Path) -> list[Path]:
    if not place.is_dir():
        return [place]
    try:
        return sorted(file for file in place.iterdir() if not file.name.startswith("."))
    except OSError as trouble:
        raise FileError(f"{place}: {error_text(trouble)}") from trouble
