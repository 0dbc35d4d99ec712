"""Every cost as one line: what, how much, who meets it."""

from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Any, Final, Literal

from salebook.base.rounding import ceil
from salebook.base.words import N_, _
from salebook.making.clay import ClayNeed
from salebook.making.counts import count_for
from salebook.making.studio import Studio
from salebook.plan.model import Clay, Firing, Material, MetBy, Overhead, Plan
from salebook.plan.money import ZERO, rounded

Kind = Literal["clay", "firing", "material", "overhead"]
Basis = Literal["sale", "spent", "full"]

KIND_WORDS: Final[dict[Kind, str]] = {
    "clay": N_("clay"),
    "firing": N_("firing"),
    "material": N_("material"),
    "overhead": N_("other cost"),
}
"""What people call a kind of cost; to be looked up in the chosen language."""


Bought = tuple[Decimal, str, Decimal]
"""How much, in what unit, and what one of them costs."""


@dataclass(frozen=True, kw_only=True)
class CostLine:
    """One cost; `quantity` of `unit` at `unit_cost` each, `total` rounded to the minor unit."""

    name: str
    kind: Kind
    quantity: Decimal
    unit: str
    unit_cost: Decimal
    total: Decimal
    met_by: MetBy
    per_piece_sold: Decimal = ZERO
    """Cost of each piece sold, unrounded; 0 for a cost that does not grow with sales."""
    codes: tuple[str, ...] = ()
    """Codes of the goods that a cost for each piece sold belongs to; else empty."""
    nth: int = 1
    """Which one of the costs of its kind that have the same name."""

    @property
    def grows(self) -> bool:
        """Whether the cost grows with each piece sold."""
        return bool(self.codes)


@dataclass(frozen=True, kw_only=True)
class Costs:
    """All cost lines in the order clay, firing, material, overhead; the worth of the hours beside them."""

    lines: tuple[CostLine, ...]
    hours_value: Decimal

    def met_by(self, who: MetBy) -> Decimal:
        """Return what one party meets in all."""
        return sum((line.total for line in self.lines if line.met_by == who), ZERO)

    @property
    def total(self) -> Decimal:
        """All money spent, whoever met it."""
        return sum((line.total for line in self.lines), ZERO)

    def fixed(self, basis: Basis) -> Decimal:
        """Return what does not grow with sales: met by the sale; all money; all money and the hours."""
        # A sum of rounded lines, as each is paid by itself; what grows with sales stays unrounded
        # until it is paid.
        fixed = [line for line in self.lines if not line.grows]
        if basis == "sale":
            return sum((line.total for line in fixed if line.met_by == "sale"), ZERO)
        spent = sum((line.total for line in fixed), ZERO)
        return spent if basis == "spent" else spent + self.hours_value

    def per_piece_sold(self, code: str, basis: Basis) -> Decimal:
        """Return what each sold piece of a code costs on a basis, unrounded."""
        lines = (line for line in self.lines if code in line.codes)
        return sum((line.per_piece_sold for line in lines if basis != "sale" or line.met_by == "sale"), ZERO)


def cost_lines(plan: Plan, studio: Studio) -> Costs:
    """Return every cost of a plan: clay, firings, materials, overheads, each in plan order."""
    names: Counter[tuple[Kind, str]] = Counter()
    lines = []
    for line in _cost_lines(plan, studio):
        names[line.kind, line.name] += 1
        lines.append(replace(line, nth=names[line.kind, line.name]))
    return Costs(lines=tuple(lines), hours_value=studio.hours.value)


def _cost_lines(plan: Plan, studio: Studio) -> Iterator[CostLine]:
    digits = plan.sale.digits
    for clay in studio.clays:
        yield _clay_line(clay)
    for need in studio.firings:
        loads = (Decimal(need.loads), _("kiln load"), Decimal(repr(need.cost_of_load)))
        yield _line(need.firing, "firing", loads, rounded(need.cost, digits))
    for material in plan.materials:
        yield _material_line(material, plan, studio)
    for overhead in plan.overheads:
        once = (Decimal(1), _("sale"), overhead.amount)
        yield _line(overhead, "overhead", once, rounded(overhead.amount, digits))


def _line(
    source: Clay | Firing | Material | Overhead, kind: Kind, bought: Bought, total: Decimal, **sold: Any
) -> CostLine:
    quantity, unit, unit_cost = bought
    return CostLine(
        name=source.name,
        kind=kind,
        quantity=quantity,
        unit=unit,
        unit_cost=unit_cost,
        total=total,
        met_by=source.met_by,
        **sold,
    )


def _clay_line(need: ClayNeed) -> CostLine:
    clay = need.clay
    by_mass = (need.kg, "kg", clay.pack_price / clay.pack.kg)
    by_bag = (Decimal(need.packs), _("bag"), clay.pack_price)
    return _line(clay, "clay", by_bag if clay.whole_packs else by_mass, need.cost)


def _material_line(material: Material, plan: Plan, studio: Studio) -> CostLine:
    grows = material.per == "piece sold"
    count = count_for(material.per, material.wares, plan, studio.runs, studio.loadings)
    total = rounded(_exact_total(material, count, grows=grows), plan.sale.digits)
    if not grows:
        packs = material.amount * count / material.pack_amount
        bought = Decimal(ceil(packs)) if material.whole_packs else packs
        return _line(material, "material", (bought, _("pack"), material.pack_price), total)
    each = material.amount * material.pack_price / material.pack_amount
    pieces = (Decimal(count), _("piece sold"), each)
    return _line(material, "material", pieces, total, per_piece_sold=each, codes=codes_of(material, plan))


def _exact_total(material: Material, count: int, *, grows: bool) -> Fraction:
    """Return the cost before rounding, with no digit lost to a division that does not come out even."""
    packs = Fraction(material.amount) * count / Fraction(material.pack_amount)
    bought = ceil(packs) if material.whole_packs and not grows else packs
    return bought * Fraction(material.pack_price)


def codes_of(material: Material, plan: Plan) -> tuple[str, ...]:
    """Return the codes that a material for each piece sold is used on: those named, else all, donated too."""
    if not material.wares:
        return tuple(good.code for good in plan.goods)
    return (*material.wares, *(left.code for left in plan.carried if left.stem in material.wares))
