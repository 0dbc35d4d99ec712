"""The shopping list: all that has to be bought or paid for, by when, and who pays; the change to fetch."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Final

from salebook.base.rounding import ceil
from salebook.base.words import _, ngettext
from salebook.event.denominations import denominations_for
from salebook.event.register import Piece
from salebook.event.starting_float import starting_float
from salebook.making.clay import ClayNeed
from salebook.making.counts import count_for
from salebook.making.days import Days, Kind
from salebook.making.firing import FiringNeed
from salebook.plan.model import Material, MetBy, Per
from salebook.plan.money import in_cash, rounded
from salebook.pricing.costing import CostLine
from salebook.prints.labels.sheet import sheet_of
from salebook.prints.labels.tags import COLUMNS, ROWS
from salebook.prints.render import Printer
from salebook.prints.wording import cost_label, met_by_label, number
from salebook.reckoning import Reckoning

PAYERS: Final[tuple[MetBy, ...]] = ("maker", "sale", "sponsor")

NEEDED_FOR: Final[Mapping[Per, Kind]] = {
    "piece started": "throw",
    "batch": "throw",
    "load": "fire",
    "piece glazed": "glaze",
    "piece finished": "finish",
}
"""The task before which a material has to be there; all else is for the first day of the sale."""


@dataclass(frozen=True, kw_only=True)
class Purchase:
    """One thing to buy or to pay for: what, how much of it in the shop, how much is needed, by when."""

    name: str
    lot: str
    needed: str
    by: date
    line: CostLine | None = None
    """Its line on the sheet Costs; None where the plan says no price."""


@dataclass(frozen=True, kw_only=True)
class Payer:
    """Who pays for what on the list, and how much in all."""

    who: str
    names: tuple[str, ...]
    total: Decimal


def shopping_html(printer: Printer, reckoning: Reckoning, pieces: Sequence[Piece]) -> str:
    """Return the shopping list; `pieces` are those that get a label."""
    purchases = sorted(_purchases(reckoning, pieces), key=lambda each: each.by)
    change = _change(reckoning)
    return printer.fill(
        "shopping.html",
        purchases=purchases,
        payers=tuple(_payers(purchases)),
        total=sum((each.line.total for each in purchases if each.line), Decimal(0)),
        pays_cash=any(way.cash for way in reckoning.plan.payments),
        change=change,
        total_change=sum((face * count for face, count in change.items()), Decimal(0)),
    )


def _purchases(reckoning: Reckoning, pieces: Sequence[Piece]) -> Iterator[Purchase]:
    plan, studio = reckoning.plan, reckoning.studio
    sources = (*studio.clays, *studio.firings, *plan.materials, *plan.overheads)
    for source, line in zip(sources, reckoning.costs.lines, strict=True):
        match source:
            case ClayNeed() if source.packs:
                yield _clay(source, line, reckoning)
            case FiringNeed() if source.loads:
                yield _energy(source, line, reckoning)
            case Material():
                yield from _material(source, line, reckoning)
            case _ if line.kind == "overhead":
                yield Purchase(name=line.name, lot="", needed="", by=plan.sale.days[0], line=line)
    yield from _stationery(reckoning, sum(piece.count for piece in pieces))


def _clay(need: ClayNeed, line: CostLine, reckoning: Reckoning) -> Purchase:
    says = ngettext("{count} bag of {pack}", "{count} bags of {pack}", need.packs)
    kilograms = number(rounded(need.kg, 1), locale=reckoning.plan.sale.locale)
    return Purchase(
        name=cost_label(line),
        lot=says.format(count=need.packs, pack=need.clay.pack.to_text()),
        needed=_("{kilograms} kg needed").format(kilograms=kilograms),
        by=_begins("throw", reckoning.days),
        line=line,
    )


def _energy(need: FiringNeed, line: CostLine, reckoning: Reckoning) -> Purchase:
    says = ngettext("{count} kiln load", "{count} kiln loads", need.loads)
    kwh = number(need.kwh * need.loads, 0, locale=reckoning.plan.sale.locale)
    lit = (task.first for task in reckoning.days.latest if task.lit and task.firing == need.firing.name)
    return Purchase(
        name=cost_label(line),
        lot=says.format(count=need.loads),
        needed=_("about {kwh} kWh").format(kwh=kwh),
        by=next(lit, reckoning.plan.sale.days[0]),
        line=line,
    )


def _material(material: Material, line: CostLine, reckoning: Reckoning) -> Iterator[Purchase]:
    plan, studio = reckoning.plan, reckoning.studio
    needed = material.amount * count_for(material.per, material.wares, plan, studio.runs, studio.loadings)
    packs = ceil(needed / material.pack_amount)
    if packs:
        says = ngettext("{count} pack of {amount}", "{count} packs of {amount}", packs)
        task = NEEDED_FOR.get(material.per)
        yield Purchase(
            name=line.name,
            lot=says.format(count=packs, amount=_of(material.pack_amount, material, reckoning)),
            needed=_("{amount} needed").format(amount=_of(needed, material, reckoning)),
            by=_begins(task, reckoning.days) if task else plan.sale.days[0],
            line=line,
        )


def _of(amount: Decimal, material: Material, reckoning: Reckoning) -> str:
    return f"{number(amount, locale=reckoning.plan.sale.locale)} {material.unit}".strip()


def _stationery(reckoning: Reckoning, count: int) -> Iterator[Purchase]:
    if not count:
        return
    on_sheet, on_card = len(sheet_of(reckoning.plan.labels).places), COLUMNS * ROWS
    sheets, cards = (ceil(Decimal(count) / each) for each in (on_sheet, on_card))
    labels = ngettext("{count} sheet, {each} on each", "{count} sheets, {each} on each", sheets)
    tags = ngettext("or {count} sheet of card for tags", "or {count} sheets of card for tags", cards)
    yield Purchase(
        name=_("Labels"),
        lot=labels.format(count=sheets, each=on_sheet),
        needed=tags.format(count=cards),
        by=_begins("finish", reckoning.days),
    )


def _begins(kind: Kind, days: Days) -> date:
    """Return the last day on which a task can begin; the sale's first where the plan has no such task."""
    return next((task.first for task in days.latest if task.kind == kind), days.sale_day)


def _payers(purchases: Sequence[Purchase]) -> Iterator[Payer]:
    lines = [each.line for each in purchases if each.line]
    for who in PAYERS:
        own = [line for line in lines if line.met_by == who]
        if own:
            total = sum((line.total for line in own), Decimal(0))
            yield Payer(who=met_by_label(who), names=tuple(line.name for line in own), total=total)


def _change(reckoning: Reckoning) -> dict[Decimal, int]:
    sale = reckoning.plan.sale
    prices = dict.fromkeys(
        in_cash(good.price, sale.currency) for good in reckoning.advice.goods if good.count
    )
    return starting_float(filter(None, prices), denominations_for(sale.currency, sale.denominations).values)
