"""The part of the sheet Firing with a line for each firing done: what the meter says, what came out."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, quoted
from salebook.book.page import Page
from salebook.book.row_height import new_page
from salebook.book.sheets.firing.steps import WORKINGS
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.making.firing_done import (
    FiringDone,
    FiringSeen,
    StageSeen,
    broken_in_all,
    firings_differ,
    firings_seen,
    kwh_per_unit,
    stages_seen,
)
from salebook.plan.model import Kiln
from salebook.reckoning import Reckoning
from salebook.say.firing_boxes import firing_boxes

SPARE: Final = 4
"""Lines beyond one for each load: a firing may have to be done again."""
OF_IT: Final = "[firings_done.n:],[n]"
"""The condition that picks the lines of a firing."""


@dataclass(frozen=True, kw_only=True)
class Worked:
    """What follows from the line of a firing done: its energy (kWh), and its firing's number in the plan.

    That counts from 1: 0 for a firing that the plan has not, None where none is named.
    """

    used: Decimal | None
    n: int | None


def firings_done_table(fuel: str = "electric") -> Table[tuple[FiringDone, Worked]]:
    """Declare a line for each firing done; the boxes are called as on the firing card."""
    table: Table[tuple[FiringDone, Worked]] = Table("firings_done", N_("Firing"), guarded=True)
    said, is_electric = firing_boxes(fuel), 'kiln_fuel<>"gas"'
    run_back = f"AND({is_electric},[after]<[before])"
    used = f'IF({run_back},"",ABS([after]-[before])*kwh_per_unit)'
    which = "SUMPRODUCT((firing_names=[firing])*[firings_seen.n:])"
    table.input("firing", _("Firing"), "text", choices="firing_names", says=_("A firing of the plan"))
    table.input("load", said["load"], "whole")
    table.input("day", said["day"], "day")
    table.input("before", said["before"], "number")
    table.input("after", said["after"], "number", alarm=f"AND(COUNT([before],[after])=2,{run_back})")
    table.live(
        "=used",
        firing_boxes("electric")["used"],
        "tenths",
        f'IF(COUNT([before],[after],kwh_per_unit)<3,"",{used})',
    )
    table.input("came_out", said["came_out"], "whole")
    table.input("lost", said["lost"], "whole")
    table.input("why", said["why"], "text")
    table.skip_to(WORKINGS)
    table.live("=n", _("Which firing"), "worked whole", f'IF(COUNTA([firing])=0,"",{which})')
    return table


def seen_table() -> Table[tuple[FiringSeen, int]]:
    """Declare the energy of each firing by the meter beside the plan's; with it goes its number, from 1."""
    table: Table[tuple[FiringSeen, int]] = Table("firings_seen", N_("Firing"))
    mean = f"SUMIFS([firings_done.used:],{OF_IT})/[metered]"
    price = "IF([planned_kwh]>0,[firing_needs.load_cost]/[planned_kwh],0)"
    live = table.live
    live("name", _("Firing"), "text", "[firing_needs.name]", lambda row: row[0].need.firing.name)
    live("loads", _("Kiln loads"), "whole", "[firing_needs.loads]", lambda row: row[0].need.loads)
    live("done", _("Done"), "whole", f"COUNTIFS({OF_IT})", lambda row: len(row[0].done))
    metered = f'COUNTIFS({OF_IT},[firings_done.used:],">=0")'
    live("metered", _("Metered"), "whole", metered, lambda row: len(row[0].metered))
    live("planned_kwh", _("kWh a load, planned"), "tenths", "[firing_needs.kwh]", lambda row: row[0].need.kwh)
    live("mean_kwh", _("kWh a load, metered"), "strong tenths", f'IF([metered]=0,"",{mean})')
    live("price", _("Price of 1 kWh"), "rate", price)
    live("so_far", _("Energy so far"), "money", money_rounded("[done]*[expected_kwh]*[price]"))
    live("left", _("Loads to fire"), "whole", "MAX(0,[loads]-[done])")
    live("ahead", _("Energy of these"), "money", money_rounded("[left]*[expected_kwh]*[price]"))
    live("in_all", _("Energy in all"), "strong money", "[so_far]+[ahead]")
    live("planned", _("Energy, planned"), "money", "[firing_needs.cost]", lambda row: row[0].need.cost)
    table.skip_to(WORKINGS)
    table.fixed("n", _("Which firing"), "worked whole", lambda row: row[1])
    expected = "IF(COUNT([mean_kwh])=0,[planned_kwh],[mean_kwh])"
    live("expected_kwh", _("kWh a load, expected"), "worked tenths", expected)
    return table


def stages_table() -> Table[tuple[StageSeen, tuple[int, ...]]]:
    """Declare the pieces out of the firings of each stage; with it go their numbers in the plan, from 1."""
    table: Table[tuple[StageSeen, tuple[int, ...]]] = Table("firing_stages", N_("Firing"))
    lost = "SUMIFS([firings_done.lost:],[firings_done.n:],{n})"
    is_whole = "AND([counted]>0,[counted]=[done],COUNT([tally])=1)"
    words = {"biscuit": _("Biscuit firing"), "glaze": _("Glaze firing")}
    live = table.live
    table.fixed("name", _("Firing"), "label", lambda row: words[row[0].stage])
    live("done", _("Done"), "whole", f"COUNTIFS({OF_IT})", lambda row: len(row[0].last.done))
    counted = f'COUNTIFS({OF_IT},[firings_done.came_out:],">=0")'
    live("counted", _("Counted"), "whole", counted, lambda row: len(row[0].counted))
    live("came_out", _("Came out"), "whole", f"SUMIFS([firings_done.came_out:],{OF_IT})")
    tally = _("By the studio tally")
    live("tally", tally, "whole", lambda row: _tally(row[0].stage), alarm="[differs]=1")
    live("lost", _("Lost"), "whole", lambda row: "+".join(lost.format(n=n) for n in row[1]))
    table.skip_to(WORKINGS)
    table.fixed("n", _("The last firing"), "worked whole", lambda row: row[1][-1])
    differs = f"IF({is_whole},IF([came_out]=[tally],0,1),0)"
    live("differs", _("Differs"), "worked whole", differs, lambda row: int(row[0].differs))
    return table


def _tally(stage: str) -> str:
    if stage == "biscuit":
        return _if_counted("biscuit", "SUM([studio.biscuit:])")
    return _if_counted("good", "SUM([studio.good:])+SUM([studio.seconds:])")


def _if_counted(key: str, formula: str) -> str:
    """Return a formula that shows nothing until this is counted of each ware."""
    return f'IF(COUNT([studio.{key}:])=ROWS([studio.{key}:]),{formula},"")'


def put_firings_done(page: Page, kiln: Kiln, reckoning: Reckoning, event: Event) -> None:
    """Write the lines of the firings done, and what they say beside the plan and the studio tally."""
    seen = firings_seen(reckoning.plan, reckoning.studio.firings, event.firings_done)
    new_page(page)
    _put_lines(page, kiln, reckoning, event, seen)
    _put_energy(page, seen)
    if reckoning.plan.wares:
        _put_pieces(page, reckoning, event, seen)


def _put_lines(
    page: Page, kiln: Kiln, reckoning: Reckoning, event: Event, seen: Sequence[FiringSeen]
) -> None:
    page.band(_("Firings done: a line for each"))
    page.paragraph(_("Copy each load's boxes from the firing card once the kiln is unpacked."), "note")
    spare = max(0, sum(one.need.loads for one in seen) - len(event.firings_done)) + SPARE
    firings_done_table(kiln.fuel).write(page, list(_lines(kiln, reckoning, event)), spare=spare)
    _ask_for_the_unit(page, kiln)


def _put_energy(page: Page, seen: Sequence[FiringSeen]) -> None:
    page.band(_("What the meter says, beside the plan"))
    seen_table().write(page, [(one, n) for n, one in enumerate(seen, start=1)])
    page.paragraph(
        _(
            "Loads without a reading, and those still to fire, count by the mean of those with one, else by "
            "the plan; each kWh at what it costs in the hours of that firing. To plan with the meter, type "
            "its kWh a load on Plan, Firings. Once all is fired, Energy in all is what it really cost, on "
            "Costs."
        ),
        "note",
    )
    page.row += 1


def _lines(kiln: Kiln, reckoning: Reckoning, event: Event) -> list[tuple[FiringDone, Worked]]:
    firings = reckoning.plan.firings
    return [
        (done, Worked(used=done.kwh(kiln), n=_number(done, [firing.name for firing in firings])))
        for done in event.firings_done
    ]


def _number(done: FiringDone, names: Sequence[str]) -> int | None:
    if not done.firing:
        return None
    return next((n for n, name in enumerate(names, start=1) if done.is_of(name)), 0)


def _ask_for_the_unit(page: Page, kiln: Kiln) -> None:
    asks = _("How many kWh are in 1 m³ of the gas, or 1 kg of it? It stands on the bill; type it on Plan.")
    is_open = kwh_per_unit(kiln) is None
    page.paragraph(Figure(f'=IF(COUNT(kwh_per_unit)=1,"",{quoted(asks)})', asks if is_open else ""), "remark")


def _put_pieces(page: Page, reckoning: Reckoning, event: Event, seen: Sequence[FiringSeen]) -> None:
    plan, counts = reckoning.plan, event.entries.studio
    stages = stages_seen(plan, seen, counts)
    page.band(_("What came out, beside the studio tally"))
    of_stage = [
        tuple(n for n, one in enumerate(seen, start=1) if one.need.firing.stage == stage.stage)
        for stage in stages
    ]
    placed = stages_table().write(page, list(zip(stages, of_stage, strict=True)))
    tallied = broken_in_all(plan, counts)
    broken = Figure(f"={_if_counted('broken', 'SUM([studio.broken:])')}", "" if tallied is None else tallied)
    column = placed.column("lost")
    cell = put_line(page, _("Broken at any stage, by the tally"), broken, "result whole", column=column)
    more = f"IF(COUNT({cell})=1,SUM([firing_stages.lost:])>{cell},FALSE)"
    differs = firings_differ(plan, stages, counts)
    found = Figure(f"=IF(OR(SUM([firing_stages.differs:])>0,{more}),1,0)", int(differs))
    says = _("Firing and Making count otherwise: which is right? Pieces and labels go by Making.")
    page.put(page.row, WORKINGS, found, "worked whole")
    page.name("firings_differ", page.row, WORKINGS)
    page.paragraph(Figure(f'=IF(firings_differ=0,"",{quoted(says)})', says if differs else ""), "remark")
    page.row += 1
