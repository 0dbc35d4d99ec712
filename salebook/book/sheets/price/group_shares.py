"""A table of what each group gets of an amount, to the last minor unit, live."""

from collections.abc import Sequence
from decimal import Decimal

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded
from salebook.book.page import Page
from salebook.book.sheets.sums_in_words import live_sentence, money_part, put_parts
from salebook.book.table import Table
from salebook.plan.model import Plan
from salebook.plan.money import Quota, quotas
from salebook.pricing.advice import ExpectedShare


def shares_table(section: str, net: str) -> Table[tuple[ExpectedShare, Quota, int]]:
    """Declare a table with a row for each group: its part of the amount named `net`.

    Beside each row goes that amount in the smallest coins.
    """
    table: Table[tuple[ExpectedShare, Quota, int]] = Table(section, N_("Price"))
    # Whole numbers throughout, as on Share-out: fractions would be a unit off now and then.
    whole = "[units]*[group_parts@#]"
    rank = 'COUNTIF([left:],">"&[left])+COUNTIF([left^],[left])-1'
    extra = f"IF({rank}<[units]-SUM([base:]),1,0)"
    left = f"{whole}-SUM(group_parts)*[base]"
    units = f"ROUND(ROUND(MAX(0,{net})*minor_units,6),0)"
    table.live("name", _("Group"), "wrapped", "[group_names@#]", lambda row: row[0].group.name)
    table.live("expected", _("Expected"), "strong money", f"([base]+{extra})/minor_units")
    table.live(
        "base", _("Whole part"), "worked whole", f"INT({whole}/SUM(group_parts))", lambda row: row[1].whole
    )
    table.live("left", _("Left over"), "worked whole", left, lambda row: row[1].remainder)
    table.live("units", _("All in the smallest coins"), "worked whole", units, lambda row: row[2])
    return table


def put_group_shares(
    page: Page, plan: Plan, shares: Sequence[ExpectedShare], *, section: str, net: str
) -> None:
    """Write each group's part of the amount named `net`, by largest remainder in whole units."""
    units = sum(int(share.expected * 10**plan.sale.digits) for share in shares)
    steps = quotas(units, [group.parts for group in plan.beneficiaries])
    rows = [(share, step, units) for share, step in zip(shares, steps, strict=True)]
    shares_table(section, net).write(page, rows)
    _one_part(page, plan, shares, net)


def _one_part(page: Page, plan: Plan, shares: Sequence[ExpectedShare], net: str) -> None:
    """Say what one part comes to, so that each share can be added up by hand."""
    total = sum((share.expected for share in shares), Decimal(0))
    parts, digits = sum(group.parts for group in plan.beneficiaries), plan.sale.digits
    amount = f"MAX(0,{net})"
    money = put_parts(
        page,
        total=money_part(amount, total, digits),
        one=money_part(f"{money_rounded(amount)}/SUM(group_parts)", total / parts, digits),
    )
    formula, said = live_sentence(
        _("{total} in {parts} parts: about {one} a part."), parts=("SUM(group_parts)", str(parts)), **money
    )
    page.paragraph(Figure(f"={formula}", said), "note")
    page.row += 1
