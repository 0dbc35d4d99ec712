"""What the commands say on a terminal: tables and lists, in colour only where the terminal has it."""

import sys
from collections.abc import Iterator, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from salebook.base.words import _, ngettext
from salebook.jobs.columns import fit_columns
from salebook.plan.model import MetBy, Sale
from salebook.plan.money import rounded
from salebook.plan.notes import assumptions
from salebook.pricing.costing import KIND_WORDS
from salebook.pricing.levers import levers_of
from salebook.pricing.warnings import not_known
from salebook.reckoning import Reckoning
from salebook.say.price import changed, is_guessed, price_sentences
from salebook.say.time import format_day_short, task_label, time_sentences

BAR_WIDTH = 20


def open_console() -> Console:
    """Return a console on standard output that takes every text as it stands."""
    # rich reads square brackets as markup unless told not to: a group may be called "[green]".
    return Console(file=sys.stdout, markup=False, emoji=False, highlight=False)


def show_price(reckoning: Reckoning, console: Console) -> None:
    """Show the price advice: sentences, then tables, then what to mind."""
    _show_heading(reckoning.plan.sale, console)
    when = time_sentences(reckoning.plan, reckoning.days)
    for sentence in when if reckoning.days.is_too_late else ():
        console.print(Text(sentence, style="bold red"))
    for sentence in price_sentences(reckoning):
        console.print(sentence)
    for sentence in () if reckoning.days.is_too_late else when:
        console.print(sentence)
    mark = "#" if console.options.ascii_only else "\N{FULL BLOCK}"
    for table in _tables(reckoning, mark):
        fit_columns(table, console.width)
        console.print()
        console.print(table)
    unknown = not_known(reckoning.plan, reckoning.studio)
    show_list(_("What it does not know"), unknown, console)
    others = [warning for warning in reckoning.advice.warnings if warning not in unknown]
    show_list(_("To mind"), others, console)
    show_list(_("Assumed, as the plan does not say"), assumptions(reckoning.plan), console)


def show_list(heading: str, lines: Sequence[str], console: Console) -> None:
    """Show a heading with its lines, or nothing where there are none."""
    if not lines:
        return
    console.print()
    console.print(Text(heading, style="bold"))
    for line in lines:
        row = Table.grid(padding=(0, 1))
        row.add_row("-", line)
        console.print(row)


def _show_heading(sale: Sale, console: Console) -> None:
    console.print(Text(sale.title, style="bold"))
    console.print()


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


def _table(title: str, *columns: str, left: int = 1) -> Table:
    """Return an empty table whose first `left` columns are text and the others figures."""
    table = Table(
        title=title,
        title_justify="left",
        title_style="bold",
        caption_justify="left",
        box=None,
        pad_edge=False,
        header_style="dim",
    )
    for place, column in enumerate(columns):
        table.add_column(column, overflow="fold", justify="left" if place < left else "right")
    return table


def _ladder(reckoning: Reckoning, mark: str) -> Table:
    plan, sale = reckoning.plan, reckoning.plan.sale
    table = _table(_("At other prices"), _("prices"), _("pieces sold"), _("for the groups"), _("chance"))
    table.add_column(_("of the target"))
    for rung in reckoning.advice.ladder:
        guessed = is_guessed(plan, rung)
        table.add_row(
            f"{changed(rung.change)} ?" if guessed else changed(rung.change),
            f"{rounded(rung.expected_sold, 1)}",
            sale.format_money(rung.expected_net),
            f"{rung.chance:.0%}",
            Text(mark * round(rung.chance * BAR_WIDTH), style="cyan"),
            style="dim" if guessed else "bold" if rung.change == 0 else "",
        )
    if any(is_guessed(plan, rung) for rung in reckoning.advice.ladder):
        table.caption = _("? The plan does not say how many would sell at such prices.")
    return table


def _levers(reckoning: Reckoning) -> Iterator[Table]:
    sale = reckoning.plan.sale
    table = _table(_("What would help"), _("change"), _("for the groups"), _("chance"))
    for lever in levers_of(reckoning.plan, reckoning.studio, reckoning.costs):
        sign = "+" if lever.more_net > 0 else ""
        more = f"{sign}{sale.format_money(lever.more_net)}" if lever.more_net else _("as before")
        table.add_row(lever.what, more, f"{lever.chance:.0%}")
    if table.row_count:
        yield table


def _piece_costs(reckoning: Reckoning) -> Table:
    sale, cost, pieces = reckoning.plan.sale, reckoning.advice.piece_cost, reckoning.advice.break_even
    table = _table(_("What a piece costs"), "", _("each"), _("paid back after"))
    table.add_row(_("to pay back the table"), sale.format_money(cost.sale), _after(pieces.sale))
    table.add_row(_("all money spent"), sale.format_money(cost.spent), _after(pieces.spent))
    table.add_row(_("and my hours"), sale.format_money(cost.full), _after(pieces.full))
    return table


def _after(pieces: int | None) -> str:
    if pieces is None:
        return _("never")
    return ngettext("{pieces} piece", "{pieces} pieces", pieces).format(pieces=pieces)


def _who_pays(reckoning: Reckoning) -> Table:
    sale, costs = reckoning.plan.sale, reckoning.costs
    payers = _payers()
    table = _table(_("Who pays what"), _("cost"), _("kind"), _("who pays"), _("total"), left=3)
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
    table = _table(_("What each group can expect"), _("group"), _("parts"), _("expected"))
    for share in reckoning.advice.share_out:
        table.add_row(share.group.name, str(share.group.parts), sale.format_money(share.expected))
    return table


def _making(reckoning: Reckoning) -> Table:
    counted = (_("wanted"), _("start"), _("to biscuit"), _("to glaze"), _("seconds"), _("for sale"))
    table = _table(_("How many to make"), _("code"), *counted, _("how sure"))
    for run in reckoning.studio.runs:
        counts = (run.ware.wanted, run.started, run.to_biscuit, run.to_glaze, run.seconds, run.for_sale)
        table.add_row(run.ware.code, *(str(count) for count in counts), f"{run.chance_of_enough:.0%}")
    return table


def _days(reckoning: Reckoning) -> Table:
    days, locale = reckoning.days, reckoning.plan.sale.locale
    columns = [_("latest from"), _("until")] + [_("soonest from"), _("until")] * bool(days.earliest)
    table = _table(_("Day by day"), _("what"), *columns)
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
    table = _table(_("Clay to buy"), _("clay"), _("kg"), _("bags"), _("cost"))
    for need in reckoning.studio.clays:
        table.add_row(need.clay.name, f"{rounded(need.kg, 1)}", str(need.packs), sale.format_money(need.cost))
    return table


def _firings(reckoning: Reckoning) -> Table:
    sale = reckoning.plan.sale
    measures = (_("kiln loads"), _("hours a load"), _("kWh a load"), _("peak kW"))
    table = _table(_("Firings"), _("firing"), *measures, _("cost of all"))
    for need in reckoning.studio.firings:
        figures = (f"{need.hours:.1f}", f"{need.kwh:.1f}", f"{need.peak_kw:.1f}")
        table.add_row(need.firing.name, str(need.loads), *figures, sale.format_money(need.cost))
    return table


def _hours(reckoning: Reckoning) -> Table:
    hours, sale = reckoning.studio.hours, reckoning.plan.sale
    table = _table(_("Hours: a worth, not money"), _("work"), _("hours"))
    for line in hours.lines:
        table.add_row(line.work.name, f"{rounded(line.hours, 1)}")
    table.add_row(_("all"), f"{rounded(hours.total, 1)}", style="bold")
    table.add_row(_("worth"), sale.format_money(hours.value))
    return table
