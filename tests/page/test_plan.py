"""The room Plan: questions answered in a form, kept for another time, and written down."""

import json
import re

import pytest

from salebook.plan.load import load_plan
from tests.start.test_form import TYPED
from tests.support.books import SAMPLES, SMALLEST, sample_book
from tests.support.paged import Page, text_of


def test_a_plan_is_written_from_answers_and_leads_on_to_its_prices(page: Page) -> None:
    done = page.send("/plan/write", TYPED | {"file": "spring.toml"})
    assert "Made spring.toml" in text_of(done)
    assert 'href="/price/plan/spring.toml"' in done.text
    assert '<p><a href="/selling/">Make the workbook and the prints</a></p>' in done.text
    assert load_plan(page.folder / "spring.toml").wares[0].wanted == 40
    assert [path.name for path in page.folder.iterdir()] == ["spring.toml"]


def test_answers_are_kept_until_the_plan_is_written(page: Page) -> None:
    page.send("/plan/questions", TYPED)
    assert json.loads((page.folder / "plan-answers.json").read_text(encoding="utf-8"))["maker"]["known"]
    assert 'value="Quince Yard pots"' in page.get("/plan/questions").text
    page.send("/plan/write", TYPED | {"file": "plan.toml"})
    assert 'value="Quince Yard pots"' not in page.get("/plan/questions").text


def test_do_not_know_is_a_button(page: Page) -> None:
    shown = page.send("/plan/questions", TYPED | {"clay": "mud", "press": "clay"})
    assert "Then this is taken for now: stoneware (look at the bag)." in text_of(shown)
    assert '<input type="hidden" name="unknown" value="clay">' in shown.text
    assert 'value="mud"' not in shown.text


def test_what_is_not_understood_keeps_the_plan_from_being_written(page: Page) -> None:
    shown = page.send("/plan/write", TYPED | {"target": "lots", "file": "plan.toml"})
    assert shown.status_code == 422
    assert "Expected: an amount of money" in text_of(shown)
    assert 'aria-invalid="true"' in shown.text
    assert "Not written yet: these answers need a look first." in text_of(shown)
    assert re.findall('<li><a href="#about-([a-z]+)">', shown.text) == ["target"]
    assert not (page.folder / "plan.toml").exists()


def test_a_doubt_is_put_as_a_choice_and_asked_once(page: Page) -> None:
    typed = TYPED | {"groups": "Library and Choir"}
    asked = page.send("/plan/questions", typed)
    doubt = "Is &#34;Library and Choir&#34; one group? If not, it counts as two."
    assert f'type="radio" name="sure: {doubt}" value="no"' in asked.text
    assert "Not written yet" not in text_of(asked)
    refused = page.send("/plan/write", typed | {"file": "plan.toml"})
    assert re.findall('<li><a href="#about-([a-z]+)">', refused.text) == ["groups"]
    sure = {'sure: Is "Library and Choir" one group? If not, it counts as two.': "no"}
    page.send("/plan/write", typed | sure | {"file": "plan.toml"})
    groups = load_plan(page.folder / "plan.toml").beneficiaries
    assert [group.name for group in groups] == ["Library", "Choir"]


def test_a_plan_that_is_there_stays_until_it_is_said_and_is_kept_then(page: Page) -> None:
    (page.folder / "plan.toml").write_text("mine", encoding="utf-8")
    refused = page.send("/plan/write", TYPED | {"file": "plan.toml"})
    assert (refused.status_code, "stays as it is" in text_of(refused)) == (422, True)
    done = page.send("/plan/write", TYPED | {"file": "plan.toml", "force": "yes"})
    assert "The plan that stood there before is now plan-2" in text_of(done)
    (copy,) = page.folder.glob("plan-2*.toml")
    assert copy.read_text(encoding="utf-8") == "mine"


def test_the_ending_of_a_plan_need_not_be_typed(page: Page) -> None:
    done = page.send("/plan/write", TYPED | {"file": "spring sale"})
    assert "Made spring_sale.toml" in text_of(done)


@pytest.mark.parametrize("name", ["", "../plan.txt", "/"])
def test_a_plan_needs_the_name_of_one(page: Page, name: str) -> None:
    refused = page.send("/plan/write", TYPED | {"file": name})
    assert "Go back in the browser and mend it there" in text_of(refused)
    assert (refused.status_code, "let it end in .toml" in text_of(refused)) == (422, True)


def test_an_answer_is_said_back_while_it_is_typed_and_nothing_is_written(page: Page) -> None:
    said = page.get("/plan/understood", query_string=TYPED | {"target": "lots"}).get_json()
    assert said["days"]["says"] == "That is Saturday, 12 June 2027; Sunday, 13 June 2027."
    assert said["target"]["trouble"].startswith("Expected:")
    assert (said["energy"]["concerns"], said["firing_cost"]["concerns"]) == (False, True)
    assert list(page.folder.iterdir()) == []


def test_a_spoilt_file_of_answers_is_no_trouble(page: Page) -> None:
    (page.folder / "plan-answers.json").write_text("[1, {", encoding="utf-8")
    assert page.get("/plan/questions").status_code == 200


def test_the_plans_of_the_folder_are_listed(page: Page) -> None:
    assert "No plan lies here yet." in text_of(page.get("/plan/"))
    (page.folder / "spring.toml").touch()
    assert "spring.toml" in text_of(page.get("/plan/"))


@pytest.fixture
def with_full(page: Page) -> Page:
    (page.folder / "full.toml").write_bytes(SAMPLES["harbour-weekend"].read_bytes())
    return page


def test_every_key_of_a_plan_is_shown_with_its_heading(with_full: Page) -> None:
    shown = with_full.get("/plan/keys/full.toml")
    for words in ("How many would sell at each price", "Between pieces, glaze", "the day on which it agreed"):
        assert words in text_of(shown)
    assert 'name="wares.0.price" value="20"' in shown.text
    assert 'role="alert"' not in shown.text


def state_of(page: Page) -> str:
    shown = page.get("/plan/keys/full.toml").text
    return shown.partition('name="state" value="')[2].partition('"')[0]


def test_a_changed_plan_is_kept_and_leads_on(with_full: Page) -> None:
    done = with_full.send("/plan/keys/full.toml", {"state": state_of(with_full), "wares.0.price": "22"})
    assert "Made full.toml" in text_of(done)
    assert load_plan(with_full.folder / "full.toml").wares[0].price == 22


def test_a_faulty_plan_is_not_kept_and_says_so(with_full: Page) -> None:
    typed = {"state": state_of(with_full), "wares.0.price": "cheap", "donated.0.left out": "yes"}
    shown = with_full.send("/plan/keys/full.toml", typed)
    assert shown.status_code == 422
    assert "Not kept yet" in text_of(shown)
    assert 'full.toml: wares → MUG → price: found "cheap"' in text_of(shown)
    assert 'name="donated.0.left out" value="yes" checked' in shown.text


def test_a_plan_changed_in_another_window_is_not_overwritten(with_full: Page) -> None:
    refused = with_full.send("/plan/keys/full.toml", {"state": "old", "wares.0.price": "22"})
    assert (refused.status_code, "was changed meanwhile" in text_of(refused)) == (422, True)


def test_the_next_sale_is_planned_from_a_book(page: Page) -> None:
    (page.folder / "sale.xlsx").write_bytes(sample_book(SMALLEST, filled_in=True))
    done = page.send("/plan/next", {"book": "sale.xlsx", "file": "next.toml"})
    assert "Made next.toml." in text_of(done)
    assert 'href="/plan/keys/next.toml"' in done.text
    assert load_plan(page.folder / "next.toml").wares[0].code == "MUG"
    refused = page.send("/plan/next", {"book": "sale.xlsx", "file": "next.toml"})
    assert (refused.status_code, "is there already" in text_of(refused)) == (422, True)
