"""Pieces that an earlier sale left, from the plan to the till, the prints and a fresh workbook."""

from collections.abc import Mapping
from decimal import Decimal
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from salebook.book.read import read_book
from salebook.book.reading.piece_numbers import piece_numbers_of
from salebook.book.write import book_bytes, till_book_bytes
from salebook.event.entries import Entries, PieceEntry
from salebook.event.event import Event, reckon_event
from salebook.event.stock import stock_of
from salebook.event.stubs import SaleCodes
from salebook.jobs.join import join_books
from salebook.jobs.renew import renew
from salebook.plan.load import read_plan
from salebook.plan.notes import assumptions
from salebook.pricing.good import Good
from salebook.prints.before.price_list import price_list_html
from salebook.prints.before.shopping import shopping_html
from salebook.prints.labels.choice import chosen
from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.pieces import pieces_for_sale
from salebook.prints.studio.making_list import making_html
from salebook.reckoning import Reckoning, reckon
from tests.support.bent_book import bent, typed
from tests.support.books import few_free_lines
from tests.support.changes import Case, Typed
from tests.support.engines import by_ironcalc
from tests.support.finished_sale import rows
from tests.support.print_sales import made
from tests.support.small_event import FIRST_DAY, PLAN, amounts_of, line, piece_of, sale
from tests.support.sound_plan import GONE, plan_with

LEFT = """
[[carried]]
code = "MAY"
name = "Mug of last year"
numbers = "MAY-2, MAY-004..005"
price = 24
[[carried]]
code = "MAY"
name = "Mug with a flaw"
numbers = "MAY-017"
price = 10
second = true
spoken_for = 1
[[carried]]
code = "JAR"
name = "Jar"
numbers = ["JAR-009"]
price = 40
sells = 0.5
care = "Not for the oven"
"""
DEMAND = "seconds_price = 18\ndemand = [[20, 0.9], [28, 0.5]]"


@cache
def with_left(*, left: str = LEFT, demand: str = DEMAND) -> Reckoning:
    text = PLAN.replace("WANTED", "4").replace("seconds_price = 18", demand)
    return reckon(read_plan(text + left, file="table.toml"))


def after(*lines: Any, **more: Any) -> Event:
    return reckon_event(with_left(), Entries(lines=lines, **more))


def goods(reckoning: Reckoning) -> Mapping[str, Good]:
    return {good.code: good for good in reckoning.advice.goods if good.grade == "carried"}


def test_new_pieces_take_the_numbers_that_are_free() -> None:
    numbers = [piece.number for piece in after().register if piece.code == "MAY"]
    assert numbers[:5] == ["MAY-001", "MAY-003", "MAY-006", "MAY-007", "MAY-008"]
    assert len(numbers) == len(
        [piece for piece in reckon_event(sale(), Entries()).register if piece.code == "MAY"]
    )
    assert "MAY-017" not in numbers


def test_they_follow_what_is_made_and_given_each_kind_for_itself() -> None:
    left = [(piece.number, piece.code, piece.index, piece.planned_grade) for piece in after().register[-5:]]
    assert left == [
        ("MAY-002", "MAY+002", 1, "first"),
        ("MAY-004", "MAY+002", 2, "first"),
        ("MAY-005", "MAY+002", 3, "first"),
        ("MAY-017", "MAY+017", 1, "second"),
        ("JAR-009", "JAR+009", 1, "first"),
    ]


def test_they_cost_nothing_to_make() -> None:
    with_them, without = with_left(), with_left(left="")
    assert with_them.studio == without.studio
    costs = [line for line in with_them.costs.lines if not line.grows]
    assert costs == [line for line in without.costs.lines if not line.grows]


def test_one_brings_its_price_less_fee_and_what_each_piece_sold_costs() -> None:
    good = goods(with_left())["JAR+009"]
    fee = Decimal("0.6") * (Decimal("0.0175") * 40 + Decimal("0.05"))
    assert (good.fee, good.contribution) == (fee, 40 - fee - Decimal(1) / 3)


def test_they_sell_as_is_said_else_as_their_ware_does() -> None:
    shares = {code: good.share for code, good in goods(with_left()).items()}
    assert shares == {"MAY+002": Decimal("0.7"), "MAY+017": Decimal("0.5"), "JAR+009": Decimal("0.5")}
    no_demand = goods(with_left(demand="sells = 0.3", left=LEFT.replace("sells = 0.5", "")))
    assert [good.share for good in no_demand.values()] == [Decimal(n) for n in ("0.3", "0.3", "0.9")]


def test_only_where_no_ware_says_how_many_sell_is_it_told_to_be_assumed() -> None:
    told = [says for says in assumptions(with_left(left=LEFT.replace("sells = 0.5", "")).plan) if "+" in says]
    assert told == ["JAR+009 → Share that sells: 90 % sell at their price."]


def test_they_count_for_the_target_and_keep_their_prices_on_the_ladder() -> None:
    advice, without = with_left().advice, with_left(left="").advice
    assert advice.target.for_sale == without.target.for_sale + 5
    more = sum((good.expected_sold * good.contribution for good in goods(with_left()).values()), Decimal(0))
    for rung, other in zip(advice.ladder, without.ladder, strict=True):
        assert rung.expected_net - other.expected_net == pytest.approx(more)


def test_fewer_need_to_be_made_where_the_number_is_left_to_the_target() -> None:
    def wanted(left: list[Mapping[str, object]]) -> int:
        plan = plan_with((("wares", 0, "wanted"), GONE), (("carried",), left))
        return reckon(plan).plan.wares[0].wanted

    there = {"code": "VASE", "name": "Vase", "numbers": "VASE-101..106", "price": 40, "sells": 1}
    assert wanted([there]) < wanted([])


def test_what_is_used_for_each_piece_sold_of_a_ware_is_used_for_them_too() -> None:
    of_mugs = PLAN.replace('per = "piece sold"', 'per = "piece sold"\nwares = ["MAY"]').replace("WANTED", "4")
    (bags,) = (line for line in reckon(read_plan(of_mugs + LEFT, file="")).costs.lines if line.grows)
    (none_left,) = (line for line in reckon(read_plan(of_mugs, file="")).costs.lines if line.grows)
    assert bags.codes == ("MAY", "MAY+002", "MAY+017")
    assert bags.quantity == none_left.quantity + 4


@pytest.mark.parametrize("typed", ["MAY-004", "may 4", "may4", "MAY.04"])
def test_a_number_is_read_as_it_is_typed(typed: str) -> None:
    event = after(line(1, piece=typed))
    assert (piece_of(event, "MAY-004").status, amounts_of(event)) == ("sold", [Decimal(24)])
    numbers = piece_numbers_of(piece.number for piece in event.register)
    assert numbers.meant(typed) == "MAY-004"


def test_they_are_here_from_the_start_and_their_seconds_at_their_own_price() -> None:
    event = after(studio={})
    assert [piece.status for piece in event.state.pieces[-5:]] == ["here"] * 5
    assert [piece.price for piece in event.state.pieces[-5:]] == [24, 24, 24, 10, 40]


def test_what_became_of_them_is_told_kind_by_kind() -> None:
    marks = {"MAY-005": PieceEntry(mishap="broken")}
    event = after(line(1, piece="MAY-002"), line(2, piece="JAR-009", amount="35"), pieces=marks)
    stock = {
        each.code: (each.sold, each.lost, each.left, each.amount, each.is_counted)
        for each in stock_of(event.state, 2)
    }
    assert stock["MAY+002"] == (1, 1, 1, Decimal(24), True)
    assert stock["JAR+009"] == (1, 0, 0, Decimal(35), True)


def test_a_stretch_of_numbers_to_print_has_those_that_are_left_between_the_new_ones() -> None:
    pieces = pieces_for_sale(with_left())
    assert [piece.number for piece in chosen(pieces, "MAY-3..006, jar-9")] == [
        *("MAY-003", "MAY-006", "MAY-004", "MAY-005", "JAR-009"),
    ]


def test_a_stub_of_theirs_is_of_the_sale() -> None:
    codes = SaleCodes(after().register)
    assert [codes.is_of_the_sale(text) for text in ("JAR-009", "MAY-004", "POT-001")] == [True, True, False]


def test_the_prints_say_what_is_left_and_ask_for_none_of_it_to_be_made() -> None:
    reckoning = with_left()
    listed = "\n".join(rows(made(price_list_html, reckoning)))
    assert "Mug of last year £24.00" in listed
    assert "Mug with a flaw seconds, with a small flaw £10.00" in listed
    assert "Jar Not for the oven £40.00" in listed
    labels = made(labels_html, reckoning, pieces_for_sale(reckoning), only="MAY-017")
    assert ">second<" in labels
    assert "£10.00" in labels
    assert "last year" not in made(making_html, reckoning)
    assert "last year" not in made(shopping_html, reckoning, pieces_for_sale(reckoning))


def put(event: Event, path: Path) -> Path:
    with few_free_lines():
        path.write_bytes(book_bytes(with_left(), event))
    return path


@pytest.mark.slow
def test_a_book_gives_back_the_plan_and_what_was_filled_in_about_them(tmp_path: Path) -> None:
    pieces = {"MAY-004": PieceEntry(reserved_for="7", agreed_price=Decimal(20))}
    event = after(line(1, piece="MAY-017", day=FIRST_DAY), pieces=pieces)
    book = read_book(put(event, tmp_path / "sale.xlsx"))
    assert book.plan == with_left().plan
    assert assumptions(book.plan) == assumptions(with_left().plan)
    assert book.entries.pieces == pieces
    assert [one.piece for one in book.entries.lines] == ["MAY-017"]


@pytest.mark.slow
def test_a_fresh_book_keeps_their_numbers_and_lines_where_one_is_left_less(tmp_path: Path) -> None:
    put(after(line(1, piece="MAY-003"), line(2, piece="MAY-005")), tmp_path / "sale.xlsx")
    fewer = PLAN.replace("WANTED", "4") + LEFT.replace("MAY-2, MAY-004..005", "MAY-5")
    (tmp_path / "plan.toml").write_text(fewer, encoding="utf-8")
    renewed = renew(tmp_path / "sale.xlsx", plan=tmp_path / "plan.toml", today=FIRST_DAY)
    book = read_book(renewed.path)
    assert book.plan is not None
    event = reckon_event(reckon(book.plan), book.entries)
    assert [piece.piece.number for piece in event.state.pieces if piece.sold] == ["MAY-003", "MAY-005"]
    assert [piece.number for piece in event.register[:4]] == ["MAY-001", "MAY-002", "MAY-003", "MAY-004"]


@pytest.mark.slow
def test_a_table_sells_them_and_its_lines_are_put_together(tmp_path: Path) -> None:
    def fill(workbook: Any) -> None:
        typed(workbook, 1, {"piece": "MAY-005", "way": "cash"})
        typed(workbook, 2, {"piece": "jar 9", "way": "cash"})

    till = tmp_path / "till.xlsx"
    till.write_bytes(bent(fill, till_book_bytes(with_left(), after(), till="2")))
    books = [put(after(), tmp_path / "sale.xlsx"), till]
    joined = join_books(books, tmp_path / "all.xlsx", plan=None, force=False, today=FIRST_DAY)
    assert [line.piece for line in read_book(joined.path).entries.lines] == ["MAY-005", "JAR-009"]


@pytest.mark.slow
def test_what_is_changed_of_them_on_plan_is_followed_everywhere() -> None:
    change = LEFT.replace("price = 24", "price = 26.5").replace("sells = 0.5", "sells = 0.25\nspoken_for = 1")
    where = ({"name": "Mug of last year"}, {"name": "Jar"}, {"name": "Jar"})
    values = (("price", Decimal("26.5")), ("sells", Decimal("0.25")), ("spoken_for", Decimal(1)))
    with few_free_lines():
        case = Case(
            before=book_bytes(with_left(), after()),
            changes=[
                Typed(section="carried", key=key, value=value, where=at)
                for at, (key, value) in zip(where, values, strict=True)
            ],
            fresh=book_bytes(with_left(left=change), reckon_event(with_left(left=change), Entries())),
        )
    now = by_ironcalc(case.typed)
    assert case.not_followed(now) == []
    assert case.troubles_with(("expected_net", "pieces_expected"), now) == []
