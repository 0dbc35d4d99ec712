from collections.abc import Iterator

import pytest

from salebook.words import _, use_language


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    use_language("en_GB")


@pytest.mark.parametrize("locale", ["en_GB", "xx_YY", ""])
def test_words_stay_english_where_there_is_no_translation(locale: str) -> None:
    use_language(locale)
    text = "a mass with its unit"
    assert text == _(text)
