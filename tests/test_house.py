"""What is written for developers is true: the floors of the house, and the list of checks from outside."""

import ast
import re
from collections.abc import Iterator
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
PACKAGE = ROOT / "salebook"
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def floors() -> dict[str, int]:
    """Return each room of the table with its floor; an empty first column means the floor above."""
    table = DEVELOPERS[DEVELOPERS.index("| floor | room |") :].split("\n\n")[0]
    found: dict[str, int] = {}
    floor = 0
    for number, rooms in re.findall(r"^\| (\d*) ?\| (`[^|]*) \|", table, flags=re.MULTILINE):
        floor = int(number or floor)
        found |= {room.removesuffix(".py").strip("/"): floor for room in re.findall(r"`([^`]+)`", rooms)}
    return found


def imports_of(module: Path) -> Iterator[str]:
    """Yield the rooms from which a module imports, also inside its functions."""
    for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module is not None:
            whole, _, rest = node.module.partition(".")
            if whole == "salebook" and rest:
                yield rest.partition(".")[0]
        elif isinstance(node, ast.Import):
            names = (alias.name.split(".") for alias in node.names)
            yield from (name[1] for name in names if name[0] == "salebook" and len(name) > 1)


def room_of(module: Path) -> str:
    return module.relative_to(PACKAGE).parts[0].removesuffix(".py")


APART = ("book", "prints", "start", "photos")
"""Rooms of one floor that know nothing of each other."""

MODULES = [path for path in sorted(PACKAGE.rglob("*.py")) if path != PACKAGE / "__init__.py"]


def test_every_room_has_its_floor() -> None:
    assert {room_of(module) for module in MODULES} == set(floors())


def test_no_module_imports_from_a_floor_above_its_own() -> None:
    known = floors()
    upwards = [
        (str(module.relative_to(ROOT)), room)
        for module in MODULES
        for room in imports_of(module)
        if known[room] > known[room_of(module)]
    ]
    assert upwards == []


def test_rooms_need_each_other_one_way_only() -> None:
    needs: dict[str, set[str]] = {}
    for module in MODULES:
        room = room_of(module)
        needs.setdefault(room, set()).update(set(imports_of(module)) - {room})
    assert set(TopologicalSorter(needs).static_order()) == set(floors())


def test_few_rooms_stand_beside_the_front_door() -> None:
    rooms = {room_of(module) for module in MODULES} - {"__main__", "cli", "reckoning"}
    assert len(rooms) <= 15
    assert [room for room in rooms if not (PACKAGE / room).is_dir()] == []


@pytest.mark.parametrize("room", APART)
def test_workbook_prints_questions_and_photographs_know_nothing_of_each_other(room: str) -> None:
    needed = {other for module in (PACKAGE / room).rglob("*.py") for other in imports_of(module)}
    assert needed & set(APART) <= {room}


@pytest.mark.parametrize("module", MODULES, ids=lambda path: path.relative_to(PACKAGE).as_posix())
def test_a_module_is_shorter_than_450_lines(module: Path) -> None:
    assert len(module.read_text(encoding="utf-8").splitlines()) < 450


def test_every_check_from_outside_is_listed_with_its_source() -> None:
    sources = (ROOT / "tests" / "outside" / "SOURCES.md").read_text(encoding="utf-8")
    listed = set(re.findall(r"`(test_\w+\.py)`", sources))
    assert listed == {path.name for path in (ROOT / "tests" / "outside").glob("test_*.py")}
