"""The part of the sheet Making that shows the chance of enough of a ware whose losses were counted, live."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from itertools import accumulate
from math import exp, lgamma
from operator import mul
from typing import Final

from salebook.base.stages import chances_by_stage
from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.page import Page
from salebook.book.sheets.making.earlier_counts import STAGES, Belief
from salebook.book.sheets.staleness_check import Input, put_staleness_check
from salebook.book.table import Table
from salebook.making.losses import Run
from salebook.plan.model import Ware

ROWS_AFTER: Final = 8
"""Numbers shown beyond the chosen one, so that the plan can be changed some way before the table runs out."""
MOST_ROWS: Final = 150
"""Nobody reads a longer table: its numbers are plain ones, and a mark says when they are old."""


@dataclass(frozen=True, kw_only=True)
class Ways:
    """In how many ways, beside what is believed, pieces are lost, kept, and either; all to one scale."""

    lost: tuple[float, ...]
    """Of as many as the table has rows below each row: the other way up than all else."""
    kept: tuple[float, ...]
    either: tuple[float, ...]


@dataclass(frozen=True, kw_only=True)
class Chances:
    """A ware's table of chances: numbers from one less than is wanted to some beyond the chosen one."""

    run: Run

    @property
    def first(self) -> int:
        """The number in the first row."""
        return self.run.ware.wanted - 1 if self.is_live else self.run.started - 1

    @property
    def last(self) -> int:
        """The number in the last row."""
        return self.run.started + (ROWS_AFTER if self.is_live else 0)

    @property
    def is_live(self) -> bool:
        """Whether it is short enough to be worked out in the workbook."""
        return self.run.started - self.run.ware.wanted + ROWS_AFTER < MOST_ROWS

    @cached_property
    def enough(self) -> Mapping[str, Sequence[float]]:
        """For each stage, the chance of enough of those that enter it."""
        return self._chances(self.run.ware.wanted)

    @cached_property
    def one_good(self) -> Mapping[str, Sequence[float]]:
        """The same with one piece more that is surely good."""
        return self._chances(self.run.ware.wanted - 1)

    def _chances(self, wanted: int) -> Mapping[str, Sequence[float]]:
        losses = tuple(self.run.ware.beliefs.values())
        return dict(zip(STAGES, chances_by_stage(losses, wanted, self.last), strict=True))

    @cached_property
    def ways(self) -> Mapping[str, Ways]:
        """What the chances are worked out from, by stage."""
        return {stage: self._ways(Belief(ware=self.run.ware, stage=stage)) for stage in STAGES}

    def _ways(self, belief: Belief) -> Ways:
        lost, kept, scale = float(belief.after.with_it), float(belief.after.without), float(belief.scale)
        first, both, numbers = self.first, lost + kept, range(self.first + 1, self.last + 1)

        def steps(weight: float, numbers: Sequence[int], start: float = 1.0) -> tuple[float, ...]:
            return tuple(accumulate((scale * (weight + n - 1) / n for n in numbers), mul, initial=start))

        none_lost = lgamma(first + kept) - lgamma(kept) - lgamma(first + both) + lgamma(both)
        return Ways(
            lost=steps(lost, range(1, len(numbers) + 1))[::-1],
            kept=steps(kept, numbers, exp(none_lost)),
            either=steps(both, numbers),
        )


@dataclass(frozen=True, kw_only=True)
class Trial:
    """A number of pieces, as a row of its ware's table of chances."""

    table: Chances
    number: int

    @property
    def ware(self) -> Ware:
        """The ware."""
        return self.table.run.ware

    @property
    def row(self) -> int:
        """How many rows stand above."""
        return self.number - self.table.first

    @property
    def beyond(self) -> int:
        """How many rows stand below."""
        return self.table.last - self.number

    def belief(self, key: str, stage: str) -> str:
        """Return what a formula calls a cell about one stage."""
        return f"[beliefs.{key}@{self.ware.code}_{stage}]"


def counted_chances_table(workings: int) -> Table[Trial]:
    """Declare the chance of enough for each number that enters a stage; `workings` is where helpers begin.

    The survivors of a stage are beta-binomial. So the chance of enough before it is a sum over all numbers
    that may survive: the ways to lose the others, times those to keep these, times the chance of enough
    after it; and that by the ways of either.
    """
    table = _numbers()
    headings = (
        _("Enough, if so many are thrown"),
        *(_("if set to dry"), _("if fired to biscuit"), _("if fired to glaze"), _("if out whole")),
    )
    for stage, after, heading in zip(STAGES, (*STAGES[1:], "all"), headings, strict=True):
        name = "chances_{part}" if stage == STAGES[0] else ""
        formula = _weighed(stage, f"[{after}^]")
        table.live(stage, heading, "percent", formula, partial(_enough, stage), name=name)
    table.skip_to(workings)
    table.live(
        *("all", _("Enough"), "worked whole", "IF([number]<[starts.wanted],0,1)"),
        lambda row: int(row.number >= row.ware.wanted),
    )
    table.live("beyond", _("Rows below"), "worked whole", lambda row: "[beyond>]+1" if row.beyond else "")
    for stage in STAGES:
        _add_ways(table, stage)
    for stage, after in zip(STAGES, (*STAGES[1:], ""), strict=True):
        name = "one_good_{part}" if stage == STAGES[0] else ""
        formula = _weighed(stage, f"[good_{after}^]" if after else "")
        heading = _("One surely good")
        table.live(f"good_{stage}", heading, "worked percent", formula, partial(_one_good, stage), name=name)
    return table


def plain_chances_table(workings: int) -> Table[Trial]:
    """Declare the two rows that stand for a longer table, with plain chances."""
    table = _numbers()
    stage = STAGES[0]
    chance, good = partial(_enough, stage), partial(_one_good, stage)
    table.fixed(stage, _("Enough, if so many are thrown"), "worked percent", chance, name="chances_{part}")
    table.skip_to(workings)
    table.fixed(f"good_{stage}", _("One surely good"), "worked percent", good, name="one_good_{part}")
    return table


def _numbers() -> Table[Trial]:
    table: Table[Trial] = Table("counted_chances", N_("Making"), record=lambda row: str(row.number))
    table.join("starts", lambda row: row.ware.code)
    table.live("number", _("Pieces"), "whole", _number)
    return table


def _number(row: Trial) -> str:
    if row.row:
        return "[number-]+1"
    return "[starts.wanted]-1" if row.table.is_live else ""


def _enough(stage: str, row: Trial) -> float:
    return row.table.enough[stage][row.number]


def _one_good(stage: str, row: Trial) -> float:
    return row.table.one_good[stage][row.number]


def _weighed(stage: str, after: str) -> str:
    ways = ",".join(filter(None, (f"[lost_{stage}~]", f"[kept_{stage}^]", after)))
    return f"SUMPRODUCT({ways})/[either_{stage}]"


def _add_ways(table: Table[Trial], stage: str) -> None:
    """Add in how many ways pieces are lost, kept and either at a stage, each from the cell beside it."""

    def step(before: str, weight: str, number: str, row: Trial) -> str:
        return f"{before}*{row.belief('scale', stage)}*({weight}+{number}-1)/{number}"

    def lost(row: Trial) -> str:
        weight = row.belief("with_it", stage)
        return step(f"[lost_{stage}>]", weight, "[beyond]", row) if row.beyond else ""

    def kept(row: Trial) -> str:
        lose, keep = row.belief("with_it", stage), row.belief("without", stage)
        if row.row:
            return step(f"[kept_{stage}-]", keep, "[number]", row)
        both = f"GAMMALN([number]+{lose}+{keep})-GAMMALN({lose}+{keep})"
        return f"EXP(GAMMALN([number]+{keep})-GAMMALN({keep})-({both}))"

    def either(row: Trial) -> str:
        both = f"{row.belief('with_it', stage)}+{row.belief('without', stage)}"
        return step(f"[either_{stage}-]", both, "[number]", row) if row.row else ""

    for kind, heading, formula in (
        ("lost", _("Ways to lose"), lost),
        ("kept", _("Ways to keep"), kept),
        ("either", _("Ways of either"), either),
    ):
        table.live(f"{kind}_{stage}", heading, "worked number", formula, partial(_ways, stage, kind))


def _ways(stage: str, kind: str, row: Trial) -> float:
    ways: tuple[float, ...] = getattr(row.table.ways[stage], kind)
    return ways[row.row]


def put_counted_chances(page: Page, n: int, run: Run) -> None:
    """Write the table of chances of a ware, the `n`th."""
    code, chances, workings = run.ware.code, Chances(run=run), len(page.widths) + 2
    page.paragraph(Figure(f"=[starts.name@{code}]", run.ware.name), "note")
    if not chances.is_live:
        page.paragraph(
            _("A table of every number would be too long. Start here says when these two are old."), "note"
        )
    table = counted_chances_table(workings) if chances.is_live else plain_chances_table(workings)
    trials = [Trial(table=chances, number=number) for number in range(chances.first, chances.last + 1)]
    placed = table.write(page, trials, part=str(n))
    page.name(f"starting_from_{n}", placed.first, placed.column("number"))
    chosen = f"[number]=[starts.started@{code}]"
    for key in ("number", STAGES[0]):
        page.highlight(placed.cells(key), chosen, placed.scope, fill="DCE9E4", colour="22313F")
    page.row += 1


def put_staleness_check_of_chances(page: Page, runs: Sequence[Run]) -> None:
    """Write the stamp of the numbers to start that no formula can give; nothing where there are none."""
    plain = plain_wares(runs)
    if plain:
        says = _("What numbers to start were worked out from")
        put_staleness_check(page, "stale_starts", says, [line for ware in plain for line in _inputs(ware)])


def plain_wares(runs: Sequence[Run]) -> list[Ware]:
    """Return the wares whose tables of chances would be too long for formulas."""
    return [run.ware for run in runs if run.ware.has_counts and not Chances(run=run).is_live]


def _inputs(ware: Ware) -> list[Input]:
    wanted = _("{code} wanted").format(code=ware.code), f"[starts.wanted@{ware.code}]", ware.wanted
    found: list[Input] = [wanted]
    for stage, belief in ware.beliefs.items():
        at = f"{ware.code}_{stage}"
        lost, kept = _("{code} lost, counted and believed"), _("{code} kept, counted and believed")
        found.append((lost.format(code=ware.code), f"[beliefs.with_it@{at}]", belief.with_it))
        found.append((kept.format(code=ware.code), f"[beliefs.without@{at}]", belief.without))
    return found
