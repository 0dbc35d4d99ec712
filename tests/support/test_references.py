"""Formulas are taken to pieces as openpyxl's tokenizer does it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.formula.tokenizer import Token, Tokenizer

from tests.support.books import sample_book
from tests.support.cells import formula_cells
from tests.support.references import Area, Call, Parts, area, calls_of_formula, is_name, parts_of_formula


def by_tokenizer(formula: str) -> Parts:
    tokens = Tokenizer("=" + formula).items
    opened = (token.value for token in tokens if (token.type, token.subtype) == (Token.FUNC, Token.OPEN))
    operands = (t for t in tokens if t.type == Token.OPERAND and t.subtype in {Token.RANGE, Token.ERROR})
    return Parts(
        tuple(function.rstrip("(").upper() for function in opened),
        tuple(token.value for token in operands),
        any(token.type == Token.ARRAY for token in tokens),
    )


@pytest.mark.parametrize(
    "formula",
    [
        "A1+$B$2*'Cash-up'!C3",
        "SUM('O''Hara'!A1:B2,Price!$A$1:$A$9)",
        'IF(jugs>2,"a ""quoted"" SUM(A1)",TRUE)',
        "ROUND(1.5E-3*x.y,2)",
        "SUM({1,2})+#REF!",
        "SUM(A:A)+SUM(1:3)+SUM($A:$C)",
        "'[1]Sheet 1'!A1",
        'REPT("█",3)&größe&_x1',
        "-A1%^2<>B2",
        "_xlfn.IFS(A1,1)",
        "1:3",
    ],
)
def test_a_formula_falls_into_the_same_parts(formula: str) -> None:
    assert parts_of_formula(formula) == by_tokenizer(formula)


@pytest.mark.slow
def test_every_formula_of_a_sample_falls_into_the_same_parts() -> None:
    by_shape = {
        cell.formula.translate(NO_DIGITS): cell.formula for cell in formula_cells(sample_book("worked-plan"))
    }
    assert len(by_shape) > 100
    assert [f for f in by_shape.values() if parts_of_formula(f) != by_tokenizer(f)] == []


NO_DIGITS = str.maketrans("", "", "0123456789")


@given(st.text(st.sampled_from("ab\"'!1 ")))
def test_what_stands_in_a_text_is_no_part(text: str) -> None:
    quoted = text.replace('"', '""')
    assert parts_of_formula(f'LEN("{quoted}")&cost') == Parts(("LEN",), ("cost",), False)


@pytest.mark.parametrize(
    ("formula", "calls"),
    [
        ("A1+1", ()),
        ("SUM(A1,B2:C3)", (Call("SUM", ("A1", "B2:C3"), ()),)),
        (
            'IF(A1>(2),"a,(b",SUM(-(x)))',
            (Call("SUM", ("-(x)",), ("IF",)), Call("IF", ("A1>(2)", '"a,(b"', "SUM(-(x))"), ())),
        ),
        ("ROWS('O''Hara, (b)'!A1)", (Call("ROWS", ("'O''Hara, (b)'!A1",), ()),)),
    ],
)
def test_each_function_of_a_formula_has_its_arguments(formula: str, calls: tuple[Call, ...]) -> None:
    assert calls_of_formula(formula) == calls


@pytest.mark.parametrize(
    ("reference", "cells"),
    [
        ("B3", Area("Price", 2, 3, 2, 3)),
        ("$AA$3:AB$9", Area("Price", 27, 3, 28, 9)),
        ("'Cash-up'!A1", Area("Cash-up", 1, 1, 1, 1)),
        ("'O''Hara'!A1:A2", Area("O'Hara", 1, 1, 1, 2)),
        ("A:A", None),
        ("target", None),
        ("#REF!", None),
    ],
)
def test_a_reference_means_its_cells(reference: str, cells: Area | None) -> None:
    assert area(reference, sheet="Price") == cells


def test_an_area_has_each_of_its_cells() -> None:
    places = area("A9:B10", sheet="Price")
    assert places is not None
    assert list(places.places()) == [("Price", cell) for cell in ("A9", "B9", "A10", "B10")]


@pytest.mark.parametrize(
    ("operand", "named"),
    [("target", True), ("way_names", True), ("MUG1", False), ("A:A", False), ("", False)],
)
def test_a_name_does_not_look_like_a_cell(operand: str, named: bool) -> None:
    assert is_name(operand) is named
