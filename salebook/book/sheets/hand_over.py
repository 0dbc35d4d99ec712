"""The sheet Hand over: who waits for what; the only sheet with people on it."""

from typing import Final

from salebook.base.words import N_, _
from salebook.book.formulas import money_rounded
from salebook.book.page import Book
from salebook.book.table import Table
from salebook.event.claims import ClaimState, claim_state
from salebook.event.entries import Claim
from salebook.event.event import Event
from salebook.event.lines import trimmed
from salebook.reckoning import Reckoning

FEWEST_CLAIMS: Final = 40
SPARE_CLAIMS: Final = 20
MARGIN: Final = 3.0

HELD: Final = "(pieces_held_for=[=claim])"
ON_CLAIM: Final = "(takings_for_claim=[=claim])"
ORDERS: Final = f'(takings_kind="order")*(takings_same=0)*{ON_CLAIM}'
HANDED_OVER: Final = f'{HELD}*pieces_fills_order*(pieces_status="sold")*(pieces_price>pieces_paid)'
TO_PAY: Final = "[owed]+MAX(0,[ordered]-[filled])-MAX(0,[paid_ahead]-[used_up])"


def claims_table() -> Table[tuple[Claim, ClaimState | None]]:
    """Declare the table of claims, each with how it stands where it has a number."""
    table: Table[tuple[Claim, ClaimState | None]] = Table(
        "claims", N_("Hand over"), needed="book", unmarked=True, guarded=True
    )

    def live(key: str, heading: str, style: str, formula: str, width: float = 0) -> None:
        shown = f'IF([=claim]="","",{formula})'
        table.live(f"={key}", heading, style, shown, lambda row: getattr(row[1], key, None), width=width)

    table.input("claim", _("Claim number"), "text", width=9)
    table.input("name", _("Name"), "text", width=22)
    table.input("contact", _("Telephone or address"), "text", width=26)
    table.input("what", _("What"), "text", width=26)
    how, yes = _("collecting or posting"), _("yes, or empty")
    table.input(
        "how", _("Collecting or posting?"), "text", choices=("collecting", "posting"), says=how, width=11
    )
    table.input(
        *("done", _("Handed over: yes?"), "text", lambda row: "yes" if row[0].done else None),
        choices=("yes",),
        says=yes,
        width=8,
    )
    live("pieces", _("Pieces"), "whole", f"SUMPRODUCT({HELD}*1)", 8)
    live("paid", _("Paid so far"), "money", money_rounded(f"SUMPRODUCT({ON_CLAIM}*1,takings_money)"), 10)
    live("to_pay", _("To pay"), "money", f"MAX(0,{money_rounded(TO_PAY)})", 10)
    table.helpers()
    table.live("=claim", _("Claim number"), "text", "TRIM([claim])", lambda row: trimmed(row[0].claim))
    live("owed", _("To pay for its pieces"), "money", f"SUMPRODUCT({HELD}*1,pieces_to_pay)")
    live("ordered", _("Ordered, at list price"), "money", f"SUMPRODUCT({ORDERS},takings_list)")
    live(
        "filled", _("Pieces that fill orders"), "money", f"SUMPRODUCT({HELD}*pieces_fills_order,pieces_price)"
    )
    live("paid_ahead", _("Paid on orders"), "money", f"SUMPRODUCT({ORDERS},takings_amount)")
    live("used_up", _("Used up"), "money", f"SUMPRODUCT({HANDED_OVER},pieces_price-pieces_paid)")
    return table


def write_hand_over(book: Book, reckoning: Reckoning, event: Event) -> None:
    """Write the sheet Hand over."""
    del reckoning
    table = claims_table()
    page = book.page(N_("Hand over"), widths=(MARGIN, *table.widths), landscape=True)
    page.title(
        _("Hand over"),
        _(
            "What is ordered, reserved, to fetch or to send. Give each person a claim number and type that "
            "number on Takings and Pieces: names and addresses stand here only. Clear this sheet when all is "
            "handed over."
        ),
    )
    claims = event.entries.claims
    rows = [(claim, _standing(claim, event)) for claim in claims]
    placed = table.write(page, rows, spare=max(FEWEST_CLAIMS - len(claims), SPARE_CLAIMS))
    page.repeat_headings(placed.first - 1, placed.first - 1)
    page.freeze(placed.first)
    page.sheet.print_area = placed.area


def _standing(claim: Claim, event: Event) -> ClaimState | None:
    return claim_state(claim, event.state) if claim.claim.strip() else None
