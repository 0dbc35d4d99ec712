"""The sheet Firing: kiln loads, and what each firing takes, step by step."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded
from salebook.book.page import Book, Content, Page
from salebook.book.row_height import new_page
from salebook.book.sheets.firing.done import put_firings_done
from salebook.book.sheets.firing.energy_price import put_running_price
from salebook.book.sheets.firing.steps import put_steps
from salebook.book.sheets.staleness_check import put_staleness_check_of_loads
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.making.firing import (
    HEAT_BEND,
    HEAT_CONSTANT,
    HEAT_RISE,
    KELVIN_AT_0_C,
    WALL_MASS_SHARE,
    FiringNeed,
    efficiency,
    wall_loss_w_per_k,
)
from salebook.making.firing_done import kwh_per_unit
from salebook.making.loading import Loading
from salebook.plan.model import Kiln, Stage
from salebook.reckoning import Reckoning
from salebook.say.kiln import LEAST_SHORT_KW, load_sentence, load_sentences

WIDTHS = (3, 24, *(10.5,) * 13)

Line = tuple[str, Content, str]
"""What is said, what was worked out, and its style."""


def loads_table(stage: Stage) -> Table[Line]:
    """Declare what was worked out of a stage's kiln loads."""
    table: Table[Line] = Table(f"loads.{stage}", "Firing", record=lambda row: row[0])
    table.fixed("what", _("As worked out"), "label", lambda row: row[0])
    table.fixed("value", _("Number"), lambda row: row[2], lambda row: row[1])
    return table


@dataclass(frozen=True, kw_only=True)
class FiringRow:
    """What a firing takes; `n` is its number in the plan, counted from 1."""

    n: int
    need: FiringNeed
    kiln: Kiln

    @property
    def short_kw(self) -> float:
        """The most power that is missing at any time."""
        return max((part.short_kw for part in self.need.parts), default=0.0)

    @property
    def estimate(self) -> float:
        """Energy of one load before it is set right, kWh."""
        return sum(part.heat_kwh for part in self.need.parts) / efficiency(self.kiln)


def needs_table() -> Table[FiringRow]:
    """Declare what each firing takes: one load, all of them, and what its estimate is set right by."""
    table: Table[FiringRow] = Table("firing_needs", N_("Firing"))
    table.join("firings", lambda row: row.need.firing.name)
    all_loads, metered = money_rounded("[load_cost]*[loads]"), "[firings.metered_kwh]"
    correction = f"IF(AND({metered}>0,[estimate]>0),{metered}/[estimate],{_calibration()})"
    live = table.live
    live("name", _("Firing"), "text", "[firings.name]", "need.firing.name", name="firing_names")
    fired = ("loads", _("Kiln loads"), "whole", lambda row: f"loads_{row.need.firing.stage}", "need.loads")
    live(*fired, name="firing_loads")
    live("hours", _("Hours, one load"), "tenths", "SUM(hours_[#])", "need.hours")
    live("kwh", _("kWh, one load"), "tenths", "SUM(kwh_[#])", "need.kwh")
    live("peak_kw", _("Highest power, kW"), "tenths", "MAX(power_[#])", "need.peak_kw")
    live(
        *("load_cost", _("Energy, one load"), "money", "SUM(cost_[#])", "need.cost_of_load"),
        name="firing_load_costs",
    )
    live("cost", _("Energy, all loads"), "strong money", all_loads, "need.cost", name="firing_costs")
    alarm = f"[short_kw]>{LEAST_SHORT_KW}"
    live("short_kw", _("Missing power, kW"), "tenths", "MAX(short_[#])", alarm=alarm)
    estimate = "SUM(heat_[#])/heat_per_kwh_bought"
    live("estimate", _("Estimated kWh"), "tenths", estimate, name="firing_estimates")
    live("correction", _("Set right by"), "thousandths", correction, "need.correction")
    return table


def _calibration() -> str:
    named = "[kiln.calibration.firing]"
    # Not MATCH, which takes a * or ? in a name for a pattern.
    estimate = f"SUMPRODUCT((firing_names={named})*firing_estimates)"
    return f'IF(OR({named}="",calibration_kwh=""),1,calibration_kwh/{estimate})'


def write_firing(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Firing."""
    plan, studio = reckoning.plan, reckoning.studio
    page = book.page(N_("Firing"), widths=WIDTHS, landscape=True)
    page.title(_("Firing"), _("How the kiln is packed, how long each firing takes, what it draws and costs."))
    page.freeze(4)
    if plan.kiln is None or not studio.firings:
        page.paragraph(_("The plan has no firings."))
        put_staleness_check_of_loads(page, reckoning)
        return
    _loads(page, reckoning)
    _dry_ware(page, reckoning)
    _summary(page, plan.kiln, studio.firings)
    put_firings_done(page, plan.kiln, reckoning, event)
    new_page(page)
    for n, need in enumerate(studio.firings, start=1):
        put_steps(page, plan, plan.kiln, need, n)
    if plan.energy is not None:
        put_running_price(page, plan.energy.rates)
    new_page(page)
    _coefficients(page, plan.kiln)
    _assumptions(page)
    page.print_so_far()
    put_staleness_check_of_loads(page, reckoning)


def _loads(page: Page, reckoning: Reckoning) -> None:
    words = {"biscuit": _("Biscuit firing: kiln loads"), "glaze": _("Glaze firing: kiln loads")}
    for loading in reckoning.studio.loadings:
        page.band(words[loading.stage])
        placed = loads_table(loading.stage).write(page, list(_lines(loading, reckoning)))
        value = placed.column("value")
        page.name(f"loads_{loading.stage}", placed.first, value)
        fewest = placed.rows[_("Fewest possible")]
        page.put(fewest, value + 1, _("by the height of the shelves alone"), "note")
        for sentence in load_sentences(loading, reckoning.plan):
            page.paragraph(sentence, "worked wrapped")
        page.row += 1


def _lines(loading: Loading, reckoning: Reckoning) -> Iterator[Line]:
    yield _("Kiln loads"), loading.to_fire, "worked whole"
    yield _("Fewest possible"), loading.lower_bound, "worked whole"
    for run in reckoning.studio.runs:
        if run.ware.code in loading.per_shelf:
            label = _("{name} on one shelf").format(name=run.ware.name)
            yield label, loading.per_shelf[run.ware.code], "worked whole"
    for n, load in enumerate(loading.loads, start=1):
        left = _("{mm} mm of height left").format(mm=round(load.height_left_mm))
        label = _("Load {n}, bottom shelf first").format(n=n)
        yield label, f"{load_sentence(load)}   ({left})", "worked text"


def _dry_ware(page: Page, reckoning: Reckoning) -> None:
    page.band(_("Dry ware in one load"))
    words = {"biscuit": _("in a biscuit load"), "glaze": _("in a glaze load")}
    for loading in reckoning.studio.loadings:
        stage = loading.stage
        kg = next(need.ware_kg for need in reckoning.studio.firings if need.firing.stage == stage)
        formula = f"=SUMPRODUCT(ware_to_{stage},ware_dry_kg)/loads_{stage}" if reckoning.plan.wares else "=0"
        line = (page, words[stage], Figure(formula, kg), "result tenths")
        put_line(*line, name=f"ware_kg_{stage}", note=("kg", "label"))
    page.row += 1


def _summary(page: Page, kiln: Kiln, needs: Sequence[FiringNeed]) -> None:
    page.band(_("What the firings take"))
    rows = [FiringRow(n=n, need=need, kiln=kiln) for n, need in enumerate(needs, start=1)]
    needs_table().write(page, rows)
    for row in rows:
        _may_not_keep_up(page, row)
    page.paragraph(
        _(
            "Missing power: the kiln may not keep up with that step; it will take longer than the plan says. "
            "Standing charges are left out."
        ),
        "note",
    )
    page.row += 1


def _may_not_keep_up(page: Page, row: FiringRow) -> None:
    """Say in words, live, where a kiln lacks power."""
    missing = f"[firing_needs.short_kw@{row.n}]"
    formula, said = live_sentence(
        _("{firing}: the kiln may not keep up. Missing kW: {missing}"),
        firing=(f"[firing_needs.name@{row.n}]", row.need.firing.name),
        missing=(f"ROUND({missing},1)", f"{round(row.short_kw, 1):g}"),
    )
    shown = said if row.short_kw > LEAST_SHORT_KW else ""
    page.paragraph(Figure(f'=IF({missing}>least_short_kw,{formula},"")', shown), "remark")


def _coefficients(page: Page, kiln: Kiln) -> None:
    page.band(_("Numbers that the firing rests on"))
    practice = _("share of the time that elements or burner are on: common practice, no source")
    kaolin = _("specific heat of fired clay (dehydroxylated kaolin): Michot et al. 2008")
    rows: tuple[tuple[str, str, float | int | Figure, str, str], ...] = (
        ("heat_constant", _("Specific heat, constant part"), HEAT_CONSTANT, "J/(kg·K)", kaolin),
        ("heat_rise", _("Specific heat, rising part"), HEAT_RISE, "J/(kg·K²)", kaolin),
        ("heat_bend", _("Specific heat, bending part"), HEAT_BEND, "J·K/kg", kaolin),
        ("kelvin_at_0_c", _("0 °C in kelvin"), KELVIN_AT_0_C, "K", ""),
        ("fahrenheit_at_0_c", _("0 °C in °F"), 32, "°F", ""),
        ("fahrenheit_in_10_c", _("10 °C are so many °F"), 18, "°F", ""),
        (
            "wall_mass_share",
            _("Part of the wall that heats up"),
            WALL_MASS_SHARE,
            "",
            _("its mean lies halfway between inside and outside"),
        ),
        ("usual_on_share_biscuit", _("Elements on, biscuit"), 0.5, "", practice),
        ("usual_on_share_glaze", _("Elements on, glaze"), 0.65, "", practice),
        ("least_short_kw", _("Missing power from which it is said"), LEAST_SHORT_KW, "kW", ""),
        ("hours_in_day", _("Hours in a day"), 24, "", ""),
        ("kj_in_kwh", _("kJ in one kWh"), 3600, "kJ", ""),
        ("joules_in_kj", _("J in one kJ"), 1000, "J", ""),
        ("watts_in_kw", _("W in one kW"), 1000, "W", ""),
        ("mm_in_m", _("mm in one metre"), 1000, "mm", ""),
        (
            "heat_per_kwh_bought",
            _("Heat in the chamber for 1 kWh"),
            Figure('=IF(kiln_fuel="gas",burner_efficiency,1)', efficiency(kiln)),
            "kWh",
            "",
        ),
        (
            "wall_w_per_k",
            _("Heat through the wall"),
            Figure(
                '=IF(wall_area_m2="",0,wall_conductivity*wall_area_m2/(wall_thickness_mm/mm_in_m))',
                wall_loss_w_per_k(kiln),
            ),
            "W/K",
            "",
        ),
        (
            "kwh_per_unit",
            _("Energy in 1 on the meter"),
            Figure('=IF(kiln_fuel="gas",IF(COUNT(gas_kwh)=0,"",gas_kwh),1)', kwh_per_unit(kiln) or ""),
            "kWh",
            "",
        ),
    )
    for name, label, value, unit, source in rows:
        style = "result hundredths" if isinstance(value, Figure) else "worked number"
        row = page.put_row(
            ((None, ""), (label, "label"), (value, style), (unit, "label"), (source, "note")),
        )
        page.name(name, row, 3)
    page.row += 1


def _assumptions(page: Page) -> None:
    page.band(_("What is assumed"))
    for text in (
        _("Each load starts at room temperature, and each step keeps its rate: see Missing power."),
        _(
            "Heat = what ware, shelves and half the wall take up, and what the wall lets through. Water and "
            "chemistry are left out (under a tenth); a meter reading takes them in."
        ),
        _("Where the wall is not described: rated power × hours × share of the time that the kiln is on."),
        _("Energy is spread evenly over each part, each moment at its rate. Times are the local clock's."),
        _("Pieces on a shelf and kiln loads are worked out by salebook: Start here says when stale."),
        _(
            "Vent the kiln and its room, let kiln and ware cool before opening, and let nobody fire at night "
            "without what the sheet Cautions names."
        ),
    ):
        page.paragraph(text, "note")
    page.row += 1
