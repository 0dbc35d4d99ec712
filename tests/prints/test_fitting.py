import unicodedata

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.base.widths import text_mm
from salebook.prints.fitting import ELLIPSIS, SMALLEST_POINTS, fit, line_mm

NAMES = {
    "60 letters": "Large lidded storage jar with twisted handles and ash glazes",
    "accents": "Théière à décor d’étoiles émaillées, crème brûlée, fenêtre",
    "Greek": "Μεγάλο κεραμικό βάζο με μπλε υάλωμα και δύο λαβές στα πλάγια",
    "Arabic": "إبريق كبير من الفخار المزجج باللون الأزرق مع مقبضين ملتويين",
    "Japanese": "青い釉薬をかけた大きな蓋付きの壺と二つのねじれた取っ手のある美しい手作りの器",
    "one word": "Donaudampfschifffahrtselektrizitätenhauptbetriebswerkbauunter",
}


@pytest.mark.parametrize(
    ("width", "height", "points", "lines"),
    [
        (60.0, 20.0, 13.0, ("Pouring jug",)),
        (20.0, 20.0, 9.5, ("Pouring jug",)),
        (13.0, 20.0, 8.5, ("Pouring", "jug")),
    ],
)
def test_a_text_shrinks_and_then_breaks(
    width: float, height: float, points: float, lines: tuple[str, ...]
) -> None:
    fitted = fit("Pouring jug", width_mm=width, height_mm=height, largest=13, most_lines=3)
    assert fitted is not None
    assert lines == fitted.lines
    assert fitted.points == pytest.approx(points, abs=1.5)


def test_what_does_not_fit_is_cut_with_an_ellipsis() -> None:
    fitted = fit(NAMES["60 letters"], width_mm=20, height_mm=line_mm(7), largest=13, most_lines=3)
    assert fitted is not None
    assert fitted.is_cut
    assert fitted.points == SMALLEST_POINTS
    assert fitted.lines[0].endswith(ELLIPSIS)
    assert NAMES["60 letters"].startswith(fitted.lines[0].removesuffix(ELLIPSIS))


def test_a_box_lower_than_a_line_of_7_points_holds_nothing() -> None:
    assert fit("jug", width_mm=60, height_mm=line_mm(7) - 0.01, largest=13) is None


@pytest.mark.parametrize("name", NAMES.values(), ids=NAMES)
@pytest.mark.parametrize("width", [12.0, 20.0, 34.0, 60.0])
def test_no_line_is_wider_than_its_box(name: str, width: float) -> None:
    fitted = fit(name, width_mm=width, height_mm=12, largest=13, most_lines=3, bold=True)
    assert fitted is not None
    assert all(text_mm(line, fitted.points, bold=True) <= width for line in fitted.lines)


@given(
    st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=90),
    st.floats(8, 80),
    st.floats(line_mm(7), 30),
    st.floats(7, 40),
    st.integers(1, 4),
)
def test_every_text_fits_its_box_and_keeps_its_letters(
    text: str, width: float, height: float, largest: float, most_lines: int
) -> None:
    fitted = fit(text, width_mm=width, height_mm=height, largest=largest, most_lines=most_lines)
    assert fitted is not None
    assert fitted.points >= SMALLEST_POINTS
    assert len(fitted.lines) <= most_lines
    assert fitted.height_mm <= height + 1e-5
    assert all(text_mm(line, fitted.points) <= width for line in fitted.lines)
    if not fitted.is_cut:
        assert "".join(text.split()) == "".join("".join(fitted.lines).split())


def test_a_mark_stays_with_its_letter() -> None:
    name = unicodedata.normalize("NFD", "é" * 60)
    fitted = fit(name, width_mm=20, height_mm=12, largest=13, most_lines=3)
    assert fitted is not None
    assert not any(unicodedata.combining(line[0]) for line in fitted.lines)
    assert unicodedata.combining(fitted.lines[-1][-2])
