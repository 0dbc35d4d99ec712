"""`salebook price`."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest

from salebook.cli import main
from tests.support.command_line import FIRST, ROOT, SOUND, Capture, each_sample_file, run_salebook


class TestPrice:
    @each_sample_file
    def test_every_sample_is_priced_in_sentences_then_tables(self, sample: Path, capsys: Capture) -> None:
        assert main(["price", str(sample)]) == 0
        shown = capsys.readouterr()
        assert shown.err == ""
        places = [shown.out.find(text) for text in ("you can expect about", "At other prices", "Please note")]
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

    @pytest.mark.slow
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


FILLED = ROOT / "sample_data" / "harbour-weekend-filled-in.xlsx"


class TestPriceOfABook:
    def test_it_says_where_the_sale_stands_at_the_moment_that_is_named(self, capsys: Capture) -> None:
        assert main(["price", str(FILLED), "--now", "2027-06-19 17:30"]) == 0
        shown = capsys.readouterr()
        assert shown.err == ""
        assert "91 good, 19 sold, 3 held for people, £427.29 raised." in shown.out
        assert "50 % of the selling time is over" in shown.out

    @pytest.mark.slow
    def test_today_means_the_evening_of_that_day(self, capsys: Capture) -> None:
        assert main(["price", str(FILLED), "--today", "2027-06-19", "--json"]) == 0
        now = json.loads(capsys.readouterr().out)["now"]
        assert (now["at"], now["over"]) == ("2027-06-19T22:00", 0.5)

    @pytest.mark.slow
    def test_the_answer_has_all_of_the_plans(self, capsys: Capture) -> None:
        assert main(["price", str(FILLED), "--now", "2027-06-19T17:30", "--json"]) == 0
        of_book = json.loads(capsys.readouterr().out)
        assert main(["price", str(ROOT / "sample_data" / "harbour-weekend.toml"), "--json"]) == 0
        assert of_book.keys() - {"now"} == json.loads(capsys.readouterr().out).keys()

    @pytest.mark.parametrize("now", ["2027-06-19", "Saturday", "2027-06-19 25:00", "2027-02-30 10:00", ""])
    def test_a_moment_that_is_none_is_wrong_use(self, now: str, capsys: Capture) -> None:
        assert main(["price", str(FILLED), "--now", now]) == 2
        shown = capsys.readouterr()
        assert shown.out == ""
        assert f'is {now}: expected a day and a time, such as "2027-06-19 17:30"' in shown.err

    def test_a_moment_has_its_day_in_it(self, capsys: Capture) -> None:
        assert main(["price", str(FILLED), "--now", "2027-06-19 17:30", "--today", "2027-06-19"]) == 2
        assert "--now says the day too: leave out --today" in capsys.readouterr().err

    @pytest.mark.parametrize("now", ["1900-01-01 10:00", "9999-12-31 23:59"])
    def test_a_moment_out_of_all_reach_is_refused_in_words(self, now: str, capsys: Capture) -> None:
        for file in (FILLED, ROOT / "sample_data" / "first-sale.toml"):
            assert main(["price", str(file), "--now", now]) == 2
            said = capsys.readouterr().err
            assert "lies more than 50 years from the sale" in said
            assert ("look at --now, the computer's date" in said, "--today" in said) == (True, False)

    @pytest.mark.slow
    @pytest.mark.parametrize("now", ["2020-06-19 10:00", "2030-06-19 10:00"])
    def test_before_and_after_the_sale_there_is_an_answer_too(self, now: str, capsys: Capture) -> None:
        assert main(["price", str(FILLED), "--now", now]) == 0
        shown = capsys.readouterr().out
        assert "nan" not in shown.lower()
        assert ("The sale is over" in shown) == now.startswith("2030")

    @pytest.mark.slow
    def test_what_each_piece_must_fetch_comes_first_where_the_plans_prices_miss_the_target(
        self, capsys: Capture
    ) -> None:
        full = ROOT / "sample_data" / "harbour-weekend.toml"
        assert main(["price", str(full), "--today", "2027-03-01"]) == 0
        _title, _empty, first, *_rest = capsys.readouterr().out.splitlines()
        assert first.startswith("To reach £1,800.00 each piece must fetch, if all sell: Harbour mug")

    def test_where_they_make_it_nothing_is_said_of_that(self, capsys: Capture) -> None:
        assert main(["price", str(FIRST), "--today", "2027-03-01"]) == 0
        assert "must fetch" not in capsys.readouterr().out
