"""The sheet Making: how many to start, how big to throw, how much clay to buy."""

from decimal import Decimal

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import money_rounded, up
from salebook.book.page import Book, Content, Page, number
from salebook.book.sheets.making.days import put_days, put_staleness_check_of_days
from salebook.book.sheets.making.starting import put_chances, put_one_loss
from salebook.book.sheets.making.studio_tally import put_studio_tally
from salebook.book.sheets.row_height import named_row
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.event.event import Event
from salebook.making.clay import Sizes
from salebook.making.losses import Run
from salebook.making.studio_tally import studio_states
from salebook.plan.model import USUAL_LOSSES, Plan, Ware
from salebook.plan.quantities import GRAMS_PER, MILLIMETRES_PER
from salebook.reckoning import Reckoning

WIDTHS = (3, 27, 12, *(11.5,) * 10)
STAGES = ("throwing", "drying", "biscuit", "glaze")
CLAY_KEYS = ("name", "waste", "pack_price", "whole_packs", "shrinkage", "drying_shrinkage")


def write_making(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Making."""
    plan, studio = reckoning.plan, reckoning.studio
    stand = studio_states(studio.runs, event.entries.studio, float(plan.sale.confidence))
    page = book.page(_("Making"), widths=WIDTHS, landscape=True)
    page.title(
        _("Making"),
        _(
            "How many to start so that enough come through, how big to throw, what to buy. Dust harms the "
            "lungs: clean wet. See Cautions."
        ),
    )
    if plan.wares:
        put_days(page, reckoning, event.entries, stand)
        _shares(page, studio.runs)
        _starts(page, plan, studio.runs)
        _sizes(page, plan, studio.sizes)
        _clay(page, reckoning)
        put_studio_tally(page, reckoning, stand)
        put_one_loss(page, studio.runs)
        put_chances(page, studio.runs)
        _usual_losses(page)
        _units(page)
    else:
        page.paragraph(_("The plan has no pieces of the maker's own: nothing to make."))
        _empty_names(page)
    put_staleness_check_of_days(page, reckoning)
    page.freeze(4)


def _empty_names(page: Page) -> None:
    named_row(page, "making_table_ok", _("Everything could be looked up"), 1, "worked whole")
    page.row += 1


def _ware_cells(page: Page, ware: Ware) -> list[tuple[Content, str]]:
    places = page.book.addresses
    return [
        ("making", "key"),
        (Figure(f"={places['wares', ware.code, 'name']}", ware.name), "result wrapped"),
        (Figure(f"={places['wares', ware.code, 'code']}", ware.code), "result text"),
    ]


def _name_columns(page: Page, first: int, names: dict[int, str]) -> None:
    for column, name in names.items():
        page.name(name, first, column, last_row=page.row - 1)


def _shares(page: Page, runs: tuple[Run, ...]) -> None:
    page.band(_("What share comes through"))
    page.headings(
        ("name", "code", *STAGES, "seconds", "surviving_share", "good_share"),
        (
            _("Name"),
            _("Code"),
            _("Lost in throwing"),
            _("Lost in drying"),
            _("Lost in biscuit firing"),
            _("Lost in glaze firing"),
            _("Seconds among the rest"),
            _("Come through"),
            _("Come through as firsts"),
        ),
        section="shares",
    )
    for run in runs:
        row = page.row
        page.put_row(
            [
                *_ware_cells(page, run.ware),
                *((_loss_used(page, run.ware, stage), "result percent") for stage in STAGES),
                (_from_plan(page, run.ware, "seconds", run.ware.seconds), "result percent"),
                (
                    Figure(f"=(1-D{row})*(1-E{row})*(1-F{row})*(1-G{row})", run.surviving_share),
                    "result percent",
                ),
                (Figure(f"=I{row}*(1-H{row})", run.good_share), "result percent"),
            ]
        )
        page.book.addresses["making", run.ware.code, "shares"] = str(row)
    page.row += 1


def _loss_used(page: Page, ware: Ware, stage: str) -> Figure:
    places = page.book.addresses
    first, last = places["wares", ware.code, STAGES[0]], places["wares", ware.code, STAGES[-1]]
    given = f"{first}:{last.split('!')[1]}"
    here = places["wares", ware.code, stage]
    return Figure(f"=IF(COUNT({given})=0,usual_{stage},N({here}))", getattr(ware.losses, stage))


def _from_plan(page: Page, ware: Ware, key: str, value: Decimal | int) -> Figure:
    return Figure(f"=N({page.book.addresses['wares', ware.code, key]})", value)


def _starts(page: Page, plan: Plan, runs: tuple[Run, ...]) -> None:
    page.band(_("How many to start"))
    page.headings(
        (
            "name",
            "code",
            "wanted",
            "started",
            "chance",
            "to_biscuit",
            "to_glaze",
            "seconds",
            "for_sale",
            "batches",
            "dry_kg",
        ),
        (
            _("Name"),
            _("Code"),
            _("Good pieces wanted"),
            _("To start"),
            _("Chance of enough"),
            _("Into the biscuit firing"),
            _("Into the glaze firing"),
            _("Seconds to expect"),
            _("For sale"),
            _("Batches"),
            _("Dry kg of one"),
        ),
        section="starts",
    )
    first = page.row
    for n, run in enumerate(runs):
        _start_row(page, plan, run, n)
    _name_columns(
        page,
        first,
        {
            4: "making_wanted",
            5: "ware_started",
            7: "ware_to_biscuit",
            8: "ware_to_glaze",
            9: "ware_seconds",
            10: "ware_for_sale",
            11: "ware_batches",
            12: "ware_dry_kg",
        },
    )
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


def _start_row(page: Page, plan: Plan, run: Run, n: int) -> None:
    row, ware = page.row, run.ware
    shares = page.book.addresses["making", ware.code, "shares"]
    clay = plan.clay_of(ware)
    seconds_price = page.book.addresses["wares", ware.code, "seconds_price"]
    dry = page.book.addresses["clays", clay.name, "dry_fraction"]
    grams = _grams(page, "wares", ware.code, "ball")
    arrives = f"E{row}*(1-D{shares})*(1-E{shares})"
    page.book.addresses["making", ware.code, "row"] = str(row)
    page.put_row(
        [
            *_ware_cells(page, ware),
            (_from_plan(page, ware, "wanted", ware.wanted), "result whole"),
            (Figure(f"=starting_from_{n + 1}+chances_below_{n + 1}", run.started), "strong whole"),
            (
                Figure(f"=INDEX(chances_{n + 1},chances_below_{n + 1}+1)", run.chance_of_enough),
                "result percent",
            ),
            (Figure(f"={up(arrives)}", run.to_biscuit), "result whole"),
            (Figure(f"={up(f'{arrives}*(1-F{shares})')}", run.to_glaze), "result whole"),
            (Figure(f"=INT(ROUND(E{row}*I{shares}*H{shares},9))", run.seconds), "result whole"),
            (Figure(f'=D{row}+IF({seconds_price}="",0,I{row})', run.for_sale), "strong whole"),
            (Figure(f"={up(f'E{row}/batch_size')}", run.batches), "result whole"),
            (Figure(f"={grams}/grams_in_kg*{dry}", ware.ball.kg * clay.dry_fraction), "result hundredths"),
        ]
    )


def _in_words(page: Page, run: Run) -> None:
    row = page.book.addresses["making", run.ware.code, "row"]
    formula, said = live_sentence(
        _("{ware}: {started} = {wanted} good and {more} that may not come through"),
        ware=(f"B{row}", run.ware.name),
        started=(f"E{row}", str(run.started)),
        wanted=(f"D{row}", str(run.ware.wanted)),
        more=(f"(E{row}-D{row})", str(run.started - run.ware.wanted)),
    )
    page.paragraph(Figure(f"={formula}", said), "note")


def _grams(page: Page, section: str, record: str, key: str) -> str:
    amount = page.book.addresses[section, record, key]
    unit = page.book.addresses[section, record, f"{key}_unit"]
    return f"{amount}*INDEX(mass_grams,MATCH({unit},mass_units,0))"


def _millimetres(page: Page, ware: Ware, key: str) -> str:
    amount = page.book.addresses["wares", ware.code, key]
    unit = page.book.addresses["wares", ware.code, "length_unit"]
    return f"{amount}*INDEX(length_mm,MATCH({unit},length_units,0))"


def _sizes(page: Page, plan: Plan, sizes: tuple[Sizes, ...]) -> None:
    page.band(_("How big to throw"))
    page.headings(
        (
            "name",
            "code",
            "ball_g",
            "ball_oz",
            "made_height_mm",
            "made_diameter_mm",
            "kiln_height_mm",
            "kiln_diameter_mm",
            "fired_height_mm",
            "fired_diameter_mm",
        ),
        (
            _("Name"),
            _("Code"),
            _("Ball, g"),
            _("Ball, oz"),
            _("Height thrown, mm"),
            _("Width thrown, mm"),
            _("Height in the kiln, mm"),
            _("Width in the kiln, mm"),
            _("Height fired, mm"),
            _("Width fired, mm"),
        ),
        section="sizes",
    )
    for size in sizes:
        _size_row(page, plan, size)
    page.row += 1


def _size_row(page: Page, plan: Plan, size: Sizes) -> None:
    row, ware = page.row, size.ware
    clay = plan.clay_of(ware)
    drying = f"drying_shrinkage_{plan.clays.index(clay) + 1}"
    shrinks = page.book.addresses["clays", clay.name, "shrinkage"]
    page.book.addresses["sizes", ware.code, "row"] = str(row)
    for key, at in (("height", 8), ("width", 9)):
        page.book.addresses["sizes", ware.code, key] = page.address(row, at)
    page.put_row(
        [
            *_ware_cells(page, ware),
            (Figure(f"={_grams(page, 'wares', ware.code, 'ball')}", ware.ball.g), "result whole"),
            (Figure(f'=D{row}/INDEX(mass_grams,MATCH("oz",mass_units,0))', ware.ball.oz), "result tenths"),
            (_made(page, ware, "height", shrinks, size.made_height_mm), "strong whole"),
            (_made(page, ware, "diameter", shrinks, size.made_diameter_mm), "strong whole"),
            (_shrunk(f"F{row}", drying, size.kiln_height_mm), "result whole"),
            (_shrunk(f"G{row}", drying, size.kiln_diameter_mm), "result whole"),
            (_shrunk(f"F{row}", shrinks, size.fired_height_mm), "result whole"),
            (_shrunk(f"G{row}", shrinks, size.fired_diameter_mm), "result whole"),
        ]
    )


def _made(page: Page, ware: Ware, side: str, shrinks: str, value: Decimal | None) -> Figure:
    made, fired = (page.book.addresses["wares", ware.code, f"{kind}_{side}"] for kind in ("made", "fired"))
    made_mm, fired_mm = (_millimetres(page, ware, f"{kind}_{side}") for kind in ("made", "fired"))
    formula = f'=IF({made}<>"",{made_mm},IF({fired}<>"",{fired_mm}/(1-{shrinks}),""))'
    return Figure(formula, "" if value is None else value)


def _shrunk(made: str, shrinkage: str, value: Decimal | None) -> Figure:
    return Figure(f'=IF({made}="","",{made}*(1-{shrinkage}))', "" if value is None else value)


def _clay(page: Page, reckoning: Reckoning) -> None:
    page.band(_("Clay to buy"))
    page.headings(
        ("name", "", "kg", "packs", "pack_kg", "cost", "drying_shrinkage"),
        (
            _("Clay"),
            "",
            _("Weigh out, kg"),
            _("Bags"),
            _("A bag holds, kg"),
            _("Cost"),
            _("Shrinks in drying"),
        ),
        section="clay",
    )
    first = page.row
    for n, need in enumerate(reckoning.studio.clays, start=1):
        row, clay, places = page.row, need.clay, page.book.addresses
        plan = {key: places["clays", clay.name, key] for key in CLAY_KEYS}
        users = [run for run in reckoning.studio.runs if run.ware.clay == clay.name]
        balls = "+".join(
            f"E{places['making', run.ware.code, 'row']}*D{places['sizes', run.ware.code, 'row']}"
            for run in users
        )
        kg = f"=({balls or 0})/grams_in_kg*(1+{plan['waste']})"
        by_mass = f"{plan['pack_price']}*D{row}/F{row}"
        cost = f'=IF({plan["whole_packs"]}="yes",E{row}*{plan["pack_price"]},{money_rounded(by_mass)})'
        dries = plan["drying_shrinkage"]
        page.put_row(
            (
                ("clay", "key"),
                (Figure(f"={plan['name']}", clay.name), "result text"),
                (None, "result"),
                (Figure(kg, need.kg), "result hundredths"),
                (Figure(f"={up(f'D{row}/F{row}')}", need.packs), "strong whole"),
                (
                    Figure(f"={_grams(page, 'clays', clay.name, 'pack')}/grams_in_kg", clay.pack.kg),
                    "result number",
                ),
                (Figure(cost, need.cost), "result money"),
                (
                    Figure(f'=IF({dries}="",{plan["shrinkage"]}/2,{dries})', clay.drying_shrinkage),
                    "result percent",
                ),
            )
        )
        page.name(f"drying_shrinkage_{n}", row, 8)
    _name_columns(page, first, {4: "clay_kg", 5: "clay_packs", 6: "clay_pack_kg", 7: "clay_costs"})
    page.row += 1


def _usual_losses(page: Page) -> None:
    page.band(_("Losses assumed where the plan gives none (common practice, no source)"))
    words = (_("in throwing"), _("in drying"), _("in the biscuit firing"), _("in the glaze firing"))
    for stage, label in zip(STAGES, words, strict=True):
        named_row(page, f"usual_{stage}", label, number(getattr(USUAL_LOSSES, stage)), "worked percents")
    page.row += 1


def _units(page: Page) -> None:
    page.band(_("Units (the pound and the inch are exact: NIST Handbook 44, Appendix C)"))
    tables: tuple[tuple[str, str, dict[str, Decimal], str], ...] = (
        ("mass_units", "mass_grams", GRAMS_PER, "g"),
        ("length_units", "length_mm", MILLIMETRES_PER, "mm"),
    )
    for units, values, table, unit in tables:
        first = page.row
        for name, value in table.items():
            page.put_row(
                ((None, ""), (name, "worked text"), (number(value), "worked number"), (unit, "label"))
            )
        page.name(units, first, 2, last_row=page.row - 1)
        page.name(values, first, 3, last_row=page.row - 1)
        page.row += 1
    page.put(page.row, 2, _("grams in a kilogram"), "worked text")
    page.put(page.row, 3, 1000, "worked whole")
    page.name("grams_in_kg", page.row, 3)
    page.row += 1
