"""The checks that are built into the workbook: each a live formula that says OK or what is wrong."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.formulas import quoted
from salebook.book.sheets.making.counted_chances import plain_wares
from salebook.event.bank import ways_banked
from salebook.event.denominations import denominations_for
from salebook.event.event import Event
from salebook.event.kiln_difference import kiln_differences
from salebook.event.receipts import cash_elsewhere, money_in
from salebook.event.table_count import last_count
from salebook.making.firing_done import firings_differ, firings_seen, stages_seen
from salebook.making.losses import Run
from salebook.making.studio_tally import studio_states
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning


@dataclass(frozen=True, kw_only=True)
class Check:
    """One check: what is looked at, the condition as a formula and by the model, and what to do."""

    looks_at: str
    condition: str
    holds: bool
    trouble: str
    where: str

    @property
    def figure(self) -> Figure:
        """The cell that says OK, or what is wrong."""
        formula = f'=IF({self.condition},"OK",{quoted(self.trouble)})'
        return Figure(formula, "OK" if self.holds else self.trouble)


def checks_of(reckoning: Reckoning, event: Event) -> tuple[Check, ...]:
    """Return every check, those of the plan first, then those of the sale and the money."""
    return (
        *_of_the_plan(reckoning.plan),
        *_of_the_making(reckoning.studio.runs),
        *_of_the_kiln(reckoning, event),
        *_of_the_takings(event),
        *_of_the_cash(reckoning.plan, event),
        *_of_the_table(event),
        *_of_the_share_out(event),
    )


def _of_the_plan(plan: Plan) -> Iterator[Check]:
    yield Check(
        looks_at=_("Every group has parts"),
        condition='COUNTIF(group_parts,">0")=COUNTA(group_names)',
        holds=all(group.parts > 0 for group in plan.beneficiaries),
        trouble=_("A group has no parts"),
        where=_("Plan, the groups: parts"),
    )
    yield Check(
        looks_at=_("Shares of the ways to pay add up to 100 %"),
        condition="ROUND(SUM(way_shares),6)=1",
        holds=sum(plan.payment_shares) == 1,
        trouble=_("The shares do not add up to 100 %"),
        where=_("Plan, ways to pay: share of sales"),
    )
    if plan.energy:
        yield Check(
            looks_at=_("Every hour has one energy price"),
            condition="ROUND(SUMPRODUCT(rate_to-rate_from+(rate_to<=rate_from)),6)=1",
            holds=_hours_covered(plan) == 1,
            trouble=_("An hour of the day has no energy price, or has two"),
            where=_("Plan, energy: from and to"),
        )
    if any(ware.demand for ware in plan.wares):
        yield Check(
            looks_at=_("Shares that would sell lie between 0 and 100 %"),
            condition='COUNTIF(demand_shares,"<0")+COUNTIF(demand_shares,">1")=0',
            holds=all(0 <= point.share <= 1 for ware in plan.wares for point in ware.demand),
            trouble=_("A share is below 0 or above 100 %"),
            where=_("Plan, how many would sell at each price"),
        )


def _hours_covered(plan: Plan) -> Fraction:
    """Return the share of the day that the rates cover."""
    rates = plan.energy.rates if plan.energy else ()
    minutes = sum(rate.to - rate.from_ + (24 * 60 if rate.to <= rate.from_ else 0) for rate in rates)
    return Fraction(minutes, 24 * 60)


def _of_the_making(runs: Sequence[Run]) -> Iterator[Check]:
    yield Check(
        looks_at=_("The table of chances is long enough"),
        condition="making_table_ok=1",
        holds=True,
        trouble=_("The table of chances is too short for what stands on Plan"),
        where=_("Making; then run: salebook renew"),
    )
    yield Check(
        looks_at=_("No grey figure is old"),
        condition="stale_loads=0",
        holds=True,
        trouble=_("Some figures in grey are old: what they were worked out from has changed"),
        where=_("Firing; run: salebook renew"),
    )
    yield Check(
        looks_at=_("The days to throw and fire are not old"),
        condition="stale_days=0",
        holds=True,
        trouble=_("The days are old: what they were worked out from has changed"),
        where=_("Making; run: salebook renew"),
    )
    if plain_wares(runs):
        yield Check(
            looks_at=_("How many to start is up to date where losses were counted"),
            condition="stale_starts=0",
            holds=True,
            trouble=_("Some numbers to start are old: what they were worked out from has changed"),
            where=_("Making; run: salebook renew"),
        )


def _of_the_kiln(reckoning: Reckoning, event: Event) -> Iterator[Check]:
    if not reckoning.plan.wares:
        return
    yield Check(
        looks_at=_("Pieces has out of the kiln what Making counts"),
        condition="SUM(kiln_differs)=0",
        holds=not kiln_differences(event.state),
        trouble=_("Out of the kiln or seconds: which count is right, that on Making or that on Pieces?"),
        where=_("Making, the studio tally; Pieces: out of the kiln, graded"),
    )
    if reckoning.studio.firings:
        yield _of_the_firings(reckoning, event)
    runs, confidence = reckoning.studio.runs, float(reckoning.plan.sale.confidence)
    yield Check(
        looks_at=_("Losses are as planned"),
        condition="SUM(losses_differ)=0",
        holds=not any(state.differs for state in studio_states(runs, event.entries.studio, confidence)),
        trouble=_("More or fewer pieces are lost than planned: are the plan's losses still right?"),
        where=_("Making: losses seen so far; Plan: losses"),
    )


def _of_the_firings(reckoning: Reckoning, event: Event) -> Check:
    plan, counts = reckoning.plan, event.entries.studio
    seen = firings_seen(plan, reckoning.studio.firings, event.firings_done)
    return Check(
        looks_at=_("The firings done agree with the studio tally"),
        condition="firings_differ=0",
        holds=not firings_differ(plan, stages_seen(plan, seen, counts), counts),
        trouble=_("Firing and Making count otherwise what came out or was lost: which is right?"),
        where=_("Firing, firings done; Making, the studio tally"),
    )


def _of_the_takings(event: Event) -> Iterator[Check]:
    yield Check(
        looks_at=_("No line of takings needs a look"),
        condition="remarks_count=0",
        holds=not any(line.remark for line in event.state.lines),
        trouble=_("Lines carry a remark"),
        where=_("Takings: needs a look"),
    )
    yield Check(
        looks_at=_("Takings have room for more lines"),
        condition="COUNT(takings_order)<=nearly_full*ROWS(takings_order)",
        holds=True,  # a book is never written without room
        trouble=_("Takings are nearly full"),
        where=_("Takings; run: salebook renew"),
    )
    yield Check(
        looks_at=_("All money has a way to pay"),
        condition="ROUND(money_without_way,6)=0",
        holds=money_in(event.state, way="") == 0,
        trouble=_("Money stands on lines without a way to pay"),
        where=_("Takings: paid by"),
    )


def _of_the_cash(plan: Plan, event: Event) -> Iterator[Check]:
    yield Check(
        looks_at=_("Cash boxes agree with the takings"),
        condition="cash_differences=0",
        holds=not any(cash_up.difference for cash_up in event.cash_ups),
        trouble=_("A count differs: count again, look for a missed line, then leave the difference"),
        where=_("Cash-up: difference"),
    )
    yield Check(
        looks_at=_("Every day with cash has a box"),
        condition="ROUND(cash_elsewhere,6)=0",
        holds=cash_elsewhere(plan, event.state, event.cash_ups) == 0,
        trouble=_("Cash was taken on a day that is not among the days of the sale"),
        where=_("Takings: day; Plan: days"),
    )
    yield Check(
        looks_at=_("The bank has what was taken"),
        condition="bank_open=0",
        holds=not any(way.is_open for way in ways_banked(plan, event)),
        trouble=_("More or less arrived in the bank than was taken, and nobody says why"),
        where=_("Cash-up: in the bank, way by way"),
    )
    known = denominations_for(plan.sale.currency, plan.sale.denominations).known
    if not known:
        yield Check(
            looks_at=_("Coins and notes are known"),
            condition="1=0",
            holds=False,
            trouble=_("The usual coins and notes were taken, as this currency's are not known"),
            where=_("Plan: coins and notes; then run: salebook renew"),
        )


def _of_the_table(event: Event) -> Iterator[Check]:
    yield Check(
        looks_at=_("The last count of the table agrees with the book"),
        condition="table_differences=0",
        holds=last_count(event.state, event.entries.table_counts).differing == 0,
        trouble=_("A count differs: look for a missed line, or a piece to mark on Pieces"),
        where=_("Cash-up: the count of the table"),
    )


def _of_the_share_out(event: Event) -> Iterator[Check]:
    share_out = event.share_out
    yield Check(
        looks_at=_("Takings meet the costs"),
        condition="OR(pool>=0,takings_total=0)",
        holds=share_out.pool >= 0 or share_out.takings == 0,
        trouble=_("The takings fall short of the costs: nothing to share yet"),
        where=_("Share-out: money to share"),
    )
    yield Check(
        looks_at=_("Shares add up to the money to share"),
        condition="ROUND(shares_total-MAX(0,pool),6)=0",
        holds=sum(group.share for group in share_out.groups) == max(0, share_out.pool),
        trouble=_("The shares do not add up"),
        where=_("Share-out: who gets what"),
    )
    yield Check(
        looks_at=_("Every group that is named is on Plan"),
        condition="ROUND(named_total-groups_named,6)=0",
        holds=share_out.named == sum(group.named for group in share_out.groups),
        trouble=_("Money is named for a group that is not on Plan"),
        where=_("Takings: for one group; Plan"),
    )
    yield Check(
        looks_at=_("No group was paid too much"),
        condition="overpaid_groups=0",
        holds=not any(group.to_pay < 0 for group in share_out.groups),
        trouble=_("A group was paid more than it is due so far"),
        where=_("Share-out: still to pay"),
    )
