"""The part of the sheet Making that shows the chance of enough for each number started."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import islice
from operator import attrgetter

from salebook.base.rounding import TOLERANCE
from salebook.base.rounding import ceil as rounded_up
from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import up
from salebook.book.page import Page
from salebook.book.sheets.making.counted_chances import ROWS_AFTER, Chances, put_counted_chances
from salebook.book.sheets.making.earlier_counts import STAGES
from salebook.book.sheets.making.ware_table import ware_table
from salebook.book.table import FIRST_COLUMN, Table, put_line
from salebook.making.losses import OneLoss, Run, chance_of_enough, one_loss

SIDE_BY_SIDE = 5
"""Wares beside each other; more of them start a new block below."""
LISTED_BEFORE = 5
"""Numbers listed before the chosen one of a ware whose losses were counted: its table begins far below."""


def one_loss_table() -> Table[tuple[Run, OneLoss]]:
    """Declare what one piece surely lost, or surely good, does to the chance of enough."""
    table: Table[tuple[Run, OneLoss]] = ware_table("one_loss", lambda row: row[0].ware, source="starts")
    # BINOMDIST fails outside 0 to k.
    started, wanted, good = "[starts.started]-1", "[starts.wanted]", "[shares.good_share]"
    more = f"IF({started}<{wanted},0,1-BINOMDIST({wanted}-1,{started},{good},TRUE))"
    fewer = f"IF({wanted}<=1,1,1-BINOMDIST({wanted}-2,{started},{good},TRUE))"
    table.live("more", _("One surely lost"), "percent", _by_counts("chances", more))
    table.live("chance", _("As planned"), "percent", "[starts.chance]", lambda row: row[0].chance_of_enough)
    table.live("fewer", _("One surely good"), "percent", _by_counts("one_good", fewer))
    return table


def _by_counts(table: str, planned: str) -> Callable[[tuple[Run, OneLoss]], str]:
    """Return the formula for one started fewer, which a table of chances says where losses were counted."""
    counted = f"INDEX({table}_[#],[starts.too_few])"
    return lambda row: counted if row[0].ware.has_counts else planned


@dataclass(frozen=True, kw_only=True)
class Trial:
    """A number of pieces of a ware to start, as a row of its table of chances; `n` is the ware's, from 1."""

    run: Run
    n: int
    started: int
    is_lowest: bool
    counted: Chances | None = None
    """Where the ware's losses were counted: the table that the chances are taken from."""

    @property
    def chance(self) -> float:
        """The chance that enough of so many come through."""
        if self.counted:
            return self.counted.enough[STAGES[0]][self.started]
        return chance_of_enough(self.started, self.run.ware.wanted, float(self.run.good_share))


def chances_table() -> Table[Trial]:
    """Declare the chance of enough for each number of a ware; each ware has a part of its own."""
    table: Table[Trial] = Table("chances", N_("Making"), record=attrgetter("run.ware.code"), bare=True)
    lowest = f"MAX([starts.wanted],{up('([starts.wanted]-1)/[shares.good_share]')})"
    chance = "1-BINOMDIST([starts.wanted]-1,[started],[shares.good_share],TRUE)"
    table.live("started", _("started"), "whole", lambda row: lowest if row.is_lowest else "[started-]+1")
    table.live("chance", _("chance"), "percent", chance, name="chances_{part}")
    return table


def listed_table() -> Table[Trial]:
    """Declare the same for a ware whose losses were counted, taken from the longer table of its chances."""
    table: Table[Trial] = Table("listed_chances", N_("Making"), record=attrgetter("run.ware.code"), bare=True)
    lowest, at = "MAX(starting_from_{n},[starts.started]-{before})", "[started]-starting_from_{n}+1"
    chance = f'IF({at}>ROWS(chances_{{n}}),"",INDEX(chances_{{n}},{at}))'
    table.live(
        *("started", _("started"), "whole"),
        lambda row: lowest.format(n=row.n, before=LISTED_BEFORE) if row.is_lowest else "[started-]+1",
    )
    table.live("chance", _("chance"), "percent", lambda row: chance.format(n=row.n))
    return table


def put_one_loss(page: Page, runs: tuple[Run, ...]) -> None:
    """Write what one piece surely lost, or surely good, does to the chance of enough."""
    page.band(_("What one more or one fewer loss would do to the chance of enough"))
    one_loss_table().write(page, [(run, one_loss(run)) for run in runs])
    page.row += 1


def put_chances(page: Page, runs: tuple[Run, ...]) -> None:
    """Write a small table for each ware: number started, chance of enough; the chosen one is marked."""
    page.band(_("How sure is enough? Each number started and its chance"))
    page.paragraph(
        _("The smallest number whose chance is as high as you want to be sure is taken (marked)."), "note"
    )
    numbered = iter(enumerate(runs, start=1))
    while block := tuple(islice(numbered, SIDE_BY_SIDE)):
        _block(page, block)


def _block(page: Page, block: tuple[tuple[int, Run], ...]) -> None:
    top, ends = page.row, []
    for at, (n, run) in enumerate(block):
        page.row = top
        _chances(page, FIRST_COLUMN + 1 + 2 * at, n, run)
        ends.append(page.row)
    page.row = max(ends) + 1


def first_started(run: Run) -> int:
    """Return the smallest number that could do: below it fewer than the wanted come through on average."""
    if run.ware.wanted == 1:
        return 1
    return max(run.ware.wanted, rounded_up((run.ware.wanted - 1) / run.good_share))


def lowest_tried(run: Run) -> int:
    """Return the number with which a ware's table of chances begins."""
    return Chances(run=run).first if run.ware.has_counts else first_started(run)


def _chances(page: Page, left: int, n: int, run: Run) -> None:
    """Write one ware's table, from the column `left` on."""
    code, trials = run.ware.code, _trials(n, run)
    table = listed_table() if run.ware.has_counts else chances_table()
    page.put_row(
        ((Figure(f"=[starts.code@{code}]", code), "heading text"), (None, "heading")), first_column=left
    )
    page.put_row([(column.heading, "small") for column in table.columns], first_column=left)
    placed = table.write(page, trials, part=str(n), left=left)
    if not run.ware.has_counts:
        page.name(f"starting_from_{n}", placed.first, left)
    chosen = f"[started]=[starts.started@{code}]"
    page.highlight(placed.body, chosen, placed.scope, fill="DCE9E4", colour="22313F")


def _trials(n: int, run: Run) -> list[Trial]:
    counted = Chances(run=run) if run.ware.has_counts else None
    first, last = first_started(run), run.started + ROWS_AFTER
    if counted:
        first, last = max(counted.first, run.started - LISTED_BEFORE), counted.last
    return [
        Trial(run=run, n=n, started=started, is_lowest=started == first, counted=counted)
        for started in range(first, last + 1)
    ]


def put_chances_workings(page: Page, runs: Sequence[Run]) -> None:
    """Write the chances of wares whose losses were counted, and whether every table goes far enough."""
    page.band(_("How many to start: the tables of chances"))
    for n, run in enumerate(runs, start=1):
        if run.ware.has_counts:
            put_counted_chances(page, n, run)
    forgiven = _("Forgiven in comparing chances")
    put_line(page, forgiven, float(TOLERANCE), "worked number", name="forgiven_chance")
    said, figure = _("Every table is long enough (1: yes)"), Figure("=MIN([starts.suffices:])", 1)
    put_line(page, said, figure, "worked whole", name="making_table_ok")
    page.row += 1
