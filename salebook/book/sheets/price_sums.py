"""Sentences on the sheet Price that say how its main figures come about, to be added up by hand."""

from decimal import Decimal

from salebook.book.figure import Figure
from salebook.book.page import Page
from salebook.book.sheets.sums_in_words import money_text, money_words, number_text
from salebook.pricing.outcome import other_income, to_earn
from salebook.reckoning import Reckoning

NOTHING_COMES_IN = "Selling a piece brings nothing in at these prices."


def put_sums(page: Page, reckoning: Reckoning) -> None:
    """Write a sentence on what can be expected, and one on the pieces that the target takes."""
    page.paragraph(_expected(reckoning), "note")
    page.paragraph(_pieces(reckoning), "note")


def _expected(reckoning: Reckoning) -> Figure:
    plan, net = reckoning.plan, reckoning.advice.target.expected_net
    digits, fixed, other = plan.sale.digits, reckoning.costs.fixed("sale"), other_income(plan)
    names = ("expected_net", "SUM(good_brings)", "fixed_sale", "other_income_expected")
    live = [money_text(name, digits) for name in names]
    said = [money_words(amount, digits) for amount in (net, net + fixed - other, fixed, other)]
    words = (" = ", " that pieces bring in - ", " that the sale has to pay + ", " other money.")
    return Figure(_joined(live, words), "".join(a + b for a, b in zip(said, words, strict=True)))


def _pieces(reckoning: Reckoning) -> Figure:
    plan, advice = reckoning.plan, reckoning.advice
    digits, mean = plan.sale.digits, advice.mean_contribution
    amount = to_earn(plan, reckoning.costs)
    live = ["pieces_needed", money_text("to_earn", digits), money_text("mean_sale", digits)]
    live.append(number_text("to_earn/mean_sale", 1))
    words = (" pieces: ", " to bring in / ", " that one brings in = ", ", rounded up; at least 0.")
    formula = f'=IF(mean_sale>0,{_joined(live, words)[1:]},"{NOTHING_COMES_IN}")'
    if mean <= 0:
        return Figure(formula, NOTHING_COMES_IN)
    said = [str(advice.target.pieces_needed), money_words(amount, digits), money_words(mean, digits)]
    said.append(money_words(Decimal(amount) / mean, 1))
    return Figure(formula, "".join(a + b for a, b in zip(said, words, strict=True)))


def _joined(live: list[str], words: tuple[str, ...]) -> str:
    return "=" + "&".join(f'{part}&"{word}"' for part, word in zip(live, words, strict=True))
