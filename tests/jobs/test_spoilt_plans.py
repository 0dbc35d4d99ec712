"""Plan files spoilt at random: each is answered in plain words, and one that is sound can be worked with."""

import json
import random
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from salebook.cli import main
from tests.support.books import SAMPLES

pytestmark = pytest.mark.slow

USUAL, MANY = 300, 5_000
LOT = 100
EACH_TENTH = 10
"""Of so many sound plans one is made into a pack, which takes a hundred times as long as checking it."""

TEXTS = tuple(path.read_text(encoding="utf-8") for path in SAMPLES.values())
VALUE = re.compile(r"=\s*([^=\n{}\[\]]+?)\s*(?=[,}\]\n#])")
NUMBER = re.compile(r"(?<![\w\"-])\d+(?:\.\d+)?(?![\w\"-])")
KEY = re.compile(r"\b[a-z_]+(?= =)")
JUNK = (
    *('""', '" "', '"=1+1"', '"½"', '"160 mm"', '"1 lb 4 oz"', '"£5"', '"1.234,50"', f'"{"x" * 300}"'),
    *("0", "-1", "1e400", "-0.0", "nan", "inf", "1_000", "99999999999999999999", "0.3000000000000000004"),
    *(
        "true",
        "[]",
        "{}",
        "[[]]",
        "2027-02-30",
        "2027-06-12",
        "07:30",
        "2027-06-12T10:00:00",
        "'''",
        "“Pots”",
    ),
    *(
        '"\\u0000"',
        '"\\u202e"',
        '"[bold]pots"',
        '"<b>pots"',
        '"MUG"',
        '"maker"',
        '"24:00"',
        "10000",
        "1000000",
    ),
)
"""What a person may write for a value, or a program leave there."""

Spoil = Callable[[str, random.Random], str]


def with_other(found: re.Pattern[str], text: str, new: str, chance: random.Random) -> str:
    """Return the text with one of the places that are found replaced."""
    place = chance.choice(list(found.finditer(text)))
    start, end = place.span(found.groups)
    return text[:start] + new + text[end:]


def another_value(text: str, chance: random.Random) -> str:
    return with_other(VALUE, text, chance.choice(JUNK), chance)


def a_value_from_elsewhere(text: str, chance: random.Random) -> str:
    return with_other(VALUE, text, chance.choice(VALUE.findall(text)), chance)


def another_number(text: str, chance: random.Random) -> str:
    numbers = ("0", "1", "2", "7", "100", "0.5", "0.999", "10000", "1000000", "-1", "0.001", "24", "1300")
    return with_other(NUMBER, text, chance.choice(numbers), chance)


def a_slip_in_a_key(text: str, chance: random.Random) -> str:
    key = chance.choice(KEY.findall(text))
    at = chance.randrange(len(key))
    return with_other(KEY, text, chance.choice((key[:at] + key[at + 1 :], key + "s", key.upper())), chance)


def lines_in_another_order(text: str, chance: random.Random) -> str:
    lines = text.splitlines()
    line = lines.pop(chance.randrange(len(lines)))
    lines.insert(chance.randrange(len(lines)), line)
    return "\n".join(lines)


def a_line_less(text: str, chance: random.Random) -> str:
    lines = text.splitlines()
    del lines[chance.randrange(len(lines))]
    return "\n".join(lines)


def a_line_twice(text: str, chance: random.Random) -> str:
    lines = text.splitlines()
    at = chance.randrange(len(lines))
    return "\n".join([*lines[: at + 1], *lines[at:]])


def a_bite_out_of_it(text: str, chance: random.Random) -> str:
    start = chance.randrange(len(text))
    return text[:start] + text[start + chance.randrange(1, 60) :]


def other_letters(text: str, chance: random.Random) -> str:
    letters = list(text)
    for _ in range(chance.randrange(1, 4)):
        letters[chance.randrange(len(letters))] = chance.choice("\"'=[]{}.,#\r\n\0\x1b€½ 0x-")
    return "".join(letters)


def cut_off(text: str, chance: random.Random) -> str:
    return text[: chance.randrange(len(text))]


SPOILT_BY: tuple[Spoil, ...] = (
    *(another_value, another_value, another_number, another_number, a_value_from_elsewhere),
    *(a_slip_in_a_key, lines_in_another_order, a_line_less, a_line_twice),
    *(a_bite_out_of_it, other_letters, cut_off),
)


def spoilt(seed: int) -> bytes:
    """Return a sample plan's file with one to three things wrong in it, or none by luck."""
    chance = random.Random(seed)  # noqa: S311  (nothing secret)
    text = chance.choice(TEXTS)
    for spoil in chance.choices(SPOILT_BY, k=chance.choice((1, 1, 1, 2, 3))):
        text = spoil(text, chance) if len(text) > 200 else text
    content = text.encode()
    return content.replace(b"o", b"\xff", 1) if chance.random() < 0.02 else content


def answered(file: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, list[str]]:
    """Check a plan; return the exit code and what is wrong with the answer."""
    code = main(["check", str(file)])
    shown = capsys.readouterr()
    lines = shown.out.splitlines() + shown.err.splitlines()
    wrong = [line for line in lines if "nobody foresaw" in line or "Traceback" in line]
    match code:
        case 0:
            wrong += lines if not lines or lines[0] != f"{file}: sound" else []
        case 1:
            wrong += [] if len(lines) == 1 and lines[0].startswith(f"{file}: ") else lines or ["no words"]
        case 2:
            wrong += [line for line in lines if not SAID.fullmatch(line.removeprefix(f"{file}: "))]
        case _:
            wrong.append(f"exit code {code}")
    return code, wrong if lines else ["nothing was said"]


SAID = re.compile(r"[^:]+: found .+, expected .+")
"""A fault has a place, what was found and what was expected."""


def works(file: Path, folder: Path, capsys: pytest.CaptureFixture[str], *, make: bool) -> list[str]:
    """Work out a sound plan, and make its pack; return what is wrong with that."""
    codes = [main(["price", str(file), "--json", "--today", "2027-01-05"])]
    shown = capsys.readouterr()
    json.loads(shown.out or "0")
    if make:
        codes.append(main(["make", str(file), "-o", str(folder), "--today", "2027-01-05"]))
        shown = capsys.readouterr()
    return [f"exit codes {codes}", shown.err] if any(codes) or shown.err else []


def stand(seeds: range, folder: Path, capsys: pytest.CaptureFixture[str]) -> dict[int, int]:
    """Try many spoilt plans; return how often each exit code came."""
    file, codes = folder / "plan.toml", dict.fromkeys((0, 1, 2), 0)
    for seed in seeds:
        file.write_bytes(spoilt(seed))
        code, wrong = answered(file, capsys)
        codes[code] += 1
        if code == 0:
            wrong += works(file, folder / f"pack-{seed}", capsys, make=codes[0] % EACH_TENTH == 0)
        assert (seed, []) == (seed, wrong)
    return codes


@pytest.mark.parametrize("lot", range(USUAL // LOT))
def test_spoilt_plans_are_answered_in_plain_words(
    lot: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    codes = stand(range(lot * LOT, (lot + 1) * LOT), tmp_path, capsys)
    assert codes[0] > LOT // 20
    assert codes[2] > LOT // 3


@pytest.mark.long
@pytest.mark.parametrize("lot", range(USUAL // LOT, (USUAL + MANY) // LOT))
def test_many_spoilt_plans_are_answered_in_plain_words(
    lot: int, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert stand(range(lot * LOT, (lot + 1) * LOT), tmp_path, capsys)[2]
