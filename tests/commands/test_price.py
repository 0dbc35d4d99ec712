"""`salebook price`."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from salebook.cli import main
from tests.support.command_line import FIRST, ROOT, SAMPLES, SOUND, Capture, run_salebook


class TestPrice:
    @pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.name)
    def test_every_sample_is_priced_in_sentences_then_tables(self, sample: Path, capsys: Capture) -> None:
        assert main(["price", str(sample)]) == 0
        shown = capsys.readouterr()
        assert shown.err == ""
        places = [shown.out.find(text) for text in ("you can expect about", "At other prices", "To mind")]
        assert -1 not in places
        assert places == sorted(places)

    def test_the_answer_holds_the_keys_that_are_promised(self, capsys: Capture) -> None:
        assert main(["price", str(ROOT / "sample_data" / "harbour-weekend.toml"), "--json"]) == 0
        shown = capsys.readouterr()
        answer = json.loads(shown.out)
        assert shown.err == ""
        assert list(answer) == [
            *("currency", "wares", "clays", "firings", "days", "hours", "costs"),
            *("break_even", "target", "must_fetch", "ladder", "share_out", "assumed", "warnings"),
        ]
        assert answer["currency"] == "GBP"
        assert answer["target"]["amount"] == "1800.00"
        assert [rung["change"] for rung in answer["ladder"]] == list(range(-30, 61, 5))

    def test_a_faulty_plan_is_told_on_standard_error_alone(
        self, plan: Callable[..., Path], capsys: Capture
    ) -> None:
        assert main(["price", str(plan("price = 16", "price = -16")), "--json"]) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert "price" in shown.err

    def test_too_late_is_the_first_thing_said(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", "2027-04-20"]) == 0
        title, empty, first, *_rest = capsys.readouterr().out.splitlines()
        assert (title, empty) == ("Spring shed sale", "")
        assert first.startswith("TOO LATE by 7 days")

    def test_the_days_are_answered_from_the_day_that_is_named(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", "2027-04-03", "--json"]) == 0
        days = json.loads(capsys.readouterr().out)["days"]
        assert {key: value for key, value in days.items() if key != "plan"} == {
            "today": "2027-04-03",
            "sale_day": "2027-04-24",
            "begin_by": "2027-04-13",
            "last_day_to_throw": "2027-04-14",
            "first_firing": None,
            "last_firing": None,
            "days_in_hand": 10,
            "too_late": False,
            "instead": None,
        }
        assert days["plan"][0] == {
            "task": "throw",
            "firing": "",
            "loads": 0,
            "latest": ["2027-04-13", "2027-04-14"],
            "soonest": ["2027-04-03", "2027-04-04"],
        }

    def test_a_day_that_is_none_is_wrong_use(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", "2027-02-30"]) == 2
        assert "2027-02-30" in capsys.readouterr().err

    def test_a_piece_too_tall_for_the_kiln_is_told_with_the_file(
        self, tmp_path: Path, capsys: Capture
    ) -> None:
        full = (ROOT / "sample_data" / "harbour-weekend.toml").read_text(encoding="utf-8")
        path = tmp_path / "tall.toml"
        path.write_text(
            full.replace('made_height = "110 mm"', 'made_height = "1100 mm"', 1), encoding="utf-8"
        )
        assert main(["price", str(path)]) == 2
        assert capsys.readouterr().err.startswith(f"{path}: wares → MUG → made_height: found ")

    def test_what_would_help_is_reckoned_for_the_full_sample(self, capsys: Capture) -> None:
        assert main(["price", str(ROOT / "sample_data" / "harbour-weekend.toml")]) == 0
        shown = capsys.readouterr().out
        assert re.search(r"10 more of Pouring jug, .* \+£\d+\.\d\d +\d+%\n", shown)
        assert re.search(r"a target of £1,620\.00 +as before +\d+%", shown)

    def test_a_plan_from_standard_input_gives_the_same_answer(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--json"]) == 0
        assert run_salebook("price", "-", "--json", stdin=SOUND).stdout == capsys.readouterr().out

    @pytest.mark.parametrize(
        "name", ["=1+1", "+44 7700", "-5 off", "@shop", "[red]tea[/red]", "a :mug: b", "Ærø £ 茶"]
    )
    def test_names_are_shown_as_they_stand(
        self, name: str, plan: Callable[..., Path], capsys: Capture
    ) -> None:
        assert main(["price", str(plan("Quince Yard playground", name))]) == 0
        assert name in capsys.readouterr().out
