import re
from dataclasses import replace

import pytest

from salebook.base.errors import FaultyPlanError, WrongUseError
from salebook.prints.labels.labels import label_remarks, labels_html
from tests.support.cldr import money
from tests.support.print_sales import labels_table, made, own_pieces, pieces, sale

LETTER_LABELS = labels_table(page="Letter", rows=6)


def labels_in(text: str) -> list[str]:
    """Return the words of each label, line after line."""
    found = re.findall(r'<div class="label".*?</div>', text, re.DOTALL)
    return [" | ".join(re.findall(r"<span[^>]*>(.*?)</span>", label)) for label in found]


def test_a_label_tells_name_size_care_maker_price_and_number() -> None:
    reckoning = sale()
    first = labels_in(made(labels_html, reckoning, pieces(reckoning)))[0]
    assert first == "Lantern | 14 × 7 cm | Wash by hand | Millrace studio | £28.00 | LAN-001"


def test_a_second_says_so_and_has_its_price() -> None:
    reckoning = sale()
    seconds = [
        text for text in labels_in(made(labels_html, reckoning, pieces(reckoning))) if "second" in text
    ]
    run = reckoning.studio.runs[0]
    assert len(seconds) == run.seconds > 0
    assert seconds[0] == "Lantern | second | 14 × 7 cm | Wash by hand | Millrace studio | £12.00 | LAN-025"


def test_a_donated_piece_names_its_giver() -> None:
    reckoning = sale()
    last = labels_in(made(labels_html, reckoning, pieces(reckoning)))[-1]
    assert last == "Carved spoon | given by A neighbour | £14.00 | SPN-002"


def test_a_ware_without_numbers_gets_as_many_labels_with_its_code() -> None:
    reckoning = sale()
    whole = replace(own_pieces(reckoning)[0], number="LAN", index=0, count=3)
    texts = labels_in(made(labels_html, reckoning, [whole]))
    assert texts == ["Lantern | 14 × 7 cm | Wash by hand | Millrace studio | £28.00 | LAN"] * 3


def test_only_some_pieces_are_printed() -> None:
    reckoning = sale()
    texts = labels_in(made(labels_html, reckoning, pieces(reckoning), only="LAN-003,LAN-007..008"))
    assert [text.rpartition(" ")[2] for text in texts] == ["LAN-003", "LAN-007", "LAN-008"]


@pytest.mark.parametrize(("skip", "sheets"), [(0, 1), (1, 2), (20, 2)])
def test_used_labels_are_skipped_on_the_first_sheet_only(skip: int, sheets: int) -> None:
    reckoning = sale()
    text = made(labels_html, reckoning, own_pieces(reckoning)[:21], skip=skip)
    assert text.count('<section class="sheet"') == sheets
    assert len(labels_in(text)) == 21


def test_a_country_of_other_paper_hears_which_sheet_of_labels_is_assumed() -> None:
    said = [remark for remark in label_remarks(sale(locale="en_US", labels="")) if "[labels]" in remark]
    assert len(said) == 1
    described = [sale(locale="en_US"), sale(labels=""), sale(locale="en_US", labels=LETTER_LABELS)]
    assert [each for plan in described for each in label_remarks(plan) if "[labels]" in each] == []


@pytest.mark.parametrize("skip", [-1, 21, 10**9])
def test_more_labels_than_a_sheet_has_cannot_be_skipped(skip: int) -> None:
    reckoning = sale()
    register = pieces(reckoning)
    with pytest.raises(WrongUseError, match="0 to 20"):
        made(labels_html, reckoning, register, skip=skip)


def test_no_pieces_make_no_sheet() -> None:
    assert '<section class="sheet"' not in made(labels_html, sale(), [])


def test_the_outline_shows_each_place_and_a_ruler() -> None:
    reckoning = sale()
    text = made(labels_html, reckoning, pieces(reckoning), outline=True)
    assert text.count('class="label outline"') == 21
    assert "100 mm when printed at 100 %" in text
    assert "LAN-001" not in text


@pytest.mark.parametrize(
    ("code", "price", "named"), [("ABCDEF", "12", "ABCDEF-001"), ("A", "1234567.89", "£1,234,567.89")]
)
def test_a_label_too_narrow_for_number_or_price_is_named(code: str, price: str, named: str) -> None:
    reckoning = sale(code=code, price=price, labels=labels_table(width=15, height=10))
    register = pieces(reckoning)
    with pytest.raises(FaultyPlanError, match=f"labels → width.*{re.escape(named)}"):
        made(labels_html, reckoning, register)


@pytest.mark.parametrize("grade", ["second", "given by"])
def test_the_smallest_label_still_tells_what_it_must(grade: str) -> None:
    reckoning = sale(labels=labels_table(width=15, height=10, across=15, down=10), code="A")
    texts = labels_in(made(labels_html, reckoning, pieces(reckoning)))
    assert any(text.startswith(grade[:3]) for text in texts)
    assert all(len(text.split(" | ")) == 3 for text in texts)


@pytest.mark.parametrize(
    ("locale", "currency", "price", "size"),
    [
        ("en_US", "USD", "28.00", "5½ × 2¾ in"),
        ("de_DE", "EUR", "28.00", "14 × 7 cm"),
        ("ja_JP", "JPY", "28", "14 × 7 cm"),
    ],
)
def test_sums_and_sizes_are_written_as_the_locale_does(
    locale: str, currency: str, price: str, size: str
) -> None:
    reckoning = sale(locale=locale, currency=currency)
    first = labels_in(made(labels_html, reckoning, pieces(reckoning)))[0]
    told = f"Lantern | {size} | Wash by hand | Millrace studio"
    assert first == f"{told} | {money(price, currency, locale)} | LAN-001"


def test_a_promise_is_printed_only_where_the_plan_asks_for_it() -> None:
    plain, asked = sale(), sale(labels=labels_table(promise=True))
    assert "At least" not in made(labels_html, plain, pieces(plain))
    text = made(labels_html, asked, pieces(asked))
    assert "At least £28 of this goes to" in labels_in(text)[0]
    assert any("once" in remark and "Ask each group" in remark for remark in label_remarks(asked))
    assert label_remarks(plain) == ()


def test_the_maker_stands_on_a_label_only_where_all_else_leaves_room() -> None:
    narrow = labels_table(height=21.2, down=21.2, rows=13, promise=True)
    reckoning = sale(labels=narrow)
    first = labels_in(made(labels_html, reckoning, pieces(reckoning)))[0]
    assert ("Wash by hand" in first, "Millrace studio" in first) == (True, False)


def test_a_promise_of_nothing_is_not_printed() -> None:
    cheap = sale(price="0.90", labels=labels_table(promise=True))
    texts = labels_in(made(labels_html, cheap, pieces(cheap)))
    assert [text for text in texts if "At least £0" in text] == []
    assert "At least" not in texts[0]
    assert any("At least £" in text for text in texts)


def test_where_nothing_is_sure_no_label_promises_and_that_is_said() -> None:
    costly = '\n[[overheads]]\nname = "hall"\namount = 9000\nmet_by = "sale"\n'
    reckoning = sale(more=costly, labels=labels_table(promise=True))
    assert "At least" not in made(labels_html, reckoning, pieces(reckoning))
    assert any("No label promises a sum" in remark for remark in label_remarks(reckoning))
