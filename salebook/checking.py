"""What is wrong with a file, all of it, and what to mind where nothing is."""

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from salebook.errors import Fault, FaultyPlan, FileTrouble
from salebook.source import name_of, reckoning_from
from salebook.words import _


@dataclass(frozen=True, kw_only=True)
class Check:
    """One file looked at: the trouble of reading it, or its faults, or what to mind where it is sound."""

    file: str
    exit_code: int = 0
    trouble: str = ""
    faults: tuple[Fault, ...] = ()
    warnings: tuple[str, ...] = ()

    @property
    def is_sound(self) -> bool:
        """Whether salebook can work with the file as it is."""
        return self.exit_code == 0


def check_file(file: Path) -> Check:
    """Read a plan and reckon it; changes nothing and raises nothing that the file could cause."""
    try:
        warnings = reckoning_from(file).advice.warnings
    except FaultyPlan as faulty:
        return Check(file=name_of(file), exit_code=faulty.exit_code, faults=faulty.faults)
    except FileTrouble as trouble:
        return Check(file=name_of(file), exit_code=trouble.exit_code, trouble=str(trouble))
    return Check(file=name_of(file), warnings=warnings)


def check_lines(check: Check) -> tuple[str, ...]:
    """Say a check in lines: a verdict, or each fault, then what to mind."""
    if check.trouble:
        return (check.trouble,)
    if check.faults:
        return tuple(str(fault) for fault in check.faults)
    sound = _("{file}: sound").format(file=check.file)
    return (sound, *(_("  to mind: {warning}").format(warning=warning) for warning in check.warnings))


def check_answer(check: Check) -> dict[str, Any]:
    """Return a check as values that JSON holds."""
    faults = [{key: value for key, value in asdict(fault).items() if key != "file"} for fault in check.faults]
    return {
        "file": check.file,
        "sound": check.is_sound,
        "trouble": check.trouble,
        "faults": faults,
        "warnings": list(check.warnings),
    }
