"""Other people's packages: the known good versions, and both ends of what pyproject.toml allows."""

import re
from itertools import product

import pytest

from tests.versions import HEAD, KNOWN_GOOD, PYTHONS, merged, oldest, requirements, summary

LINE = re.compile(r'([a-z0-9-]+)==([0-9][^ ]*)(?: ; python_version == "([0-9.]+)")?')
WRITTEN = KNOWN_GOOD.read_text(encoding="utf-8").removeprefix(HEAD).splitlines()


def test_every_line_of_the_known_good_versions_pins_one_package() -> None:
    assert [line for line in WRITTEN if not LINE.fullmatch(line)] == []


@pytest.mark.parametrize(("requirement", "python"), list(product(requirements(), PYTHONS)))
def test_each_requirement_has_a_known_good_version_for_each_python(requirement: str, python: str) -> None:
    pins = [LINE.fullmatch(line) for line in WRITTEN]
    name, _, least = requirement.partition(">=")
    found = [pin[2] for pin in pins if pin and pin[1] == name.lower() and pin[3] in {None, python}]
    assert len(found) == 1
    assert numbers(found[0]) >= numbers(least)


def numbers(version: str) -> list[int]:
    return [int(number) for number in re.findall("[0-9]+", version)]


def test_the_oldest_versions_are_the_lower_bounds() -> None:
    assert oldest(["babel>=2.14", "lxml-stubs"]) == ["babel==2.14"]


def test_a_version_is_told_for_each_python_only_where_they_differ() -> None:
    found = {"3.11": {"numpy": "2.3", "babel": "2.18"}, "3.14": {"numpy": "2.4", "babel": "2.18"}}
    assert merged(found) == [
        "babel==2.18",
        'numpy==2.3 ; python_version == "3.11"',
        'numpy==2.4 ; python_version == "3.14"',
    ]


@pytest.mark.parametrize(
    ("output", "said"),
    [
        (".. [100%]\n2 passed in 0.1s\n", "2 passed"),
        (
            "F\nFAILED tests/a.py::b - assert 1\n1 failed, 2 passed, 3 skipped in 1s",
            "1 failed, 2 passed\n   FAILED tests/a.py::b - assert 1",
        ),
        ("", "the tests could not run"),
        ("ERROR: usage: pytest\n", "the tests could not run\n   ERROR: usage: pytest"),
    ],
)
def test_a_run_is_summed_up_by_what_failed(output: str, said: str) -> None:
    assert summary(output) == said
