from pathlib import Path

import pytest

from salebook.base.errors import FileError
from salebook.prints.labels.labels import labels_html
from salebook.prints.render import TemplateFaultError, packaged_templates, printer_for
from tests.support.print_sales import pieces, sale

PLAN = sale().plan


def test_every_template_is_found() -> None:
    names = {path.name for path in packaged_templates().iterdir()}
    assert {"labels.html", "labels.css", "outline.html", "page.html", "page.css", "price-list.html"} <= names


def test_a_persons_own_template_comes_first_and_can_use_the_others(tmp_path: Path) -> None:
    (tmp_path / "labels.css").write_text(".label { color: {{ 'teal' }} }", encoding="utf-8")
    reckoning = sale()
    text = labels_html(printer_for(reckoning.plan, tmp_path), reckoning, pieces(reckoning))
    assert ".label { color: teal }" in text
    assert "LAN-001" in text


@pytest.mark.parametrize(
    ("template", "written"),
    [
        ("{{ sale.target|money }}", "300,00\u202f€"),
        ("{{ sale.target|figure }}", "300,00"),
        ("{{ -sale.target|signed }}", "-300,00"),
        ("{{ sale.days[0]|day }}", "8 mai 2027"),
        ("{{ sale.days[0]|weekday }}", "sam. 8 mai 2027"),
        ("{{ 1234.5|number(2) }} {{ 1234.5|number }}", "1\u202f234,50 1\u202f234,5"),
        ("{{ 25.75|clock }} {{ 1.5|lasting }}", "01:45, next day 1 h 30 min"),
        ("{{ ['<b>', 'a', 'z']|listed }}", "&lt;b&gt;, a et z"),
    ],
)
def test_a_template_says_values_as_the_sale_does_and_escapes_them(
    template: str, written: str, tmp_path: Path
) -> None:
    (tmp_path / "labels.html").write_text(template, encoding="utf-8")
    french = sale(locale="fr_FR", currency="EUR")
    text = labels_html(printer_for(french.plan, tmp_path), french, [])
    assert text.replace("\xa0", "\u202f") == written.replace("\xa0", "\u202f")


def test_two_currencies_do_not_mix_in_one_run(tmp_path: Path) -> None:
    (tmp_path / "labels.html").write_text("{{ sale.target|money }}", encoding="utf-8")
    pounds, dollars = sale(), sale(locale="en_US", currency="USD")
    printers = [printer_for(reckoning.plan, tmp_path) for reckoning in (pounds, dollars)]
    assert [labels_html(printer, pounds, []) for printer in printers] == ["£300.00", "$300.00"]


@pytest.mark.parametrize(
    ("template", "line", "says"),
    [
        ("<p>\n{% for %}\n</p>", 2, "expression"),
        ("<p>\n\n{{ nobody }}\n</p>", 3, "nobody"),
        ("{{ sheet.nobody }}", 1, "nobody"),
        ("<p>\n{{ 1 / 0 }}</p>", 2, "division by zero"),
        ("\n\n{% include 'nothing.html' %}", 3, "nothing.html"),
        ("\n{{ sale.title|nofilter }}", 2, "nofilter"),
        ("\n{{ 'a' + 1 }}", 2, "str"),
        ("\n\n{% extends 'nothing.html' %}", 3, "nothing.html"),
        ("\n{% include 'labels.html' %}", 2, "recursion"),
        ("\n{% for n in range(10 ** 12) %}{% endfor %}", 2, "Range"),
        ("\n{{ sale.title.upper('x') }}", 2, "upper"),
        ("\n\n{{ sale.title|money }}", 3, "str"),
        ("\n{{ ''.__class__.__mro__ }}", 2, "unsafe"),
    ],
)
def test_a_fault_is_reported_with_its_file_and_line(
    template: str, line: int, says: str, tmp_path: Path
) -> None:
    file = tmp_path / "labels.html"
    file.write_text(template, encoding="utf-8")
    reckoning = sale()
    register = pieces(reckoning)
    with pytest.raises(TemplateFaultError, match=says) as raised:
        labels_html(printer_for(reckoning.plan, tmp_path), reckoning, register)
    assert str(raised.value).startswith(f"{file}:{line}: ")
    assert raised.value.exit_code == 2


@pytest.mark.parametrize("name", ["labels.html", "label.html", "labels.css"])
def test_a_template_that_is_no_text_is_reported_with_its_own_name(name: str, tmp_path: Path) -> None:
    file = tmp_path / name
    file.write_bytes(b"one\n\xe9t\xe9\n")
    reckoning = sale()
    register = pieces(reckoning)
    with pytest.raises(TemplateFaultError, match="no UTF-8 text") as raised:
        labels_html(printer_for(reckoning.plan, tmp_path), reckoning, register)
    assert str(raised.value).startswith(f"{file}:2: ")


def test_a_folder_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(FileError, match="no such folder"):
        printer_for(PLAN, tmp_path / "nowhere")


def test_a_folder_without_templates_says_what_was_expected(tmp_path: Path) -> None:
    with pytest.raises(FileError, match=r"labels\.html"):
        printer_for(PLAN, tmp_path)
