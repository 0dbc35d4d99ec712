from salebook.prints.before.pack import agreement_html
from tests.support.finished_sale import rows
from tests.support.print_sales import made, sale

MORE = """
[[overheads]]
name = "hall"
amount = 40
met_by = "sale"

[[overheads]]
name = "posters"
amount = 9
met_by = "sponsor"

[[payments]]
name = "card"
percent = 1.75
fixed = 0.05
share = 1
"""


def test_every_cost_that_comes_off_is_listed_and_no_other() -> None:
    reckoning = sale(more=MORE)
    found = rows(made(agreement_html, reckoning, reckoning.plan.beneficiaries[0]))
    assert found[1:] == [
        "hall about £40.00",
        "fee for paying by card 1.75 % of each payment, and £0.05 besides",
        "Carved spoon: what goes back to its giver 25 % of its price",
    ]


def test_the_groups_parts_are_said() -> None:
    reckoning = sale()
    text = made(agreement_html, reckoning, reckoning.plan.beneficiaries[0])
    assert "less what is listed below: 2 of 3 parts" in text
    assert "Village library" in text
    assert "Towpath rangers" not in text
