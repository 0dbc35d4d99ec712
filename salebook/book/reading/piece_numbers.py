"""Which pieces there are, and which one somebody meant who typed its number their own way."""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final

from salebook.book.reading.typed import tidy
from salebook.event.lines import bare, bare_forms

LOOSE: Final = re.compile(r"[\s\-‐‑‒–—_./]*0*([0-9]{1,6})")


@dataclass(frozen=True)
class PieceNumbers:
    """The piece numbers of a sale, and the codes of wares that are not numbered."""

    numbers: frozenset[str]

    @cached_property
    def _by_index(self) -> dict[tuple[str, int], str]:
        split = (number.rpartition("-") for number in self.numbers)
        return {(code, int(index)): "-".join((code, index)) for code, dash, index in split if dash}

    @cached_property
    def _codes(self) -> frozenset[str]:
        return frozenset(code for code, _index in self._by_index)

    def meant(self, typed: object) -> str:
        """Return the number of the piece that was meant: LAN-003 for "lan 3"; else what was typed.

        Where it could be either of two, it stays as typed.
        """
        said = tidy(typed).upper()
        if said in self.numbers:
            return said
        meant = {
            self._by_index[code, int(found[1])]
            for code in self._codes
            if said.startswith(code)
            and (found := LOOSE.fullmatch(said, len(code)))
            and (code, int(found[1])) in self._by_index
        }
        return meant.pop() if len(meant) == 1 else self.meant_in_the_sheet(said)

    def meant_in_the_sheet(self, typed: object) -> str:
        """Return the number of the piece that the sheet itself understands; else what was typed."""
        said = tidy(typed).upper()
        meant = self._by_bare.get(bare(said), ())
        return meant[0] if len(meant) == 1 and said not in self.numbers | self._codes else said

    @cached_property
    def _by_bare(self) -> Mapping[str, Sequence[str]]:
        found: dict[str, list[str]] = defaultdict(list)
        for number in self._by_index.values():
            for form in bare_forms(number):
                found[form].append(number)
        return found


def piece_numbers_of(numbers: Iterable[object]) -> PieceNumbers:
    """Return the goods with these numbers, as the sheet Pieces lists them."""
    said = (tidy(number).upper() for number in numbers)
    return PieceNumbers(frozenset(number for number in said if number and not number.endswith("-")))
