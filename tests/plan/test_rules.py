"""What must hold between the parts of a plan: each rule broken once, and the fault's own words."""

from decimal import Decimal
from typing import Any

import pytest

from salebook.plan import kiln_rules, sale_rules, ware_rules
from salebook.plan.rules import RULES
from tests.support.plan_strategies import LABELS
from tests.support.sound_plan import GONE, SOUND, Place, faults_in, faults_with, plan_with

Change = tuple[Place, object]

SHEET = LABELS[0]
RECTANGLE = {"shape": "rectangle", "width": "40 cm", "depth": "50 cm"}
GIVEN = SOUND["donated"][0]
LEFT = {"code": "VASE", "name": "Vase", "numbers": "VASE-003, VASE-011..013", "price": 40}
WALLS = ("wall_area_m2", "wall_thickness_mm", "wall_conductivity", "wall_mass_kg")


def without_walls() -> list[Change]:
    return [(("kiln", key), GONE) for key in WALLS]


def without(*tables: str) -> list[Change]:
    return [((table,), GONE) for table in tables]


def test_the_worked_plan_breaks_no_rule() -> None:
    assert faults_in(SOUND) == []


def test_every_rule_is_asked() -> None:
    modules = (sale_rules, kiln_rules, ware_rules)
    written = {
        rule
        for module in modules
        for name, rule in vars(module).items()
        if not name.startswith("_") and getattr(rule, "__annotations__", {}).keys() == {"draft", "return"}
    }
    assert written == set(RULES)


CASES: list[tuple[list[Change], str]] = [
    (
        [(("wares", 0, "seen"), {"drying": [0, 0], "glaze": [Decimal("44.5"), 44]})],
        "wares → VASE → seen → glaze → lost: found 44.5, expected at most the 44 that went in",
    ),
    (
        [*without("donated", "materials"), (("wares",), [])],
        "wares: found nothing, expected at least one ware or one donated piece",
    ),
    (
        [(("beneficiaries",), [])],
        "beneficiaries: found nothing, expected at least one group that shares in the takings",
    ),
    (
        [(("beneficiaries", 1, "name"), "village Library")],
        'beneficiaries → name: found "Village library" more than once, '
        "expected a name of its own for each, capitals aside",
    ),
    (
        [(("firings", 1, "name"), "biscuit")],
        'firings → name: found "biscuit" more than once, expected a name of its own for each, capitals aside',
    ),
    (
        [(("wares", 1, "code"), "VASE")],
        'wares → code: found "VASE" more than once, '
        "expected a code of its own for each ware and each donated piece",
    ),
    (
        [(("donated", 0, "code"), "VASE")],
        'wares and donated → code: found "VASE" more than once, '
        "expected a code of its own for each ware and each donated piece",
    ),
    (
        [(("wares", 0, "price"), Decimal("18.005"))],
        "wares → VASE → price: found 18.005, expected at most 2 decimal places, as GBP has",
    ),
    (
        [(("wares", 0, "demand", 1), [Decimal("18.001"), 0.8])],
        "wares → VASE → demand: found 18.001, expected at most 2 decimal places, as GBP has",
    ),
    (
        [(("sale", "price_step"), Decimal("0.125"))],
        "sale → price_step: found 0.125, expected at most 2 decimal places, as GBP has",
    ),
    (
        [(("sale", "denominations"), [5, Decimal("0.001")])],
        "sale → denominations: found 0.001, expected at most 2 decimal places, as GBP has",
    ),
    (
        [(("wares", 0, "clay"), "buff stonewear")],
        'wares → VASE → clay: found "buff stonewear", expected a clay of [[clays]]; '
        'did you mean "buff stoneware"?',
    ),
    (
        [(("clays", 0, "drying_shrinkage"), Decimal("0.13"))],
        "clays → buff stoneware → drying_shrinkage: found 0.13, expected at most the shrinkage in all, 0.12",
    ),
    (
        without("kiln"),
        "kiln: found nothing, expected [kiln] with its shelf and usable height, as there are firings",
    ),
    (without("energy"), "energy: found nothing, expected [energy] with its rates, as there are firings"),
    (
        [(("wares", 0, "made_height"), GONE)],
        'wares → VASE → made_height: found nothing, expected a height such as "160 mm", as there are firings',
    ),
    (
        [(("wares", 0, "made_diameter"), GONE)],
        "wares → VASE → made_diameter: found nothing, "
        'expected a diameter such as "110 mm", as there are firings',
    ),
    (
        [(("wares", 0, "fired_height"), "150 mm")],
        'wares → VASE → fired_height: found "150 mm", '
        "expected about 132 mm, what shrinkage leaves of 150 mm; or only one of the two sizes",
    ),
    (
        [(("wares", 0, "fired_diameter"), "3 in")],
        'wares → VASE → fired_diameter: found "3 in", '
        "expected about 70 mm, what shrinkage leaves of 80 mm; or only one of the two sizes",
    ),
    (
        [(("wares", 0, "losses"), {"throwing": 0.9, "glaze": 0.9})],
        "wares → VASE → losses: found 0.0095 of the pieces left, good ones, "
        "expected losses and seconds that leave at least 0.02",
    ),
    (
        [(("wares", 0, "seen"), {"drying": [4999, 5000]})],
        "wares → VASE → seen: found 0.0036 of the pieces left, good ones, "
        "expected losses and seconds that leave at least 0.02",
    ),
    (
        [(("wares",), [{**SOUND["wares"][0], "code": f"A{n}", "wanted": 10_000} for n in range(11)])],
        "wares → wanted: found about 129475 pieces to make or given, expected at most 6000 in all; "
        "fewer wanted, or two sales with a plan each",
    ),
    (
        [(("wares", 0, "spoken_for"), 25)],
        "wares → VASE → spoken_for: found 25, expected at most the 24 pieces that there are",
    ),
    (
        [(("carried",), [LEFT | {"numbers": "VSAE-004"}])],
        'carried → VASE → numbers: found "VSAE-004", expected a number that begins with VASE; '
        'did you mean "VASE-004"?',
    ),
    (
        [(("carried",), [LEFT | {"numbers": "VASE-1, VASE-001"}])],
        'carried → VASE → numbers: found "VASE-001" more than once, expected each number once',
    ),
    (
        [(("carried",), [LEFT | {"code": "SPN", "numbers": "SPN-9"}])],
        'carried → SPN → code: found "SPN", '
        "expected the code of a ware, or one of its own: SPN is that of a donated piece",
    ),
    (
        [(("carried",), [LEFT | {"numbers": ["VASE-3", "vases", "VASE-9..4"]}])],
        "carried → VASE → numbers: found a list of 3, expected numbers of pieces in quotation marks, "
        'such as "JUG-003, JUG-011..014", and not VASES, VASE-9..4',
    ),
    (
        [(("carried",), [LEFT | {"spoken_for": 5}])],
        "carried → VASE → spoken_for: found 5, expected at most the 4 pieces that there are",
    ),
    (
        [(("donated", 0, "spoken_for"), 6)],
        "donated → SPN → spoken_for: found 6, expected at most the 5 pieces that there are",
    ),
    (
        [(("kiln", "wall_mass_kg"), GONE)],
        "kiln → wall_mass_kg: found nothing, "
        "expected a number, as the four wall keys are given together or not at all",
    ),
    (
        [*without_walls(), (("kiln", "rated_kw"), GONE)],
        "kiln → rated_kw: found nothing, expected the kiln's rated power in kW, as its walls are not given",
    ),
    (
        [(("kiln", "fuel"), "gas")],
        "kiln → burner_efficiency: found nothing, "
        "expected the share of the heat in the gas that reaches the chamber, such as 0.2",
    ),
    (
        [(("kiln", "shelf", "diameter"), GONE)],
        "kiln → shelf → diameter: found nothing, "
        'expected a length such as "460 mm", for a shelf of this shape',
    ),
    (
        [(("kiln", "shelf", "depth"), "50 cm")],
        'kiln → shelf → depth: found "50 cm", expected nothing, for a shelf of this shape',
    ),
    (
        [(("kiln", "shelf"), {**RECTANGLE, "diameter": "46 cm"})],
        'kiln → shelf → diameter: found "46 cm", expected nothing, for a shelf of this shape',
    ),
    (
        [(("kiln", "calibration"), {"firing": "glase", "metered_kwh": 48})],
        'kiln → calibration → firing: found "glase", expected a firing of [[firings]]; did you mean "glaze"?',
    ),
    (
        [(("firings", 0, "steps", 1), {"rate": 100, "to": "1112 F"})],
        'firings → biscuit → steps → 2nd → to: found "1112 °F", '
        "expected another temperature than the one before, or a hold",
    ),
    (
        [(("firings", 0, "steps", 0), {"rate": 100, "to": 20})],
        'firings → biscuit → steps → 1st → to: found "20 °C", '
        "expected another temperature than the one before, or a hold",
    ),
    (
        [(("firings", 0, "steps", 1), {"rate": 100, "to": 15})],
        'firings → biscuit → steps → 2nd → to: found "15 °C", '
        "expected at least the room's temperature, 20 °C",
    ),
    (
        [(("energy", "rates", 0, "to"), "06:30")],
        "energy → rates: found no rate from 06:30 to 07:30, expected rates that cover the day exactly once",
    ),
    (
        [(("energy", "rates", 0, "to"), "08:00")],
        "energy → rates: found 2 rates from 07:30 to 08:00, expected rates that cover the day exactly once",
    ),
    (
        [(("energy", "rates"), [{"from": "01:00", "to": "23:00", "price": 1}])],
        "energy → rates: found no rate from 23:00 to 01:00, expected rates that cover the day exactly once",
    ),
    (
        [(("energy", "rates"), [{"from": "00:00", "to": "24:00", "price": 1}] * 2)],
        "energy → rates: found 2 rates from 00:00 to 24:00, expected rates that cover the day exactly once",
    ),
    (
        [(("materials", 0, "wares"), ["VASE", "POTS"])],
        'materials → glaze → wares → 2nd: found "POTS", expected the code of one of [[wares]]; '
        'did you mean "POT"?',
    ),
    (
        [(("work", 0, "wares"), ["SPN"])],
        'work → throwing and turning → wares → 1st: found "SPN", expected the code of one of [[wares]]',
    ),
    (
        [(("work", 0, "wares"), ["POT", "POT"])],
        'work → throwing and turning → wares → 2nd: found "POT", expected each code once',
    ),
    (
        [(("payments", 0, "share"), Decimal("0.3"))],
        "payments → share: found shares that add up to 0.9, expected shares that add up to 1",
    ),
    (
        [(("payments",), [{"name": "card", "share": Decimal("0.5")}])],
        "payments → share: found shares that add up to 0.5, expected shares that add up to 1",
    ),
    (
        [(("payments", 1, "paid_to"), "Village libary")],
        'payments → card → paid_to: found "Village libary", expected a group of [[beneficiaries]]; '
        'did you mean "Village library"?',
    ),
    (
        [(("payments", 0, "paid_to"), "Village library")],
        "payments → cash → cash: found true, "
        "expected false, as what is paid straight to a group is never in the cash box",
    ),
    (
        [(("outlooks", n, "weight"), 0) for n in range(3)],
        "outlooks → weight: found 0 for each, expected a weight above 0 for one",
    ),
    (
        [(("labels",), {key: value for key, value in SHEET.items() if key != "top"})],
        "labels → top: found nothing, "
        "expected all measures of the sheet, or none for the usual sheet of 3 × 7",
    ),
    (
        [(("labels",), {**SHEET, "across": "60 mm"})],
        "labels → across: found 60 mm, expected at least the label's own 63.5 mm",
    ),
    (
        [(("labels",), {**SHEET, "columns": 4})],
        "labels → across: found labels that reach to 268.7 mm, "
        "expected labels that end within the page's 210 mm",
    ),
    (
        [(("labels",), {**SHEET, "page": "Letter"})],
        "labels → down: found labels that reach to 281.8 mm, "
        "expected labels that end within the page's 279.4 mm",
    ),
]


@pytest.mark.parametrize(
    ("changes", "fault"), CASES, ids=[fault.split(", expected")[0] for _, fault in CASES]
)
def test_a_broken_rule_is_told_in_plain_words(changes: list[Change], fault: str) -> None:
    assert [fault] == faults_with(*changes)


def test_a_currency_without_minor_units_has_no_decimals_anywhere() -> None:
    places = [fault.split(": found")[0] for fault in faults_with((("sale", "currency"), "JPY"))]
    assert places == [
        "clays → buff stoneware → pack_price",
        "materials → glaze → pack_price",
        "payments → card → fixed",
    ]


SOUND_CHANGES: dict[str, list[Change]] = {
    "donated pieces alone": without("wares", "kiln", "firings", "energy", "materials", "work", "clays"),
    "wares alone": without("donated"),
    "pieces left from an earlier sale": [
        (("carried",), [LEFT, LEFT | {"numbers": "VASE-1", "second": True}])
    ],
    "such pieces alone": [
        *without("wares", "donated", "kiln", "firings", "energy", "materials", "work", "clays"),
        (("carried",), [LEFT]),
    ],
    "no firings, no kiln": without("kiln", "firings", "energy"),
    "a kiln without firings and without power": [
        *without_walls(),
        (("kiln", "rated_kw"), GONE),
        *without("firings"),
    ],
    "no walls": without_walls(),
    "gas": [(("kiln", "fuel"), "gas"), (("kiln", "burner_efficiency"), Decimal("0.2"))],
    "a rectangle": [(("kiln", "shelf"), RECTANGLE)],
    "fired sizes alone": [(("wares", 0, "made_height"), GONE), (("wares", 0, "fired_height"), "132 mm")],
    "both sizes, to the millimetre": [(("wares", 0, "fired_diameter"), "70 mm")],
    "a footprint for a diameter": [
        (("wares", 0, "made_diameter"), GONE),
        (("wares", 0, "footprint"), "9 x 7 cm"),
    ],
    "one rate for the whole day": [(("energy", "rates"), [{"from": "07:00", "to": "07:00", "price": 1}])],
    "a rate finer than a coin": [(("energy", "rates", 0, "price"), Decimal("0.123456"))],
    "a day in three": [
        (
            ("energy", "rates"),
            [
                {"from": a, "to": b, "price": 1}
                for a, b in (("00:00", "08:00"), ("16:00", "24:00"), ("08:00", "16:00"))
            ],
        )
    ],
    "a hold at the same temperature": [
        (("firings", 0, "steps", 1), {"rate": 1, "to": 600, "hold": "15 min"})
    ],
    "a slow cooling": [(("firings", 0, "steps", 1), {"rate": 60, "to": 500})],
    "a single way to pay without a share": [(("payments",), [{"name": "cash", "cash": True}])],
    "a way that pays a group": [(("payments", 1, "paid_to"), "Village library")],
    "a whole sheet of labels": [(("labels",), SHEET)],
    "a promise and no sheet": [(("labels",), {"promise": True})],
    "no glaze firing": [(("firings",), SOUND["firings"][:1])],
    "a price without decimals": [(("wares", 0, "price"), "18,00")],
}


@pytest.mark.parametrize("changes", SOUND_CHANGES.values(), ids=SOUND_CHANGES.keys())
def test_what_breaks_no_rule_is_let_pass(changes: list[Change]) -> None:
    assert faults_with(*changes) == []


def test_labels_with_a_promise_alone_keep_the_usual_sheet() -> None:
    labels = plan_with((("labels",), {"promise": True})).labels
    assert (labels.promise, labels.columns, labels.rows) == (True, 3, 7)


@pytest.mark.parametrize(
    ("place", "value", "silent"),
    [
        (("clays", 0, "pack"), "a bag", "clay of [[clays]]"),
        (("firings", 0, "start"), "noon", "as there are firings"),
        (("payments", 0, "cash"), "perhaps", "add up to 1"),
        (("sale", "currency"), "XYZ", "decimal places"),
        (("wares", 0, "wanted"), 0, "code of one of [[wares]]"),
        (("kiln", "room"), "warm", "room's temperature"),
        (("kiln", "gap"), "wide", "[kiln] with its shelf"),
    ],
)  # fmt: skip
def test_a_rule_is_not_asked_of_what_is_not_sound(place: Place, value: Any, silent: str) -> None:
    (fault,) = faults_with((place, value), (("materials", 0, "wares"), ["VASE"]))
    assert silent not in fault


def test_a_ware_with_a_fault_of_its_own_is_still_asked_for_its_clay() -> None:
    faults = faults_with((("wares", 0, "ball"), "heavy"), (("wares", 0, "clay"), "porcelain"))
    assert ["wares → VASE → ball", "wares → VASE → clay"] == [fault.split(": ")[0] for fault in faults]


def test_every_number_that_is_wrong_or_there_twice_is_told_at_once() -> None:
    again = LEFT | {"numbers": ["VASE-20", "MUG-4, MUG-5", "VASE-012..14"]}
    assert [fault.split(", expected")[0] for fault in faults_with((("carried",), [LEFT, again]))] == [
        'carried → 1st → numbers: found "VASE-012..013" more than once',
        'carried → 2nd → numbers: found "MUG-004"',
        'carried → 2nd → numbers: found "MUG-005"',
        'carried → 2nd → numbers: found "VASE-012..013" more than once',
    ]
