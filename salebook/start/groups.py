"""The groups that a sale is for, as they were said in one line."""

import re
from collections import Counter
from collections.abc import Iterator, Sequence
from typing import Final

from salebook.base.errors import UnfitError
from salebook.base.words import _
from salebook.start.choices import AND, name_in
from salebook.start.question import Doubt, Reader, SoFar
from salebook.start.spoken_numbers import in_digits

MOST_GROUPS: Final = 50
EQUALLY: Final = "equally"


def _read_groups(text: str, _so_far: SoFar) -> tuple[str, ...]:
    """Read the names of one group or several; raises UnfitError."""
    names = tuple(name_in(name) for name in _named_apart(text))
    if not 1 <= len(names) <= MOST_GROUPS:
        raise UnfitError(_('one or more names, each once, with commas between, or ";" where a name has one'))
    uses = Counter(name.casefold() for name in names)
    if twins := [name for name in names if uses[name.casefold()] > 1]:
        says = _("each group once, capitals aside, and here are {names}")
        raise UnfitError(says.format(names=", ".join(f'"{name}"' for name in twins)))
    return names


def _words_of_groups(names: Sequence[str]) -> str:
    """Say the names with semicolons between, which stand in no name."""
    return "; ".join(names) + (";" if len(names) == 1 and "," in names[0] else "")


def _doubts_of_groups(said: str, names: Sequence[str], _so_far: SoFar) -> Sequence[Doubt]:
    """Ask of each "and" within a name whether it stands between two groups."""
    return () if ";" in said else tuple(doubt for name in names for doubt in _doubts_of(name))


def _groups_in_words(names: Sequence[str], _so_far: SoFar) -> str:
    """Say several groups with their numbers: "1. Library, 2. Choir"."""
    if len(names) == 1:
        return names[0]
    return ", ".join(f"{number}. {name}" for number, name in enumerate(names, start=1))


def _named_apart(text: str) -> list[str]:
    """Return the names in a text, apart by semicolons where there is one, else by commas."""
    names = (re.sub(r"^\s*(?:and|&)\s", "", each) for each in re.split(";" if ";" in text else ",", text))
    return [name.strip() for name in names if name.strip()]


def _doubts_of(name: str) -> Iterator[Doubt]:
    joints = [(0, 0), *(found.span() for found in AND.finditer(name)), (len(name), len(name))]
    for (_begin, start), (before, after), (end, _after) in zip(joints, joints[1:], joints[2:], strict=False):
        left, right = name[start:before].strip(), name[after:end].strip()
        if left and right:
            pair = name[start:end].strip()
            says = _('Is "{name}" one group? If not, it counts as two.')
            yield Doubt(asks=says.format(name=pair), no=(pair, f"{left}; {right}"))


def _read_parts(text: str, so_far: SoFar) -> tuple[int, ...]:
    """Read the parts of each group; none where all get the same."""
    if text.strip().lower() in {EQUALLY, "yes", "y", "equal", "the same"}:
        return ()
    count = len(so_far["groups"])
    parts = re.findall(r"[^,;:\s]+", in_digits(text))
    if len(parts) != count or not all(re.fullmatch(r"0*[1-9][0-9]{0,5}", part) for part in parts):
        raise UnfitError(_('"yes", or {count} whole numbers with commas between').format(count=count))
    return tuple(map(int, parts))


GROUPS: Final = Reader(
    read=_read_groups, words=_words_of_groups, in_words=_groups_in_words, doubts=_doubts_of_groups
)
PARTS: Final = Reader(read=_read_parts, words=lambda parts: ", ".join(map(str, parts)) or EQUALLY)
