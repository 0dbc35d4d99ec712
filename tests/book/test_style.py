"""How things look."""

import pytest
from babel.numbers import get_currency_symbol

from salebook.book.style import (
    ALARM,
    BAR,
    CLAY,
    GREY,
    INK,
    KINDS,
    PAPER,
    STRAW,
    Styles,
    broken_into_lines,
    lines_needed,
    money_format,
)
from tests.support.contrast import contrast

WHITE = "FFFFFF"


@pytest.mark.parametrize(
    ("currency", "locale", "expected"),
    [
        ("GBP", "en_GB", '"{sign}"#,##0.00;-"{sign}"#,##0.00'),
        ("EUR", "fr_FR", '#,##0.00\\ "{sign}";-#,##0.00\\ "{sign}"'),
        ("JPY", "ja_JP", '"{sign}"#,##0;-"{sign}"#,##0'),
        ("CHF", "de_CH", '"{sign}"\\ #,##0.00;-"{sign}"\\ #,##0.00'),
        ("KWD", "en_GB", '"{sign}"\\ #,##0.000;-"{sign}"\\ #,##0.000'),
    ],
)
def test_money_is_shown_as_its_locale_writes_it(currency: str, locale: str, expected: str) -> None:
    sign = get_currency_symbol(currency, locale)
    assert expected.replace("{sign}", sign) == money_format(currency, locale)


@pytest.mark.parametrize("text", [INK, CLAY, GREY, ALARM])
@pytest.mark.parametrize("ground", [WHITE, PAPER])
def test_every_text_colour_stands_out_from_every_ground(text: str, ground: str) -> None:
    assert contrast(text, ground) >= 4.5


@pytest.mark.parametrize("kind", [kind for kind in KINDS.values() if kind.fill == STRAW])
def test_what_is_filled_in_stands_out_from_straw(kind: object) -> None:
    assert contrast(INK, STRAW) >= 4.5
    assert getattr(kind, "frame", None) == "dotted"


def test_bars_stand_out_from_the_page() -> None:
    # WCAG 2.2, success criterion 1.4.11: 3 : 1 for graphical objects.
    assert contrast(BAR, WHITE) >= 3


def test_contrast_agrees_with_the_published_extremes() -> None:
    # WCAG 2.2: black on white is 21 : 1.
    assert 21 == pytest.approx(contrast("000000", WHITE))


def test_numbers_stand_right_and_text_left() -> None:
    styles = Styles(currency="GBP", locale="en_GB")

    assert "right" == styles.named("result money").alignment.horizontal
    assert "left" == styles.named("result text").alignment.horizontal


def test_a_style_is_made_once() -> None:
    styles = Styles(currency="GBP", locale="en_GB")

    assert styles.named("input money") is styles.named("input money")


def test_a_text_is_broken_only_between_words() -> None:
    text = "Good pieces wanted for the sale"
    lines = broken_into_lines(text, 10)

    assert text == " ".join(lines)
    assert len(lines) > 1


def test_one_long_word_stays_whole() -> None:
    assert ("Donaudampfschifffahrt",) == broken_into_lines("Donaudampfschifffahrt", 4)
    assert 1 == lines_needed("", 4)
