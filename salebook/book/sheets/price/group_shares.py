"""A table of what each group gets of an amount, to the last minor unit, live."""

from collections.abc import Sequence
from decimal import Decimal

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded
from salebook.book.page import Page
from salebook.book.sheets.sums_in_words import live_sentence, money_part
from salebook.plan.largest_remainder import Quota, quotas
from salebook.plan.model import Plan
from salebook.pricing.expected_share import ExpectedShare


def put_group_shares(
    page: Page, plan: Plan, shares: Sequence[ExpectedShare], *, section: str, net: str
) -> None:
    """Write a row for each group: its part of the amount named `net`, by largest remainder in whole units."""
    page.headings(
        ("name", "expected", "base", "left"),
        (_("Group"), _("Expected"), _("Whole part"), _("Left over")),
        section=section,
    )
    first, last = page.row, page.row + len(shares) - 1
    amount = f"ROUND({money_rounded(f'MAX(0,{net})')}*minor_units,0)"
    units = sum(int(share.expected * 10**plan.sale.digits) for share in shares)
    steps = quotas(units, [share.group.parts for share in shares])
    for n, (share, step) in enumerate(zip(shares, steps, strict=True), start=1):
        _share(page, share, step, n=n, rows=(first, last), amount=amount, section=section)
    _one_part(page, plan, shares, net)


def _share(
    page: Page,
    share: ExpectedShare,
    step: Quota,
    *,
    n: int,
    rows: tuple[int, int],
    amount: str,
    section: str,
) -> None:
    row, (first, last) = page.row, rows
    # Whole numbers throughout, as on Share-out: fractions would be a unit off now and then.
    whole = f"{amount}*INDEX(group_parts,{n})"
    rank = f'COUNTIF(E{first}:E{last},">"&E{row})+COUNTIF(E{first}:E{row},E{row})-1'
    extra = f"IF({rank}<{amount}-SUM(D{first}:D{last}),1,0)"
    page.put_row(
        (
            (section, "key"),
            (Figure(f"=INDEX(group_names,{n})", share.group.name), "result wrapped"),
            (Figure(f"=(D{row}+{extra})/minor_units", share.expected), "strong money"),
            (Figure(f"=INT({whole}/SUM(group_parts))", step.whole), "worked whole"),
            (Figure(f"={whole}-SUM(group_parts)*D{row}", step.remainder), "worked whole"),
        )
    )


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
