"""Words in another language: what is to be translated is found, and a translation is followed."""

import ast
import re
import subprocess
import sys
from collections.abc import Iterator
from gettext import NullTranslations
from pathlib import Path

import pytest
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po

from salebook.base.words import _, ngettext, once_a_language, pgettext, use_catalogue, use_language
from salebook.cli import main
from salebook.event.remarks import Remark
from salebook.pricing.costing import KIND_WORDS
from salebook.say.cautions import CAUTIONS
from tests.support.command_line import FIRST
from tests.support.pseudo import in_pseudo, pseudo

ROOT = Path(__file__).parent.parent.parent


@pytest.fixture(autouse=True)
def english_again() -> Iterator[None]:
    yield
    use_language("en_GB")


def test_what_is_made_once_a_language_follows_a_change_of_it() -> None:
    made: list[str] = []

    @once_a_language
    def greeting() -> str:
        made.append("")
        return _("Total")

    with in_pseudo():
        other = [greeting(), greeting()]
    assert [pseudo("Total")] * 2 + ["Total"] * 2 == [*other, greeting(), greeting()]
    assert len(made) == 2


@pytest.mark.parametrize("locale", ["en_GB", "xx_YY", ""])
def test_words_stay_english_where_there_is_no_translation(locale: str) -> None:
    use_language(locale)
    text = "a mass with its unit"
    assert text == _(text)


@pytest.fixture(scope="module")
def extracted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The list of texts, by the command that TRANSLATING.md names."""
    texts = tmp_path_factory.mktemp("words") / "salebook.pot"
    arguments = ("-q", "extract", "-F", "pyproject.toml", "-k", "N_", "-k", "key", "-o", str(texts))
    babel = (sys.executable, "-m", "babel.messages.frontend")
    subprocess.run([*babel, *arguments, "salebook", "templates"], cwd=ROOT, check=True)
    return texts


@pytest.mark.slow
def test_texts_of_code_templates_and_tables_are_found(extracted: Path) -> None:
    with extracted.open("rb") as file:
        catalogue = read_po(file)
    texts = {message.id for message in catalogue}
    wanted = {"Chance of the target", "Outlines of the labels", "begins the number of each piece"}
    wanted |= {"Shrinks, thrown to fired"}
    wanted |= {remark.value for remark in Remark}
    wanted |= set(KIND_WORDS.values())
    wanted |= {text for each in CAUTIONS for text in (each.about, each.text, each.decides)}
    assert wanted - texts == set()
    assert ("{pieces} piece", "{pieces} pieces") in texts
    assert ("how much of what", "of") in {(message.context, message.id) for message in catalogue}


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


def test_numbers_choose_their_form_and_contexts_their_word() -> None:
    forms = [ngettext("{n} line", "{n} lines", n).format(n=n) for n in (0, 1, 2)]
    assert forms == ["0 lines", "1 line", "2 lines"]
    assert pgettext("of a day", "second") == "second"
    with in_pseudo():
        assert ngettext("{n} line", "{n} lines", 1) == pseudo("{n} line") != "{n} line"
        assert pgettext("of a day", "second") == _("second") == pseudo("second")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Made {file}", "Määđéé {file}"),
        ("<b>Made</b> &nbsp;", "<b>Määđéé</b> &nbsp;"),
        ("12 %", "12 %"),
        ("", ""),
    ],
)
def test_the_language_for_tests_keeps_names_and_html(text: str, said: str) -> None:
    assert pseudo(text) == said


def test_the_language_for_tests_is_longer_by_two_fifths() -> None:
    text = "Count the float before opening and the box after closing"
    assert len(pseudo(text)) / len(text) == pytest.approx(1.35, abs=0.06)
    assert not re.search(r"\b[a-z]{3,}\b", pseudo(text))


class Recorded(NullTranslations):
    """The catalogue that keeps what was looked up in it."""

    def __init__(self) -> None:
        super().__init__()
        self.texts: set[str] = set()

    def gettext(self, message: str) -> str:
        self.texts.add(message)
        return message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.texts.add(msgid1)
        return super().ngettext(msgid1, msgid2, n)


@pytest.mark.slow
def test_every_text_that_is_looked_up_can_be_translated(extracted: Path, tmp_path: Path) -> None:
    """Also texts that are looked up by a name: those of the plan's keys, remarks, kinds of cost, cautions."""
    recorded = Recorded()
    use_catalogue(recorded)
    assert main(["demo", str(tmp_path / "demo")]) == 0
    assert main(["price", str(FIRST)]) == 0
    with extracted.open("rb") as file:
        messages = [message.id for message in read_po(file)]
    known = {text for id_ in messages for text in ([id_] if isinstance(id_, str) else id_[:1])}
    assert len(recorded.texts) > 1000
    assert recorded.texts - known - {""} == set()


LOOK_UPS = frozenset({"_", "N_", "ngettext", "pgettext"})
BY_NAME = frozenset(
    {
        *("name", "unit", "words.note", "self.label", "heading", "sheet", "remark.value", "text", "DEFERS"),
        *("caution.about", "caution.text", "caution.decides", "KIND_WORDS[row.line.kind]"),
        *("EXPECTED[fault.expected]", "found.words.label"),
        *("KIND_WORDS[line.kind]", "KIND_WORDS[cost.line.kind]", "meaning", "one", "other"),
        *(
            "self._no_dash",
            "self.say",
            "cls.expected",
            "question.because",
            "reasons[key]",
            "says",
            "way.reason",
        ),
        *("row[0]", "row[1]", "row[2]"),
        *("key.words.label", "key.words.unit", "LOST[seen.stage]", "COUNTS_AS", "NONE", "WHAT_IT_IS"),
        *(f"Remark.{remark}.value" for remark in ("MARKED_AS", "RESERVED_FOR", "NO_SUCH_PIECE")),
    }
)
"""What is looked up by a name: each stands in N_() or key(), as the test above this one finds."""


def look_ups() -> Iterator[tuple[str, ast.Call, list[ast.AST]]]:
    """Yield each place where a text is looked up, the call, and what it stands in within its statement."""
    for module in sorted((ROOT / "salebook").rglob("*.py")):
        if module.name == "words.py":
            continue
        for statement in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            if isinstance(statement, ast.stmt):
                for call, around in _calls(statement, []):
                    yield f"{module.relative_to(ROOT)}:{call.lineno}: {ast.unparse(call)}", call, around


def _calls(node: ast.AST, around: list[ast.AST]) -> Iterator[tuple[ast.Call, list[ast.AST]]]:
    for child in ast.iter_child_nodes(node):
        if isinstance(child, ast.stmt):
            continue
        if isinstance(child, ast.Call) and isinstance(child.func, ast.Name) and child.func.id in LOOK_UPS:
            yield child, [*around, node]
        yield from _calls(child, [*around, node])


def texts_of(call: ast.Call) -> list[str | None]:
    """Return the texts of a look-up, None for what is no literal."""
    texts = {"ngettext": call.args[:2]}.get(ast.unparse(call.func), call.args)
    return [str(text.value) if isinstance(text, ast.Constant) else None for text in texts]


@pytest.mark.slow
def test_what_is_looked_up_is_a_literal_or_known_by_name() -> None:
    unknown = [
        place
        for place, call, _around in look_ups()
        if None in texts_of(call) and ast.unparse(call.args[0]) not in BY_NAME
    ]
    assert unknown == []


@pytest.mark.slow
def test_no_sentence_is_put_together_of_pieces() -> None:
    """A text in another is a name in {braces} of it; texts do not meet by "+" or in an f-string."""
    assert [place for place, call, around in look_ups() if _is_piece(call, around)] == []


def _is_piece(call: ast.Call, around: list[ast.AST]) -> bool:
    """Whether a look-up's text begins or ends as a piece does, or is put into a text without a name."""
    if any(text and re.search(r" $|^ \S|^[,;:)]", text) for text in texts_of(call)):
        return True
    inner = around[::-1]
    formula = any(isinstance(node, ast.Call) and ast.unparse(node.func) == "quoted" for node in inner)
    whole = next((node for node in inner if isinstance(node, ast.JoinedStr | ast.BinOp)), None)
    if isinstance(whole, ast.BinOp):
        return isinstance(whole.op, ast.Add | ast.Mod) and not _adds_lists(whole)
    return isinstance(whole, ast.JoinedStr) and not formula


def _adds_lists(node: ast.BinOp) -> bool:
    return any(isinstance(side, ast.List) for side in ast.walk(node))
