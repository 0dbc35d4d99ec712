"""Words in another language: what is to be translated is found, and a translation is followed."""

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from salebook.base.words import _, use_language
from salebook.event.remarks import Remark
from salebook.pricing.costing import KIND_WORDS
from salebook.say.cautions import CAUTIONS

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    use_language("en_GB")


@pytest.mark.parametrize("locale", ["en_GB", "xx_YY", ""])
def test_words_stay_english_where_there_is_no_translation(locale: str) -> None:
    use_language(locale)
    text = "a mass with its unit"
    assert text == _(text)


@pytest.fixture(scope="module")
def extracted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The list of texts, by the command that DEVELOPERS.md names."""
    texts = tmp_path_factory.mktemp("words") / "salebook.pot"
    arguments = ("-q", "extract", "-F", "pyproject.toml", "-k", "N_", "-k", "key", "-o", str(texts))
    babel = (sys.executable, "-m", "babel.messages.frontend")
    subprocess.run([*babel, *arguments, "salebook", "templates"], cwd=ROOT, check=True)
    return texts


def test_texts_of_code_templates_and_tables_are_found(extracted: Path) -> None:
    with extracted.open("rb") as file:
        texts = {message.id for message in read_po(file)}
    wanted = {"Chance of the target", "Outlines of the labels", "begins the number of each piece"}
    wanted |= {"Shrinks, thrown to fired"}
    wanted |= {remark.value for remark in Remark}
    wanted |= set(KIND_WORDS.values())
    wanted |= {text for each in CAUTIONS for text in (each.about, each.text, each.decides)}
    assert wanted - texts == set()


def test_a_translation_is_followed(extracted: Path, tmp_path: Path) -> None:
    with extracted.open("rb") as file:
        catalogue = read_po(file, locale="de")
    catalogue["sold twice"].string = "zweimal verkauft"
    compiled = tmp_path / "de" / "LC_MESSAGES" / "salebook.mo"
    compiled.parent.mkdir(parents=True)
    with compiled.open("wb") as file:
        write_mo(file, catalogue)
    use_language("de_CH", translations=tmp_path)
    assert (_("sold twice"), _("which ware?")) == ("zweimal verkauft", "which ware?")
