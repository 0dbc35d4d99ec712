"""The accounts as JSON."""

import json
from dataclasses import replace
from decimal import Decimal
from typing import Any

from salebook.accounts.lines import fingerprint_of
from salebook.event.entries import Banked, Claim, DayCount, Entries, GroupPayment, Line, UnplannedCost
from salebook.event.report import report_of
from salebook.jobs.report_json import report_json
from tests.support.small_event import DONATED, FIRST, FIRST_DAY, SECOND, SECOND_DAY, line, sale

TIDE = "Tide ~ mill"
LINES = (
    line(1, piece=FIRST, gift="2", group=TIDE),
    line(2, piece=DONATED, way="card"),
    line(3, "raffle", amount="7.50", day=SECOND_DAY),
    line(4, "deposit", SECOND, "5", claim="C1"),
    line(5, "order", "MAY", claim="C2"),
)
ENTRIES = Entries(
    lines=LINES,
    cash=(DayCount(day=FIRST_DAY, float_=Decimal(20), counts={Decimal(10): 4, Decimal(2): 5}),),
    payments=(GroupPayment(day=SECOND_DAY, group=TIDE, amount=Decimal(3)),),
    claims=(Claim(claim="C1", name="Ada", how="collecting"), Claim(claim="C2", name="Ben", how="posting")),
)


def answer(*lines: Line, **more: Any) -> dict[str, Any]:
    entries = Entries(lines=lines) if lines else ENTRIES
    return report_json(report_of(sale(), entries, **more))


def stock(code: str, name: str, *, left: int, sold: int = 0, at: str = "") -> dict[str, Any]:
    counts = {"made": left + sold, "given_away": 0, "lost": 0, "left": left, "sold": sold}
    sold_at = [{"count": sold, "price": at, "amount": at}] if sold else []
    return {"code": code, "name": name, **counts, "sold_at": sold_at}


def cost(kind: str, name: str, amount: str, *, met_by: str = "sale", **known: bool) -> dict[str, Any]:
    return {"name": name, "kind": kind, "met_by": met_by, "amount": amount, **KNOWN, **known}


KNOWN = {"planned": True, "actual": False}


def test_costs_say_who_meets_them_and_which_of_them_nobody_planned() -> None:
    filled_in = Entries(
        actual_costs={"overhead: hall": Decimal(4)},
        unplanned=(UnplannedCost(name="parking", amount=Decimal(8), met_by="sponsor"),),
    )
    costs = report_json(report_of(sale(), filled_in))["costs"]
    assert costs[-2:] == [
        cost("overhead", "hall", "4.00", actual=True),
        cost("overhead", "parking", "8.00", met_by="sponsor", planned=False, actual=True),
    ]


def way(name: str, **sums: str) -> dict[str, Any]:
    nothing = dict.fromkeys(("taken", "fee", "paid_out", "found", "expected"), "0.00")
    nobody = {"arrived": None, "difference": None, "reason": "", "open": False}
    return {"way": name, **nothing, **sums, **nobody}


def test_what_arrived_in_the_bank_is_set_against_what_should() -> None:
    banked = (Banked(day=SECOND_DAY, what="cash", arrived=Decimal("44.50")),)
    report = report_of(sale(), replace(ENTRIES, banked=banked, bank_reasons={"cash": "miscounted"}))
    (cash, *_others) = report_json(report)["bank"]
    assert (cash["arrived"], cash["difference"], cash["open"]) == ("44.50", "2.00", False)


def test_the_answer_holds_what_is_promised() -> None:
    # 30 + 14.50 + 7.50 + 5; card 14.50 x 1.75 % + 0.05; hall 3.50, two bags of 1/3; a quarter of 14.50
    assert answer() == {
        "currency": "GBP",
        "final": True,
        "status": [],
        "takings": {
            "total": "57.00",
            "by_kind": {"sale": "44.50", "deposit": "5.00", "raffle": "7.50"},
            "by_payment": {"cash": "42.50", "card": "14.50", "bank * transfer?": "0.00"},
            "by_day": {"2027-06-19": "44.50", "2027-06-20": "12.50"},
        },
        "fees": "0.30",
        "costs_met_by_sale": "4.17",
        "to_givers": "3.63",
        "pool": "46.90",
        "costs": [
            cost("clay", "buff", "12.00", met_by="maker"),
            cost("material", "bags", "0.67"),
            cost("overhead", "hall", "3.50"),
        ],
        "share_out": [
            {
                "name": "Reed bank * friends?",
                "named": "0.00",
                "share": "31.27",
                "total": "31.27",
                "paid": "0.00",
                "to_pay": "31.27",
            },
            {
                "name": TIDE,
                "named": "2.00",
                "share": "15.63",
                "total": "17.63",
                "paid": "3.00",
                "to_pay": "14.63",
            },
        ],
        "pieces": {"here": 34, "reserved": 0, "deposit": 1, "sold": 2},
        "stock": [
            stock("MAY", "Mug", left=4, sold=1, at="28.00"),
            stock("DOT", "Thimble dot", left=30),
            stock("D1", "Carved spoon", left=1, sold=1, at="14.50"),
        ],
        "to_collect": 1,
        "to_send": 1,
        "cash_up": [
            {
                "day": "2027-06-19",
                "float": "20.00",
                "expected": "30.00",
                "counted": "50.00",
                "difference": "0.00",
            },
            {
                "day": "2027-06-20",
                "float": "0.00",
                "expected": "12.50",
                "counted": None,
                "difference": None,
            },
        ],
        "bank": [
            way("cash", taken="42.50", found="0.00", expected="42.50"),
            way("card", taken="14.50", fee="0.30", expected="14.20"),
            way("bank * transfer?"),
        ],
        "target": {"amount": "300.00", "reached": "48.90", "share": 0.163},
        "fingerprint": fingerprint_of(report_of(sale(), ENTRIES)),
        "questions": [],
        "notes": [],
    }


def test_it_is_json() -> None:
    assert json.loads(json.dumps(answer())) == answer()


def test_several_tills_name_themselves() -> None:
    tills = [box["till"] for box in answer(line(1, piece=FIRST), line(1, piece=SECOND, till="2"))["cash_up"]]
    assert ["1", "2", "1", "2"] == tills


def test_questions_say_where_and_what() -> None:
    found = answer(line(1, piece="MAY-900"), line(2, piece=FIRST), rows={line(1).identity: 6})
    assert [
        {"sheet": "Takings", "row": 6, "says": "line 1: unknown: write as in MAY-001", "book": ""}
    ] == found["questions"]
    assert found["final"] is False
    assert found["status"] == ["Not final: 1 line needs a look."]


def test_money_without_a_way_to_pay_is_under_an_empty_name() -> None:
    assert answer(line(1, "raffle", amount="2", way=""))["takings"]["by_payment"][""] == "2.00"
