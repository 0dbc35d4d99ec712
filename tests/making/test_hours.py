from decimal import Decimal

from salebook.making.hours import HoursNeed
from salebook.making.studio import plan_studio
from tests.support.sound_plan import Place, plan_with


def hours_with(*changes: tuple[Place, object]) -> HoursNeed:
    return plan_studio(plan_with(*changes), loads={"biscuit": 2, "glaze": 2}).hours


def test_hours_are_minutes_for_each_count() -> None:
    need = hours_with()
    assert [(line.work.name, line.count, line.hours) for line in need.lines] == [
        ("throwing and turning", 59, Decimal("8.85")),
        ("loading", 4, Decimal(3)),
    ]
    assert (need.total, need.value) == (Decimal("11.85"), Decimal("142.20"))


def test_the_worth_is_rounded_once_from_the_minutes() -> None:
    work = [{"name": "wrapping", "per": "sale", "minutes": 1}] * 3
    need = hours_with((("work",), work), (("hours", "rate"), 10))
    assert (need.total, need.value) == (Decimal("0.05"), Decimal("0.50"))


def test_without_work_there_are_no_hours() -> None:
    need = hours_with((("work",), []))
    assert need.lines == ()
    assert (need.total, need.value) == (Decimal(0), Decimal(0))
