"""Sentences on the sheet Price that say how its main figures come about, to be added up by hand."""

from decimal import Decimal

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.sums_in_words import live_sentence, money_part, number_part, put_parts
from salebook.pricing.outcome import other_income, to_earn
from salebook.reckoning import Reckoning


def put_sums(page: Page, reckoning: Reckoning) -> None:
    """Write a sentence on what can be expected, and one on the pieces that the target takes."""
    page.paragraph(_expected(page, reckoning), "note")
    page.paragraph(_pieces(page, reckoning), "note")


def _expected(page: Page, reckoning: Reckoning) -> Figure:
    plan, net = reckoning.plan, reckoning.advice.target.expected_net
    digits, fixed, other = plan.sale.digits, reckoning.costs.fixed("sale"), other_income(plan)
    parts = put_parts(
        page,
        net=money_part("expected_net", net, digits),
        brought=money_part("SUM(good_brings)", net + fixed - other, digits),
        fixed=money_part("fixed_sale", fixed, digits),
        other=money_part("other_income_expected", other, digits),
    )
    formula, said = live_sentence(
        _("{net} = {brought} that pieces bring in - {fixed} that the sale has to pay + {other} other money."),
        **parts,
    )
    return Figure(f"={formula}", said)


def _pieces(page: Page, reckoning: Reckoning) -> Figure:
    plan, advice = reckoning.plan, reckoning.advice
    digits, mean = plan.sale.digits, advice.mean_contribution
    amount = to_earn(plan, reckoning.costs)
    nothing = _("Selling a piece brings nothing in at these prices.")
    exact = Decimal(amount) / mean if mean > 0 else Decimal(0)
    divided = number_part("IF(mean_sale>0,to_earn/mean_sale,0)", exact, 1)
    parts = put_parts(
        page,
        amount=money_part("to_earn", amount, digits),
        mean=money_part("mean_sale", mean, digits),
        exact=divided,
    )
    formula, said = live_sentence(
        _(
            "{pieces} pieces: {amount} to bring in / {mean} that one brings in = {exact}, rounded up; at "
            "least 0."
        ),
        pieces=("pieces_needed", str(advice.target.pieces_needed)),
        **parts,
    )
    return Figure(f"=IF(mean_sale>0,{formula},{quoted(nothing)})", said if mean > 0 else nothing)
