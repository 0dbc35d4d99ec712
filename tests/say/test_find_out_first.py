from salebook.say.find_out_first import find_out_first
from tests.support.sound_plan import GONE, plan_with


def test_how_many_would_sell_comes_first_where_no_one_has_asked() -> None:
    plan = plan_with((("wares", 0, "demand"), GONE))
    assert find_out_first(plan)[0].startswith("How many would sell at each price (VASE)")


def test_losses_that_were_assumed_are_asked_for() -> None:
    plan = plan_with((("wares", 1, "losses"), GONE))
    assert any("(POT)" in question and "lose at each stage" in question for question in find_out_first(plan))


def test_losses_that_were_counted_are_not_asked_for() -> None:
    plan = plan_with((("wares", 1, "losses"), GONE), (("wares", 1, "seen"), {"glaze": [5, 44]}))
    assert not any("lose at each stage" in question for question in find_out_first(plan))


def test_a_firing_that_was_never_metered_is_asked_for() -> None:
    assert any("read the meter" in question for question in find_out_first(plan_with()))


def test_a_metered_firing_is_not_asked_for_again() -> None:
    metered = plan_with((("kiln", "calibration"), {"firing": "glaze", "metered_kwh": 48}))
    assert not any("read the meter" in question for question in find_out_first(metered))


def test_there_are_never_more_than_three_questions() -> None:
    plan = plan_with(
        (("wares", 0, "demand"), GONE),
        (("wares", 0, "losses"), GONE),
        (("outlooks",), GONE),
        (("payments",), GONE),
    )
    assert len(find_out_first(plan)) == 3
