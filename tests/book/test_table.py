"""A table is declared once: what its formulas name is found wherever it stands, in whatever order."""

from dataclasses import dataclass
from decimal import Decimal

import pytest

from salebook.book.column import Sum
from salebook.book.declared import READ, declared
from salebook.book.figure import Figure
from salebook.book.page import Book, Page
from salebook.book.references import UnknownReferenceError
from salebook.book.table import Table, put_line


@dataclass(frozen=True, kw_only=True)
class Bag:
    """A bag of glaze."""

    name: str
    price: Decimal
    count: int | None = None


BAGS = (Bag(name="tin white", price=Decimal("12.50"), count=2), Bag(name="[price:]", price=Decimal(8)))


def bags() -> Table[Bag]:
    table: Table[Bag] = Table("bags", "Glaze", record=lambda bag: bag.name, empty="none")
    table.fixed("name", "Name", "label", read=True)
    table.fixed("price", "Price", "label money", name="bag_prices")
    table.input("count", "Bags", "whole")
    table.live("=cost", "Cost", "money", "[price]*[count]", cost, total=Sum("bags_cost"))
    table.live("=place", "Place", "worked whole", "COUNT([price^])", lambda _bag: 1, alarm="[place]>[count]")
    table.total("All bags")
    return table


def cost(bag: Bag) -> Decimal:
    return bag.price * (bag.count or 0)


def sheet(book: Book, title: str = "Glaze") -> Page:
    return book.page(title, widths=[3, *[12] * 8])


@pytest.fixture
def book() -> Book:
    return Book(currency="GBP", locale="en_GB")


def test_references_become_the_cells_of_the_row_the_column_and_what_is_above(book: Book) -> None:
    page = sheet(book)
    bags().write(page, BAGS)
    book.finish()
    assert [page.sheet[at].value for at in ("E4", "F4", "E5")] == [
        "=C4*D4",
        "=COUNT(C$3:C4)",
        "=SUM(E$3:E$4)",
    ]
    assert {name: str(place.attr_text) for name, place in book.workbook.defined_names.items()} == {
        "sheet_glaze": "'Glaze'!$A$1",
        "bag_prices": "'Glaze'!$C$3:$C$4",
        "bags_cost": "'Glaze'!$E$5",
    }
    assert book.stored["Glaze"]["E5"] == 25


def test_a_formula_may_name_a_table_that_is_written_after_it(book: Book) -> None:
    before = sheet(book, "It's first")
    before.put(1, 6, Figure("=SUM([bags.cost:])+[bags.cost+]", 50), "result money")
    uses: Table[Bag] = Table("uses", "It's first", record=lambda bag: bag.name)
    uses.live("=price", "Price", "money", "[bags.price]")
    uses.write(before, BAGS)
    bags().write(sheet(book), BAGS)
    book.finish()
    cells = before.sheet
    assert cells["F1"].value == "=SUM('Glaze'!$E$3:$E$4)+'Glaze'!$E$5"
    assert [cells["B3"].value, cells["B4"].value] == ["='Glaze'!$C$3", "='Glaze'!$C$4"]


def test_a_row_may_be_about_another_record_in_another_table(book: Book) -> None:
    page = sheet(book, "Pots")
    pots: Table[str] = Table("pots", "Pots", record=lambda pot: pot)
    pots.join("bags", lambda _pot: "tin white")
    pots.live("=price", "Price", "money", "[bags.price]", lambda _pot: 0)
    pots.write(page, ("MUG",))
    bags().write(sheet(book), BAGS)
    book.finish()
    assert page.sheet["B3"].value == "='Glaze'!$C$3"


def test_each_part_of_a_table_is_found_by_the_record_that_it_is_about(book: Book) -> None:
    page = sheet(book)
    kilns: Table[str] = Table("kilns", "Glaze", record=lambda kiln: kiln)
    kilns.live("=in_it", "In it", "whole", "SUM([bags.count:])", lambda _kiln: 0)
    kilns.write(page, ("old", "new"))
    parts: Table[Bag] = Table("bags", "Glaze")
    parts.input("count", "Bags", "whole", name="bags_of_{part}")
    for part in ("new", "old"):
        parts.write(page, BAGS[:1], part=part)
    book.finish()
    assert set(book.workbook.defined_names) == {"sheet_glaze", "bags_of_new", "bags_of_old"}
    assert [page.sheet["B3"].value, page.sheet["B4"].value] == ["=SUM($B$10:$B$10)", "=SUM($B$7:$B$7)"]


def test_a_cell_of_a_named_column_is_found_by_its_place(book: Book) -> None:
    bags().write(sheet(book), BAGS)
    page = sheet(book, "Bills")
    page.put(1, 6, Figure("=[bag_prices@2]+SUM([bag_prices@1]:[bag_prices@2])", 28.5), "result money")
    bills: Table[Bag] = Table("bills", "Bills")
    bills.live("price", "Price", "money", "[bag_prices@#]")
    bills.write(page, BAGS)
    book.finish()
    assert [page.sheet[at].value for at in ("F1", "B3", "B4")] == [
        "='Glaze'!$C$4+SUM('Glaze'!$C$3:$C$4)",
        "='Glaze'!$C$3",
        "='Glaze'!$C$4",
    ]


def test_brackets_in_a_text_of_a_formula_are_no_reference(book: Book) -> None:
    page = sheet(book)
    page.put(1, 2, Figure('="[price:] of ""[x]"""&[price:]', ""), "result text")
    with pytest.raises(UnknownReferenceError, match=r"\[price:\]"):
        book.finish()
    page.put(1, 2, Figure('="[price:] of ""[x]"""', ""), "result text")
    assert page.sheet["B1"].value == '="[price:] of ""[x]"""'


def test_only_the_first_cell_of_a_range_says_its_sheet(book: Book) -> None:
    page = sheet(book, "Sum")
    total: Table[Bag] = Table("sums", "Sum", record=lambda bag: bag.name)
    total.live("=sum", "Sum", "money", "SUM([bags.price]:[bags.count])", lambda _bag: 0)
    total.write(page, BAGS[:1])
    bags().write(sheet(book), BAGS)
    book.finish()
    assert page.sheet["B3"].value == "=SUM('Glaze'!$C$3:$D$3)"


def test_a_table_without_rows_says_so_and_its_names_and_sums_stand(book: Book) -> None:
    page = sheet(book)
    bags().write(page, ())
    book.finish()
    assert [page.sheet["B3"].value, page.sheet["E4"].value] == ["none", "=SUM(E$3:E$3)"]
    assert book.stored["Glaze"] == {"E4": 0}


def test_a_table_without_any_row_sums_its_heading_which_is_nothing(book: Book) -> None:
    page = sheet(book)
    table: Table[Bag] = Table("bags", "Glaze")
    table.input("count", "Bags", "whole", name="bag_counts")
    table.live("=double", "Twice", "whole", "[count]*2", total=Sum())
    table.total("All")
    table.write(page, ())
    book.finish()
    assert [page.sheet["C3"].value, book.stored["Glaze"]] == ["=SUM(C$2:C$2)", {"C3": 0}]
    assert str(book.workbook.defined_names["bag_counts"].attr_text) == "'Glaze'!$B$2:$B$2"


def test_spare_rows_are_empty_and_live(book: Book) -> None:
    page = sheet(book)
    bags().write(page, (), spare=2)
    book.finish()
    assert [cell.value for cell in page.sheet[4]] == ["bags", None, None, None, "=C4*D4", "=COUNT(C$3:C4)"]


def test_inputs_of_numbers_are_guarded_and_marks_keep_their_columns(book: Book) -> None:
    page = sheet(book)
    bags().write(page, BAGS)
    book.finish()
    rules = page.sheet.data_validations.dataValidation
    assert [(str(rule.sqref), rule.type) for rule in rules] == [("D3:D4", "decimal")]
    marks = [
        (str(cells.sqref), rule.formula)
        for cells in page.sheet.conditional_formatting
        for rule in cells.rules
    ]
    assert marks == [("F3:F4", ["$F3>$D3"])]


def test_helpers_stand_small_and_folded_away_right_of_what_is_printed(book: Book) -> None:
    page = book.page("Glaze", widths=(3, *([12] * 2)))
    table: Table[Bag] = Table("bags", "Glaze")
    table.input("count", "Bags", "whole")
    table.gap()
    table.helpers()
    table.live("=double", "Twice", "whole", "[count]*2", lambda _bag: 4)
    placed = table.write(page, BAGS[:1])
    assert (placed.area, table.widths) == ("B1:C3", (0, 0))
    shapes = page.sheet.column_dimensions
    folded = [(shapes[letter].hidden, shapes[letter].outline_level) for letter in "CD"]
    assert (page.sheet["D3"].style, folded) == ("salebook small whole", [(False, 0), (True, 1)])
    assert shapes["E"].collapsed


def test_a_column_may_have_cells_in_some_rows_only(book: Book) -> None:
    page = sheet(book)
    table: Table[Bag] = Table("bags", "Glaze")
    table.input("count", "Bags", "whole", where=lambda bag: bag.count is not None)
    table.write(page, BAGS, spare=1)
    styles = [page.sheet[f"B{row}"].style for row in (3, 4, 5)]
    assert styles == ["salebook input whole", "Normal", "salebook input whole"]


def test_a_mark_may_say_more_of_a_row(book: Book) -> None:
    page = sheet(book)
    table: Table[Bag] = Table("bags", "Glaze", mark=lambda bag: f"bags.{bag.count}")
    table.input("count", "Bags", "whole")
    table.write(page, BAGS[:1], spare=1)
    assert [page.sheet[at].value for at in ("A1", "A3", "A4")] == ["[bags]", "bags.2", "bags"]


def test_a_table_is_found_under_the_names_of_those_it_stands_for(book: Book) -> None:
    page = sheet(book)
    table: Table[Bag] = Table("stock", "Glaze", record=lambda bag: bag.name, stands_for=("bags", "sacks"))
    table.fixed("price", "Price", "label money")
    table.write(page, BAGS)
    page.put(9, 2, Figure("=SUM([sacks.price:])+SUM([bags.price:])", 41), "result money")
    book.finish()
    assert page.sheet["B9"].value == "=SUM($B$3:$B$4)+SUM($B$3:$B$4)"


def test_a_yes_is_written_as_the_word_and_a_no_leaves_the_cell_empty(book: Book) -> None:
    page = sheet(book)
    table: Table[Bag] = Table("bags", "Glaze")
    table.input("opened", "Opened", "text", lambda bag: bag.count is None, choices=("yes",))
    table.write(page, BAGS)
    assert [page.sheet["B3"].value, page.sheet["B4"].value] == [None, "yes"]


def test_a_table_in_which_nobody_types_is_known_by_what_is_read_of_it() -> None:
    table: Table[Bag] = Table("bags", "Glaze")
    table.fixed("name", "Name", "label")
    table.fixed("price", "Price", "label money", read=True)
    table.live("=cost", "Cost", "money", "[price]", cost)
    assert table.keys_typed == ("price",)
    assert table.keys_live == frozenset({"=cost"})


def test_a_declaration_says_what_is_read_and_what_people_type() -> None:
    table = bags()
    assert (table.keys_read, table.keys_typed) == (("name", "count"), ("count",))
    assert [table[key].holds for key in ("name", "price", "count")] == ["text", "money", "count"]


def test_a_key_that_stands_twice_is_a_mistake() -> None:
    table = bags()
    with pytest.raises(ValueError, match="the column count twice"):
        table.input("count", "Again", "whole")


def test_every_table_that_is_read_has_a_section_of_its_own_and_columns_to_fill_in() -> None:
    assert len(declared()) == len(READ)
    assert [section for section, table in declared().items() if not table.keys_typed] == []


def test_a_formula_may_name_the_record_and_the_part_that_it_is_about(book: Book) -> None:
    page = sheet(book)
    bottles: Table[Bag] = Table("bottles", "Glaze", record=lambda bag: bag.name.partition(" ")[0])
    bottles.fixed("price", "Price", "label money")
    parts: Table[Bag] = Table("shelves", "Glaze")
    parts.input("count", "Bags", "whole")
    bottles.write(page, BAGS[:1])
    for part in ("1", "2"):
        parts.write(page, BAGS[:1], part=part)
    other = sheet(book, "Sum")
    other.put(1, 2, Figure("=[bottles.price@tin]*SUM([shelves.count@2:])", 25), "result money")
    other.put(2, 2, Figure("=[bottles.price@zinc]", 0), "result money")
    with pytest.raises(UnknownReferenceError, match=r"\[bottles.price@zinc\]"):
        book.finish()
    assert other.sheet["B1"].value == "='Glaze'!$B$3*SUM('Glaze'!$B$9:$B$9)"


def test_bare_tables_stand_beside_each_other_without_keys_and_marks(book: Book) -> None:
    page, ends = sheet(book), []
    for part, left in (("1", 3), ("2", 5)):
        page.row = 1
        table: Table[Bag] = Table("beside", "Glaze", bare=True)
        table.fixed("price", "Price", "label money", name="prices_{part}")
        table.live("place", "Place", "whole", "[#]*[price]", lambda _bag: 1, alarm="[place]>3")
        ends.append(table.write(page, BAGS, part=part, left=left).body)
    book.finish()
    assert [[cell.value for cell in row] for row in page.sheet["A1:F2"]] == [
        [None, None, 12.5, "=1*C1", 12.5, "=1*E1"],
        [None, None, 8, "=2*C2", 8, "=2*E2"],
    ]
    assert (ends, page.row) == (["C1:D2", "E1:F2"], 3)
    assert [str(cells.sqref) for cells in page.sheet.conditional_formatting] == ["D1:D2", "F1:F2"]
    names = {name: str(place.attr_text) for name, place in book.workbook.defined_names.items()}
    assert names == {
        "sheet_glaze": "'Glaze'!$A$1",
        "prices_1": "'Glaze'!$C$1:$C$2",
        "prices_2": "'Glaze'!$E$1:$E$2",
    }


def test_fitted_rows_are_as_tall_as_their_texts_need(book: Book) -> None:
    page = sheet(book)
    table: Table[str] = Table("notes", "Glaze", fitted=True)
    table.fixed("note", "Note", "label wrapped", lambda note: note)
    table.write(page, ("short", "much longer than its column is wide"))
    heights = [page.sheet.row_dimensions[row].height for row in (3, 4)]
    assert heights[0] < heights[1]


def test_a_value_may_be_a_path_of_attributes_and_a_style_may_follow_the_row(book: Book) -> None:
    page = sheet(book)
    table: Table[tuple[str, Bag]] = Table("paths", "Glaze")
    table.fixed("size", "Size", "label", "__class__.__name__")
    table.live("price", "Price", lambda row: f"worked {row[0]}", "1+1", lambda _row: 2)
    table.write(page, [("whole", BAGS[0])])
    assert (page.sheet["B3"].value, page.sheet["C3"].style) == ("tuple", "salebook worked whole")


def test_the_cell_of_a_line_that_stands_alone_can_be_named_in_formulas(book: Book) -> None:
    page = sheet(book)
    assert put_line(page, "Today", 3, "input whole", column=4) == "$D$1"
    assert put_line(page, "Hall", 4, "input money", name="hall", note=("once", "note")) == "$C$2"
    assert [[cell.value for cell in row] for row in page.sheet["A1:D2"]] == [
        [None, "Today", None, 3],
        [None, "Hall", 4, "once"],
    ]
    assert set(book.workbook.defined_names) == {"sheet_glaze", "hall"}


def test_rows_without_a_name_of_their_own_are_found_by_their_place(book: Book) -> None:
    plain: Table[Bag] = Table("bags", "Glaze")
    plain.fixed("price", "Price", "label money")
    plain.write(sheet(book), BAGS)
    uses: Table[Bag] = Table("uses", "Uses", record=lambda bag: bag.name)
    uses.join("bags", lambda bag: str(BAGS.index(bag) + 1))
    uses.live("=price", "Price", "money", "[bags.price]", lambda _bag: 0)
    page = sheet(book, "Uses")
    uses.write(page, BAGS)
    like: Table[Bag] = Table("like", "Uses")
    like.live("=price", "Price", "money", "[bags.price]", lambda _bag: 0)
    like.write(page, BAGS)
    book.finish()
    found = [page.sheet[at].value for at in ("B3", "B4", "B7", "B8")]
    assert found == ["='Glaze'!$B$3", "='Glaze'!$B$4"] * 2


def test_a_row_of_sums_looks_like_one_and_carries_no_mark(book: Book) -> None:
    page = sheet(book)
    table: Table[Bag] = Table("bags", "Glaze")
    table.fixed("name", "Name", "label")
    table.live("=price", "Price", "money", "1+1", lambda bag: bag.price, total=Sum())
    table.live("=aside", "Aside", "worked whole", "1+1", lambda _bag: 2, total=Sum())
    table.live("=least", "Least", "money", "1+1", lambda _bag: 2, total=Sum(formula="1", style="note"))
    table.gap()
    table.total("All")
    table.write(page, BAGS)
    book.finish()
    assert [cell.value for cell in page.sheet[5]][:5] == [None, "All", "=SUM(C$3:C$4)", "=SUM(D$3:D$4)", "=1"]
    looks = [page.sheet.cell(5, column).style for column in (2, 3, 4, 5, 6)]
    names = ("total", "total money", "worked whole", "note")
    assert looks == [*(f"salebook {name}" for name in names), "Normal"]


def test_rows_of_one_part_stand_together_and_a_record_elsewhere_sees_its_own(book: Book) -> None:
    firings = (("biscuit", 100), ("biscuit", 60), ("glaze", 150))
    steps: Table[tuple[str, int]] = Table(
        "steps", "Glaze", part=lambda step: step[0], mark=lambda step: step[0]
    )
    steps.fixed("rate", "Rate", "label", lambda step: step[1], name="rates_{part}")
    steps.live("=n", "Step", "whole", "[#]", lambda _step: 1, name="all_steps")
    steps.live("=more", "To the next", "whole", "[rate>]-[rate]", lambda _step: 0, well="[more]>[kiln.most]")
    rates: Table[str] = Table("rates", "Rates", record=str)
    rates.live("top", "Top", "whole", "MAX([steps.rate:])", lambda _name: 150)
    steps.write(sheet(book), firings)
    rates.write(sheet(book, "Rates"), ["glaze", "biscuit"])
    book.references.places["kiln", "", "most"] = "'Rates'!$B$3"
    book.finish()
    page, other = (book.workbook[title] for title in ("Glaze", "Rates"))
    assert [page[at].value for at in ("A3", "A5", "C5", "D3")] == ["biscuit", "glaze", "=3", "=B4-B3"]
    assert [other[at].value for at in ("B3", "B4")] == [
        "=MAX('Glaze'!$B$5:$B$5)",
        "=MAX('Glaze'!$B$3:$B$4)",
    ]
    names = {name: str(place.attr_text) for name, place in book.workbook.defined_names.items()}
    assert names == {
        "sheet_glaze": "'Glaze'!$A$1",
        "sheet_rates": "'Rates'!$A$1",
        "rates_biscuit": "'Glaze'!$B$3:$B$4",
        "rates_glaze": "'Glaze'!$B$5:$B$5",
        "all_steps": "'Glaze'!$C$3:$C$5",
    }
    marks = [rule.formula for cells in page.conditional_formatting for rule in cells.rules]
    assert marks == [["$D3>'Rates'!$B$3"]]


def test_columns_beside_the_printed_page_leave_those_between_bare(book: Book) -> None:
    table: Table[Bag] = Table("bags", "Glaze")
    table.fixed("name", "Name", "label")
    table.skip_to(5)
    table.live("=cost", "Cost", "worked money", "2*3", lambda _bag: 6)
    page = sheet(book)
    table.write(page, BAGS)
    page.print_so_far()
    assert [page.sheet[at].value for at in ("E1", "E2", "E3")] == ["=cost", "Cost", "=2*3"]
    assert [page.sheet.cell(row, 3).has_style for row in (1, 2, 3)] == [False, False, False]
    assert page.sheet.print_area == "'Glaze'!$B$1:$I$4"


def test_a_formula_may_name_the_cells_above_and_below_its_own_and_the_sum(book: Book) -> None:
    page = sheet(book, "It's here")
    table: Table[Bag] = Table("runs", "It's here")
    table.fixed("price", "Price", "label money", name="run_prices", total=Sum("all_runs"))
    table.live("=so_far", "So far", "money", "[so_far-]+[price]", lambda _bag: 1)
    table.live("=share", "Share", "percent", "[price]/[price+]", lambda _bag: 1)
    table.total("All")
    table.write(page, BAGS)
    other = sheet(book, "There")
    other.put(1, 2, Figure("=[run_prices@2]+[runs.price+]", 1), "result money")
    book.finish()
    assert [[cell.value for cell in row] for row in page.sheet["C3:D4"]] == [
        ["=C2+B3", "=B3/B$5"],
        ["=C3+B4", "=B4/B$5"],
    ]
    assert other.sheet["B1"].value == "='It''s here'!$B$4+'It''s here'!$B$5"


@pytest.mark.parametrize(
    ("style", "holds"),
    [
        *(("", "text"), ("text", "text"), ("wrapped", "text"), ("verbatim", "text"), ("money", "money")),
        *(("whole", "count"), ("date", "day"), ("day", "day"), ("clock", "clock"), ("time", "clock")),
        *(("percent", "number"), ("tenths", "number")),
    ],
)
def test_what_a_column_holds_follows_from_how_it_is_shown(style: str, holds: str) -> None:
    table: Table[Bag] = Table("bags", "Glaze")
    table.input("x", "X", style)
    table.live("=y", "Y", lambda _bag: f"result {style}", "1")
    table.input("word", "Word", style, choices=("yes", "no"))
    table.input("yes", "Yes", style, choices=("yes",))
    found = [table[key].holds for key in ("x", "=y", "word", "yes")]
    assert found == [holds, "number", "choice", "yes"]


@pytest.mark.parametrize(
    ("style", "said"),
    [
        ("money", "An amount, not below 0, is expected here"),
        ("whole", "A whole number, not below 0, is expected here"),
        ("tenths", "A number, not below 0, is expected here"),
        ("date", None),
        ("text", None),
    ],
)
def test_a_number_that_is_none_is_said_in_the_words_of_its_column(
    book: Book, style: str, said: str | None
) -> None:
    page = sheet(book)
    table: Table[Bag] = Table("bags", "Glaze")
    table.input("count", "Bags", style)
    table.input("price", "Price", "money", says="What does it cost?")
    table.write(page, (), spare=1)
    rules = {str(rule.sqref): rule.error for rule in page.sheet.data_validations.dataValidation}
    assert (rules.get("B3"), rules["C3"]) == (said, "What does it cost?")


def test_a_row_of_several_records_shows_the_first_that_has_what_is_asked(book: Book) -> None:
    page = sheet(book)
    table: Table[tuple[object, Bag, Bag]] = Table("bags", "Glaze")
    table.fixed("count", "Bags", "label")
    table.live("=price", "Price", "money", "1+1")
    table.write(page, [(object(), BAGS[0], BAGS[1])], spare=1)
    assert (page.sheet["B3"].value, book.stored["Glaze"]) == (2, {"C3": Decimal("12.50"), "C4": ""})


def test_a_table_without_rows_guards_no_cells(book: Book) -> None:
    page = sheet(book)
    bags_without_empty: Table[Bag] = Table("bags", "Glaze")
    bags_without_empty.input("count", "Bags", "whole")
    bags_without_empty.write(page, [])
    assert page.sheet.data_validations.dataValidation == []
