"""What holds in every workbook that salebook writes, so that it works in every spreadsheet program."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cached_property

from lxml import etree
from openpyxl.utils import FORMULAE, coordinate_to_tuple

from tests.support.cells import Place, Value, formula_cells, parts_of, sheet_parts, tag, values_of
from tests.support.references import Area, Call, area, calls_of_formula, is_name, parts_of_formula

VOLATILE = frozenset({"CELL", "INDIRECT", "INFO", "NOW", "OFFSET", "RAND", "RANDBETWEEN", "TODAY"})
"""Functions that are worked out anew at every change, or that give another result on another day."""

LIKE_AN_ADDRESS = re.compile(r"[A-Z]{1,3}[0-9]+|R[0-9]*(C[0-9]*)?|C[0-9]*|TRUE|FALSE", re.IGNORECASE)
"""Names that a spreadsheet program takes for a cell (A1 or R1C1) or a truth value."""

CHART_FORMULA = "{http://schemas.openxmlformats.org/drawingml/2006/chart}f"
LONGEST_LIST = 255
"""Characters of a drop-down's choices that every program reads."""

LONGEST_FORMULA = 255
MOST_IFS = 6
DEEPEST = 8
"""What a person can still follow: characters, IFs in one another, functions in one another."""

DRAWING = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
CHART = "{http://schemas.openxmlformats.org/drawingml/2006/chart}"


@dataclass(frozen=True)
class Opened:
    """A workbook's file, opened for looking."""

    xlsx: bytes

    @cached_property
    def parts(self) -> dict[str, bytes]:
        """Every part by name."""
        return parts_of(self.xlsx)

    @cached_property
    def sheets(self) -> dict[str, etree._Element]:
        """Every sheet's XML by title."""
        return {title: etree.fromstring(self.parts[part]) for title, part in sheet_parts(self.parts).items()}

    @cached_property
    def names(self) -> dict[str, str]:
        """What each defined name stands for; a program's own (print titles) left out."""
        book = etree.fromstring(self.parts["xl/workbook.xml"])
        defined = ((str(name.get("name")), name.text or "") for name in book.iter(tag("definedName")))
        return {name: text for name, text in defined if not name.startswith("_xlnm.")}

    def places(self, name: str) -> list[Place]:
        """Return the cells that a name stands for; raises KeyError for a name that is not there."""
        cells = area(self.names[name], sheet="")
        assert cells is not None, f"{name} is no area"
        return list(cells.places())

    @cached_property
    def formulas(self) -> list[tuple[str, str, str]]:
        """Every formula with its sheet and place: in cells, in colouring rules and in drop-downs."""
        cells = [(cell.sheet, cell.cell, cell.formula) for cell in formula_cells(self.xlsx)]
        return cells + [
            (title, f"{kind} {_at(rule)}", str(rule.text))
            for title, sheet in self.sheets.items()
            for kind in ("formula", "formula1", "formula2")
            for rule in sheet.iter(tag(kind))
            if rule.text and not rule.text.startswith('"')
        ]

    @cached_property
    def styles(self) -> list[tuple[str, bool]]:
        """The name of each cell format's style and whether it locks the cell, by number."""
        styles = etree.fromstring(self.parts["xl/styles.xml"])
        names = {style.get("xfId"): str(style.get("name")) for style in styles.iter(tag("cellStyle"))}
        formats = styles.find(tag("cellXfs"))
        assert formats is not None
        return [(names.get(xf.get("xfId"), ""), _locks(xf)) for xf in formats]

    @cached_property
    def style_names(self) -> dict[Place, str]:
        """The name of each cell's style."""
        cells = ((title, cell) for title, sheet in self.sheets.items() for cell in sheet.iter(tag("c")))
        return {(title, str(cell.get("r"))): self.styles[int(cell.get("s", "0"))][0] for title, cell in cells}

    @cached_property
    def sizes(self) -> dict[str, tuple[int, int]]:
        """The last row and the last column in which each sheet holds a cell."""
        return {title: _size(sheet) for title, sheet in self.sheets.items()}


def _size(sheet: etree._Element) -> tuple[int, int]:
    places = [coordinate_to_tuple(str(cell.get("r"))) for cell in sheet.iter(tag("c"))]
    return max((row for row, _column in places), default=0), max((c for _row, c in places), default=0)


def _at(rule: etree._Element) -> str:
    above = [up for up in rule.iterancestors() if up.get("sqref")]
    return str(above[0].get("sqref")) if above else "?"


def _locks(xf: etree._Element) -> bool:
    protection = xf.find(tag("protection"))
    return protection is None or protection.get("locked", "1") not in {"0", "false"}


def broken_rules(xlsx: bytes) -> list[str]:
    """Return one line for each place where a workbook breaks one of the RULES."""
    book = Opened(xlsx)
    return [f"{rule.__name__.strip('_')}: {line}" for rule in RULES for line in rule(book)]


def _only_functions_of_the_first_edition(book: Opened) -> Iterator[str]:
    for sheet, place, formula in book.formulas:
        for function in parts_of_formula(formula).functions:
            # CEILING.MATH, IFS, XLOOKUP and their like need a prefix in the file, and a recent program.
            if function not in FORMULAE:
                yield f"{sheet}!{place} uses {function}: {formula}"


def _no_volatile_function(book: Opened) -> Iterator[str]:
    for sheet, place, formula in book.formulas:
        for function in VOLATILE.intersection(parts_of_formula(formula).functions):
            yield f"{sheet}!{place} uses {function}: {formula}"


def _no_array_formula(book: Opened) -> Iterator[str]:
    for sheet, place, formula in book.formulas:
        if parts_of_formula(formula).has_array:
            yield f"{sheet}!{place} holds an array: {formula}"
    for title, xml in book.sheets.items():
        yield from (
            f"{title}: an array over {f.get('ref')}" for f in xml.iter(tag("f")) if f.get("t") == "array"
        )


def _every_reference_is_a_name_or_a_plain_area(book: Opened) -> Iterator[str]:
    known = {name.upper() for name in book.names}
    for sheet, place, formula in book.formulas:
        for operand in parts_of_formula(formula).operands:
            cells = area(operand, sheet=sheet)
            if cells is None and not (is_name(operand) and operand.upper() in known):
                yield f"{sheet}!{place} refers to {operand}: {formula}"
            if cells is not None and cells.sheet not in book.sheets:
                yield f"{sheet}!{place} refers to no sheet: {operand}"


def _every_name_stands_for_cells_that_are_there(book: Opened) -> Iterator[str]:
    for name, text in book.names.items():
        yield from (f"{name} = {text} {trouble}" for trouble in _trouble_with(book, area(text, sheet="")))


def _trouble_with(book: Opened, cells: Area | None) -> Iterator[str]:
    if cells is None:
        yield "is no area of cells"
    elif cells.sheet not in book.sheets:
        yield "is on no sheet"
    elif cells.bottom > book.sizes[cells.sheet][0] or cells.right > book.sizes[cells.sheet][1]:
        yield "reaches beyond its sheet"


def _no_name_looks_like_an_address(book: Opened) -> Iterator[str]:
    yield from (name for name in book.names if LIKE_AN_ADDRESS.fullmatch(name) or not is_name(name))


def _names_differ_in_more_than_capitals(book: Opened) -> Iterator[str]:
    seen: set[str] = set()
    for name in book.names:
        if name.lower() in seen:
            yield name
        seen.add(name.lower())


def _every_sheet_is_protected_without_a_password(book: Opened) -> Iterator[str]:
    for title, sheet in book.sheets.items():
        protection = sheet.find(tag("sheetProtection"))
        if protection is None or protection.get("sheet") not in {"1", "true"}:
            yield f"{title} is not protected"
        elif protection.get("password") or protection.get("hashValue"):
            yield f"{title} has a password"


def _formulas_are_locked_and_inputs_are_not(book: Opened) -> Iterator[str]:
    for title, sheet in book.sheets.items():
        for cell in sheet.iter(tag("c")):
            style, locked = book.styles[int(cell.get("s", "0"))]
            if cell.find(tag("f")) is not None and not locked:
                yield f"{title}!{cell.get('r')}: a formula that anyone may overwrite"
            if _is_input(style) == locked:
                yield f"{title}!{cell.get('r')}: style {style!r} is {'locked' if locked else 'not locked'}"


def _is_input(style: str) -> bool:
    return style.startswith("salebook input")


def _no_merged_cell_covers_an_input(book: Opened) -> Iterator[str]:
    for title, sheet in book.sheets.items():
        inputs = [
            coordinate_to_tuple(str(cell.get("r")))
            for cell in sheet.iter(tag("c"))
            if _is_input(book.styles[int(cell.get("s", "0"))][0])
        ]
        for merged in sheet.iter(tag("mergeCell")):
            cells = area(str(merged.get("ref")), sheet=title)
            if cells and any(_covers(cells, row, column) for row, column in inputs):
                yield f"{title}!{merged.get('ref')}"


def _covers(cells: Area, row: int, column: int) -> bool:
    return cells.top <= row <= cells.bottom and cells.left <= column <= cells.right


def _no_link_to_another_file(book: Opened) -> Iterator[str]:
    yield from (name for name in book.parts if "externalLink" in name or "vbaProject" in name)
    for name, part in book.parts.items():
        if name.endswith(".rels") and b'TargetMode="External"' in part:
            yield f"{name} leads outside"
    yield from (
        f"{sheet}!{place}: {text}" for sheet, place, text in book.formulas if re.search(r"\[\d+\]", text)
    )


def _choices_fit_into_a_drop_down(book: Opened) -> Iterator[str]:
    for title, sheet in book.sheets.items():
        for formula in sheet.iter(tag("formula1")):
            if formula.text and len(formula.text) > LONGEST_LIST:
                yield f"{title}!{_at(formula)}: {len(formula.text)} characters"


def _charts_show_cells_that_are_there(book: Opened) -> Iterator[str]:
    for name, part in book.parts.items():
        if name.startswith("xl/charts/chart"):
            for formula in etree.fromstring(part).iter(CHART_FORMULA):
                shown = area(formula.text or "", sheet="")
                yield from (f"{name}: {formula.text} {trouble}" for trouble in _trouble_with(book, shown))


def _formulas_are_short(book: Opened) -> Iterator[str]:
    for sheet, place, formula in book.formulas:
        yield from (f"{sheet}!{place} has {trouble}: {formula}" for trouble in _too_long(formula))


def _too_long(formula: str) -> Iterator[str]:
    around = [(*call.within, call.function) for call in calls_of_formula(formula)]
    ifs = max((functions.count("IF") for functions in around), default=0)
    deep = max((len(functions) for functions in around), default=0)
    if len(formula) > LONGEST_FORMULA:
        yield f"{len(formula)} characters"
    if ifs > MOST_IFS:
        yield f"{ifs} IFs in one another"
    if deep > DEEPEST:
        yield f"{deep} functions in one another"


def _no_function_that_programs_take_differently(book: Opened) -> Iterator[str]:
    for sheet, place, formula in book.formulas:
        for call in calls_of_formula(formula):
            yield from (f"{sheet}!{place} {why}: {formula}" for why in _taken_differently(book, sheet, call))


def _taken_differently(book: Opened, sheet: str, call: Call) -> Iterator[str]:
    """Say why programs that were tried work out a function differently."""
    function, arguments, within = call
    if function == "N":
        yield "takes a cell as a number by N, which is an error where the cell is empty"
    if function == "TEXT" and "." in arguments[1]:
        yield "writes a number with a point, which is no decimal one in other languages"
    if function == "INDEX" and not _is_several(book, arguments[0], sheet):
        yield "looks something up in a single cell, which is an error"
    if function == "INDEX" and arguments[1].isdigit():
        yield "looks a cell up that it could name"
    if "SUMPRODUCT" in within:
        operands = [each for text in arguments for each in parts_of_formula(text).operands]
        if any(_is_several(book, operand, sheet) for operand in operands):
            yield f"uses {function} over a range inside SUMPRODUCT"


def _is_several(book: Opened, operand: str, sheet: str) -> bool:
    cells = area(book.names.get(operand, operand), sheet=sheet)
    return cells is not None and (cells.left, cells.top) != (cells.right, cells.bottom)


def _no_sign_before_a_list(book: Opened) -> Iterator[str]:
    for title, sheet in book.sheets.items():
        for formula in sheet.iter(tag("formula1")):
            if (formula.text or "").startswith("="):
                yield f"{title}!{_at(formula)}: a program loses the list {formula.text} on saving"


RULES: tuple[Callable[[Opened], Iterator[str]], ...] = (
    _only_functions_of_the_first_edition,
    _no_volatile_function,
    _no_array_formula,
    _every_reference_is_a_name_or_a_plain_area,
    _every_name_stands_for_cells_that_are_there,
    _no_name_looks_like_an_address,
    _names_differ_in_more_than_capitals,
    _every_sheet_is_protected_without_a_password,
    _formulas_are_locked_and_inputs_are_not,
    _no_merged_cell_covers_an_input,
    _no_link_to_another_file,
    _choices_fit_into_a_drop_down,
    _charts_show_cells_that_are_there,
    _formulas_are_short,
    _no_function_that_programs_take_differently,
    _no_sign_before_a_list,
)


def faults_of_file(xlsx: bytes) -> list[str]:
    """Return one line for each place where the file is not as every program that was tried reads it."""
    book = Opened(xlsx)
    return [*_typed_empty_cells(book), *_drawings_without_prefix(book), *_charts_without_values(book)]


def _typed_empty_cells(book: Opened) -> Iterator[str]:
    for title, sheet in book.sheets.items():
        yield from (
            f"{title}!{cell.get('r')} is empty and has the type {cell.get('t')}"
            for cell in sheet.iter(tag("c"))
            if cell.get("t") and len(cell) == 0
        )


def _drawings_without_prefix(book: Opened) -> Iterator[str]:
    for name, part in book.parts.items():
        if name.startswith("xl/drawings/drawing"):
            drawing = etree.fromstring(part)
            found = {each.prefix for each in drawing.iter(f"{DRAWING}*")}
            yield from [f"{name} has the prefixes {found}"] if found != {"xdr"} else []


def _charts_without_values(book: Opened) -> Iterator[str]:
    for name, part in book.parts.items():
        if name.startswith("xl/charts/chart"):
            for formula in etree.fromstring(part).iter(CHART_FORMULA):
                stored, shown = _values_beside(formula), _values_shown(book, formula.text or "")
                # A column may show words in every row, such as where no price ever pays back the table.
                if stored != shown or formula.getnext() is None:
                    yield f"{name}: {formula.text} shows {shown}, beside it stands {stored}"


def _values_beside(formula: etree._Element) -> dict[int, str]:
    """Return the values that a chart stores beside a reference, by their places."""
    cache = formula.getnext()
    points = () if cache is None else cache.iter(f"{CHART}pt")
    return {int(str(point.get("idx"))): _rounded(point.findtext(f"{CHART}v") or "") for point in points}


def _values_shown(book: Opened, reference: str) -> dict[int, str]:
    """Return what the cells of a chart's reference show; texts are no values unless it is one cell."""
    cells, values = area(reference, sheet=""), values_of(book.xlsx)
    assert cells is not None, f"{reference} is no area"
    shown = [values.get(place, "") for place in cells.places()]
    return {
        n: _rounded(value) for n, value in enumerate(shown) if len(shown) == 1 or not isinstance(value, str)
    }


def _rounded(value: Value) -> str:
    try:
        return f"{float(value):.9g}"
    except ValueError:
        return str(value)
