"""The sheet Progress: how far the sale has come, to be read across a room."""

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Final

from salebook.base.words import N_, _
from salebook.book.figure import Figure, Value
from salebook.book.formulas import quoted
from salebook.book.page import Book, Content, Page
from salebook.book.row_height import new_page
from salebook.book.sheets.from_here import (
    left_cases,
    left_chances,
    put_from_here,
    put_workings,
)
from salebook.book.sheets.goods_left import ahead_of
from salebook.book.sheets.progress_charts import write_charts
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.event.progress import Progress, progress_of
from salebook.event.share_out import GroupShare
from salebook.plan.money import HALF
from salebook.reckoning import Reckoning

WIDTHS: Final = (3, 34, 17, 17, 17, 17, 17)
BAR_BLOCKS: Final = 40
GROUP_BAR_BLOCKS: Final = 20
MOST_GROUPS_ABOVE_CHARTS: Final = 4
"""So many groups leave room for the charts on their page."""


def write_progress(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Progress."""
    plan = reckoning.plan
    page = book.page(N_("Progress"), widths=WIDTHS, landscape=True)
    page.title(_("Progress"))
    progress = progress_of(plan, event.state, event.share_out)
    _write_raised(page, progress)
    _write_left(page, progress)
    ahead = ahead_of(reckoning, event)
    chances, cases = left_chances(ahead), left_cases(ahead)
    put_from_here(page, ahead, cases)
    new_page(page)
    _write_groups(page, event)
    if len(plan.beneficiaries) > MOST_GROUPS_ABOVE_CHARTS:
        new_page(page)
    blocks: tuple[tuple[str, str, Content], ...] = (
        ("bar_blocks", _("Blocks in the bar on top"), BAR_BLOCKS),
        ("group_bar_blocks", _("Blocks in a group's bar"), GROUP_BAR_BLOCKS),
    )
    write_charts(page, plan, event, blocks)
    put_workings(page, ahead, chances, cases)


def _write_raised(page: Page, progress: Progress) -> None:
    row = page.row
    raised = Figure("=MAX(0,pool)+named_total+direct_total", progress.raised)
    share = Figure("=IF(target>0,raised/target,1)", float(progress.share_of_target))
    for column, text in ((2, _("Raised for the groups")), (4, _("of the target")), (6, _("that is"))):
        page.put(row, column, text, "lead")
    page.put_wide(row + 1, (2, 3), raised, "big money")
    page.put_wide(row + 1, (4, 5), Figure("=target", progress.target), "big money")
    page.put_wide(row + 1, (6, 7), share, "big percents")
    page.name("raised", row + 1, 2)
    page.name("share_of_target", row + 1, 6)
    page.sheet.row_dimensions[row + 1].height = 40
    page.put(row + 2, 2, _bar(progress.share_of_target), "bar")
    page.sheet.row_dimensions[row + 2].height = 32
    short = _("The takings do not yet meet the costs. Still to earn back before there is anything to share:")
    page.put(
        row + 3,
        2,
        Figure(f'=IF(pool<0,{quoted(short)},"")', short if progress.to_earn_back else ""),
        "remark",
    )
    page.put(row + 3, 5, Figure('=IF(pool<0,-pool,"")', progress.to_earn_back or ""), "result money")
    page.row = row + 5


def _bar(share: Fraction) -> Figure:
    # More was given back than came in for a group: then the bar is empty.
    count = max(0, min(BAR_BLOCKS, _nearest(share * BAR_BLOCKS)))
    length = "MAX(0,MIN(bar_blocks,ROUND(share_of_target*bar_blocks,0)))"
    bar = "█" * count + "░" * (BAR_BLOCKS - count)
    return Figure(f'=REPT("█",{length})&REPT("░",bar_blocks-{length})', bar)


def _nearest(value: Fraction) -> int:
    return int(value + HALF)


def _write_left(page: Page, progress: Progress) -> None:
    page.band(_("What is left to do"))
    each = "" if progress.each_must_bring is None else progress.each_must_bring
    needed = "=MAX(0,ROUND(target-pool-named_total-direct_total,6))"
    rows: tuple[tuple[str, str, str, Value, str], ...] = (
        ("still_needed", _("Still needed for the target"), needed, progress.still_needed, "money"),
        ("pieces_left", _("Pieces left on the table"), "=SUM(tally_here)", progress.on_the_table, "whole"),
        (
            "each_must_bring",
            _("What each of them must bring"),
            '=IF(pieces_left>0,ROUNDUP(ROUND(still_needed*minor_units/pieces_left,6),0)/minor_units,"")',
            each,
            "money",
        ),
        ("pieces_sold_count", _("Pieces sold"), "=SUM(tally_sold)", progress.sold, "whole"),
        (
            "pieces_promised",
            _("Pieces promised (reserved, or part paid)"),
            "=SUM(tally_reserved)+SUM(tally_deposit)",
            progress.promised,
            "whole",
        ),
        ("pieces_to_make", _("Ordered and still to make"), "=SUM(tally_to_make)", progress.to_make, "whole"),
    )
    for name, label, formula, value, style in rows:
        page.sheet.row_dimensions[page.row].height = 22
        put_line(page, label, Figure(formula, value), f"bigger {style}", name=name)
    page.paragraph(
        _(
            "What each must bring is what is left of its price after the fees and the costs "
            "for each piece sold."
        ),
        "note",
    )
    page.row += 1


@dataclass(frozen=True, kw_only=True)
class GroupSoFar:
    """A group's share and what came straight to it, of all that is raised."""

    group: GroupShare
    raised: Decimal

    @property
    def together(self) -> Decimal:
        """What the group gets from both."""
        return self.group.total + self.group.direct

    @property
    def bar(self) -> str:
        """Its part of all that is raised as blocks."""
        share = Fraction(self.together) / Fraction(self.raised) if self.raised > 0 else Fraction(0)
        return "█" * max(0, _nearest(share * GROUP_BAR_BLOCKS))


def groups_table() -> Table[GroupSoFar]:
    """Declare the table of what each group gets so far."""
    table: Table[GroupSoFar] = Table("groups_so_far", N_("Progress"))
    bar = 'IF(raised>0,REPT("█",MAX(0,ROUND([together]/raised*group_bar_blocks,0))),"")'
    total, direct = "[group_so_far@#]", "[group_direct@#]"
    table.live("=group", _("Group"), "text", "[group_names@#]", lambda row: row.group.group.name)
    table.live("=total", _("From the sale"), "bigger money", total, lambda row: row.group.total)
    table.live("=direct", _("Straight from givers"), "bigger money", direct, lambda row: row.group.direct)
    table.live("=together", _("Together"), "bigger money", "[total]+[direct]")
    table.live("=bar", _("Of all that is raised"), "bar", bar)
    return table


def _write_groups(page: Page, event: Event) -> None:
    page.band(_("Each group so far"))
    share_out = event.share_out
    rows = [GroupSoFar(group=group, raised=share_out.reached) for group in share_out.groups]
    placed = groups_table().write(page, rows)
    for row in placed.rows.values():
        page.sheet.row_dimensions[row].height = 32
    page.row += 1
