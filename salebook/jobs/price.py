"""The answer of `salebook price` on a plan."""

from collections.abc import Iterator, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from salebook.base.words import _, ngettext
from salebook.forecast.must_fetch import MustFetch, must_fetch
from salebook.forecast.standing import planned_standing
from salebook.jobs.answer import Answer, show_answer
from salebook.jobs.columns import add_note_on_guesses, bar_mark, titled_table
from salebook.plan.model import MetBy, Plan, Sale, Ware
from salebook.plan.money import rounded
from salebook.plan.notes import assumptions
from salebook.pricing.costing import KIND_WORDS
from salebook.pricing.demand import is_guessed
from salebook.pricing.levers import levers_of
from salebook.pricing.outcome import reaches
from salebook.pricing.warnings import not_known
from salebook.reckoning import Reckoning
from salebook.say.must_fetch import MOST_LISTED, must_fetch_sentences
from salebook.say.price import changed, price_sentences
from salebook.say.starting import starting_sentences
from salebook.say.time import format_day_short, task_label, time_sentences

BAR_WIDTH = 20


def show_price(reckoning: Reckoning, console: Console) -> None:
    """Show the price advice: sentences, then tables, then what to mind."""
    show_answer(price_answer(reckoning, bar_mark(console)), console)


def price_answer(reckoning: Reckoning, mark: str) -> Answer:
    """Return the price advice, its bars made of a mark."""
    when = time_sentences(reckoning.plan, reckoning.days)
    is_late = reckoning.days.is_too_late
    missed = must_fetch_where_missed(reckoning)
    said = (*must_fetch_sentences(reckoning.plan, missed), *price_sentences(reckoning))
    starting = starting_sentences(reckoning.studio.runs)
    tables = tuple(_tables(reckoning, mark))
    if missed and len(reckoning.plan.wares) > MOST_LISTED:
        tables = (must_fetch_table(reckoning.plan, missed), *tables)
    unknown = not_known(reckoning.plan, reckoning.studio)
    return Answer(
        title=reckoning.plan.sale.title,
        urgent=when if is_late else (),
        sentences=(*said, *(() if is_late else when), *starting),
        tables=tables,
        lists={
            _("What it does not know"): unknown,
            _("Please note"): [warning for warning in reckoning.advice.warnings if warning not in unknown],
            _("Assumed, as the plan does not say"): assumptions(reckoning.plan),
        },
    )


def must_fetch_where_missed(reckoning: Reckoning) -> Sequence[MustFetch]:
    """Return what each piece must fetch, where the plan's prices cannot be expected to make the target."""
    target = reckoning.advice.target
    if not reckoning.plan.wares or reaches(target.expected_net, target.amount):
        return ()
    return must_fetch(planned_standing(reckoning))


def must_fetch_table(plan: Plan, found: Sequence[MustFetch]) -> Table:
    """Return a table of what each piece must fetch: a row for each ware."""
    sure = _("{percent} % sure").format(percent=rounded(plan.sale.confidence * 100, 0))
    columns = (_("in the plan"), _("if all sell"), _("as the plan says"), sure)
    table = titled_table(_("What each piece must fetch"), "", *columns)
    for ware in plan.wares:
        prices = (_price_to_fetch(ware, one, plan.sale) for one in found)
        table.add_row(ware.name, plan.sale.format_money(ware.price), *prices)
    add_note_on_guesses(table, (one.is_guessed for one in found))
    return table


def _price_to_fetch(ware: Ware, found: MustFetch, sale: Sale) -> str:
    if found.change is None:
        return _("no price")
    price = sale.format_money(found.prices.firsts[ware.code])
    return f"{price} ?" if found.is_guessed else price


def _tables(reckoning: Reckoning, mark: str) -> Iterator[Table]:
    yield _ladder(reckoning, mark)
    yield from _levers(reckoning)
    yield _piece_costs(reckoning)
    if reckoning.costs.lines:
        yield _who_pays(reckoning)
    yield _groups(reckoning)
    if reckoning.studio.runs:
        yield _days(reckoning)
        yield _making(reckoning)
        yield _clays(reckoning)
    if reckoning.studio.firings:
        yield _firings(reckoning)
    if reckoning.studio.hours.lines:
        yield _hours(reckoning)


def _ladder(reckoning: Reckoning, mark: str) -> Table:
    plan, sale = reckoning.plan, reckoning.plan.sale
    table = titled_table(
        _("At other prices"), _("prices"), _("pieces sold"), _("for the groups"), _("chance")
    )
    table.columns[0].no_wrap = True
    table.add_column(_("of the target"))
    for rung in reckoning.advice.ladder:
        guessed = is_guessed(plan.wares, rung.prices)
        table.add_row(
            f"{changed(rung.change)} ?" if guessed else changed(rung.change),
            f"{rounded(rung.expected_sold, 1)}",
            sale.format_money(rung.expected_net),
            f"{rung.chance:.0%}",
            Text(mark * round(rung.chance * BAR_WIDTH), style="cyan"),
            style="dim" if guessed else "bold" if rung.change == 0 else "",
        )
    add_note_on_guesses(table, (is_guessed(plan.wares, rung.prices) for rung in reckoning.advice.ladder))
    return table


def _levers(reckoning: Reckoning) -> Iterator[Table]:
    sale = reckoning.plan.sale
    table = titled_table(_("What would help"), _("change"), _("for the groups"), _("chance"))
    for lever in levers_of(reckoning.plan, reckoning.studio, reckoning.costs):
        sign = "+" if lever.more_net > 0 else ""
        more = f"{sign}{sale.format_money(lever.more_net)}" if lever.more_net else _("as before")
        table.add_row(lever.what, more, f"{lever.chance:.0%}")
    if table.row_count:
        yield table


def _piece_costs(reckoning: Reckoning) -> Table:
    sale, cost, pieces = reckoning.plan.sale, reckoning.advice.piece_cost, reckoning.advice.break_even
    table = titled_table(_("What a piece costs"), "", _("each"), _("covered after"))
    table.add_row(_("to cover what the takings must pay"), sale.format_money(cost.sale), _after(pieces.sale))
    table.add_row(_("all money spent"), sale.format_money(cost.spent), _after(pieces.spent))
    table.add_row(_("all money, and my hours"), sale.format_money(cost.full), _after(pieces.full))
    return table


def _after(pieces: int | None) -> str:
    if pieces is None:
        return _("never")
    return ngettext("{pieces} piece", "{pieces} pieces", pieces).format(pieces=pieces)


def _who_pays(reckoning: Reckoning) -> Table:
    sale, costs = reckoning.plan.sale, reckoning.costs
    payers = _payers()
    table = titled_table(_("Who pays what"), _("cost"), _("kind"), _("who pays"), _("total"), left=3)
    for line in costs.lines:
        table.add_row(line.name, _(KIND_WORDS[line.kind]), payers[line.met_by], sale.format_money(line.total))
    table.add_row()
    for payer, name in payers.items():
        table.add_row("", _("together"), name, sale.format_money(costs.met_by(payer)))
    table.add_row("", _("together"), _("all"), sale.format_money(costs.total), style="bold")
    return table


def _payers() -> dict[MetBy, str]:
    return {"sale": _("the takings"), "maker": _("the maker"), "sponsor": _("sponsors")}


def _groups(reckoning: Reckoning) -> Table:
    sale = reckoning.plan.sale
    table = titled_table(_("What each group can expect"), _("group"), _("parts"), _("expected"))
    for share in reckoning.advice.share_out:
        table.add_row(share.group.name, str(share.group.parts), sale.format_money(share.expected))
    return table


def _making(reckoning: Reckoning) -> Table:
    counted = (_("wanted"), _("start"), _("to biscuit"), _("to glaze"), _("seconds"), _("for sale"))
    table = titled_table(_("How many to make"), _("code"), *counted, _("how sure"))
    for run in reckoning.studio.runs:
        counts = (run.ware.wanted, run.started, run.to_biscuit, run.to_glaze, run.seconds, run.for_sale)
        table.add_row(run.ware.code, *(str(count) for count in counts), f"{run.chance_of_enough:.0%}")
    left = sum(carried.count for carried in reckoning.plan.carried)
    if left:
        says = ngettext(
            "{count} piece that an earlier sale left comes on top of these.",
            "{count} pieces that an earlier sale left come on top of these.",
            left,
        )
        table.caption = says.format(count=left)
    return table


def _days(reckoning: Reckoning) -> Table:
    days, locale = reckoning.days, reckoning.plan.sale.locale
    columns = [_("latest from"), _("until")] + [_("soonest from"), _("until")] * bool(days.earliest)
    table = titled_table(_("Day by day"), _("what"), *columns)
    soonest = days.earliest or (None,) * len(days.latest)
    for late, soon in zip(days.latest, soonest, strict=True):
        spans = (late, soon) if soon else (late,)
        table.add_row(
            task_label(late),
            *(format_day_short(day, locale) for task in spans for day in (task.first, task.last)),
        )
    return table


def _clays(reckoning: Reckoning) -> Table:
    sale = reckoning.plan.sale
    table = titled_table(_("Clay to buy"), _("clay"), _("kg"), _("bags"), _("cost"))
    for need in reckoning.studio.clays:
        table.add_row(need.clay.name, f"{rounded(need.kg, 1)}", str(need.packs), sale.format_money(need.cost))
    return table


def _firings(reckoning: Reckoning) -> Table:
    sale = reckoning.plan.sale
    measures = (_("kiln loads"), _("hours a load"), _("kWh a load"), _("peak kW"))
    table = titled_table(_("Firings"), _("firing"), *measures, _("cost of all"))
    for need in reckoning.studio.firings:
        figures = (f"{need.hours:.1f}", f"{need.kwh:.1f}", f"{need.peak_kw:.1f}")
        table.add_row(need.firing.name, str(need.loads), *figures, sale.format_money(need.cost))
    return table


def _hours(reckoning: Reckoning) -> Table:
    hours, sale = reckoning.studio.hours, reckoning.plan.sale
    table = titled_table(_("Hours: a worth, not money"), _("work"), _("hours"))
    for line in hours.lines:
        table.add_row(line.work.name, f"{rounded(line.hours, 1)}")
    table.add_row(_("all"), f"{rounded(hours.total, 1)}", style="bold")
    table.add_row(_("worth"), sale.format_money(hours.value))
    return table
