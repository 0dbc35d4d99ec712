"""The sheet Plan: every input of the plan, each with its key."""

from collections.abc import Sequence
from decimal import Decimal

from salebook.book.figure import Figure
from salebook.book.inputs import (
    Column,
    Entry,
    column,
    length_entry,
    number_entry,
    number_or_none,
    put_entries,
    put_table,
    unsaid_keys,
    yes_column,
    yes_or_no,
)
from salebook.book.page import Book, Content, Page, number
from salebook.book.sheets.plan_kiln import put_firings, put_kiln, put_making
from salebook.book.sheets.plan_pieces import put_clays, put_donated, put_wares
from salebook.book.sheets.rows import new_page
from salebook.event.event import Event
from salebook.plan.model import Payment, Plan
from salebook.reckoning import Reckoning
from salebook.words import _

WIDTHS = (3, 25, 18, *(11.5,) * 11)


def write_plan(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Plan."""
    del event
    plan = reckoning.plan
    page = book.page(_("Plan"), widths=WIDTHS, landscape=True)
    page.title(
        _("Plan"),
        _(
            "Everything that you told salebook. Straw cells can be changed: every sheet follows. "
            "Leave the small grey words alone: they are how the file is read back."
        ),
    )
    _the_sale(page, plan)
    _groups(page, plan)
    put_clays(page, plan)
    put_wares(page, plan)
    put_donated(page, plan)
    new_page(page)
    put_making(page, plan)
    put_kiln(page, plan)
    put_firings(page, plan)
    _costs(page, plan)
    _money_in(page, plan)
    _labels(page, plan)
    page.freeze(4)


def _the_sale(page: Page, plan: Plan) -> None:
    sale = plan.sale
    days = [
        Entry(
            key="days",
            label=_("Day {n}").format(n=n),
            content=day,
            style="date",
            name="first_day" if n == 1 else "",
        )
        for n, day in enumerate(sale.days, start=1)
    ]
    put_entries(
        page,
        "sale",
        _("The sale"),
        (
            Entry(key="title", label=_("Title"), content=sale.title, style="wrapped"),
            Entry(key="maker", label=_("Maker"), content=sale.maker, style="wrapped"),
            Entry(key="venue", label=_("Where"), content=sale.venue, style="wrapped"),
            *days,
            Entry(
                key="target",
                label=_("Target"),
                content=number(sale.target),
                style="money",
                meaning=_("what the groups are to receive together"),
                name="target",
            ),
            Entry(
                key="price_step",
                label=_("Price step"),
                content=number_or_none(sale.price_step_given),
                style="money",
                meaning=_("prices that salebook proposes are whole numbers of these; empty: the usual one"),
            ),
            Entry(
                key="confidence",
                label=_("How sure"),
                content=number(sale.confidence),
                style="percents",
                meaning=_("how sure you want to be of enough good pieces"),
                name="confidence",
            ),
            Entry(key="currency", label=_("Currency"), content=sale.currency, style="text"),
            Entry(key="locale", label=_("Language and country"), content=sale.locale, style="text"),
            Entry(
                key="denominations",
                label=_("Coins and notes"),
                content="; ".join(format(value, "f") for value in sale.denominations),
                style="text",
                meaning=_("empty: those of the currency"),
            ),
        ),
        names={"days": "sale_days"},
        unsaid=unsaid_keys(sale),
    )
    _worked_scalars(page, plan)


def _worked_scalars(page: Page, plan: Plan) -> None:
    step = page.book.places[("sale", "", "price_step")]
    usual = Decimal(50) if plan.sale.digits == 0 else Decimal("0.5")
    rows: tuple[tuple[str, str, Content, str, str], ...] = (
        ("usual_price_step", _("Usual price step"), number(usual), "money", ""),
        (
            "price_step",
            _("Price step in use"),
            Figure(f'=IF({step}="",usual_price_step,{step})', plan.sale.price_step),
            "money",
            "",
        ),
        (
            "minor_units",
            _("Smallest coins in one unit"),
            10**plan.sale.digits,
            "whole",
            _("from the currency (Unicode CLDR)"),
        ),
        ("minutes_in_hour", _("Minutes in an hour"), 60, "whole", ""),
    )
    for name, label, content, style, meaning in rows:
        kind = "result" if isinstance(content, Figure) else "worked"
        row = page.put_row(
            ((None, ""), (label, "label"), (content, f"{kind} {style}"), (None, ""), (meaning, "note"))
        )
        page.name(name, row, 3)
    page.row += 1


def _groups(page: Page, plan: Plan) -> None:
    put_table(
        page,
        "beneficiaries",
        _("The groups"),
        plan.beneficiaries,
        (
            column("name", _("Group"), "wrapped"),
            column("parts", _("Parts"), "whole"),
            column("agreed", _("Agreed on"), "date"),
            column("registration", _("Registered number"), "wrapped"),
            column("contact", _("Contact"), "wrapped"),
        ),
        identity=lambda group: str(group.name),
        names={"name": "group_names", "parts": "group_parts"},
        says=_("Each group's share = its parts ÷ all parts. Agree its name, parts and costs beforehand."),
    )


def _codes(wares: Sequence[str]) -> str:
    return ", ".join(wares)


def _costs(page: Page, plan: Plan) -> None:
    if plan.materials:
        _materials(page, plan)
    if plan.work:
        _work(page, plan)
    _hours(page, plan)
    if plan.overheads:
        _other_costs(page, plan)


def _of_these_pieces() -> Column:
    return Column(
        key="wares",
        heading=_("of these pieces"),
        style="wrapped",
        value=lambda record: _codes(record.wares),
    )


def _materials(page: Page, plan: Plan) -> None:
    put_table(
        page,
        "materials",
        _("Materials"),
        list(plan.materials),
        (
            column("name", _("Name"), "wrapped"),
            column("amount", _("Amount"), "number"),
            column("unit", _("Unit"), "text"),
            column("per", _("for each"), "wrapped"),
            _of_these_pieces(),
            column("pack_amount", _("A pack holds"), "number"),
            column("pack_price", _("A pack costs"), "money"),
            yes_column("whole_packs", _("Pay whole packs")),
            column("met_by", _("Who pays"), "text"),
        ),
        says=_("No codes: all pieces."),
    )


def _work(page: Page, plan: Plan) -> None:
    put_table(
        page,
        "work",
        _("Work"),
        list(plan.work),
        (
            column("name", _("Name"), "wrapped"),
            column("minutes", _("Minutes"), "number"),
            column("per", _("for each"), "wrapped"),
            _of_these_pieces(),
        ),
    )


def _hours(page: Page, plan: Plan) -> None:
    put_entries(
        page,
        "hours",
        _("Your hours"),
        (
            Entry(
                key="rate",
                label=_("One hour is worth"),
                content=number(plan.hours.rate),
                style="money",
                meaning=_("a worth, never money spent"),
                name="hour_rate",
            ),
        ),
        unsaid=unsaid_keys(plan.hours),
    )


def _other_costs(page: Page, plan: Plan) -> None:
    put_table(
        page,
        "overheads",
        _("Other costs"),
        list(plan.overheads),
        (
            column("name", _("Name"), "wrapped"),
            column("amount", _("Amount"), "money"),
            column("met_by", _("Who pays"), "text"),
        ),
    )


def _money_in(page: Page, plan: Plan) -> None:
    if plan.other_income:
        put_table(
            page,
            "other_income",
            _("Other money expected"),
            list(plan.other_income),
            (column("name", _("From"), "wrapped"), column("expected", _("Expected"), "money")),
            names={"expected": "other_income"},
            says=_("Refreshments, a raffle, a collecting tin: to the groups in full."),
        )
    new_page(page)
    _ways_to_pay(page, plan)
    put_table(
        page,
        "outlooks",
        _("Kinds of day"),
        list(plan.outlooks),
        (
            column("name", _("Kind of day"), "wrapped"),
            column("weight", _("How likely, in parts"), "number"),
            column("factor", _("Sales, times the usual"), "number"),
        ),
        identity=lambda outlook: str(outlook.name),
        names={"weight": "outlook_weights", "factor": "outlook_factors"},
        says=_("How the day may go: the share that sells is multiplied by this, up to all of them."),
        unsaid=not plan.outlooks_given,
    )


def _ways_to_pay(page: Page, plan: Plan) -> None:
    shares = dict(zip((way.name for way in plan.payments), plan.payment_shares, strict=True))
    first = page.row + 3  # below the band and the two rows of headings
    given = f"F${first}:F${first + len(plan.payments) - 1}"
    rows = {way.name: first + n for n, way in enumerate(plan.payments)}

    def in_use(way: Payment) -> Figure:
        formula = f'=IF(AND(ROWS({given})=1,F{rows[way.name]}=""),1,N(F{rows[way.name]}))'
        return Figure(formula, number(shares[way.name]))

    put_table(
        page,
        "payments",
        _("Ways to pay"),
        list(plan.payments),
        (
            column("name", _("Way"), "wrapped"),
            column("percent", _("Fee, per cent"), "number"),
            column("fixed", _("Fee for each sale"), "money"),
            yes_column("cash", _("In the cash box")),
            column("share", _("Share of sales"), "percents", "share_given"),
            Column(key="=share", heading=_("Share in use"), style="percents", value=in_use),
            column("paid_to", _("Paid straight to"), "wrapped"),
        ),
        identity=lambda way: str(way.name),
        names={
            "name": "way_names",
            "percent": "way_percents",
            "fixed": "way_fixed",
            "=share": "way_shares",
            "cash": "way_cash",
            "paid_to": "way_paid_to",
        },
        unsaid=not plan.payments_given,
    )


def _labels(page: Page, plan: Plan) -> None:
    labels = plan.labels
    measures = (
        ("width", _("A label is wide")),
        ("height", _("and high")),
        ("left", _("Page edge to the first label")),
        ("top", _("Page top to the first label")),
        ("across", _("One label's left edge to the next")),
        ("down", _("One label's top to the next")),
    )
    put_entries(
        page,
        "labels",
        _("Sheet of labels"),
        (
            Entry(key="page", label=_("Paper"), content=labels.page, style="text"),
            number_entry("columns", _("Labels across"), labels.columns),
            number_entry("rows", _("Labels down"), labels.rows),
            *(length_entry(key, label, getattr(labels, key)) for key, label in measures),
            Entry(
                key="promise",
                label=_("Print what goes to the groups"),
                content=yes_or_no(labels.promise),
                style="text",
            ),
        ),
        unsaid=unsaid_keys(labels),
    )
