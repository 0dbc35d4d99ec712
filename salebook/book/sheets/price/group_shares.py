"""A table of what each group gets of an amount, to the last minor unit, live."""

from collections.abc import Sequence
from decimal import Decimal

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded
from salebook.book.page import Page
from salebook.book.sheets.sums_in_words import live_sentence, money_part
from salebook.book.table import Table
from salebook.plan.model import Plan
from salebook.plan.money import Quota, quotas
from salebook.pricing.advice import ExpectedShare


def shares_table(section: str, amount: str) -> Table[tuple[ExpectedShare, Quota]]:
    """Declare a table with a row for each group: its part of an amount in minor units, a formula."""
    table: Table[tuple[ExpectedShare, Quota]] = Table(section, N_("Price"))
    # Whole numbers throughout, as on Share-out: fractions would be a unit off now and then.
    whole = f"{amount}*INDEX(group_parts,[#])"
    rank = 'COUNTIF([left:],">"&[left])+COUNTIF([left^],[left])-1'
    extra = f"IF({rank}<{amount}-SUM([base:]),1,0)"
    left = f"{whole}-SUM(group_parts)*[base]"
    table.live("name", _("Group"), "wrapped", "INDEX(group_names,[#])", lambda row: row[0].group.name)
    table.live("expected", _("Expected"), "strong money", f"([base]+{extra})/minor_units")
    table.live(
        "base", _("Whole part"), "worked whole", f"INT({whole}/SUM(group_parts))", lambda row: row[1].whole
    )
    table.live("left", _("Left over"), "worked whole", left, lambda row: row[1].remainder)
    return table


def put_group_shares(
    page: Page, plan: Plan, shares: Sequence[ExpectedShare], *, section: str, net: str
) -> None:
    """Write each group's part of the amount named `net`, by largest remainder in whole units."""
    units = sum(int(share.expected * 10**plan.sale.digits) for share in shares)
    steps = quotas(units, [group.parts for group in plan.beneficiaries])
    amount = f"ROUND({money_rounded(f'MAX(0,{net})')}*minor_units,0)"
    shares_table(section, amount).write(page, list(zip(shares, steps, strict=True)))
    _one_part(page, plan, shares, net)


def _one_part(page: Page, plan: Plan, shares: Sequence[ExpectedShare], net: str) -> None:
    """Say what one part comes to, so that each share can be added up by hand."""
    total = sum((share.expected for share in shares), Decimal(0))
    parts, digits = sum(group.parts for group in plan.beneficiaries), plan.sale.digits
    amount = money_rounded(f"MAX(0,{net})")
    formula, said = live_sentence(
        _("{total} in {parts} parts: about {one} a part."),
        total=money_part(amount, total, digits),
        parts=("SUM(group_parts)", str(parts)),
        one=money_part(f"{amount}/SUM(group_parts)", total / parts, digits),
    )
    page.paragraph(Figure(f"={formula}", said), "note")
    page.row += 1
