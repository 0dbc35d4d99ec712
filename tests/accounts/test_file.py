"""lines.csv, as it is written and as spreadsheet programs save it."""

import csv
import io
import re
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from salebook.accounts.file import ListFile, RowFault, list_bytes, read_list
from salebook.accounts.fingerprint import fingerprint
from salebook.accounts.lines import lines_of
from salebook.accounts.row import HEADING, Row
from salebook.base.errors import FileError
from tests.support.engines import converted_by_gnumeric
from tests.support.finished_sale import accounts
from tests.support.programs import needs_gnumeric, needs_libreoffice
from tests.support.proof import converted_by_libreoffice

ROWS = lines_of(accounts())


def read(content: bytes, *, day_first: bool = True) -> ListFile:
    return read_list(content, file="lines.csv", day_first=day_first)


def text_of(*rows: Row) -> str:
    return list_bytes(rows).decode("utf-8-sig")


def test_a_list_is_written_by_rfc_4180_with_a_mark_that_it_is_utf_8() -> None:
    content = list_bytes([Row(part="cost", what='tissue, "fine"\nand string', amount="-12.50")])
    assert content == (
        b"\xef\xbb\xbf" + ",".join(HEADING).encode() + b"\r\n"
        b'cost,,,,,,"tissue, ""fine""\nand string",,,-12.50,,,,,,\r\n'
    )


@pytest.mark.parametrize("text", ["=1+1", "+44", "-2", "@home", "＝1"])
def test_no_text_begins_like_a_formula(text: str) -> None:
    row = Row(part="line", what=text, amount="-1.00")
    assert next(csv.reader(io.StringIO(text_of(row).splitlines()[1])))[6] == f"'{text}"
    assert read(list_bytes([row])).rows[2] == row


TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8)


@given(st.lists(st.builds(Row, part=st.just("line"), what=TEXT, way=TEXT, group=TEXT), max_size=5))
def test_what_was_written_has_the_same_fingerprint_when_it_is_read(rows: list[Row]) -> None:
    once = read(list_bytes(rows)).rows.values()
    assert fingerprint(read(list_bytes(once)).rows.values()) == fingerprint(once)


def test_the_list_of_accounts_is_read_as_it_was_written() -> None:
    found = read(list_bytes(ROWS))
    assert tuple(found.rows.values()) == ROWS
    assert list(found.rows) == list(range(2, 2 + len(ROWS)))
    assert (found.faults, found.digits) == ((), 2)


def with_semicolons(text: str) -> str:
    table = io.StringIO()
    csv.writer(table, delimiter=";").writerows(csv.reader(io.StringIO(text, newline="")))
    return table.getvalue()


@pytest.mark.parametrize(
    "saved",
    [
        pytest.param(lambda text: text.encode(), id="without the mark"),
        pytest.param(lambda text: text.encode("utf-16"), id="in UTF-16"),
        pytest.param(lambda text: text.replace("\r\n", "\n").encode(), id="with short line ends"),
        pytest.param(lambda text: text.replace("\r\n", "\r").encode(), id="with old line ends"),
        pytest.param(lambda text: with_semicolons(text).encode(), id="with semicolons"),
        pytest.param(lambda text: with_semicolons(text).replace(";", "\t").encode(), id="with tabs"),
        pytest.param(lambda text: re.sub(r"\.(\d)0(?=,)", r".\1", text).encode(), id="without last zeros"),
        pytest.param(lambda text: text.replace(".00,", ",").encode(), id="without decimals"),
        pytest.param(
            lambda text: re.sub(r"(\d)\.(\d\d)(?=;)", r"\1,\2", with_semicolons(text)).encode(),
            id="with decimal commas",
        ),
        pytest.param(
            lambda text: re.sub(r"2027-06-(\d\d)", r"\1/06/2027", text).encode(), id="with the day first"
        ),
        pytest.param(
            lambda text: re.sub(r"2027-06-(\d\d)", r"6/\1/27", text).encode(), id="with the month first"
        ),
        pytest.param(lambda text: (text + ",,,,\r\n\r\n").encode(), id="with empty rows below"),
        pytest.param(lambda text: re.sub(",+\r\n", "\r\n", text).encode(), id="without empty cells"),
    ],
)
def test_what_a_spreadsheet_program_makes_of_it_is_undone(saved: Callable[[str], bytes]) -> None:
    text = text_of(*ROWS)
    assert saved(text) != list_bytes(ROWS)
    found = read(saved(text))
    assert tuple(found.rows.values()) == ROWS
    assert found.faults == ()


def by_gnumeric(content: bytes) -> bytes:
    return converted_by_gnumeric(content, kinds=("csv", "csv"))


def by_libreoffice(locale: str) -> Callable[[bytes], bytes]:
    def saved(content: bytes) -> bytes:
        return converted_by_libreoffice({"lines": content}, kinds=("csv", "csv"), locale=locale)["lines"]

    return saved


@pytest.mark.slow
@pytest.mark.parametrize(
    "saved",
    [
        pytest.param(by_gnumeric, id="Gnumeric", marks=needs_gnumeric),
        pytest.param(by_libreoffice("en-US"), id="LibreOffice, en-US", marks=needs_libreoffice),
        pytest.param(by_libreoffice("de-DE"), id="LibreOffice, de-DE", marks=needs_libreoffice),
    ],
)
def test_saved_by_a_spreadsheet_program_it_has_the_same_fingerprint(saved: Callable[[bytes], bytes]) -> None:
    written = list_bytes(ROWS)
    found = saved(written)
    assert found != written
    assert fingerprint(read(found).rows.values()) == fingerprint(ROWS)


def fault(row: int, key: str, found: str, expected: str) -> RowFault:
    return RowFault(row=row, key=key, found=found, expected=expected)


def test_values_that_cannot_be_read_stay_and_are_named_by_row_and_column() -> None:
    row = Row(part="line", line="1.5", day="2027-02-30", amount="much", to_group="12.505.1")
    found = read(list_bytes([Row(part="sale"), row]))
    assert found.rows[3] == row
    assert found.faults == (
        fault(3, "line", "1.5", "whole number"),
        fault(3, "day", "2027-02-30", "day"),
        fault(3, "amount", "much", "amount"),
        fault(3, "to group", "12.505.1", "amount"),
    )


def test_more_cells_than_the_heading_has_are_named() -> None:
    found = read(f"{text_of()}sale{',' * 16}here,too\r\n".encode())
    assert found.faults == (fault(2, "", "here too", "nothing"),)


def test_the_currency_says_how_many_digits_an_amount_has() -> None:
    def amount(found: str, parts: str) -> str:
        rows = [Row(part="line", amount=found), Row(part="currency", parts=parts)]
        return read(list_bytes(rows)).rows[2].amount

    assert [amount("1.234", "1"), amount("1.234", "1000")] == ["1234", "1.234"]
    assert [amount("1.5", "10000"), amount("1.5", "100000")] == ["1.5000", "1.50"]


def test_a_count_is_a_whole_number() -> None:
    found = read(list_bytes([Row(part="line", count="2.00"), Row(part="line", count="2.5")]))
    assert (found.rows[2].count, found.faults) == ("2", (fault(3, "count", "2.5", "whole number"),))


@pytest.mark.parametrize("line_end", ["\r\n", "\n", "\r"])
def test_the_first_line_says_what_separates_cells(line_end: str) -> None:
    row = Row(part="line", what=";" * 50)
    found = read(text_of(row).replace("\r\n", line_end).encode())
    assert list(found.rows.values()) == [row]


def test_of_a_long_first_row_the_beginning_is_said() -> None:
    with pytest.raises(FileError, match=f"found {'x' * 200}, expected part"):
        read(b"x" * 300)


def test_days_that_read_two_ways_are_read_as_asked_and_said() -> None:
    row = Row(part="line", day="05/06/2027")
    assert read(list_bytes([row])).rows[2].day == "2027-06-05"
    assert read(list_bytes([row]), day_first=False).rows[2].day == "2027-05-06"
    assert read(list_bytes([row])).day_first is None


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "row 1: found –, expected part, till"),
        (b"# salebook", "row 1: found # salebook, expected part, till"),
        (",".join(HEADING[::-1]).encode(), "row 1: found arrived, parts"),
        (b"\xff\xfe\x00", "no table of text"),
        (b"part\xe9", "row 1: found parté, expected part"),
        (b"part\x81", "no table of text"),
        (b"PK\x03\x04\x14\x00\xb8", "no table of text"),
    ],
)
def test_what_is_no_list_is_refused(content: bytes, says: str) -> None:
    with pytest.raises(FileError, match=f"^lines.csv: .*{re.escape(says)}"):
        read(content)


def test_a_list_in_the_usual_code_page_of_older_programs_is_read() -> None:
    row = Row(part="line", what="Café – £ cup", group="Börse")
    assert read(list_bytes([row]).decode("utf-8-sig").encode("cp1252")).rows[2] == row


def test_a_cell_of_any_length_is_read() -> None:
    row = Row(part="line", what="mug" * 100_000, parts="9" * 5000)
    found = read(list_bytes([row]))
    assert found.rows[2] == row
    assert [fault.key for fault in found.faults] == ["parts"]


def test_a_file_beyond_all_measure_is_refused() -> None:
    with pytest.raises(FileError, match="no table of text"):
        read(b" " * 20_000_001)
