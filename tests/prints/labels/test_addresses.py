import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.errors import WrongUseError
from salebook.base.widths import text_mm
from salebook.event.claims import ClaimState, waiting_claims
from salebook.event.entries import Claim, Entries
from salebook.event.event import reckon_event
from salebook.prints.fitting import line_mm, lines_that_fit
from salebook.prints.labels.addresses import address_remarks, addresses_html
from salebook.reckoning import Reckoning
from tests.support.browser import printed
from tests.support.print_sales import labels_table, made, sale
from tests.support.programs import needs_chromium, needs_poppler

BEN = Claim(claim="C2", name="Ben Oss", contact="4 Mill Row, Tidewater", how="posting")


def waiting(*claims: Claim, reckoning: Reckoning | None = None) -> tuple[ClaimState, ...]:
    state = reckon_event(reckoning or sale(), Entries(claims=claims)).state
    return waiting_claims(claims, state)


def labels_of(*claims: Claim) -> list[list[str]]:
    """Return the lines of each label."""
    text = made(addresses_html, sale(), waiting(*claims))
    labels = re.findall(r'<p class="address"[^>]*>(.*?)</p>', text, re.DOTALL)
    return [re.findall(r"<span[^>]*>(.*?)</span>", label) for label in labels]


@pytest.mark.parametrize(
    ("contact", "lines"),
    [
        ("4 Mill Row, Tidewater, TW4 9ZZ", ["4 Mill Row", "Tidewater", "TW4 9ZZ"]),
        ("4 Mill Row\nTidewater", ["4 Mill Row", "Tidewater"]),
        (" 4 Mill Row ,, Tidewater\n", ["4 Mill Row", "Tidewater"]),
        ("4 Mill Row, Tidewater, ben@example.org", ["4 Mill Row", "Tidewater"]),
        ("Dorfstr. 3, 3000 Bern", ["Dorfstr. 3", "3000 Bern"]),
        ("4 Mill Row, Tidewater, 01632 960123", ["4 Mill Row", "Tidewater"]),
        ("tel. 960 123 4, 4 Mill Row, Tidewater", ["4 Mill Row", "Tidewater"]),
        ("4 Mill Row, Tidewater, +44 (0)1632 960123 (evenings)", ["4 Mill Row", "Tidewater"]),
        ("4 Mill Row, Springfield, 12345-6789", ["4 Mill Row", "Springfield", "12345-6789"]),
        ("Telford Way 9, 01067 Dresden", ["Telford Way 9", "01067 Dresden"]),
    ],
)
def test_an_address_stands_line_by_line_below_the_name(contact: str, lines: list[str]) -> None:
    assert labels_of(Claim(claim="C2", name="Ben Oss", contact=contact, how="posting")) == [
        ["Ben Oss", *lines]
    ]


@pytest.mark.parametrize(
    "contact",
    ["", "01632 960123", "ben@example.org", "+44 1632 960123, ben@example.org", "01632 960123 (evenings)"],
)
def test_who_left_no_address_gets_no_label_and_is_told_of_by_number(contact: str) -> None:
    claims = (BEN, Claim(claim="C3", name="Una Marl", contact=contact, how="posting"))
    assert labels_of(*claims) == [["Ben Oss", "4 Mill Row", "Tidewater"]]
    remarks = " ".join(address_remarks(sale(), waiting(*claims)))
    assert "Claim C3 is to be sent, and there is no address on Hand over" in remarks
    assert "delete the file" in remarks
    assert [word for word in ("Ben", "Una", "Mill", "960123") if word in remarks] == []


def test_an_address_too_long_for_a_label_is_told_of() -> None:
    long = Claim(claim="C9", name="Una", contact=", ".join(["The Old Corn Exchange"] * 30), how="posting")
    assert "Claim C9: its address is too long" in " ".join(address_remarks(sale(), waiting(long, BEN)))
    with pytest.raises(WrongUseError, match=r"^Claim C9: its address is too long for a label; .*\.$"):
        labels_of(long)


def test_labels_that_are_used_already_are_skipped() -> None:
    first, third = (
        re.findall(
            r'class="label" style="left:([^;]*);top:([^"]*)"', made(addresses_html, sale(), to_ben, skip=skip)
        )
        for to_ben, skip in ((waiting(BEN), 0), (waiting(BEN), 4))
    )
    assert (first, third) == ([("7.2mm", "15.1mm")], [("73.2mm", "53.2mm")])
    with pytest.raises(WrongUseError, match="Cannot skip 21 labels"):
        made(addresses_html, sale(), waiting(BEN), skip=21)


@given(
    texts=st.lists(st.text(st.characters(codec="utf-8"), min_size=1), min_size=1, max_size=8),
    width=st.floats(10, 80),
    height=st.floats(3, 60),
)
def test_what_fits_is_whole_and_inside(texts: list[str], width: float, height: float) -> None:
    found = lines_that_fit(texts, width, height, 12.0)
    if found:
        assert 7 <= found.points <= 12
        assert len(found.lines) * line_mm(found.points) <= height + 1e-6
        assert "".join("".join(found.lines).split()) == "".join("".join(texts).split())
        assert [line for line in found.lines if len(line) > 1 and text_mm(line, found.points) > width] == []


@needs_chromium
@needs_poppler
@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_each_address_lies_on_its_label(page: str, tmp_path: Path) -> None:
    reckoning = sale(labels=labels_table(page=page, rows=6))
    many = [replace(BEN, claim=f"C{number}") for number in range(20)]
    found = printed(made(addresses_html, reckoning, waiting(*many, reckoning=reckoning)), tmp_path)
    assert len(found.sizes) == 2
    names = [word for word in found.on(1) if word.text == "Ben"]
    assert len(names) == 18
    pad = 0.06 * 38.1
    lefts = sorted(word.left for word in names)
    assert lefts == pytest.approx(
        [7.2 + 66 * column + pad for column in range(3) for _row in range(6)], abs=0.2
    )
