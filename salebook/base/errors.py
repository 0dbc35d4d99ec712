"""What can go wrong, told to a person, and the exit codes of the commands."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final

DONE: Final = 0
COULD_NOT: Final = 1
WRONG_USE: Final = 2
NOT_FINAL: Final = 3
"""Exit codes: done; a file or a disk; wrong use or a faulty plan; done, but something needs a person."""


class SalebookError(Exception):
    """Anything that salebook tells a person instead of doing the work; `exit_code` is the command's."""

    exit_code = COULD_NOT


class FileError(SalebookError):
    """A file or folder cannot be read or written, or must not be overwritten."""


class WrongUseError(SalebookError):
    """The command was given something that it cannot work with."""

    exit_code = WRONG_USE


class UnfitError(ValueError):
    """A value that does not fit its place; the message is what was expected there."""


def error_text(trouble: OSError | ValueError) -> str:
    """Say what the computer says of a file or folder, without a number and without its name."""
    return (isinstance(trouble, OSError) and trouble.strerror) or str(trouble) or type(trouble).__name__


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


class FaultyPlanError(SalebookError):
    """The plan has faults; `faults` holds all of them."""

    exit_code = WRONG_USE

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in faults))

    def in_file(self, file: str) -> "FaultyPlanError":
        """Return the same faults, found in the plan that a file holds."""
        return FaultyPlanError([replace(fault, file=file) for fault in self.faults])
