"""The sheet Making: how many to start, how big to throw, how much clay to buy."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from decimal import Decimal
from operator import attrgetter

from salebook.base.rounding import floor
from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, sum_of, up
from salebook.book.page import Book, Page, number
from salebook.book.row_height import on_one_page
from salebook.book.sheets.making.counted_chances import put_staleness_check_of_chances
from salebook.book.sheets.making.days import put_days, put_staleness_check_of_days
from salebook.book.sheets.making.earlier_counts import put_beliefs
from salebook.book.sheets.making.losses_seen import put_losses_seen
from salebook.book.sheets.making.starting import (
    lowest_tried,
    put_chances,
    put_chances_workings,
    put_one_loss,
)
from salebook.book.sheets.making.studio_tally import put_studio_tally, put_tally_workings
from salebook.book.sheets.making.ware_table import ware_table
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.making.clay import ClayNeed, Sizes
from salebook.making.losses import Run
from salebook.making.studio_tally import StudioState, studio_states
from salebook.plan.model import USUAL_LOSSES, Clay, Plan
from salebook.plan.quantities import GRAMS_PER, MILLIMETRES_PER
from salebook.reckoning import Reckoning

WIDTHS = (3, 27, 12, *(11.5,) * 10)
WORKINGS = len(WIDTHS) + 2
"""First column right of the printed page."""


def shares_table() -> Table[Run]:
    """Declare what share of each ware comes through."""
    table: Table[Run] = ware_table("shares", attrgetter("ware"))
    lost = {
        "throwing": _("Lost in throwing"),
        "drying": _("Lost in drying"),
        "biscuit": _("Lost in biscuit firing"),
        "glaze": _("Lost in glaze firing"),
    }
    for stage, heading in lost.items():
        used = f"IF(COUNT([wares.throwing]:[wares.glaze])=0,usual_{stage},SUM([wares.{stage}]))"
        table.live(stage, heading, "percent", _with_counts(stage, used), f"ware.losses.{stage}")
    through = "*".join(f"(1-[{stage}])" for stage in lost)
    seconds = _with_counts("seconds", "SUM([wares.seconds])")
    table.live("seconds", _("Seconds among the rest"), "percent", seconds, "ware.seconds")
    table.live("surviving_share", _("Come through"), "percent", through)
    table.live("good_share", _("Come through as firsts"), "percent", "[surviving_share]*(1-[seconds])")
    return table


def _with_counts(stage: str, planned: str) -> Callable[[Run], str]:
    """Return the formula of a loss: the plan's, or what is believed of it after counts of earlier sales."""
    return lambda run: f"[beliefs.mean@{run.ware.code}_{stage}]" if run.ware.has_counts else planned


@dataclass(frozen=True, kw_only=True)
class Start:
    """How many of a ware to start, of which clay."""

    run: Run
    clay: Clay

    @property
    def dry_kg(self) -> Decimal:
        """The dry clay in one piece."""
        return self.run.ware.ball.kg * self.clay.dry_fraction

    @property
    def grams(self) -> Decimal:
        """The clay weighed out for all pieces."""
        return self.run.started * self.run.ware.ball.g

    @property
    def too_few(self) -> int:
        """How many of the numbers tried are not sure enough."""
        return self.run.started - lowest_tried(self.run)


def starts_table() -> Table[Start]:
    """Declare how many of each ware to start, and how far they come."""
    table: Table[Start] = ware_table("starts", attrgetter("run.ware"))
    arrives = "[started]*(1-[shares.throwing])*(1-[shares.drying])"
    to_glaze = f"{arrives}*(1-[shares.biscuit])"
    seconds = "[started]*[shares.surviving_share]*[shares.seconds]"
    chance = "INDEX(chances_[#],[too_few]+1)"
    for_sale = '[wanted]+IF([wares.seconds_price]="",0,[seconds])'
    dry = f"{grams('wares.ball')}/grams_in_kg*[clays.dry_fraction]"

    def line(key: str, heading: str, style: str, formula: str, name: str) -> None:
        table.live(key, heading, style, formula, f"run.{key}", name=name)

    table.live("wanted", _("Good pieces wanted"), "whole", "SUM([wares.wanted])", "run.ware.wanted")
    line("started", _("To start"), "strong whole", "starting_from_[#]+[too_few]", "ware_started")
    table.live("chance", _("Chance of enough"), "percent", chance, "run.chance_of_enough")
    line("to_biscuit", _("Into the biscuit firing"), "whole", up(arrives), "ware_to_biscuit")
    line("to_glaze", _("Into the glaze firing"), "whole", up(to_glaze), "ware_to_glaze")
    line("seconds", _("Seconds to expect"), "whole", f"INT(ROUND({seconds},9))", "ware_seconds")
    line("for_sale", _("For sale, as planned"), "strong whole", for_sale, "ware_for_sale")
    line("batches", _("Batches"), "whole", up("[started]/batch_size"), "ware_batches")
    table.live("dry_kg", _("Dry kg of one"), "hundredths", dry, name="ware_dry_kg")
    table.skip_to(WORKINGS)
    grams_of_all = "[started]*[sizes.ball_g]"
    table.live("grams", _("Clay of all, g"), "worked whole", grams_of_all, name="ware_grams")
    too_few = "SUMPRODUCT((chances_[#]<confidence-forgiven_chance)*1)"
    table.live("too_few", _("Numbers tried that are too few"), "worked whole", too_few)
    suffices = "IF([too_few]<ROWS(chances_[#]),1,0)"
    table.live("suffices", _("Table of chances is long enough"), "worked whole", suffices, lambda _row: 1)
    return table


def grams(key: str) -> str:
    """Return the formula of a mass of the plan in grams."""
    return f"[{key}]*INDEX(mass_grams,MATCH([{key}_unit],mass_units,0))"


def _millimetres(key: str) -> str:
    return f"[{key}]*INDEX(length_mm,MATCH([wares.length_unit],length_units,0))"


def sizes_table() -> Table[Sizes]:
    """Declare how big to throw each ware, and how it shrinks."""
    table: Table[Sizes] = ware_table("sizes", attrgetter("ware"))
    ball, ounces = grams("wares.ball"), '[ball_g]/INDEX(mass_grams,MATCH("oz",mass_units,0))'
    dry, fired = "[clay.drying_shrinkage]", "[clays.shrinkage]"
    table.live("ball_g", _("Ball, g"), "whole", ball, "ware.ball.g")
    table.live("ball_oz", _("Ball, oz"), "tenths", ounces, "ware.ball.oz")
    table.live("made_height_mm", _("Height thrown, mm"), "strong whole", _made("height"))
    table.live("made_diameter_mm", _("Width thrown, mm"), "strong whole", _made("diameter"))
    table.live("kiln_height_mm", _("Height in the kiln, mm"), "whole", _shrunk("height", dry))
    table.live("kiln_diameter_mm", _("Width in the kiln, mm"), "whole", _shrunk("diameter", dry))
    table.live("fired_height_mm", _("Height fired, mm"), "whole", _shrunk("height", fired))
    table.live("fired_diameter_mm", _("Width fired, mm"), "whole", _shrunk("diameter", fired))
    return table


def _made(side: str) -> str:
    made, fired = f"wares.made_{side}", f"wares.fired_{side}"
    before_firing = f"{_millimetres(fired)}/(1-[clays.shrinkage])"
    return f'IF([{made}]<>"",{_millimetres(made)},IF([{fired}]<>"",{before_firing},""))'


def _shrunk(side: str, shrinkage: str) -> str:
    return f'IF([made_{side}_mm]="","",[made_{side}_mm]*(1-{shrinkage}))'


def clay_table() -> Table[tuple[ClayNeed, tuple[int, ...]]]:
    """Declare how much of each clay to buy; with each go the numbers of the wares that are made of it."""
    table: Table[tuple[ClayNeed, tuple[int, ...]]] = Table(
        "clay", N_("Making"), record=lambda row: row[0].clay.name
    )
    table.join("clays", lambda row: row[0].clay.name)
    dries, cost = "[clays.drying_shrinkage]", money_rounded("[clays.pack_price]*[kg]/[pack_kg]")
    bought = f'IF([clays.whole_packs]="yes",[packs]*[clays.pack_price],{cost})'
    dried = f'IF({dries}="",[clays.shrinkage]/2,{dries})'
    pack = f"{grams('clays.pack')}/grams_in_kg"
    table.live("name", _("Clay"), "text", "[clays.name]", lambda row: row[0].clay.name)
    table.gap()
    table.live("kg", _("Weigh out, kg"), "hundredths", _kg, name="clay_kg")
    table.live("packs", _("Bags"), "strong whole", up("[kg]/[pack_kg]"), name="clay_packs")
    table.live(
        *("pack_kg", _("A bag holds, kg"), "number", pack, lambda row: row[0].clay.pack.kg),
        name="clay_pack_kg",
    )
    table.live("cost", _("Cost"), "money", bought, name="clay_costs")
    table.live(
        "drying_shrinkage", _("Shrinks in drying"), "percent", dried, lambda row: row[0].clay.drying_shrinkage
    )
    return table


def _kg(row: tuple[ClayNeed, tuple[int, ...]]) -> str:
    return f"{sum_of('ware_grams', row[1])}/grams_in_kg*(1+[clays.waste])"


def units_table(units: str, values: str, unit: str) -> Table[tuple[str, Decimal]]:
    """Declare what each unit holds of one; formulas call the columns `units` and `values`."""
    table: Table[tuple[str, Decimal]] = Table(units, "Making", bare=True)
    table.fixed("name", "", "worked text", lambda row: row[0], name=units)
    table.fixed("holds", "", "worked number", lambda row: row[1], name=values)
    table.fixed("unit", "", "label", lambda _row: unit)
    return table


def write_making(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Making."""
    plan, studio = reckoning.plan, reckoning.studio
    stand = studio_states(studio.runs, event.entries.studio, float(plan.sale.confidence))
    page = book.page(N_("Making"), widths=WIDTHS, landscape=True)
    page.title(
        _("Making"),
        _(
            "How many to start so that enough come through, how big to throw, what to buy. Dust harms the "
            "lungs: clean wet. See Cautions."
        ),
    )
    if plan.wares:
        put_days(page, reckoning, event.entries, stand)
        with on_one_page(page):
            _shares(page, studio.runs)
        with on_one_page(page):
            _starts(page, plan, studio.runs)
            put_chances(page, studio.runs)
        with on_one_page(page):
            put_one_loss(page, studio.runs)
        with on_one_page(page):
            _sizes(page, studio.sizes)
        with on_one_page(page):
            _clay(page, reckoning)
        with on_one_page(page):
            put_studio_tally(page, reckoning, stand)
        with on_one_page(page):
            put_losses_seen(page, stand)
        with on_one_page(page):
            _usual_losses(page)
        with on_one_page(page):
            put_beliefs(page, studio.runs)
        page.print_so_far()
        _workings(page, reckoning, stand)
    else:
        page.paragraph(_("The plan has no pieces of the maker's own: nothing to make."))
        put_line(page, _("Everything could be looked up"), 1, "worked whole", name="making_table_ok")
        page.row += 1
        page.print_so_far()
    put_staleness_check_of_days(page, reckoning)
    put_staleness_check_of_chances(page, studio.runs)
    page.freeze(4)


def _workings(page: Page, reckoning: Reckoning, stand: Sequence[StudioState]) -> None:
    """Write what only formulas need, folded away below what is printed: it can be unfolded at the margin."""
    first = page.row
    put_tally_workings(page, stand, float(reckoning.plan.sale.confidence))
    put_chances_workings(page, reckoning.studio.runs)
    _units(page)
    page.fold(first, page.row)
    page.row += 1


def _shares(page: Page, runs: Sequence[Run]) -> None:
    page.band(_("What share comes through"))
    shares_table().write(page, runs)
    page.row += 1


def _starts(page: Page, plan: Plan, runs: Sequence[Run]) -> None:
    page.band(_("How many to start"))
    rows = [Start(run=run, clay=plan.clay_of(run.ware)) for run in runs]
    starts_table().write(page, rows)
    for run in runs:
        _in_words(page, run)
    page.paragraph(
        _(
            "This assumes that pieces fail one by one. A failed firing can spoil many at once: "
            "the number to start is the least that will do, not a promise."
        ),
        "note",
    )
    page.row += 1


def _in_words(page: Page, run: Run) -> None:
    name, started, wanted = (f"[starts.{key}@{run.ware.code}]" for key in ("name", "started", "wanted"))
    formula, said = live_sentence(
        _("{ware}: {started} = {wanted} good and {more} that may not come through"),
        ware=(name, run.ware.name),
        started=(started, str(run.started)),
        wanted=(wanted, str(run.ware.wanted)),
        more=(f"({started}-{wanted})", str(run.started - run.ware.wanted)),
    )
    page.paragraph(Figure(f"={formula}", said), "note")
    if run.ware.has_counts:
        sure = f"INT(ROUND([starts.chance@{run.ware.code}]*100,9))"
        formula, said = live_sentence(
            _("{ware}: {started} to start: {sure} in 100 that enough are good, by what earlier sales say"),
            ware=(name, run.ware.name),
            started=(started, str(run.started)),
            sure=(sure, str(floor(run.chance_of_enough * 100))),
        )
        page.paragraph(Figure(f"={formula}", said), "note")


def _sizes(page: Page, sizes: Sequence[Sizes]) -> None:
    page.band(_("How big to throw"))
    sizes_table().write(page, sizes)
    page.row += 1


def _clay(page: Page, reckoning: Reckoning) -> None:
    page.band(_("Clay to buy"))
    wares = reckoning.plan.wares
    rows = [
        (need, tuple(n for n, ware in enumerate(wares, start=1) if ware.clay == need.clay.name))
        for need in reckoning.studio.clays
    ]
    clay_table().write(page, rows)
    page.row += 1


def _usual_losses(page: Page) -> None:
    page.band(_("Losses assumed where the plan gives none (common practice, no source)"))
    words = {
        "throwing": _("in throwing"),
        "drying": _("in drying"),
        "biscuit": _("in the biscuit firing"),
        "glaze": _("in the glaze firing"),
    }
    for stage, label in words.items():
        usual = number(getattr(USUAL_LOSSES, stage))
        put_line(page, label, usual, "worked percents", name=f"usual_{stage}")
    page.row += 1


def _units(page: Page) -> None:
    page.band(_("Units (the pound and the inch are exact: NIST Handbook 44, Appendix C)"))
    for names, values, table, unit in (
        ("mass_units", "mass_grams", GRAMS_PER, "g"),
        ("length_units", "length_mm", MILLIMETRES_PER, "mm"),
    ):
        units_table(names, values, unit).write(page, list(table.items()))
        page.row += 1
    put_line(
        *(page, _("grams in a kilogram"), 1000, "worked whole"), name="grams_in_kg", label_style="worked text"
    )
