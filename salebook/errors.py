"""What can go wrong, told to a person."""

from collections.abc import Sequence
from dataclasses import dataclass


class SalebookError(Exception):
    """Anything that salebook tells a person instead of doing the work; `exit_code` is the command's."""

    exit_code = 1


class FileTrouble(SalebookError):
    """A file or folder cannot be read or written, or must not be overwritten."""


class WrongUse(SalebookError):
    """The command was given something that it cannot work with."""

    exit_code = 2


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One thing that is wrong in a plan or a workbook: where, what was found, what was expected."""

    file: str
    place: str
    found: str
    expected: str
    hint: str = ""

    def __str__(self) -> str:
        """Say the fault in one line, the place first."""
        text = f"{self.file}: {self.place}: found {self.found}, expected {self.expected}"
        return f"{text}; {self.hint}" if self.hint else text


class FaultyPlan(SalebookError):
    """The plan has faults; `faults` holds all of them."""

    exit_code = 2

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in faults))
