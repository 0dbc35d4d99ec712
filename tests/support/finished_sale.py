"""A sale as it may stand afterwards, for the prints that tell of it."""

import html
import re
from datetime import date
from decimal import Decimal
from typing import Any

from salebook.event.entries import Banked, Claim, DayCount, Entries, GroupPayment, Line
from salebook.event.report import Report, report_of
from salebook.plan.load import read_plan
from salebook.reckoning import reckon
from tests.support.print_sales import labels_table
from tests.support.small_event import DONATED, FIRST, FIRST_DAY, PLAN, SECOND, SECOND_DAY, line, sale

TODAY = date(2027, 6, 28)
REED, TIDE = "Reed bank * friends?", "Tide ~ mill"
LINES = (
    line(1, piece=FIRST, gift="2", group=TIDE),
    line(2, piece=DONATED, way="card"),
    line(3, "deposit", SECOND, "5", claim="C1"),
    line(4, "order", "DOT", claim="C2", count=4),
    line(5, "raffle", amount="71.25", day=SECOND_DAY),
    line(6, "donation", amount="6", way="group's own tin"),
    line(7, "donation", amount="9", way="card", waiting=True),
)
FILLED: dict[str, Any] = {
    "cash": (
        DayCount(
            day=FIRST_DAY,
            float_=Decimal(20),
            counts={Decimal(10): 4, Decimal(5): 2, Decimal(2): 2, Decimal("0.50"): 1},
            counted_by="Ivy Marsh",
            checked_by="Otto Reed",
        ),
    ),
    "banked": (Banked(day=SECOND_DAY, what="paid in", arrived=Decimal(60)),),
    "payments": (GroupPayment(day=SECOND_DAY, group=TIDE, amount=Decimal(10), reference="first"),),
    "claims": (
        Claim(claim="C1", name="Ada Quill", contact="01632 960123", what="the blue one", how="collecting"),
        Claim(claim="C2", name="Ben Oss", contact="4 Mill Row", how="posting"),
    ),
    "actual_costs": {"overhead: hall": Decimal(4)},
}


def accounts(*lines: Line, **more: Any) -> Report:
    """Return the accounts after the sale, or after these lines and nothing else."""
    entries = Entries(lines=lines or LINES, **({} if lines else FILLED))
    return report_of(sale(), entries, **more)


def accounts_with(*changes: tuple[str, str], **entries: Any) -> Report:
    """Return the accounts of the sale with changes to the plan's text."""
    text = PLAN.replace("WANTED", "4")
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    filled = Entries(lines=LINES, **(FILLED | entries))
    return report_of(reckon(read_plan(text, file="table.toml")), filled)


LETTER_PAPER = (
    ("target = 300", 'target = 300\nlocale = "en_US"\ncurrency = "USD"'),
    (
        '[[beneficiaries]]\nname = "Reed',
        f'{labels_table(page="Letter", rows=6)}[[beneficiaries]]\nname = "Reed',
    ),
)
"""What makes the plan one on Letter paper, in dollars."""


def rows(text: str) -> list[str]:
    """Return the words of each row of a print's tables."""
    found = re.findall(r"<tr\b[^>]*>(.*?)</tr>", text, re.DOTALL)
    return [" ".join(html.unescape(re.sub(r"<[^>]*>", " ", row)).split()) for row in found]
