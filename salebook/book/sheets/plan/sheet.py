"""The sheet Plan: every input of the plan, each with its key."""

from decimal import Decimal
from operator import attrgetter
from typing import Any

from salebook.base.words import N_, _
from salebook.book.figure import Figure
from salebook.book.inputs import add_keys, plan_table, put_entries, put_table
from salebook.book.page import Book, Page, number
from salebook.book.row_height import new_page
from salebook.book.sheets.name_lookup import add_lookup, add_way_lookup
from salebook.book.sheets.plan.kiln import put_firings, put_kiln, put_making
from salebook.book.sheets.plan.pieces import put_carried, put_clays, put_donated, put_wares
from salebook.book.table import Table, put_line
from salebook.event.event import Event
from salebook.plan.model import Plan
from salebook.reckoning import Reckoning

WIDTHS = (3, 25, 18, *(11.5,) * 11)
LOOKUP_COLUMN = len(WIDTHS) + 1
"""Right of what is printed."""


def write_plan(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Plan."""
    del event
    plan = reckoning.plan
    before = len(book.inputs)
    page = book.page(N_("Plan"), widths=WIDTHS, landscape=True)
    page.title(
        _("Plan"),
        _(
            "Everything that you told salebook. Yellow boxes can be changed: every sheet follows. "
            "Leave the small grey words alone: they are how the file is read back."
        ),
    )
    _the_sale(page, plan)
    _groups(page, plan)
    put_clays(page, plan)
    put_wares(page, plan)
    put_donated(page, plan)
    put_carried(page, plan)
    new_page(page)
    put_making(page, plan)
    put_kiln(page, plan)
    put_firings(page, plan)
    _costs(page, plan)
    _money_in(page, plan)
    put_entries(page, "labels", _("Sheet of labels"), plan.labels)
    page.freeze(4)
    book.plan_inputs = book.inputs[before:]


def _the_sale(page: Page, plan: Plan) -> None:
    names = {"days": "sale_days", "target": "target", "confidence": "confidence"}
    rows = put_entries(page, "sale", _("The sale"), plan.sale, names=names)
    page.name("first_day", rows["days"], 3)
    usual = number(Decimal(50) if plan.sale.digits == 0 else Decimal("0.5"))
    step = Figure('=IF([sale.price_step]="",usual_price_step,[sale.price_step])', plan.sale.price_step)
    coins, from_cldr = _("Smallest coins in one unit"), _("from the currency (Unicode CLDR)")
    put_line(page, _("Usual price step"), usual, "worked money", name="usual_price_step")
    put_line(page, _("Price step in use"), step, "result money", name="price_step")
    put_line(page, coins, 10**plan.sale.digits, "worked whole", name="minor_units")
    page.put(page.row - 1, 5, from_cldr, "note")
    put_line(page, _("Minutes in an hour"), 60, "worked whole", name="minutes_in_hour")
    page.row += 1


def _groups(page: Page, plan: Plan) -> None:
    put_table(
        page,
        _("The groups"),
        _groups_table(plan),
        plan.beneficiaries,
        says=_("Each group's share = its parts ÷ all parts. Agree its name, parts and costs beforehand."),
    )


def _groups_table(plan: Plan) -> Table[Any]:
    table = plan_table("beneficiaries", record=lambda group: str(group.name))
    add_keys(table, {"name": "group_names", "parts": "group_parts"})
    names = [group.name for group in plan.beneficiaries]
    return add_lookup(table, "group", names, attrgetter("name"), column=LOOKUP_COLUMN)


def _costs(page: Page, plan: Plan) -> None:
    if plan.materials:
        materials = add_keys(plan_table("materials"))
        put_table(page, _("Materials"), materials, plan.materials, says=_("No codes: all pieces."))
    if plan.work:
        put_table(page, _("Work"), add_keys(plan_table("work")), plan.work)
    put_entries(page, "hours", _("Your hours"), plan.hours, names={"rate": "hour_rate"})
    if plan.overheads:
        put_table(page, _("Other costs"), add_keys(plan_table("overheads")), plan.overheads)


def _money_in(page: Page, plan: Plan) -> None:
    if plan.other_income:
        put_table(
            page,
            _("Other money expected"),
            add_keys(plan_table("other_income"), {"expected": "other_income"}),
            plan.other_income,
            says=_("Refreshments, a raffle, a collecting tin: to the groups in full."),
        )
    new_page(page)
    put_table(page, _("Ways to pay"), _ways_table(plan), plan.payments)
    put_table(
        page,
        _("Kinds of day"),
        add_keys(
            plan_table("outlooks", record=lambda outlook: str(outlook.name), unsaid=not plan.outlooks_given),
            {"weight": "outlook_weights", "factor": "outlook_factors"},
        ),
        plan.outlooks,
        says=_("How the day may go: the share that sells is multiplied by this, up to all of them."),
    )


def _ways_table(plan: Plan) -> Table[Any]:
    table = plan_table("payments", record=lambda way: str(way.name), unsaid=not plan.payments_given)
    shares = dict(zip((way.name for way in plan.payments), plan.payment_shares, strict=True))
    names = {"name": "way_names", "percent": "way_percents", "fixed": "way_fixed", "cash": "way_cash"}
    add_keys(table, names, before="paid_to")
    table.live(
        *("=share", _("Share in use"), "percents", 'IF(AND(ROWS([share:])=1,[share]=""),1,SUM([share]))'),
        lambda way: number(shares[way.name]),
        name="way_shares",
    )
    add_keys(table, {"paid_to": "way_paid_to"}, start="paid_to")
    return add_way_lookup(table, plan.payments, lambda way: way, column=LOOKUP_COLUMN)
