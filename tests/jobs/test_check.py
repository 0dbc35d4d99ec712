"""What a filled-in workbook is told by `check`, beside its questions."""

from datetime import date
from decimal import Decimal
from pathlib import Path

from salebook.book.read import read_book
from salebook.book.write import book_bytes
from salebook.event.entries import Claim, DayCount, GroupPayment, TableCount
from salebook.event.event import Event
from salebook.jobs.check import check_file, check_lines
from tests.support.small_event import FIRST, FIRST_DAY, after, line, sale


def test_the_checks_that_start_here_shows_are_told_by_the_same_words(tmp_path: Path) -> None:
    event = after(
        line(1, piece=FIRST),
        cash=(DayCount(day=FIRST_DAY, counts={Decimal(10): 1}),),
        table_counts=(TableCount(day=FIRST_DAY, code="DOT", counted=2),),
        payments=(GroupPayment(day=FIRST_DAY, group="Tide ~ mill", amount=Decimal(99)),),
    )
    told = warnings_of(tmp_path, event)
    assert 3 == sum(
        one.startswith(
            (
                "A count differs: count again",
                "A count differs: look for a missed line",
                "A group was paid more than it is due so far",
            )
        )
        for one in told
    )


def test_a_day_that_is_none_of_the_sales_is_told_with_its_row(tmp_path: Path) -> None:
    event = after(
        line(1, piece=FIRST, day=FIRST_DAY),
        line(2, "donation", amount="5", day=date(2027, 6, 26)),
        line(3, "donation", amount="5"),
    )
    told = [one for one in warnings_of(tmp_path, event) if "is no day of the sale" in one]
    assert [one.partition(": ")[2] for one in told] == ["26 June 2027 is no day of the sale"]
    assert told[0].startswith("Takings, row ")


def test_a_way_of_handing_over_that_is_not_of_the_list_is_asked_about(tmp_path: Path) -> None:
    event = after(
        claims=(Claim(claim="1", how="by bike"), Claim(claim="2", how="Sent on"), Claim(claim="3")),
    )
    asked = check_file(put(tmp_path, event)).questions
    says = "is it for collecting or for posting? Until one of the two stands here, it waits to be collected"
    assert [says] == [question.says for question in asked]


def test_plain_words_for_handing_over_are_understood(tmp_path: Path) -> None:
    said = {
        "post": "posting",
        "Posted.": "posting",
        "send": "posting",
        "sent on": "posting",
        "Collected": "collecting",
        "fetched": "collecting",
        "pick  up": "collecting",
    }
    claims = (Claim(claim=str(n), name="Wren Alder", how=typed) for n, typed in enumerate(said, start=1))
    book = put(tmp_path, after(claims=tuple(claims)))
    assert list(said.values()) == [claim.how for claim in read_book(book).entries.claims]
    assert [one for one in check_file(book).questions if "collecting or for posting" in one.says] == []


def put(folder: Path, event: Event) -> Path:
    path = folder / "sale.xlsx"
    path.write_bytes(book_bytes(sale(), event))
    return path


def warnings_of(folder: Path, event: Event) -> tuple[str, ...]:
    return check_file(put(folder, event)).warnings


def test_what_is_assumed_takes_one_line_once_lines_are_typed(tmp_path: Path) -> None:
    before = check_file(put(tmp_path, after()))
    sold = check_file(put(tmp_path, after(line(1, piece=FIRST))))
    assert len(sold.assumed) > 3
    assert [told for told in check_lines(sold) if "  assumed" in told] == [
        f"  assumed, as the plan does not say: {len(sold.assumed)}; “salebook price {sold.file}” lists them"
    ]
    assert len([told for told in check_lines(before) if "  assumed: " in told]) == len(sold.assumed)
