"""One sheet being written, and the workbook that it belongs to."""

from collections.abc import Iterable, Sequence
from datetime import date, time
from decimal import Decimal
from string import digits
from typing import Any, Final

from openpyxl import Workbook
from openpyxl.formatting.rule import Rule
from openpyxl.styles import Font, PatternFill
from openpyxl.styles.differential import DifferentialStyle
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.header_footer import HeaderFooterItem, _HeaderFooterPart
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from salebook.base.words import _
from salebook.book.charts import store_values
from salebook.book.figure import Figure, Value, serial
from salebook.book.marks import sheet_mark
from salebook.book.references import References, Scope
from salebook.book.style import ALARM, STRAW, Styles, broken_into_lines, lines_needed

Content = Value | date | time | Figure | None
DAY_MINUTES: Final = 24 * 60
USUAL_WIDTH: Final = 10.0
LONGEST_TITLE: Final = 31
"""Letters of a sheet's title, as the file format allows."""


class Book:
    """A workbook being written: its sheets, styles, defined names and the stored result of every formula."""

    def __init__(
        self, *, currency: str, locale: str, paper: str = "A4", sale_id: str = "", book_id: str = ""
    ) -> None:
        self.workbook = Workbook()
        self.workbook.remove(self.workbook.worksheets[0])
        self.styles = Styles(currency=currency, locale=locale)
        self.paper = paper
        self.sale_id = sale_id
        self.book_id = book_id
        self.stored: dict[str, dict[str, Value]] = {}
        self.references = References()
        self.plan_inputs: Sequence[Content] = ()
        """What the plan put into the input cells of the sheet Plan."""
        self.inputs: list[Content] = []
        """What stands in the input cells of all sheets."""
        self._pages: list[Page] = []
        self._unresolved: list[tuple[Any, Scope]] = []
        self._marks: list[tuple[Rule, Scope]] = []

    def page(self, name: str, *, widths: Sequence[float], landscape: bool = False) -> "Page":
        """Add a sheet by its English name, with columns of these widths (characters)."""
        title = _(name)[:LONGEST_TITLE]
        sheet = self.workbook.create_sheet(title)
        self.stored[title] = {}
        page = Page(self, sheet, widths)
        page.name(sheet_mark(name), 1, 1)
        self._pages.append(page)
        _print_well(sheet, paper=self.paper, landscape=landscape)
        return page

    def finish(self) -> None:
        """Do what can only be done when every sheet is written."""
        for page in self._pages:
            page.finish()
        for cell, scope in self._unresolved:
            cell.value = self.references.resolved(cell.value, scope)
        for mark, scope in self._marks:
            mark.formula = [self.references.resolved(mark.formula[0], scope)]
        for page in self._pages:
            for chart in page.charts:
                store_values(chart, self._shown)

    def _shown(self, sheet: str, cell: str) -> Value | None:
        """Return what a cell shows, as a number where it is one: its stored result, or its plain value."""
        plain: Any = self.workbook[sheet][cell].value
        found = self.stored[sheet].get(cell, plain)
        return serial(found) if isinstance(found, date) else found

    def resolve_later(self, cell: Any, scope: Scope) -> None:
        """Put the addresses into a cell's formula when every sheet is written, in whatever order."""
        self._unresolved.append((cell, scope))

    def resolve_mark_later(self, mark: Rule, scope: Scope) -> None:
        """Put the addresses into the formula of a mark when every sheet is written."""
        self._marks.append((mark, scope))

    def define(self, name: str, address: str) -> None:
        """Give a cell or a range (an absolute address with its sheet) a name that formulas use."""
        if name in self.workbook.defined_names:
            raise ValueError(f"the name {name} is given twice")
        self.workbook.defined_names[name] = DefinedName(name, attr_text=address)
        self.references.names[name] = address


class Page:
    """One sheet, written from the top down; rows and columns count from 1, `row` is the next free row."""

    def __init__(self, book: Book, sheet: Worksheet, widths: Sequence[float]) -> None:
        self.book = book
        self.sheet = sheet
        self.widths = tuple(widths)
        self.row = 1
        self._stored = book.stored[sheet.title]
        self._arrays: dict[str, object] = {}
        self._headings: list[tuple[int, int]] = []
        for column, width in enumerate(widths, start=1):
            sheet.column_dimensions[get_column_letter(column)].width = width

    def put(self, row: int, column: int, content: Content, style: str, scope: Scope | None = None) -> None:
        """Write one cell: a value or a Figure, in a style such as "input money".

        What a formula names in square brackets is looked up from `scope`, by default outside of all tables.
        """
        cell: Any = self.sheet.cell(row, column)
        if isinstance(content, Figure):
            cell.value = content.formula
            if "[" in content.formula:
                self.book.resolve_later(cell, scope or Scope(sheet=self.sheet.title))
            self._stored[f"{get_column_letter(column)}{row}"] = content.value
        elif isinstance(content, str):
            cell.value = content
            cell.data_type = "s"  # or a text that begins with = would be taken for a formula
        elif isinstance(content, time):
            cell.value = (content.hour * 60 + content.minute) / DAY_MINUTES
        else:
            cell.value = content
        if content is not None and style.startswith("input"):
            self.book.inputs.append(cell.value)
        # Assigning by name looks the style up and copies it for every cell, which takes most of the time.
        cell._style = self._array(style)

    def _array(self, style: str) -> object:
        array = self._arrays.get(style)
        if array is None:
            named = self.book.styles.named(style)
            if named.name not in self.book.workbook.named_styles:
                self.book.workbook.add_named_style(named)
            array = self._arrays[style] = named.as_tuple()
        return array

    def put_row(self, contents: Iterable[tuple[Content, str]], *, first_column: int = 1) -> int:
        """Write (content, style) cells in the next free row and return it; a cell of style "" is left out."""
        row = self.row
        for column, (content, style) in enumerate(contents, start=first_column):
            if style:
                self.put(row, column, content, style)
        self.row += 1
        return row

    def put_wide(self, row: int, columns: tuple[int, int], content: Content, style: str) -> None:
        """Write one cell that reaches from a first to a last column: for large type, which a number needs."""
        first, last = columns
        self.put(row, first, content, style)
        self.sheet.merge_cells(start_row=row, start_column=first, end_row=row, end_column=last)

    def title(self, text: str, lead: str = "") -> None:
        """Write the sheet's title and one sentence on what it is for."""
        self.put(self.row, 2, text, "title")
        self.sheet.row_dimensions[self.row].height = 30
        self.row += 1
        if lead:
            self.paragraph(lead)
        self.row += 1

    def paragraph(self, content: str | Figure, style: str = "lead", *, first_column: int = 2) -> int:
        """Write a text across the sheet's whole width and return its row."""
        row, last = self.row, len(self.widths)
        text = str(content.value) if isinstance(content, Figure) else content
        lines = lines_needed(text, sum(self.widths[first_column - 1 :]))
        self.put(row, first_column, content, f"{style} wrapped" if lines > 1 and " " not in style else style)
        if last > first_column:
            self.sheet.merge_cells(start_row=row, start_column=first_column, end_row=row, end_column=last)
        self.sheet.row_dimensions[row].height = 14.0 * lines + 2
        self.row += 1
        return row

    def band(self, text: str) -> int:
        """Write the heading of a part of the sheet across its width and return its row."""
        row = self.row
        for column in range(2, len(self.widths) + 1):
            self.put(row, column, text if column == 2 else None, "band")
        self.sheet.row_dimensions[row].height = 20
        self.row += 1
        return row

    def headings(self, keys: Sequence[str], texts: Sequence[str | None], *, section: str) -> int:
        """Write the thin row of stable keys and the row of headings below it; return the headings' row.

        The first key and heading stand in column B; column A of the key row names the section, in brackets.
        A column without a text, not even an empty one, is left bare.
        """
        self.put(self.row, 1, f"[{section}]", "key")
        headed = [
            (column, key, broken_into_lines(text, self.width(column) - 2, bold=True))
            for column, (key, text) in enumerate(zip(keys, texts, strict=True), start=2)
            if text is not None
        ]
        for column, key, _lines in headed:
            self.put(self.row, column, key, "key")
        # Nobody needs to see or print the keys; every program keeps hidden rows, and readers find them.
        self.sheet.row_dimensions[self.row].height = 8
        self.sheet.row_dimensions[self.row].hidden = True
        row = self.row + 1
        self._headings.append((row, len(texts)))
        for column, _key, lines in headed:
            self.put(row, column, "\n".join(lines), "heading")
        self.sheet.row_dimensions[row].height = 13.5 * max(len(lines) for _at, _key, lines in headed) + 3
        self.row = row + 1
        return row

    @property
    def charts(self) -> Sequence[Any]:
        """The charts on the sheet."""
        sheet: Any = self.sheet  # the stubs lack them
        charts: Sequence[Any] = sheet._charts
        return charts

    def finish(self) -> None:
        """Set each heading above numbers to the right, as these stand, and say what is printed."""
        if self.row > 1 and not self.sheet.print_area:
            self.print_so_far()
        for row, columns in self._headings:
            for column in range(2, columns + 2):
                heading: Any = self.sheet.cell(row, column)
                if self.sheet.cell(row + 1, column).alignment.horizontal == "right":
                    heading._style = self._array("number-heading")

    def width(self, column: int) -> float:
        """Return a column's width in characters; columns beyond those given have the usual one."""
        return self.widths[column - 1] if column <= len(self.widths) else USUAL_WIDTH

    def address(
        self, row: int, column: int, *, last_row: int | None = None, last_column: int | None = None
    ) -> str:
        """Return the absolute address of a cell or range with its sheet, as a formula writes it."""
        first = f"${get_column_letter(column)}${row}"
        sheet = "'" + self.sheet.title.replace("'", "''") + "'"
        if last_row is None and last_column is None:
            return f"{sheet}!{first}"
        end = f"${get_column_letter(last_column or column)}${last_row or row}"
        return f"{sheet}!{first}:{end}"

    def name(self, name: str, row: int, column: int, *, last_row: int | None = None) -> None:
        """Give a cell, or a piece of a column down to `last_row`, a defined name."""
        self.book.define(name, self.address(row, column, last_row=last_row))

    def dropdown(
        self, cells: str, options: Sequence[str] | str, *, says: str = "", strict: bool = True
    ) -> None:
        """Offer a drop-down in cells such as "D5:D90": a list of words, or the name of a range of them."""
        # With "=" before a name, a program that reads the file and saves it loses the list.
        formula = options if isinstance(options, str) else '"' + ",".join(options) + '"'
        # Longer lists or messages of a drop-down make a program offer to repair the file. So do names
        # that look like cells (TAX2027), and tables that overlap; the schemas in tests find most of it.
        if len(formula) > 255:
            raise ValueError(f"the choices for {cells} are too long for a drop-down: put them in a range")
        rule = DataValidation(type="list", formula1=formula, allow_blank=True)
        rule.showErrorMessage = strict
        rule.error = says[:255] or None
        rule.add(cells)
        self.sheet.add_data_validation(rule)

    def number_only(self, cells: str, *, least: float = 0, most: float | None = None, says: str = "") -> None:
        """Warn where something other than a number within bounds is typed into cells."""
        rule = DataValidation(
            type="decimal",
            operator="greaterThanOrEqual" if most is None else "between",
            formula1=str(least),
            formula2=None if most is None else str(most),
            allow_blank=True,
        )
        rule.showErrorMessage = True
        rule.errorStyle = "warning"
        rule.error = says[:255] or None
        rule.add(cells)
        self.sheet.add_data_validation(rule)

    def highlight(
        self,
        cells: str,
        formula: str,
        scope: Scope | None = None,
        *,
        colour: str = ALARM,
        fill: str | None = STRAW,
    ) -> None:
        """Colour cells where a formula (relative to their first cell, without "=") holds.

        What it names in square brackets is looked up from `scope`, by default outside of all tables.
        """
        background = PatternFill("solid", bgColor=fill) if fill else None
        look = DifferentialStyle(font=Font(color=colour, bold=True), fill=background)
        rule = Rule(type="expression", formula=[formula], dxf=look)
        self.book.resolve_mark_later(rule, scope or Scope(sheet=self.sheet.title))
        self.sheet.conditional_formatting.add(cells, rule)

    def print_so_far(self) -> None:
        """Print what stands above the next free row, between the marks and the last column with a width."""
        self.sheet.print_area = f"B1:{get_column_letter(len(self.widths))}{self.row - 1}"

    def fold(self, first: int, last: int) -> None:
        """Fold rows away that only formulas need: they can be unfolded at the margin."""
        for row in range(first, last):
            shape = self.sheet.row_dimensions[row]
            shape.outline_level, shape.hidden = 1, True
        self.sheet.row_dimensions[last].collapsed = True

    def repeat_headings(self, first_row: int, last_row: int) -> None:
        """Print these rows on top of every page."""
        self.sheet.print_title_rows = f"{first_row}:{last_row}"

    def freeze(self, row: int, column: int = 1) -> None:
        """Keep the rows above `row` and the columns left of `column` in sight."""
        self.sheet.freeze_panes = f"{get_column_letter(column)}{row}"

    def begin_at(self, row: int, column: int, *, top: int) -> None:
        """Let the cursor of a sheet with frozen rows stand in a cell when it is opened.

        `top` is the row that stands below the frozen ones.
        """
        view = self.sheet.sheet_view
        cell = f"{get_column_letter(column)}{row}"
        if view.pane:
            view.pane.topLeftCell = f"{str(self.sheet.freeze_panes).rstrip(digits)}{top}"
        # Each pane has a cursor; the last is the one that moves.
        view.selection[-1].activeCell = view.selection[-1].sqref = cell


def number(value: Decimal | int | float) -> int | float:
    """Return a number as a spreadsheet keeps it: whole where it is whole, else floating point."""
    return int(value) if value == int(value) else float(value)


def _print_well(sheet: Worksheet, *, paper: str, landscape: bool) -> None:
    sheet.sheet_view.showGridLines = False
    sheet.protection.sheet = True
    for allowed in ("formatColumns", "formatRows", "formatCells", "sort", "autoFilter"):
        setattr(sheet.protection, allowed, False)
    setup = sheet.page_setup
    setup.orientation = "landscape" if landscape else "portrait"
    setup.paperSize = 9 if paper == "A4" else 1
    setup.fitToWidth, setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    margins = sheet.page_margins
    margins.left = margins.right = 0.5
    margins.top, margins.bottom, margins.header, margins.footer = 0.55, 0.7, 0.3, 0.35
    sheet.HeaderFooter.oddFooter = HeaderFooterItem(
        left=_HeaderFooterPart(text="&A"), right=_HeaderFooterPart(text="&P / &N")
    )
