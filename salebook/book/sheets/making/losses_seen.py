"""The part of the sheet Making that sets the losses seen so far against those of the plan, live."""

from collections.abc import Sequence
from decimal import Decimal
from operator import attrgetter

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import up
from salebook.book.page import Page
from salebook.book.sheets.making.earlier_counts import STAGES
from salebook.book.sheets.sums_in_words import Part, live_sentence, number_part, put_parts
from salebook.book.table import Table
from salebook.making.losses import MOST_DOUBT
from salebook.making.studio_tally import DIGITS, LEAST_SEEN, StudioState

SHORT, SPREAD = "[standing.short]", "[standing.spread]"


def seen_table() -> Table[StudioState]:
    """Declare what came through beside what was planned."""
    table: Table[StudioState] = Table("seen", N_("Making"), record=attrgetter("run.ware.code"))
    seen = "[studio.likely]/MAX([standing.thrown_so_far],[ends_known])*(1-[shares.throwing])"
    is_seen = f"AND([ends_known]>={LEAST_SEEN},[studio.likely]>0)"
    table.live("name", _("Name"), "wrapped", "[studio.name]", "run.ware.name")
    table.fixed("code", _("Code"), "label", "run.ware.code")
    ends = "SUM([studio.good]:[studio.broken])"
    table.live("ends_known", _("Ends known"), "whole", ends, "count.ends_known")
    table.live("planned", _("Come through, planned"), "percent", "[shares.good_share]", "run.good_share")
    found = f'IF({is_seen},{seen},"")'
    table.live("seen", _("Come through, seen"), "strong percent", found, "seen_share")
    table.live("good_share", _("Goes on with"), "percent", "IF(COUNT([seen])=0,[planned],[seen])")
    table.live(
        *("as_planned", _("More to throw by the plan's losses"), "whole"),
        lambda state: more_to_throw(
            "[doubts.square_planned]" if state.run.ware.has_counts else "[planned]^2",
            "[standing.middle_planned]",
        ),
        "to_throw_as_planned",
    )
    return table


def middle_of(share: str, state: StudioState) -> str:
    """Return the formula of the middle term where such a share comes through."""
    doubted = "+2*[doubts.doubted]" if state.run.ware.has_counts else ""
    return f"2*{SHORT}*{share}+curve_at_confidence^2*{share}*(1-{share}{doubted})"


def more_to_throw(square: str, middle: str) -> str:
    """Return the formula of how many more to throw, from two terms of the quadratic equation."""
    enough = f"ROUND(-{SHORT}-curve_at_confidence*SQRT({SPREAD}),{DIGITS})>=0"
    last = f"({SHORT}^2-curve_at_confidence^2*{SPREAD})"
    root = f"SQRT(MAX(0,{middle}^2-4*{square}*{last}))"
    more = up(f"({middle}+{root})/(2*{square})")
    return f"IF([standing.thrown_so_far]=0,[starts.started],IF({enough},0,{more}))"


def doubts_table() -> Table[tuple[StudioState, float]]:
    """Declare how sure the good share itself is of the wares whose losses were counted on earlier sales."""
    table: Table[tuple[StudioState, float]] = Table(
        "doubts", N_("Making"), record=lambda row: row[0].run.ware.code
    )

    def squared(share: float, row: tuple[StudioState, float]) -> float:
        return share**2 * (1 - row[1] ** 2 * row[0].doubt)

    left = "(1-curve_at_confidence^2*[doubt])"
    table.live("name", _("Name"), "wrapped", "[studio.name]", lambda row: row[0].run.ware.name)
    table.fixed("code", _("Code"), "label", lambda row: row[0].run.ware.code)
    table.live("doubt", _("Doubt of the share"), "result number", _doubt, lambda row: row[0].doubt)
    coming = "[studio.likely]-SUM([studio.good])"
    table.live("coming", _("Likely of those on the way"), "tenths", coming, lambda row: row[0].coming)
    table.live(
        *("doubted", _("of these in doubt"), "hundredths", "[doubt]*[coming]"),
        lambda row: row[0].doubt * row[0].coming,
    )
    table.live(
        *("square", _("First term"), "hundredths", f"[seen.good_share]^2*{left}"),
        lambda row: squared(row[0].good_share, row),
    )
    table.live(
        *("square_planned", _("First term, planned"), "hundredths", f"[seen.planned]^2*{left}"),
        lambda row: squared(float(row[0].run.good_share), row),
    )
    return table


def _doubt(row: tuple[StudioState, float]) -> str:
    factors = "*".join(f"(1+[beliefs.doubt@{row[0].run.ware.code}_{stage}])" for stage in STAGES)
    return f"MIN({MOST_DOUBT},{factors}-1)"


def put_losses_seen(page: Page, stand: Sequence[StudioState]) -> None:
    """Write what came through beside what was planned, and what that changes in how many to throw."""
    page.band(_("Losses seen so far"))
    page.paragraph(
        _(
            "Once the end of {least} pieces of a ware is known, what came through takes the place of the "
            "plan's losses for what is still to throw. Pieces on the way count by the plan's losses ahead."
        ).format(least=LEAST_SEEN),
        "note",
    )
    seen_table().write(page, stand)
    for state in stand:
        page.paragraph(_in_words(page, state), "note")
    page.row += 1


def _in_words(page: Page, state: StudioState) -> Figure:
    code = state.run.ware.code
    name = (f"[seen.name@{code}]", state.run.ware.name)
    parts = put_parts(
        page,
        seen=_of_100(f"[seen.good_share@{code}]", state.good_share),
        planned=_of_100(f"[seen.planned@{code}]", float(state.run.good_share)),
    )
    other, told = live_sentence(
        _(
            "{ware}: {seen} of 100 come through, {planned} were planned. "
            "More to throw: {more}; by the plan's losses {fewer}"
        ),
        ware=name,
        **parts,
        more=(f"[studio.to_throw@{code}]", str(state.to_throw)),
        fewer=(f"[seen.as_planned@{code}]", str(state.to_throw_as_planned)),
    )
    same, as_planned = live_sentence(_("{ware}: nothing seen so far changes how many to throw"), ware=name)
    return Figure(f"=IF([standing.differs@{code}]=1,{other},{same})", told if state.differs else as_planned)


def _of_100(formula: str, share: float) -> Part:
    return number_part(f"{formula}*100", Decimal(repr(share)) * 100, 0)
