"""The sheet Hand over: who waits for what; the only sheet with people on it."""

from typing import Final

from openpyxl.utils import get_column_letter

from salebook.book.figure import Figure, Value
from salebook.book.formulas import money_rounded
from salebook.book.page import Book, Page
from salebook.event.claims import claim_standing
from salebook.event.entries import Claim
from salebook.event.event import Event
from salebook.reckoning import Reckoning
from salebook.words import _

WIDTHS: Final = (3, 9, 22, 26, 26, 11, 8, 8, 10, 10)
FEWEST_CLAIMS: Final = 40
SPARE_CLAIMS: Final = 20
NOBODY: Final = Claim(claim="")
HOW: Final = ("fetched", "sent on")


def write_hand_over(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Hand over."""
    del reckoning
    page = book.page(_("Hand over"), widths=WIDTHS, landscape=True)
    page.title(
        _("Hand over"),
        _(
            "What is ordered, reserved, to fetch or to send. Give each person a claim number and type that "
            "number on Takings and Pieces: names and addresses stand here only. Clear this sheet when all is "
            "handed over."
        ),
    )
    headings = page.headings(
        ("claim", "name", "contact", "what", "how", "done", "=pieces", "=paid", "=to_pay"),
        (
            _("Claim number"),
            _("Name"),
            _("Telephone or address"),
            _("What"),
            _("How: fetched or sent on?"),
            _("Handed over: yes?"),
            _("Pieces"),
            _("Paid so far"),
            _("To pay"),
        ),
        section="claims",
    )
    first = page.row
    claims = event.entries.claims
    empty = max(FEWEST_CLAIMS - len(claims), SPARE_CLAIMS)
    for claim in (*claims, *[NOBODY] * empty):
        _write_claim(page, claim, event)
    last = page.row - 1
    page.choose(f"F{first}:F{last}", HOW, says=_("fetched or sent on"))
    page.choose(f"G{first}:G{last}", ("yes",), says=_("yes, or empty"))
    page.repeat_headings(headings, headings)
    page.freeze(headings + 1)
    page.sheet.print_area = f"B1:{get_column_letter(len(WIDTHS))}{last}"


def _write_claim(page: Page, claim: Claim, event: Event) -> None:
    row = page.row
    stands = claim_standing(claim.claim, event.standing) if claim.claim.strip() else None
    page.put_row(
        (
            ("claims", "key"),
            (claim.claim.strip() or None, "input text"),
            (claim.name.strip() or None, "input text"),
            (claim.contact.strip() or None, "input text"),
            (claim.what.strip() or None, "input text"),
            (claim.how.strip() or None, "input text"),
            ("yes" if claim.done else None, "input text"),
            (_if_named(row, _pieces(row), stands.pieces if stands else ""), "result whole"),
            (_if_named(row, _paid(row), stands.paid if stands else ""), "result money"),
            (_if_named(row, _to_pay(row), stands.to_pay if stands else ""), "result money"),
        )
    )


def _if_named(row: int, formula: str, value: Value) -> Figure:
    return Figure(f'=IF(TRIM(B{row})="","",{formula})', value)


def _pieces(row: int) -> str:
    return f"SUMPRODUCT((pieces_held_for=TRIM(B{row}))*1)"


def _paid(row: int) -> str:
    return money_rounded(f"SUMPRODUCT({_on_claim(row)}*1,takings_money)")


def _to_pay(row: int) -> str:
    orders = f'(takings_kind="order")*(takings_same=0)*{_on_claim(row)}'
    held = f"(pieces_held_for=TRIM(B{row}))"
    filled = f"SUMPRODUCT({held}*pieces_fills_order,pieces_price)"
    unfilled = f"MAX(0,SUMPRODUCT({orders},takings_list)-{filled})"
    sold = f'{held}*pieces_fills_order*(pieces_status="sold")*(pieces_price>pieces_paid)'
    used_up = f"SUMPRODUCT({sold},pieces_price-pieces_paid)"
    paid_ahead = f"MAX(0,SUMPRODUCT({orders},takings_amount)-{used_up})"
    return f"MAX(0,{money_rounded(f'SUMPRODUCT({held}*1,pieces_to_pay)+{unfilled}-{paid_ahead}')})"


def _on_claim(row: int) -> str:
    return f"(TRIM(takings_claim)=TRIM(B{row}))"
