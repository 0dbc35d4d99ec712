"""The part of the sheet Making in which the studio keeps count, and what follows from it, live."""

from collections.abc import Sequence
from datetime import date

from salebook.base.words import N_, _
from salebook.book.figure import Figure, serial
from salebook.book.page import Page, number
from salebook.book.sheets.making.losses_seen import doubts_table, middle_of, more_to_throw
from salebook.book.table import Table, put_line
from salebook.making.studio_tally import (
    HALF,
    StudioCount,
    StudioState,
    curve_at,
    middle_term,
    shares_ahead,
)
from salebook.reckoning import Reckoning

Tallied = tuple[StudioCount, StudioState, date | None]
"""What was counted of a ware, what follows, and the last day on which more of it can be thrown."""


def studio_table() -> Table[Tallied]:
    """Declare what the studio counts of each ware, what is likely and how many more to throw."""
    table: Table[Tallied] = Table(
        "studio", N_("Making"), record=lambda row: row[1].run.ware.code, needed="wares"
    )
    whole = "MAX(0,[standing.thrown_so_far]-SUM([good])-SUM([seconds])-SUM([broken]))"
    waiting = "+".join(f"[standing.{at}]*[standing.share_{at}]" for at in ("wet", "dry", "biscuit"))
    by = 'IF([to_throw]>0,last_day_to_throw,"")'
    table.live("=name", _("Name"), "wrapped", "[wares.name]", lambda row: row[1].run.ware.name)
    table.fixed("code", _("Code"), "label", lambda row: row[1].run.ware.code, read=True)
    table.input("thrown", _("Thrown"), "whole")
    table.input("dry", _("Dry"), "whole")
    table.input("biscuit", _("Out of the biscuit firing"), "whole")
    table.input("good", _("Out good"), "whole")
    table.input("seconds", _("Seconds"), "whole")
    table.input("broken", _("Broken"), "whole")
    table.live("=on_the_way", _("On the way"), "whole", whole)
    table.live("=likely", _("Good ones likely"), "tenths", f"SUM([good])+{waiting}")
    table.live(
        *("=to_throw", _("How many more to throw"), "strong whole"),
        lambda row: more_to_throw(
            "[doubts.square]" if row[1].run.ware.has_counts else "[seen.good_share]^2", "[standing.middle]"
        ),
        name="studio_to_throw",
        alarm="[to_throw]>0",
    )
    table.live(
        *("=by", _("By"), "date", by, lambda row: serial(row[2] if row[1].to_throw else None)),
        alarm="[to_throw]>0",
    )
    return table


def standing_table() -> Table[tuple[StudioState, float]]:
    """Declare how the likely ones are found; with each ware goes the normal curve at the confidence."""
    table: Table[tuple[StudioState, float]] = Table(
        "standing", N_("Making"), record=lambda row: row[0].run.ware.code
    )
    done = "(SUM([studio.good])+SUM([studio.seconds]))"
    fired = f"MAX(SUM([studio.biscuit]),{done})"
    dried = f"MAX(SUM([studio.dry]),SUM([studio.biscuit]),{done})"
    spread = "+".join(f"[{at}]*[share_{at}]*(1-[share_{at}])" for at in ("wet", "dry", "biscuit"))
    wet, dry = "(1-[shares.drying])*[share_dry]", "(1-[shares.biscuit])*[share_biscuit]"
    biscuit = "(1-[shares.glaze])*(1-[shares.seconds])"
    table.live("name", _("Name"), "wrapped", "[studio.name]", lambda row: row[0].run.ware.name)
    table.fixed("code", _("Code"), "label", lambda row: row[0].run.ware.code)
    table.live(
        *("thrown_so_far", _("Thrown so far"), "whole", f"MAX(SUM([studio.thrown]),{dried})"),
        lambda row: row[0].count.thrown_so_far,
        name="studio_thrown",
    )
    table.live("wet", _("Not dry yet"), "whole", "[studio.on_the_way]-[dry]-[biscuit]")
    table.live("dry", _("Dry, to fire"), "whole", f"MIN({dried}-{done},[studio.on_the_way])-[biscuit]")
    table.live("biscuit", _("To glaze or in glaze"), "whole", f"MIN({fired}-{done},[studio.on_the_way])")
    table.live("share_wet", _("Of these good, not dry"), "percent", wet, lambda row: _ahead(row)[0])
    table.live("share_dry", _("Of these good, dry"), "percent", dry, lambda row: _ahead(row)[1])
    table.live("share_biscuit", _("Of these good, to glaze"), "percent", biscuit, lambda row: _ahead(row)[2])
    table.live(
        *("spread", _("Spread of the likely"), "hundredths"),
        lambda row: spread + ("+[doubts.doubted]*[doubts.coming]" if row[0].run.ware.has_counts else ""),
    )
    short = "[starts.wanted]-[studio.likely]-half_a_piece"
    table.live("short", _("Wanting, less half a piece"), "hundredths", short)
    table.live(
        *("middle", _("Middle term"), "hundredths"),
        lambda row: middle_of("[seen.good_share]", row[0]),
        lambda row: _middle(row[0].good_share, row),
    )
    table.live(
        *("middle_planned", _("Middle term, planned"), "hundredths"),
        lambda row: middle_of("[seen.planned]", row[0]),
        lambda row: _middle(float(row[0].run.good_share), row),
    )
    table.live(
        *("differs", _("Differs"), "whole", "IF([studio.to_throw]=[seen.as_planned],0,1)"),
        lambda row: int(row[0].differs),
        name="losses_differ",
    )
    return table


def _ahead(row: tuple[StudioState, float]) -> tuple[float, float, float]:
    return shares_ahead(row[0].run)


def _middle(share: float, row: tuple[StudioState, float]) -> float:
    state, curve = row
    return middle_term(state.short, share, curve, state.doubt * state.coming)


def put_studio_tally(page: Page, reckoning: Reckoning, stand: Sequence[StudioState]) -> None:
    """Write what was counted of each ware and what follows from it."""
    page.band(_("Studio tally: what came through so far"))
    page.paragraph(
        _(
            "Count everything that has ever come through, after each throwing and each kiln. Broken is "
            "whatever was lost after throwing. Real losses then take the place of expected ones."
        ),
        "note",
    )
    page.paragraph(
        _(
            "What is out good, and the seconds that have a price, are the pieces that there are: Pieces, "
            "Price and labels go by them."
        ),
        "note",
    )
    last_day = reckoning.days.last_day_to_throw
    studio_table().write(page, [(state.count, state, last_day) for state in stand])
    page.row += 1


def put_tally_workings(page: Page, stand: Sequence[StudioState], confidence: float) -> None:
    """Write how the studio tally finds what is likely and how many more to throw."""
    page.band(_("Studio tally: how that is found"))
    curve = curve_at(confidence)
    standing_table().write(page, [(state, curve) for state in stand])
    page.row += 1
    counted = [(state, curve) for state in stand if state.run.ware.has_counts]
    if counted:
        doubts_table().write(page, counted)
        page.row += 1
    _numbers(page, curve)


def _numbers(page: Page, curve: float) -> None:
    page.paragraph(
        _(
            "How many more follows the normal curve, half a piece before the whole one, which is within a "
            "piece or two of exact: the likely ones, less so many times the root of the spread, reach what "
            "is wanted."
        ),
        "note",
    )
    put_line(page, _("Half a piece"), number(HALF), "worked number", name="half_a_piece")
    at = Figure("=NORMSINV(confidence)", curve)
    put_line(page, _("Normal curve, at how sure"), at, "result hundredths", name="curve_at_confidence")
    page.row += 1
