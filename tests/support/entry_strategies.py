"""Filled-in sales by chance: Hypothesis strategies for what people type at the event, sensible and not."""

from collections.abc import Sequence
from datetime import date, time
from decimal import Decimal
from typing import Any, get_args

from hypothesis import strategies as st
from hypothesis.strategies import DrawFn, SearchStrategy

from salebook.event.bank import REASONS
from salebook.event.costs import cost_key
from salebook.event.denominations import denominations_for
from salebook.event.entries import (
    Banked,
    Claim,
    DayCount,
    Entries,
    FromHere,
    Grade,
    GroupPayment,
    Line,
    LineKind,
    Mishap,
    PieceEntry,
    TableCount,
    UnplannedCost,
)
from salebook.making.firing_done import FiringDone
from salebook.making.studio_tally import StudioCount
from salebook.plan.model import MetBy, Plan
from salebook.reckoning import reckon
from tests.support.strategies import amounts, names

KINDS: tuple[LineKind, ...] = get_args(LineKind)
OFTEN: tuple[LineKind, ...] = ("sale",) * 6
CLAIMS = ("C1", "C2", "C3")
NO_SUCH_PIECE = "ZZZZZZ-999"


def piece_numbers(plan: Plan) -> list[str]:
    """Return the numbers of pieces that there are in any case, and the code of each ware without numbers."""
    own = [(ware.code, ware.wanted if ware.numbered else 0) for ware in plan.wares]
    given = [(donated.code, donated.count) for donated in plan.donated]
    return [
        number
        for code, count in own + given
        for number in ([f"{code}-{index:03}" for index in range(1, count + 1)] or [code])
    ]


TILLS = (("1",), ("1",), ("1", "2"), ("1", "2", "3"))
"""Which tables sell at a sale."""

STEPS = (1, 1, 1, 1, 2, 7)
"""From one line's number to the next: a line may have been left empty, or taken out."""


@st.composite
def lines(draw: DrawFn, plan: Plan, *, most: int = 10, unread: bool = False) -> tuple[Line, ...]:
    """Draw lines of takings from one or several tills, with gaps in their numbers, most of them sales.

    At some sales everything goes on about a few pieces, so that deposits, balances and refunds of one piece
    meet in any order. `unread`: some cells hold what nobody can understand.
    """
    numbers = piece_numbers(plan)
    few = st.lists(st.sampled_from(numbers), min_size=1, max_size=2, unique=True)
    pieces = draw(st.one_of(st.just(numbers), few))
    tills = draw(st.sampled_from(TILLS))
    drawn = draw(st.lists(_line(plan, pieces, tills, unread=unread), max_size=most))
    last = dict.fromkeys(tills, 0)
    return tuple(_numbered(line, last, draw(st.sampled_from(STEPS))) for line in drawn)


def _numbered(line: dict[str, Any], last: dict[str, int], step: int) -> Line:
    """Give a line its till's next number."""
    last[line["till"]] += step
    unread = line.pop("unread", {})
    nothing: dict[str, Any] = {key: COUNTS_AS[key] for key in unread}
    return Line(number=last[line["till"]], **(line | nothing), unread=tuple(typed_keys(unread)))


def typed_keys(unread: dict[str, str]) -> list[tuple[str, str]]:
    """Return what was typed by its column's key."""
    return [("time" if key == "at" else key, text) for key, text in unread.items()]


COUNTS_AS = {
    "amount": Decimal(0),
    "gift": Decimal(0),
    "kind": "other",
    "day": None,
    "at": None,
    "count": None,
}
"""What a cell counts as that nobody can understand."""


def _line(
    plan: Plan, pieces: Sequence[str], tills: Sequence[str], *, unread: bool
) -> SearchStrategy[dict[str, Any]]:
    currency = plan.sale.currency
    groups = [group.name for group in plan.beneficiaries]
    no_sense = st.dictionaries(st.sampled_from(list(COUNTS_AS)), st.just("about then"), max_size=2)
    required: dict[str, SearchStrategy[Any]] = {
        "till": st.sampled_from(tills),
        "kind": st.sampled_from(OFTEN + KINDS),
        "piece": st.sampled_from([*pieces, *pieces, "", NO_SUCH_PIECE]),
        "way": st.sampled_from([*(way.name for way in plan.payments), ""]),
    }
    optional: dict[str, SearchStrategy[Any]] = {
        "day": st.sampled_from(plan.sale.days),
        "at": st.builds(time, st.integers(8, 18), st.integers(0, 59)),
        "count": st.integers(0, 4),
        "amount": amounts(currency),
        "gift": amounts(currency, most=20),
        "with_above": st.booleans(),
        "waiting": st.booleans(),
        "group": st.sampled_from(groups),
        "claim": st.sampled_from(CLAIMS),
        "agreed_price": st.none() | amounts(currency),
        "note": names(),
    }
    if unread:
        optional["unread"] = no_sense
    return st.fixed_dictionaries(required, optional=optional)


@st.composite
def entries(draw: DrawFn, plan: Plan, *, most_lines: int = 10, unread: bool = False) -> Entries:
    """Draw everything that may be filled in during and after a sale."""
    currency = plan.sale.currency
    money = amounts(currency)
    dates = st.sampled_from(plan.sale.days)
    groups = st.sampled_from([group.name for group in plan.beneficiaries])
    ways = [way.name for way in plan.payments]
    costs = [cost_key(line) for line in reckon(plan).costs.lines]
    taken = draw(lines(plan, most=most_lines, unread=unread))
    return Entries(
        lines=taken,
        pieces=draw(_piece_entries(plan)),
        made=draw(st.fixed_dictionaries({}, optional={w.code: st.integers(0, w.wanted) for w in plan.wares})),
        studio=draw(_studio(plan)),
        firings_done=draw(_firings_done(plan)),
        studio_day=draw(st.none() | dates),
        from_here=draw(_looks_ahead(plan)),
        cash=draw(_cash(plan, sorted({line.till for line in taken}) or ["1"])),
        table_counts=draw(_table(plan)),
        banked=draw(_tuples(st.builds(Banked, day=dates, what=names(), expected=money, arrived=money))),
        payments=draw(
            _tuples(st.builds(GroupPayment, day=dates, group=groups, amount=money, reference=names()))
        ),
        claims=draw(_claims()),
        actual_costs=draw(st.fixed_dictionaries({}, optional=dict.fromkeys(costs, money))),
        unplanned=draw(_tuples(_unplanned(currency))),
        actual_fees=draw(st.fixed_dictionaries({}, optional=dict.fromkeys(ways, amounts(currency, most=9)))),
        bank_reasons=draw(st.fixed_dictionaries({}, optional=dict.fromkeys(ways, st.sampled_from(REASONS)))),
    )


def _unplanned(currency: str) -> SearchStrategy[UnplannedCost]:
    said = st.sampled_from(("Postage to Orkney", "postage", "parking")) | names()
    spent = amounts(currency).filter(bool)
    return st.builds(UnplannedCost, name=said, amount=spent, met_by=st.sampled_from(get_args(MetBy)))


def _looks_ahead(plan: Plan) -> SearchStrategy[FromHere]:
    shares = st.decimals("0", "1", places=2)
    other = amounts(plan.sale.currency) if len(plan.wares) == 1 else shares
    return st.builds(FromHere, over=st.none() | shares, other=st.none() | other)


def _studio(plan: Plan) -> SearchStrategy[dict[str, StudioCount]]:
    counted = st.none() | st.integers(0, 30)
    stages = ("thrown", "dry", "biscuit", "good", "seconds", "broken")
    count = st.builds(StudioCount, **dict.fromkeys(stages, counted))
    return st.fixed_dictionaries({}, optional={ware.code: count for ware in plan.wares})


def _firings_done(plan: Plan) -> SearchStrategy[tuple[FiringDone, ...]]:
    if not plan.firings or plan.kiln is None:
        return st.just(())
    reading, count = st.none() | st.decimals("0", "99999", places=1), st.none() | st.integers(0, 40)
    done = st.builds(
        FiringDone,
        firing=st.sampled_from([*(firing.name for firing in plan.firings), "no such firing", ""]),
        load=count,
        day=st.none() | st.sampled_from(plan.sale.days),
        before=reading,
        after=reading,
        came_out=count,
        lost=count,
        why=names(),
    )
    return _tuples(done.filter(lambda one: one != FiringDone()))


def _tuples(one: SearchStrategy[Any]) -> SearchStrategy[tuple[Any, ...]]:
    return st.lists(one, max_size=2).map(tuple)


def _piece_entries(plan: Plan) -> SearchStrategy[dict[str, PieceEntry]]:
    numbered = [number for number in piece_numbers(plan) if "-" in number]
    if not numbered:
        return st.just({})
    entry = st.builds(
        PieceEntry,
        grade=st.sampled_from([None, *get_args(Grade)]),
        mishap=st.sampled_from([None, None, *get_args(Mishap)]),
        reserved_for=st.sampled_from(["", *CLAIMS]),
        marked_on=st.none() | st.sampled_from(plan.sale.days),
        agreed_price=st.none() | amounts(plan.sale.currency),
    )
    return st.dictionaries(st.sampled_from(numbered), entry, max_size=3)


def _claims() -> SearchStrategy[tuple[Claim, ...]]:
    claim = st.builds(
        Claim,
        claim=st.sampled_from(CLAIMS),
        name=names(),
        contact=names(),
        what=names(),
        how=st.sampled_from(("", "collecting", "posting")),
        done=st.booleans(),
    )
    return st.lists(claim, max_size=2, unique_by=lambda one: one.claim).map(tuple)


def _cash(plan: Plan, tills: Sequence[str]) -> SearchStrategy[tuple[DayCount, ...]]:
    faces = denominations_for(plan.sale.currency, plan.sale.denominations).values
    counts = st.dictionaries(st.sampled_from(faces), st.integers(0, 40), max_size=4)

    def counted(box: tuple[date, str]) -> SearchStrategy[DayCount]:
        money = amounts(plan.sale.currency)
        return st.builds(
            DayCount,
            day=st.just(box[0]),
            till=st.just(box[1]),
            float_=money,
            counts=counts,
            paid_out=money,
            counted_by=names(),
        )

    return _for_some([(day, till) for day in plan.sale.days for till in tills], counted)


def _table(plan: Plan) -> SearchStrategy[tuple[TableCount, ...]]:
    codes = [ware.code for ware in plan.wares] + [donated.code for donated in plan.donated]
    places = [(day, code) for day in plan.sale.days for code in codes]

    def counted(place: tuple[date, str]) -> SearchStrategy[TableCount]:
        return st.builds(TableCount, day=st.just(place[0]), code=st.just(place[1]), counted=st.integers(0, 9))

    return _for_some(places, counted)


def _for_some(keys: Sequence[Any], make: Any) -> SearchStrategy[tuple[Any, ...]]:
    chosen = st.lists(st.sampled_from(keys), max_size=3, unique=True).map(sorted)
    return chosen.flatmap(lambda some: st.tuples(*(make(key) for key in some)))


NOTHING_FILLED_IN = Entries()


def a_day_of_takings(plan: Plan, *, amount: Decimal = Decimal(5)) -> Entries:
    """Fill in one line of every kind of takings, on the plan's first pieces, way to pay and group."""
    numbers, way, group = piece_numbers(plan), plan.payments[0].name, plan.beneficiaries[-1].name
    first, second, third = (numbers * 3)[:3]
    day = plan.sale.days[0]
    typed: tuple[dict[str, Any], ...] = (
        {"day": day, "at": time(10, 5), "piece": first},
        {"piece": second, "with_above": True, "gift": amount, "group": group},
        {"kind": "deposit", "piece": third, "amount": amount, "claim": "C1"},
        {"kind": "balance", "piece": third, "claim": "C1", "at": time(11, 30)},
        {"kind": "refund", "piece": second},
        {"kind": "donation", "amount": amount, "group": group},
        {"kind": "raffle", "amount": amount * 7},
        {"kind": "refreshments", "amount": amount * 11, "day": plan.sale.days[-1]},
        {"kind": "postage", "amount": amount, "waiting": True},
        {"kind": "other", "amount": amount},
        {"kind": "order", "piece": numbers[-1], "count": 1, "claim": "C2"},
    )
    return Entries(
        lines=tuple(Line(number=n, way=way, **line) for n, line in enumerate(typed, start=1)),
        pieces={first: PieceEntry(grade="second")} if "-" in first else {},
        studio={
            ware.code: StudioCount(thrown=12 + 9 * n, dry=11, biscuit=7, good=3, seconds=1, broken=n)
            for n, ware in enumerate(plan.wares)
        },
        firings_done=tuple(
            FiringDone(
                firing=firing.name,
                load=1,
                day=day,
                before=Decimal("1200.5"),
                after=Decimal("1200.5") + 37 + 11 * n,
                came_out=9 + n,
                lost=n,
                why="crack",
            )
            for n, firing in enumerate(plan.firings)
        ),
        studio_day=day,
        from_here=FromHere(over=Decimal("0.5"), other=Decimal("0.85")),
        banked=(Banked(day=day, what="paid in", expected=amount, arrived=amount),),
        payments=(GroupPayment(day=day, group=group, amount=amount, reference="1"),),
        claims=(
            Claim(claim="C1", name="Whoever calls", contact="later today", what=third, how="collecting"),
        ),
        actual_costs={f"overhead: {overhead.name}": amount * 3 for overhead in plan.overheads[:1]},
        unplanned=(
            UnplannedCost(name="postage, a parcel", amount=amount / 2, met_by="sale"),
            UnplannedCost(name="parking", amount=amount, met_by="sponsor"),
        ),
        actual_fees={way: amount / 10},
    )
