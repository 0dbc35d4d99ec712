import pytest

from salebook.base.errors import FaultyPlanError, WrongUseError
from salebook.prints.labels.sheet import Place, sheet_of, sheet_remarks
from tests.support.print_sales import labels_table, sale


def test_places_go_row_by_row() -> None:
    sheet = sheet_of(sale().plan.labels)
    assert len(sheet.places) == 21
    assert sheet.places[0] == Place(x_mm=7.2, y_mm=15.1)
    assert sheet.places[4].x_mm == pytest.approx(73.2)
    assert sheet.places[4].y_mm == pytest.approx(53.2)


def test_a_nudge_moves_every_label_right_and_down() -> None:
    labels = sale().plan.labels
    nudged = zip(sheet_of(labels).places, sheet_of(labels, nudge=(0.5, -1)).places, strict=True)
    moves = {
        (round(after.x_mm - before.x_mm, 9), round(after.y_mm - before.y_mm, 9)) for before, after in nudged
    }
    assert moves == {(0.5, -1.0)}


@pytest.mark.parametrize("nudge", [(-8.0, 0.0), (8.0, 0.0), (0.0, -16.0), (0.0, 16.0)])
def test_a_nudge_off_the_page_is_refused(nudge: tuple[float, float]) -> None:
    labels = sale().plan.labels
    with pytest.raises(WrongUseError, match="off the page"):
        sheet_of(labels, nudge=nudge)


@pytest.mark.parametrize(
    ("labels", "place", "expected"),
    [
        (labels_table(width=14.9), "labels → width", "at least 15 mm"),
        (labels_table(height=9.9), "labels → height", "at least 10 mm"),
    ],
)
def test_labels_too_small_to_read_are_named(labels: str, place: str, expected: str) -> None:
    plan = sale(labels=labels).plan
    with pytest.raises(FaultyPlanError) as raised:
        sheet_of(plan.labels)
    assert [(fault.place, fault.expected) for fault in raised.value.faults] == [(place, expected)]


@pytest.mark.parametrize(
    ("labels", "key"),
    [
        (labels_table(across=60), "across"),
        (labels_table(down=30), "down"),
        (labels_table(columns=4), "across"),
        (labels_table(rows=8), "down"),
        (labels_table(page="Letter", top=15), "down"),
        (labels_table(columns=1, left=180), "across"),
    ],
)
def test_labels_that_overlap_or_run_off_the_page_never_come_to_print(labels: str, key: str) -> None:
    with pytest.raises(FaultyPlanError, match=f"labels → {key}"):
        sale(labels=labels)


def test_all_faults_of_a_sheet_come_at_once() -> None:
    plan = sale(labels=labels_table(width=5, height=5)).plan
    with pytest.raises(FaultyPlanError) as raised:
        sheet_of(plan.labels)
    assert len(raised.value.faults) == 2


def test_labels_of_the_smallest_size_pass() -> None:
    labels = labels_table(width=15, height=10, across=15, down=10, columns=12, rows=25)
    assert len(sheet_of(sale(labels=labels).plan.labels).places) == 300


@pytest.mark.parametrize(("left", "warned"), [(4.9, True), (5.0, False)])
def test_a_label_in_the_printers_margin_is_warned_about(left: float, warned: bool) -> None:
    sheet = sheet_of(sale(labels=labels_table(left=left, columns=1)).plan.labels)
    assert any("paper's edge" in remark for remark in sheet_remarks(sheet)) == warned


@pytest.mark.parametrize(
    ("width", "height", "has_codes"), [(25, 20, True), (24.9, 20, False), (25, 19.9, False)]
)
def test_a_label_without_room_for_a_code_says_so(width: float, height: float, has_codes: bool) -> None:
    sheet = sheet_of(sale(labels=labels_table(width=width, height=height)).plan.labels)
    assert sheet.has_codes == has_codes
    assert any("number alone" in remark for remark in sheet_remarks(sheet)) != has_codes
