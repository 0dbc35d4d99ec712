"""Every fault has its place, what was found and what was expected, in plain words, all of them at once."""

from decimal import Decimal

import pytest

from salebook.plan.faults import described, key_meant, nearest, ordinal, shortened
from tests.support.sound_plan import GONE, Place, changed, faults_in, faults_with


@pytest.mark.parametrize(
    ("place", "value", "fault"),
    [
        (
            ("format",),
            GONE,
            "format: found nothing, expected format = 1, the form of plan that this salebook reads",
        ),
        (("format",), 2, "format: found 2, expected format = 1, the form of plan that this salebook reads"),
        (
            ("format",),
            True,
            "format: found true, expected format = 1, the form of plan that this salebook reads",
        ),
        (("sale",), GONE, "sale: found nothing, expected [sale] with its keys below it"),
        (
            ("sale", "maker"),
            GONE,
            "sale → maker: found nothing, expected a text in quotation marks, not empty",
        ),
        (
            ("sale", "days"),
            [],
            "sale → days: found a list of 0, expected one or more dates in brackets, such as [2027-06-12]",
        ),
        (
            ("sale", "days", 0),
            "12/06/2027",
            'sale → days → 1st: found "12/06/2027", expected a date as year-month-day, such as 2027-06-12',
        ),
        (
            ("sale", "currency"),
            "XYZ",
            (
                'sale → currency: found "XYZ", '
                'expected a currency by its three-letter code (ISO 4217), such as "GBP", "EUR" or '
                '"USD"'
            ),
        ),
        (
            ("sale", "locale"),
            "en_XX",
            (
                'sale → locale: found "en_XX", '
                'expected a language and country, such as "en_GB", "en_US" or "de_DE"'
            ),
        ),
        (
            ("wares", 0, "price"),
            -5,
            "wares → VASE → price: found -5, expected an amount of money above 0, such as 28 or 12.50",
        ),
        (
            ("wares", 0, "wanted"),
            0,
            "wares → VASE → wanted: found 0, expected a whole number from 1 to 10 000",
        ),
        (
            ("wares", 0, "wanted"),
            Decimal("2.5"),
            "wares → VASE → wanted: found 2.5, expected a whole number from 1 to 10 000",
        ),
        (
            ("wares", 0, "ball"),
            12,
            (
                "wares → VASE → ball: found 12, "
                'expected a mass with its unit, from 0.1 g to 10 000 kg, such as "340 g", "12.5 kg" '
                'or "1 lb 4 oz"'
            ),
        ),
        (
            ("wares", 0, "losses", "glaze"),
            1,
            (
                "wares → VASE → losses → glaze: found 1, "
                "expected a share from 0 to 0.95, such as 0.03 for three in a hundred"
            ),
        ),
        (
            ("wares", 0, "losses"),
            0.1,
            (
                "wares → VASE → losses: found 0.1, "
                "expected a table in braces with the keys throwing, drying, biscuit, glaze"
            ),
        ),
        (
            ("wares", 0, "demand", 1),
            [18],
            (
                "wares → VASE → demand → 2nd: found a list of 1, "
                "expected a price and the share expected to sell at it, such as [28, 0.85]"
            ),
        ),
        (
            ("wares", 0, "seen"),
            {"glaze": [5]},
            (
                "wares → VASE → seen → glaze: found a list of 1, "
                "expected pieces lost and pieces that went in, such as [5, 44] for 5 lost of 44"
            ),
        ),
        (
            ("wares", 0, "seen"),
            {"glaze": [-1, 44]},
            "wares → VASE → seen → glaze → lost: found -1, expected a number from 0 to 100 000",
        ),
        (
            ("wares", 0, "seen"),
            {"glase": [5, 44]},
            (
                "wares → VASE → seen → glase: found a key that is not known here, "
                'expected a known key; did you mean "glaze"?'
            ),
        ),
        (
            ("kiln", "fuel"),
            "electrik",
            'kiln → fuel: found "electrik", expected one of "electric", "gas"; did you mean "electric"?',
        ),
        (
            ("kiln", "shelf"),
            GONE,
            (
                "kiln → shelf: found nothing, "
                "expected a table in braces with the keys shape, diameter, width, depth"
            ),
        ),
        (
            ("firings", 1, "steps", 0, "rate"),
            0,
            "firings → glaze → steps → 1st → rate: found 0, expected a number from 1 to 2000",
        ),
        (
            ("firings", 1, "steps", 0, "hold"),
            9000,
            (
                "firings → glaze → steps → 1st → hold: found 9000, "
                'expected minutes from 0 to 2 880, such as 15, or "2 h 30 min"'
            ),
        ),
        (
            ("firings", 1, "steps"),
            [],
            (
                "firings → glaze → steps: found a list of 0, "
                "expected one to forty steps in brackets, such as [{ rate = 100, to = 600 }]"
            ),
        ),
        (
            ("energy", "rates", 0, "to"),
            "25:00",
            (
                'energy → rates → 1st → to: found "25:00", '
                'expected a time of day from "00:00" to "24:00", such as "07:30"'
            ),
        ),
        (("wares",), {"code": "A"}, "wares: found a table, expected [[wares]] with its keys below it"),
        (("wares", 1), "POT", 'wares → 2nd: found "POT", expected [[wares]] with its keys below it'),
        (("hours",), [], "hours: found a list of 0, expected [hours] with its keys below it"),
        (
            ("materials", 0, "per"),
            "piece glased",
            (
                'materials → glaze → per: found "piece glased", '
                'expected one of "piece started", "piece glazed", "piece finished", "piece sold", '
                '"batch", "load", "sale"; did you mean "piece glazed"?'
            ),
        ),
    ],
)
def test_a_value_that_does_not_fit_is_told_in_plain_words(place: Place, value: object, fault: str) -> None:
    assert fault in faults_with((place, value))


@pytest.mark.parametrize(
    ("place", "said", "hint"),
    [
        (("wares", 0, "nmae"), "wares → VASE → nmae", 'did you mean "name"?'),
        (("wares", 0, "made height"), "wares → VASE → made height", 'did you mean "made_height"?'),
        (("wares", 0, "price_step"), "wares → VASE → price_step", "it belongs in [sale]"),
        (("energy", "rate"), "energy → rate", 'did you mean "rates"?'),
        (("title",), "title", "it belongs in [sale]"),
        (("ware",), "ware", 'did you mean "wares"?'),
        (("kiln", "shelf", "diametre"), "kiln → shelf → diametre", 'did you mean "diameter"?'),
        (("wares", 0, "losses", "glase"), "wares → VASE → losses → glase", 'did you mean "glaze"?'),
    ],
)
def test_an_unknown_key_is_told_with_what_may_be_meant(place: Place, said: str, hint: str) -> None:
    fault = f"{said}: found a key that is not known here, expected a known key; {hint}"
    assert [fault] == faults_with((place, 1))


def test_an_unknown_key_that_is_near_to_none_is_told_with_all_that_are_known() -> None:
    fault = "hours → zzz: found a key that is not known here, expected one of rate"
    assert [fault] == faults_with((("hours", "zzz"), 1))


def test_a_misspelt_required_key_is_told_once() -> None:
    faults = faults_with((("wares", 0, "price"), GONE), (("wares", 0, "pirce"), 18))
    assert faults == [
        (
            "wares → VASE → pirce: found a key that is not known here, "
            'expected a known key; did you mean "price"?'
        )
    ]


def test_all_faults_come_at_once() -> None:
    faults = faults_with(
        (("sale", "target"), "lots"),
        (("beneficiaries", 1, "parts"), 0),
        (("wares", 0, "price"), GONE),
        (("wares", 1, "ball"), "1 stone"),
        (("kiln", "rated_kw"), -1),
        (("payments", 1, "share"), Decimal("0.5")),
        (("outlook",), []),
    )
    places = [fault.split(":")[0] for fault in faults]
    assert places == [
        "outlook",
        "sale → target",
        "kiln → rated_kw",
        "beneficiaries → Towpath rangers → parts",
        "wares → VASE → price",
        "wares → POT → ball",
        "payments → share",
    ]


def test_one_bad_record_does_not_hide_what_is_wrong_in_others() -> None:
    faults = faults_with((("wares", 0, "price"), "dear"), (("wares", 1, "clay"), "blue clay"))
    assert [fault.split(":")[0] for fault in faults] == ["wares → VASE → price", "wares → POT → clay"]


def test_a_bad_record_is_still_known_by_its_name() -> None:
    (fault,) = faults_with((("clays", 0, "pack"), "one bag"))
    assert fault.startswith("clays → buff stoneware → pack: ")


def test_records_of_one_name_are_told_apart_by_their_position() -> None:
    faults = faults_with((("wares", 1, "code"), "VASE"), (("wares", 1, "price"), 0))
    assert "wares → 2nd → price" in [fault.split(":")[0] for fault in faults]


def test_a_file_with_nothing_in_it_asks_for_what_a_plan_needs() -> None:
    places = [fault.split(":")[0] for fault in faults_in({})]
    assert places == ["format", "sale", "beneficiaries", "wares"]


def test_a_fault_never_repeats_a_novel() -> None:
    (fault,) = faults_with((("sale", "title"), "x" * 40_000))
    assert f'sale → title: found "{"x" * 60}…", expected a text of at most 200 characters' == fault


def test_a_key_as_long_as_a_novel_is_shortened_too() -> None:
    (fault,) = faults_in(changed((("x" * 40_000,), 1)))
    assert len(fault) < 400


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (None, "nothing"),
        (True, "true"),
        ("a\nb\x00", '"a\\u000ab\\u0000"'),
        (10**100, "a number of very many digits"),
        (Decimal("12.50"), "12.5"),
        (Decimal("NaN"), "nan"),
        (Decimal("1e999999"), "1e+999999"),
        (0.1, "0.1"),
        ([1, 2], "a list of 2"),
        ({"a": 1}, "a table"),
        (object(), "something of another kind"),
    ],
)
def test_what_was_found_is_said_shortly(value: object, said: str) -> None:
    assert said == described(value)


def test_a_number_too_long_to_be_written_is_not_written() -> None:
    assert described(10**5000) == "a number of very many digits"


@pytest.mark.parametrize(
    ("position", "said"),
    [
        (1, "1st"),
        (2, "2nd"),
        (3, "3rd"),
        (4, "4th"),
        (11, "11th"),
        (12, "12th"),
        (21, "21st"),
        (112, "112th"),
    ],
)
def test_positions_are_counted_as_people_do(position: int, said: str) -> None:
    assert said == ordinal(position)


def test_the_nearest_word_is_near_or_nothing() -> None:
    assert nearest("Pirce", ["price", "pack"]) == "price"
    assert nearest("zebra", ["price", "pack"]) is None
    assert nearest("price" * 100, ["price"]) is None


def test_a_key_of_another_table_is_no_slip_of_the_finger() -> None:
    assert key_meant("price_step", ["price"]) is None
    assert key_meant("prices", ["price"]) == "price"


def test_a_text_is_shortened_only_where_it_is_long() -> None:
    assert (shortened("x" * 60), shortened("x" * 61)) == ("x" * 60, "x" * 60 + "…")
