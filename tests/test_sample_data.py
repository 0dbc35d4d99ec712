"""The sample plans: sound, explained, and worth looking at."""

import re
from pathlib import Path

import pytest

from salebook.jobs import samples
from salebook.jobs.samples import packaged_samples
from salebook.plan.load import load_plan
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning, reckon

SAMPLES = Path(__file__).parent.parent / "sample_data"
FULL = SAMPLES / "harbour-weekend.toml"
COMMENTED = [FULL, SAMPLES / "bergmarkt.toml"]


@pytest.fixture(scope="module")
def full() -> Reckoning:
    return reckon(load_plan(FULL))


def test_the_first_plan_is_short() -> None:
    written = (SAMPLES / "first-sale.toml").read_text(encoding="utf-8")
    assert len([line for line in written.splitlines() if "=" in line]) <= 20


def keys_without_a_note(path: Path, known: frozenset[str]) -> list[str]:
    """Return the keys of a sample whose first line carries no note, neither beside it nor above."""
    seen, silent = set(known), []
    above = ""
    for line in path.read_text(encoding="utf-8").splitlines():
        found = re.match(r"(\w+) = ", line)
        if found and found[1] not in seen:
            seen.add(found[1])
            if "#" not in line and not above.startswith("#"):
                silent.append(found[1])
        above = line
    return silent


def test_the_full_plan_explains_every_key_where_it_first_stands() -> None:
    assert keys_without_a_note(FULL, frozenset()) == []


def test_the_plan_in_francs_explains_every_key_that_the_full_plan_does_not() -> None:
    explained = re.findall(r"^(\w+) = ", FULL.read_text(encoding="utf-8"), flags=re.MULTILINE)
    assert keys_without_a_note(SAMPLES / "bergmarkt.toml", frozenset(explained)) == []


@pytest.mark.parametrize("path", COMMENTED, ids=lambda path: path.name)
def test_a_firing_at_night_carries_its_caution(path: Path) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    night = [place for place, line in enumerate(lines) if re.match(r'start = "(2[0-3]|0[0-4]):', line)]
    night += [place for place, line in enumerate(lines) if "# night" in line]
    near = ["\n".join(lines[max(0, place - 8) : place + 1]) for place in night]
    words = ("cut-out", "smoke alarm", "within call")
    assert [text for text in near if not all(word in text for word in words)] == []
    assert bool(night) == (path == FULL)


def test_the_target_of_the_full_plan_is_within_reach_but_not_certain(full: Reckoning) -> None:
    assert 0.5 < full.advice.target.chance < 0.75
    assert full.advice.target.lowest_change is not None
    assert full.advice.target.lowest_change > 0


def test_the_full_plan_uses_every_block_but_what_an_earlier_sale_left(full: Reckoning) -> None:
    plan = full.plan
    empty = [name for name in Plan.model_fields if getattr(plan, name) in {None, ()}]
    assert empty == ["carried"]
    assert load_plan(SAMPLES / "bergmarkt.toml").carried
    assert (len(plan.wares), len(plan.clays), len(plan.sale.days)) == (3, 2, 2)
    assert {line.met_by for line in full.costs.lines} == {"maker", "sale", "sponsor"}
    assert all(ware.seconds and ware.seconds_price for ware in plan.wares)


def test_no_sample_has_a_kiln_that_cannot_keep_up() -> None:
    reckonings = [reckon(load_plan(path)) for path in COMMENTED]
    short = [
        part for each in reckonings for need in each.studio.firings for part in need.parts if part.short_kw
    ]
    assert short == []


def test_the_samples_show_another_currency_and_a_gas_kiln() -> None:
    plan = load_plan(SAMPLES / "bergmarkt.toml")
    assert plan.kiln is not None
    assert (plan.sale.currency, plan.sale.locale, plan.kiln.fuel) == ("CHF", "de_CH", "gas")


def test_the_program_finds_every_sample() -> None:
    found = {path.name for path in packaged_samples().glob("*.toml")}
    assert found == {path.name for path in SAMPLES.glob("*.toml")}
    assert samples.FULL in found
