"""Whole sales by chance: a plan, what was filled in, the workbook, and what another program makes of it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from salebook.book.write import book_bytes
from salebook.event.entries import Entries
from salebook.event.report import Report, report_of
from salebook.jobs.report_json import report_json
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning, reckon
from tests.support.books import few_free_lines
from tests.support.cells import Place, Value
from tests.support.dependence import first_causes
from tests.support.entry_strategies import entries
from tests.support.plan_strategies import plan_of, plan_tables
from tests.support.proof import differing_cells, same
from tests.support.references import area
from tests.support.rules import Opened
from tests.support.strategies import Tables
from tests.support.toml_text import toml_text

MOST_SHOWN = 12


@dataclass(frozen=True, kw_only=True)
class Sale:
    """One sale by chance."""

    tables: Tables
    entries: Entries

    @cached_property
    def plan(self) -> Plan:
        """The plan as salebook reads it."""
        return plan_of(self.tables)

    @cached_property
    def reckoning(self) -> Reckoning:
        """All that is worked out from the plan."""
        return reckon(self.plan)

    @cached_property
    def report(self) -> Report:
        """The accounts of what was filled in."""
        return report_of(self.reckoning, self.entries)

    @cached_property
    def book(self) -> bytes:
        """The workbook, with a few lines free."""
        with few_free_lines(fewest=4):
            return book_bytes(self.reckoning, self.report.event)

    def __str__(self) -> str:
        """Write the plan and what was filled in, to be tried again."""
        return f"{toml_text(self.tables)}\n{self.entries}"


def sales_by_chance(count: int, *, lot: int) -> list[Sale]:
    """Draw sales, the same ones each time for the same lot."""
    found: list[Sale] = []

    @seed(lot)
    @settings(
        max_examples=count,
        database=None,
        derandomize=False,  # which would leave the seed aside
        deadline=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(plan_tables(), st.data())
    def draw(tables: Tables, data: st.DataObject) -> None:
        filled = data.draw(entries(plan_of(tables), most_lines=10, unread=True))
        found.append(Sale(tables=tables, entries=filled))

    draw()
    return found


def wrong_cells(book: bytes, recalculated: Mapping[Place, Value]) -> str:
    """Say which results differ, the ones that no other difference explains."""
    wrong = differing_cells(book, recalculated)
    causes = first_causes(wrong, book) if wrong else set()
    lines = [line for place, line in wrong.items() if place in causes]
    return "\n".join([*lines[:MOST_SHOWN], f"{len(wrong)} cells differ"] if wrong else [])


def wrong_figures(report: Report, book: bytes, recalculated: Mapping[Place, Value]) -> str:
    """Say which figures of the report are not what the recalculated sheets show."""
    said = []
    for name, figures in _figures(report).items():
        shown = _shown(book, name, recalculated)
        if len(shown) != len(figures) or not all(map(same, figures, shown)):
            said.append(f"{name}: the report says {figures}, the sheet shows {shown}")
    return "\n".join(said)


def _figures(report: Report) -> dict[str, list[float]]:
    """Return what the report answers, by the name of the cells that show the same."""
    answer = report_json(report)
    one = {
        "takings_total": answer["takings"]["total"],
        "fees_total": answer["fees"],
        "costs_taken_off": answer["costs_met_by_sale"],
        "to_givers_total": answer["to_givers"],
        "pool": answer["pool"],
        "raised": answer["target"]["reached"],
        "share_of_target": answer["target"]["share"],
    }
    many = {
        "group_shares": [group["share"] for group in answer["share_out"]],
        "group_so_far": [group["total"] for group in answer["share_out"]],
    }
    return {name: [float(value)] for name, value in one.items()} | {
        name: [float(value) for value in values] for name, values in many.items()
    }


def _shown(book: bytes, name: str, values: Mapping[Place, Value]) -> list[Value]:
    cells = area(Opened(book).names[name], sheet="")
    assert cells is not None, f"{name} is no area"
    return [values.get(place, "") for place in cells.places()]


def shortest(said: Sequence[tuple[str, Sale]]) -> str:
    """Return what is wrong with the sale that takes the fewest words to tell; "" where nothing is."""
    return min((f"{text}\n\n{sale}" for text, sale in said if text), key=len, default="")
