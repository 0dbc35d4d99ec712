"""The sheet Plan: every input of the plan, each with its key."""

from decimal import Decimal

from openpyxl.utils import get_column_letter

from salebook.base.words import _
from salebook.book.figure import Figure
from salebook.book.inputs import Column, columns_of, put_entries, put_table
from salebook.book.page import Book, Content, Page, number
from salebook.book.sheets.plan.kiln import put_firings, put_kiln, put_making
from salebook.book.sheets.plan.pieces import put_clays, put_donated, put_wares
from salebook.book.sheets.row_height import new_page
from salebook.event.event import Event
from salebook.plan.model import Payment, Plan
from salebook.reckoning import Reckoning

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
    put_entries(page, "labels", _("Sheet of labels"), plan.labels)
    page.freeze(4)


def _the_sale(page: Page, plan: Plan) -> None:
    names = {"days": "sale_days", "target": "target", "confidence": "confidence"}
    put_entries(page, "sale", _("The sale"), plan.sale, names=names)
    page.book.define("first_day", page.book.addresses["sale", "", "days"])
    _worked_scalars(page, plan)


def _worked_scalars(page: Page, plan: Plan) -> None:
    step = page.book.addresses[("sale", "", "price_step")]
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
        identity=lambda group: str(group.name),
        names={"name": "group_names", "parts": "group_parts"},
        says=_("Each group's share = its parts ÷ all parts. Agree its name, parts and costs beforehand."),
    )


def _costs(page: Page, plan: Plan) -> None:
    if plan.materials:
        put_table(page, "materials", _("Materials"), plan.materials, says=_("No codes: all pieces."))
    if plan.work:
        put_table(page, "work", _("Work"), plan.work)
    put_entries(page, "hours", _("Your hours"), plan.hours, names={"rate": "hour_rate"})
    if plan.overheads:
        put_table(page, "overheads", _("Other costs"), plan.overheads)


def _money_in(page: Page, plan: Plan) -> None:
    if plan.other_income:
        put_table(
            page,
            "other_income",
            _("Other money expected"),
            plan.other_income,
            names={"expected": "other_income"},
            says=_("Refreshments, a raffle, a collecting tin: to the groups in full."),
        )
    new_page(page)
    _ways_to_pay(page, plan)
    put_table(
        page,
        "outlooks",
        _("Kinds of day"),
        plan.outlooks,
        identity=lambda outlook: str(outlook.name),
        names={"weight": "outlook_weights", "factor": "outlook_factors"},
        says=_("How the day may go: the share that sells is multiplied by this, up to all of them."),
        unsaid=not plan.outlooks_given,
    )


def _ways_to_pay(page: Page, plan: Plan) -> None:
    shares = dict(zip((way.name for way in plan.payments), plan.payment_shares, strict=True))
    first = page.row + 3  # below the band and the two rows of headings
    rows = {way.name: first + n for n, way in enumerate(plan.payments)}
    up_to_share = columns_of("payments", before="paid_to")
    given = get_column_letter(1 + len(up_to_share))
    all_given = f"{given}${first}:{given}${first + len(plan.payments) - 1}"

    def in_use(way: Payment) -> Figure:
        own = f"{given}{rows[way.name]}"
        return Figure(f'=IF(AND(ROWS({all_given})=1,{own}=""),1,N({own}))', number(shares[way.name]))

    share = Column(key="=share", heading=_("Share in use"), style="percents", value=in_use)
    put_table(
        page,
        "payments",
        _("Ways to pay"),
        plan.payments,
        (*up_to_share, share, *columns_of("payments", start="paid_to")),
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
