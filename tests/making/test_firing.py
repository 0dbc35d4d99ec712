from decimal import Decimal
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.making.firing import (
    FiringNeed,
    estimated_kwh,
    heat_content,
    heated_kg,
    price_of_energy,
    running_price,
    stretches_of,
    wall_loss_w_per_k,
    windows_of,
)
from salebook.making.studio import plan_studio
from salebook.plan.model import EnergyRate, Stage
from tests.support.sound_plan import GONE, Place, plan_with

TWO_LOADS: dict[Stage, int] = {"biscuit": 2, "glaze": 2}
NO_WALLS: list[tuple[Place, object]] = [
    (("kiln", key), GONE)
    for key in ("wall_area_m2", "wall_thickness_mm", "wall_conductivity", "wall_mass_kg")
]
NIGHT = EnergyRate.model_validate({"from": "00:30", "to": "07:30", "price": Decimal("0.12")})
DAY = EnergyRate.model_validate({"from": "07:30", "to": "00:30", "price": Decimal("0.29")})
RATES = (NIGHT, DAY)


def needs_with(*changes: tuple[Place, object]) -> tuple[FiringNeed, ...]:
    return plan_studio(plan_with(*changes), loads=TWO_LOADS).firings


def biscuit_with(*changes: tuple[Place, object]) -> FiringNeed:
    return needs_with(*changes)[0]


def steps(*steps: dict[str, Any]) -> tuple[Place, object]:
    return ("firings", 0, "steps"), list(steps)


def test_a_step_lasts_its_ramp_and_then_its_hold() -> None:
    stretches = list(stretches_of(plan_with().firings[0], room_c=20))
    assert [(part.step, part.kind, part.from_c, part.to_c) for part in stretches] == [
        (1, "ramp", 20, 600),
        (2, "ramp", 600, 1000),
        (2, "hold", 1000, 1000),
    ]
    assert [part.hours for part in stretches] == pytest.approx([5.8, 400 / 150, 0.25])


def test_a_step_in_fahrenheit_is_the_same_step() -> None:
    fahrenheit = biscuit_with(steps({"rate": 100, "to": "1832 F"}))
    celsius = biscuit_with(steps({"rate": 100, "to": 1000}))
    assert fahrenheit.hours == pytest.approx(9.8)
    assert fahrenheit.kwh == pytest.approx(celsius.kwh)


def test_a_slow_cooling_step_takes_time_but_never_less_than_no_heat() -> None:
    cooled = biscuit_with(steps({"rate": 100, "to": 1000}, {"rate": 300, "to": 700}))
    assert [part.hours for part in cooled.parts] == pytest.approx([9.8, 1.0])
    assert (cooled.parts[1].heat_kwh, cooled.parts[1].cost) == (0, 0)


def test_holding_a_hot_kiln_takes_what_the_wall_lets_through() -> None:
    held = biscuit_with(steps({"rate": 100, "to": 1000, "hold": 60}))
    watts_per_kelvin = 0.25 * 1.3 / 0.075
    assert held.parts[1].heat_kwh == pytest.approx(watts_per_kelvin * 980 / 1000)
    assert held.parts[1].mean_kw == pytest.approx(held.parts[1].heat_kwh)


def test_a_ramp_heats_ware_furniture_and_half_the_wall() -> None:
    need = biscuit_with(steps({"rate": 100, "to": 1000}))
    stored = (need.ware_kg + 12 + 55 / 2) * (heat_content(1000) - heat_content(20)) / 3600
    lost = 0.25 * 1.3 / 0.075 * (510 - 20) * 9.8 / 1000
    assert need.kwh == pytest.approx(stored + lost)


def test_the_ware_in_a_load_is_dry_and_shared_among_the_loads() -> None:
    """30 pieces of 12 oz and 27 of 24 oz, four fifths of them dry clay, in 2 loads."""
    assert biscuit_with().ware_kg == pytest.approx((30 * 12 + 27 * 24) * 0.028349523125 * 0.8 / 2)


def test_the_parts_add_up_to_the_firing() -> None:
    for need in needs_with():
        assert sum(part.hours for part in need.parts) == pytest.approx(need.hours)
        assert sum(part.kwh for part in need.parts) == pytest.approx(need.kwh)
        assert sum(part.cost for part in need.parts) == pytest.approx(need.cost_of_load)
        assert float(need.cost) == pytest.approx(need.cost_of_load * 2, abs=0.005)
        assert max(part.mean_kw for part in need.parts) == need.peak_kw
        assert (need.correction, need.basis) == (1, "walls")


RAMPS = st.lists(
    st.builds(
        lambda rate, to, hold: {"rate": rate, "to": to, "hold": hold},
        st.integers(20, 400),
        st.integers(30, 1300),
        st.integers(1, 120),
    ),
    min_size=1,
    max_size=6,
)


@given(ramps=RAMPS)
def test_no_firing_takes_less_than_no_energy(ramps: list[dict[str, Any]]) -> None:
    need = biscuit_with(steps(*ramps))
    assert all(part.heat_kwh >= 0 and part.cost >= 0 and part.short_kw >= 0 for part in need.parts)
    assert need.hours == pytest.approx(sum(part.hours for part in need.parts))
    assert need.cost >= 0


@given(low=st.floats(-20, 1400), high=st.floats(-20, 1400))
def test_hotter_clay_holds_more_heat(low: float, high: float) -> None:
    low, high = sorted((low, high))
    assert heat_content(low) <= heat_content(high)


def test_a_part_that_needs_more_than_the_rated_power_says_how_much_is_missing() -> None:
    weak = biscuit_with((("kiln", "rated_kw"), 5))
    assert [part.short_kw for part in weak.parts] == pytest.approx(
        [max(0, part.mean_kw - 5) for part in weak.parts]
    )
    assert max(part.short_kw for part in weak.parts) == pytest.approx(weak.peak_kw - 5)
    assert [part.short_kw for part in biscuit_with().parts] == [0, 0, 0]


def test_a_kiln_with_no_rated_power_is_never_said_to_be_short() -> None:
    assert {part.short_kw for part in biscuit_with((("kiln", "rated_kw"), GONE)).parts} == {0}


def test_without_walls_the_elements_are_on_for_their_share_of_the_time() -> None:
    biscuit, glaze = needs_with(*NO_WALLS)
    assert biscuit.kwh == pytest.approx(7.2 * biscuit.hours * 0.5)
    assert glaze.kwh == pytest.approx(7.2 * glaze.hours * 0.65)
    assert glaze.peak_kw == pytest.approx(7.2 * 0.65)
    assert biscuit.basis == "on share"
    assert biscuit_with(*NO_WALLS, (("firings", 0, "on_share"), Decimal("0.6"))).kwh == pytest.approx(
        7.2 * biscuit.hours * 0.6
    )


def test_gas_is_bought_for_more_than_reaches_the_chamber() -> None:
    electric = biscuit_with()
    gas = biscuit_with((("kiln", "fuel"), "gas"), (("kiln", "burner_efficiency"), Decimal("0.2")))
    assert gas.kwh == pytest.approx(electric.kwh / 0.2)
    assert gas.peak_kw == pytest.approx(electric.peak_kw / 0.2)
    assert [part.heat_kwh for part in gas.parts] == [part.heat_kwh for part in electric.parts]


def test_the_rated_power_of_a_gas_kiln_is_heat_to_the_chamber() -> None:
    gas = (("kiln", "fuel"), "gas"), (("kiln", "burner_efficiency"), Decimal("0.2"))
    assert {part.short_kw for part in biscuit_with(*gas).parts} == {0}


def test_a_calibration_corrects_every_firing_alike() -> None:
    plain = needs_with()
    calibrated = needs_with((("kiln", "calibration"), {"firing": "glaze", "metered_kwh": 50}))
    assert calibrated[1].kwh == pytest.approx(50)
    assert calibrated[0].kwh == pytest.approx(plain[0].kwh * 50 / plain[1].kwh)
    assert calibrated[0].peak_kw == pytest.approx(plain[0].peak_kw * 50 / plain[1].kwh)
    assert [need.correction for need in calibrated] == pytest.approx([50 / plain[1].kwh] * 2)


def test_a_calibration_can_show_that_a_kiln_does_not_keep_up() -> None:
    need = needs_with((("kiln", "calibration"), {"firing": "glaze", "metered_kwh": 60}))[1]
    assert max(part.short_kw for part in need.parts) == pytest.approx(need.peak_kw - 7.2)


def test_a_meter_replaces_the_estimate_and_is_spread_as_it_was() -> None:
    plain = biscuit_with()
    metered = biscuit_with(
        (("firings", 0, "metered_kwh"), 40),
        (("kiln", "calibration"), {"firing": "glaze", "metered_kwh": 60}),
    )
    assert metered.basis == "meter"
    assert metered.kwh == pytest.approx(40)
    assert [part.kwh for part in metered.parts] == pytest.approx(
        [part.kwh * 40 / plain.kwh for part in plain.parts]
    )
    assert metered.peak_kw == pytest.approx(plain.peak_kw * 40 / plain.kwh)


def test_the_gas_that_a_meter_shows_stands_as_it_was_read() -> None:
    gas = (("kiln", "fuel"), "gas"), (("kiln", "burner_efficiency"), Decimal("0.25"))
    assert biscuit_with(*gas, (("firings", 0, "metered_kwh"), 40)).kwh == pytest.approx(40)
    calibrated = needs_with(*gas, (("kiln", "calibration"), {"firing": "glaze", "metered_kwh": 300}))
    assert calibrated[1].kwh == pytest.approx(300)


def test_a_kiln_kept_at_the_rooms_temperature_takes_nothing_whatever_a_meter_says() -> None:
    cold = steps({"rate": 100, "to": 20, "hold": 60})
    need = biscuit_with(cold, (("firings", 0, "metered_kwh"), 40))
    assert (need.kwh, need.peak_kw, need.correction) == (0.0, 0.0, 1.0)
    assert need.cost == 0
    on_the_cold_one = (("kiln", "calibration"), {"firing": "biscuit", "metered_kwh": 50})
    assert needs_with(cold, on_the_cold_one)[1].correction == 1


def test_a_meter_is_believed_about_a_small_firing_too() -> None:
    warm = steps({"rate": 100, "to": 25})
    assert biscuit_with(warm).kwh < 1
    assert biscuit_with(warm, (("firings", 0, "metered_kwh"), 2)).kwh == pytest.approx(2)
    calibrated = biscuit_with(warm, (("kiln", "calibration"), {"firing": "biscuit", "metered_kwh": 2}))
    assert calibrated.kwh == pytest.approx(2)


def test_of_a_kiln_without_walls_only_ware_and_furniture_are_known() -> None:
    kiln = plan_with(*NO_WALLS).kiln
    assert kiln is not None
    assert (wall_loss_w_per_k(kiln), heated_kg(kiln, 5.0)) == (0, 5 + 12)


def test_a_firing_that_begins_past_the_hour_is_priced_from_its_minute() -> None:
    """One hour from 07:00 at 1 kW for each hour: half an hour by night, half by day."""
    changes = (("firings", 0, "steps"), [{"rate": 980, "to": 1000}]), (("firings", 0, "start"), "07:00")
    late = (("firings", 0, "start"), "07:15")
    sharp, past = (biscuit_with(*changes[:1], start) for start in (changes[1], late))
    assert sharp.hours == pytest.approx(1)
    assert sharp.cost_of_load / sharp.kwh == pytest.approx((0.12 + 0.29) / 2)
    assert past.cost_of_load / past.kwh == pytest.approx(0.25 * 0.12 + 0.75 * 0.29)


def test_a_fuller_load_takes_more_energy() -> None:
    plan = plan_with()
    kiln = plan.kiln
    assert kiln is not None
    empty, full = (estimated_kwh(plan.firings[0], kiln, ware_kg) for ware_kg in (0, 20))
    assert full - empty == pytest.approx(20 * (heat_content(1000) - heat_content(20)) / 3600)


@pytest.mark.parametrize(
    ("start_hour", "hours", "price_of_kwh"),
    [
        (8, 2, 0.29),
        (1, 6, 0.12),
        (7, 1, (0.12 + 0.29) / 2),
        (22, 9.5, (2.5 * 0.29 + 7 * 0.12) / 9.5),
        (23.5, 1, 0.29),
        (24.5, 1, 0.12),
        (0, 24, (17 * 0.29 + 7 * 0.12) / 24),
        (5, 72, (17 * 0.29 + 7 * 0.12) / 24),
    ],
)
def test_each_moment_costs_its_own_rate(start_hour: float, hours: float, price_of_kwh: float) -> None:
    assert price_of_energy(10, start_hour, hours, RATES) == pytest.approx(10 * price_of_kwh)


@given(start=st.floats(0, 48), first=st.floats(0.01, 30), then=st.floats(0.01, 30))
def test_a_stretch_costs_what_its_two_halves_cost(start: float, first: float, then: float) -> None:
    whole = price_of_energy(first + then, start, first + then, RATES)
    halves = price_of_energy(first, start, first, RATES) + price_of_energy(then, start + first, then, RATES)
    assert whole == pytest.approx(halves, rel=1e-9)


@pytest.mark.parametrize(
    ("from_", "to", "expected"),
    [
        ("00:00", "24:00", ((0, 1440),)),
        ("06:00", "06:00", ((360, 1440), (0, 360))),
        ("00:00", "00:00", ((0, 1440), (0, 0))),
        ("22:00", "06:00", ((1320, 1440), (0, 360))),
        ("22:00", "24:00", ((1320, 1440),)),
    ],
)
def test_a_window_may_pass_midnight(from_: str, to: str, expected: tuple[tuple[int, int], ...]) -> None:
    rate = EnergyRate.model_validate({"from": from_, "to": to, "price": Decimal("0.3")})
    assert windows_of(rate) == expected
    assert running_price(24, [rate]) == pytest.approx(
        0.3 * sum(until - since for since, until in expected) / 60
    )


def test_no_energy_costs_nothing() -> None:
    assert price_of_energy(0, 8, 2, RATES) == 0
    assert price_of_energy(3, 8, 0, RATES) == 0


def test_a_half_of_the_minor_unit_is_rounded_up_in_spite_of_float_noise() -> None:
    """35 kWh at 0.2735 are 9.5725; one load at 0.29 of 0.05 kWh is 0.0145 and 10 loads are 0.145."""
    rates = (("energy", "rates"), [{"from": "00:00", "to": "24:00", "price": Decimal("0.29")}])
    metered = (("firings", 0, "metered_kwh"), Decimal("0.05"))
    plan = plan_with(rates, metered)
    assert plan_studio(plan, loads={"biscuit": 10}).firings[0].cost == Decimal("0.15")
