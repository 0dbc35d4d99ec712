"""The sheet Firing: kiln loads, and what each firing takes, step by step."""

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded
from salebook.book.page import Book, Page
from salebook.book.sheets.firing.energy_price import put_running_price
from salebook.book.sheets.firing.steps import put_steps
from salebook.book.sheets.row_height import new_page
from salebook.book.sheets.staleness_check import put_staleness_check_of_loads
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.event.event import Event
from salebook.making.firing import (
    HEAT_BEND,
    HEAT_CONSTANT,
    HEAT_RISE,
    KELVIN_AT_0_C,
    WALL_MASS_SHARE,
    FiringNeed,
    wall_loss_w_per_k,
)
from salebook.making.loading import Loading
from salebook.plan.model import Kiln, Plan
from salebook.reckoning import Reckoning
from salebook.say.kiln import LEAST_SHORT_KW, load_sentence, load_sentences

WIDTHS = (3, 24, *(10.5,) * 13)


def write_firing(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Firing."""
    del event
    plan, studio = reckoning.plan, reckoning.studio
    page = book.page(_("Firing"), widths=WIDTHS, landscape=True)
    page.title(_("Firing"), _("How the kiln is packed, how long each firing takes, what it draws and costs."))
    page.freeze(4)
    if plan.kiln is None or not studio.firings:
        page.paragraph(_("The plan has no firings."))
        put_staleness_check_of_loads(page, reckoning)
        return
    _loads(page, studio.loadings, reckoning)
    _dry_ware(page, studio.loadings, studio.firings, plan)
    _summary(page, plan, studio.firings)
    new_page(page)
    for n, need in enumerate(studio.firings, start=1):
        put_steps(page, plan, need, n)
    if plan.energy is not None:
        put_running_price(page, plan.energy.rates)
    new_page(page)
    _coefficients(page, plan.kiln)
    _assumptions(page)
    page.sheet.print_area = f"A1:O{page.row - 1}"
    put_staleness_check_of_loads(page, reckoning)


def _loads(page: Page, loadings: tuple[Loading, ...], reckoning: Reckoning) -> None:
    for loading in loadings:
        words = {"biscuit": _("Biscuit firing: kiln loads"), "glaze": _("Glaze firing: kiln loads")}
        page.band(words[loading.stage])
        page.headings(
            ("what", "value"),
            (_("As worked out"), _("Number")),
            section=f"loads.{loading.stage}",
        )
        row = page.put_row(
            ((None, ""), (_("Kiln loads"), "label"), (loading.to_fire, "worked whole")),
        )
        page.name(f"loads_{loading.stage}", row, 3)
        page.put_row(
            (
                (None, ""),
                (_("Fewest possible"), "label"),
                (loading.lower_bound, "worked whole"),
                (_("by the height of the shelves alone"), "note"),
            )
        )
        for run in reckoning.studio.runs:
            code = run.ware.code
            if code in loading.per_shelf:
                page.put_row(
                    (
                        (None, ""),
                        (_("{name} on one shelf").format(name=run.ware.name), "label"),
                        (loading.per_shelf[code], "worked whole"),
                    )
                )
        for n, load in enumerate(loading.loads, start=1):
            left = _("{mm} mm of height left").format(mm=round(load.height_left_mm))
            page.put_row(
                (
                    (None, ""),
                    (_("Load {n}, bottom shelf first").format(n=n), "label"),
                    (f"{load_sentence(load)}   ({left})", "worked text"),
                )
            )
        for sentence in load_sentences(loading, reckoning.plan):
            page.paragraph(sentence, "worked wrapped")
        page.row += 1


def _dry_ware(page: Page, loadings: tuple[Loading, ...], needs: tuple[FiringNeed, ...], plan: Plan) -> None:
    page.band(_("Dry ware in one load"))
    columns = {"biscuit": "ware_to_biscuit", "glaze": "ware_to_glaze"}
    for loading in loadings:
        stage = loading.stage
        kg = next(need.ware_kg for need in needs if need.firing.stage == stage)
        formula = f"=SUMPRODUCT({columns[stage]},ware_dry_kg)/loads_{stage}"
        words = {"biscuit": _("in a biscuit load"), "glaze": _("in a glaze load")}
        row = page.put_row(
            (
                (None, ""),
                (words[stage], "label"),
                (Figure(formula if plan.wares else "=0", kg), "result tenths"),
                ("kg", "label"),
            )
        )
        page.name(f"ware_kg_{stage}", row, 3)
    page.row += 1


def _summary(page: Page, plan: Plan, needs: tuple[FiringNeed, ...]) -> None:
    page.band(_("What the firings take"))
    page.headings(
        (
            "name",
            "loads",
            "hours",
            "kwh",
            "peak_kw",
            "load_cost",
            "cost",
            "short_kw",
            "estimate",
            "correction",
        ),
        (
            _("Firing"),
            _("Kiln loads"),
            _("Hours, one load"),
            _("kWh, one load"),
            _("Highest power, kW"),
            _("Energy, one load"),
            _("Energy, all loads"),
            _("Missing power, kW"),
            _("Estimated kWh"),
            _("Set right by"),
        ),
        section="firings",
    )
    first = page.row
    for n, need in enumerate(needs, start=1):
        _summary_row(page, plan, need, n)
    last = page.row - 1
    page.name("firing_names", first, 2, last_row=last)
    page.name("firing_estimates", first, 10, last_row=last)
    for column, name in ((3, "firing_loads"), (7, "firing_load_costs"), (8, "firing_costs")):
        page.name(name, first, column, last_row=last)
    page.highlight(f"I{first}:I{last}", f"I{first}>{LEAST_SHORT_KW}")
    for row, need in enumerate(needs, start=first):
        _may_not_keep_up(page, row, need)
    page.paragraph(
        _(
            "Missing power: the kiln may not keep up with that step; it will take longer than the plan says. "
            "Standing charges are left out."
        ),
        "note",
    )
    page.row += 1


def _summary_row(page: Page, plan: Plan, need: FiringNeed, n: int) -> None:
    row, name, places = page.row, need.firing.name, page.book.addresses
    metered = places["firings", name, "metered_kwh"]
    calibration = _calibration(page, plan)
    estimate = sum(part.heat_kwh for part in need.parts) / float(_efficiency(plan.kiln))
    page.put_row(
        (
            ("firings", "key"),
            (Figure(f"={places['firings', name, 'name']}", name), "result text"),
            (Figure(f"=loads_{need.firing.stage}", need.loads), "result whole"),
            (Figure(f"=SUM(hours_{n})", need.hours), "result tenths"),
            (Figure(f"=SUM(kwh_{n})", need.kwh), "result tenths"),
            (Figure(f"=MAX(power_{n})", need.peak_kw), "result tenths"),
            (Figure(f"=SUM(cost_{n})", need.cost_of_load), "result money"),
            (Figure(f"={money_rounded(f'G{row}*C{row}')}", need.cost), "strong money"),
            (
                Figure(f"=MAX(short_{n})", max((part.short_kw for part in need.parts), default=0.0)),
                "result tenths",
            ),
            (Figure(f"=SUM(heat_{n})/heat_per_kwh_bought", estimate), "result tenths"),
            (
                Figure(
                    f"=IF(AND({metered}>0,J{row}>0),{metered}/J{row},{calibration})",
                    need.correction,
                ),
                "result thousandths",
            ),
        )
    )
    page.name(f"correction_{n}", row, 11)


def _may_not_keep_up(page: Page, row: int, need: FiringNeed) -> None:
    """Say in words, live, where a kiln lacks power."""
    short = max((part.short_kw for part in need.parts), default=0.0)
    formula, said = live_sentence(
        _("{firing}: the kiln may not keep up. Missing kW: {missing}"),
        firing=(f"B{row}", need.firing.name),
        missing=(f"ROUND(I{row},1)", f"{round(short, 1):g}"),
    )
    shown = said if short > LEAST_SHORT_KW else ""
    page.paragraph(Figure(f'=IF(I{row}>least_short_kw,{formula},"")', shown), "remark")


def _efficiency(kiln: Kiln | None) -> float:
    return float(kiln.burner_efficiency or 1) if kiln is not None and kiln.fuel == "gas" else 1.0


def _calibration(page: Page, plan: Plan) -> str:
    if plan.kiln is None:
        return "1"
    named = page.book.addresses["kiln", "", "calibration.firing"]
    # Not MATCH, which takes a * or ? in a name for a pattern.
    estimate = f"SUMPRODUCT((firing_names={named})*firing_estimates)"
    return f'IF(OR({named}="",calibration_kwh=""),1,calibration_kwh/{estimate})'


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
            Figure('=IF(kiln_fuel="gas",burner_efficiency,1)', _efficiency(kiln)),
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
