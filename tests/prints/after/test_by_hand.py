"""Every figure on the statement, reckoned anew from nothing but what is printed on it."""

import html
import re
from dataclasses import dataclass, replace
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from salebook.event.entries import Banked, DayCount, Entries, GroupPayment, Line, PieceEntry
from salebook.event.report import Report, report_of
from salebook.jobs.report import report_on
from salebook.jobs.samples import FILLED
from salebook.plan.load import load_plan
from salebook.prints.after.letter import letter_html
from salebook.prints.after.statement import statement_html
from salebook.reckoning import reckon
from tests.support.books import ROOT, SAMPLES
from tests.support.entry_strategies import a_day_of_takings
from tests.support.finished_sale import REED, TIDE, TODAY, accounts
from tests.support.print_sales import made
from tests.support.small_event import (
    DONATED,
    FIRST,
    FIRST_DAY,
    SECOND_DAY,
    line,
    messy_lines,
    numbered_anew,
    sale,
)

PENNY = Decimal("0.01")
FOR_PIECES = {"Pieces sold", "Paid on orders", "Deposits", "Balances of deposits", "Given back"}


@dataclass(frozen=True)
class Sheet:
    """A printed page: its tables, each with its headings and its rows of cells."""

    text: str

    def table(self, heading: str) -> tuple[list[str], list[list[str]]]:
        """Return the headings and the rows of the table whose first heading is this."""
        for table in re.findall(r"<table\b.*?</table>", self.text, re.DOTALL):
            found = [_cells(row) for row in re.findall(r"<tr\b.*?</tr>", table, re.DOTALL)]
            if found[0][0] == heading:
                return found[0], [row for row in found[1:] if len(row) > 1]
        raise AssertionError(f"no table {heading}")

    def named(self, heading: str) -> list[dict[str, str]]:
        """Return the rows of a table, each cell by its heading; a cell that spans others is the first."""
        headings, rows = self.table(heading)
        return [
            dict(zip(headings, row[:1] + [""] * (len(headings) - len(row)) + row[1:], strict=True))
            for row in rows
        ]


def _cells(row: str) -> list[str]:
    cells = re.findall(r"<t[hd]\b[^>]*>(.*?)</t[hd]>", row, re.DOTALL)
    return [" ".join(html.unescape(re.sub(r"<[^>]*>", " ", cell)).split()) for cell in cells]


def figure(text: str) -> Decimal:
    return Decimal(text.replace(",", "").removeprefix("+") or 0)


def figures(rows: list[dict[str, str]], heading: str) -> list[Decimal]:
    return [figure(row[heading]) for row in rows if heading in row and re.search(r"\d", row[heading])]


def at_hand(note: str) -> Decimal | None:
    """Return what a line says of itself, worked out; None where it says nothing to work out."""
    taken = sum(
        (figure(rate) / 100 * figure(of) for rate, of in re.findall(r"([\d.]+) % of ([\d,.]*\d)", note)),
        Decimal(0),
    )
    each = re.findall(r"([\d,.]+) for (?:each of )?(\d+) (?:payment|piece)", note)
    worked = taken + sum(figure(one) * int(count) for one, count in each)
    is_worked = " % of " in note or bool(each)
    return worked.quantize(PENNY, ROUND_HALF_UP) if is_worked else None


def check_takings(sheet: Sheet) -> Decimal:
    kinds = sheet.named("By kind")
    takings = figure(kinds[-1]["£"])
    assert sum(figures(kinds[:-1], "£")) == takings
    assert sum(figures(sheet.named("By day"), "£")) == takings
    return takings


def check_what_comes_off(sheet: Sheet, takings: Decimal) -> Decimal:
    *lines, in_all, shared = sheet.named("From the takings")
    assert sum(figures(lines, "£")) == figure(in_all["£"])
    for row in lines:
        note = row["From the takings"]
        if "rounded for each piece" not in note and (worked := at_hand(note)) is not None:
            assert worked == figure(row["£"]), note
    pool = figure(shared["£"])
    pool = -pool if "Missing" in shared["From the takings"] else pool
    assert takings - figure(in_all["£"]) == pool
    return pool


def share_at_hand(words: str) -> Decimal:
    if "nothing to share" in words:
        return Decimal(0)
    if everything := re.search(r"all of ([\d,.]*\d)$", words):
        return figure(everything[1])
    parts = re.search(
        r"(\d+) of (\d+) parts of (-?[\d,.]*\d)(, rounded down)?(, and ([\d.]+) left over)?", words
    )
    assert parts, words
    exact = figure(parts[3]) * int(parts[1]) / int(parts[2])
    whole = exact.quantize(PENNY, ROUND_DOWN)
    assert bool(parts[4]) == (whole != exact)
    return whole + figure(parts[6] or "0")


def check_shares(sheet: Sheet, pool: Decimal) -> None:
    *groups, in_all = sheet.named("Group")
    assert sum(figures(groups, "Share")) == max(Decimal(0), pool)
    for row in groups:
        assert share_at_hand(row["Group"]) == figure(row["Share"])
        total = figure(row["Share"]) + figure(row.get("Given by name", "0"))
        assert figure(row.get("In all", row["Share"])) == total
        assert total - figure(row["Paid"]) == figure(row["Still to pay"]) - figure(
            row.get("Paid too much", "0")
        )
    for heading in in_all.keys() - {"Group"}:
        assert sum(figures(groups, heading)) == figure(in_all[heading]), heading


def check_cash(sheet: Sheet) -> None:
    boxes = sheet.named("Day")
    for row in boxes:
        if row["Day"] == "All days":
            assert sum(figures(boxes[:-1], "Difference")) == figure(row["Difference"])
            continue
        should = figure(row["Float"]) + figure(row["Cash taken"]) - figure(row.get("Paid out", "0"))
        assert should == figure(row["Should be in it"])
        if row["Counted"] != "not counted":
            assert figure(row["Counted"]) - should == figure(row["Difference"])


def check_bank(sheet: Sheet, takings: Decimal) -> None:
    ways = sheet.named("By way to pay")
    for row in ways:
        should = figure(row["Taken"]) - figure(row.get("Fees", "0")) - figure(row.get("Paid out", "0"))
        should += figure(row.get("Count differs", "0"))
        assert should == figure(row["Should be in it"])
        if any(figures(ways, "Arrived")):
            arrived = figure(row["Arrived"].removesuffix("not yet"))
            assert arrived - should == figure(row["Difference"])
        if row["By way to pay"] != "All ways" and row["Arrived"] != "not yet":
            assert bool(row["Difference"]) == bool(row["Explained or open"])
    rows, in_all = (ways[:-1], ways[-1]) if len(ways) > 1 else (ways, ways[0])
    assert takings == figure(in_all["Taken"])
    for heading in in_all.keys() - {"By way to pay", "Explained or open"}:
        if re.search(r"\d", in_all[heading]):
            assert sum(figures(rows, heading)) == figure(in_all[heading]), heading


def check_pieces(sheet: Sheet) -> None:
    *rows, in_all = sheet.named("Piece")
    wares = [row for row in rows if row["Made"]]
    for row in wares:
        gone = sum(
            figures([row], heading)[0] for heading in ("Given away", "Broken, missing", "Left", "Sold")
        )
        assert gone == figure(row["Made"])
        prices = re.findall(r"(\d+) at (-?[\d,.]*\d)", row["At which prices"])
        together = re.findall(r"(\d+) for (-?[\d,.]*\d) in all", row["At which prices"])
        ahead = re.findall(r"(\d+) paid ahead", row["At which prices"])
        assert sum(int(count) for count, _sum in prices + together) + sum(map(int, ahead)) == figure(
            row["Sold"]
        )
        worth = sum(int(count) * figure(price) for count, price in prices)
        assert worth + sum(figure(amount) for _count, amount in together) == figure(row["£"])
    assert sum(figures(rows, "£")) == figure(in_all["£"])
    kinds = [row for row in sheet.named("By kind") if row["By kind"] in FOR_PIECES]
    assert sum(figures(kinds, "£")) == figure(in_all["£"])
    for heading in ("Made", "Given away", "Broken, missing", "Left", "Sold"):
        assert sum(figures(wares, heading)) == figure(in_all[heading])


def check_by_hand(report: Report) -> None:
    sheet = Sheet(made(statement_html, report, today=TODAY))
    takings = check_takings(sheet)
    pool = check_what_comes_off(sheet, takings)
    check_shares(sheet, pool)
    check_cash(sheet)
    check_bank(sheet, takings)
    check_pieces(sheet)
    for share in report.event.share_out.groups:
        letter = Sheet(made(letter_html, report, share, today=TODAY)).named("How that was reached")
        (own,) = (row for row in letter if row["How that was reached"].startswith("Your share "))
        assert share_at_hand(own["How that was reached"]) == figure(own["£"])


@pytest.mark.parametrize("sample", ["harbour-weekend", "first-sale"])
def test_a_hand_reaches_every_figure_of_a_sample(sample: str) -> None:
    reckoning = reckon(load_plan(SAMPLES[sample]))
    check_by_hand(report_of(reckoning, a_day_of_takings(reckoning.plan, amount=Decimal("7.13"))))


def test_a_hand_reaches_every_figure_of_the_weekend() -> None:
    check_by_hand(report_on(ROOT / "sample_data" / FILLED))


def test_a_hand_reaches_every_figure_of_a_small_sale() -> None:
    check_by_hand(accounts())


MONEY = st.decimals("0", "90", places=2)


@st.composite
def afterwards(draw: st.DrawFn) -> dict[str, Any]:
    """Draw what is filled in after a sale: counts, what arrived, payments, actual fees, marks."""
    counts = st.dictionaries(st.sampled_from([Decimal("0.5"), Decimal(10)]), st.integers(0, 9), min_size=1)
    box = st.builds(DayCount, float_=MONEY, counts=counts, paid_out=MONEY)
    ways = ("cash", "card", "bank * transfer?", "paid in")
    mishaps = st.builds(PieceEntry, mishap=st.sampled_from(("broken", "given away", "left over")))
    return {
        "cash": tuple(
            replace(draw(box), day=day) for day in draw(st.sets(st.sampled_from([FIRST_DAY, SECOND_DAY])))
        ),
        "banked": tuple(
            Banked(day=SECOND_DAY, what=what, arrived=draw(MONEY))
            for what in draw(st.lists(st.sampled_from(ways), max_size=3))
        ),
        "payments": tuple(
            GroupPayment(day=SECOND_DAY, group=group, amount=draw(MONEY))
            for group in draw(st.lists(st.sampled_from([REED, TIDE]), max_size=2))
        ),
        "actual_fees": draw(st.just({}) | st.dictionaries(st.just("card"), MONEY)),
        "bank_reasons": draw(st.dictionaries(st.sampled_from(ways[:2]), st.just("miscounted"))),
        "pieces": draw(st.dictionaries(st.sampled_from([FIRST, "MAY-003", DONATED]), mishaps)),
    }


BY_CARD = (line(1, piece="MAY-004", way="card"), line(2, "refund", "MAY-004", way="card"))


def with_cards(lines: tuple[Line, ...], cards: int) -> tuple[Line, ...]:
    """Return lines after a sale by card, or after one that was given back."""
    return numbered_anew((*BY_CARD[:cards], *lines))


@given(st.builds(with_cards, messy_lines(), st.integers(0, 2)), afterwards())
@settings(deadline=None)
def test_a_hand_reaches_every_figure_of_any_sale(lines: tuple[Line, ...], filled_in: dict[str, Any]) -> None:
    check_by_hand(report_of(sale(), Entries(lines=lines, **filled_in)))


def test_a_fee_is_said_to_be_before_refunds_where_there_were_any() -> None:
    lines = (line(1, piece=FIRST, way="card"), line(2, piece="MAY-002", way="card"))
    refund = line(3, "refund", FIRST, way="card")

    def fee(*lines: Line) -> str:
        rows = Sheet(made(statement_html, accounts(*lines), today=TODAY)).named("From the takings")
        return next(row["From the takings"] for row in rows if row["From the takings"].startswith("Fees"))

    assert fee(*lines) == "Fees for card 1.75 % of 56.00, and 0.05 for each of 2 payments"
    assert (
        fee(*lines, refund)
        == "Fees for card 1.75 % of 56.00, before refunds, and 0.05 for each of 2 payments"
    )


def test_each_line_of_shares_adds_up_and_says_where_the_odd_penny_went() -> None:
    text = made(statement_html, accounts(line(1, "raffle", amount="100")), today=TODAY)
    assert [row["Group"] for row in Sheet(text).named("Group")] == [
        f"{REED} 2 of 3 parts of 96.50, rounded down",
        f"{TIDE} 1 of 3 parts of 96.50, rounded down, and 0.01 left over",
        "All groups",
    ]
    assert "Rounding down leaves £0.01 over: it goes to the group that rounding took most from" in text
