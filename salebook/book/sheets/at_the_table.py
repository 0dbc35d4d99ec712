"""What to type on Takings, case by case: a part of the first sheet of every book."""

from typing import Final

from salebook.base.words import N_, _
from salebook.book.page import Page
from salebook.book.row_height import grow_height_across

CASES: Final = (
    (
        N_("A sale"),
        N_(
            "The number under Piece (a scanner types it) and the way to pay under Paid by. The price "
            "comes from Pieces, the day from the line above."
        ),
    ),
    (
        N_("Without the mouse"),
        N_(
            "The piece, Tab, the way to pay, Enter: on to the next piece. Alt and the arrow down open a "
            "list. Let a scanner end with Tab. Type all digits, 001: many programs complete what begins "
            "like an entry above."
        ),
    ),
    (
        N_("Sold for another price"),
        N_("What was paid, under Amount. A price changed on Plan would change earlier sales too."),
    ),
    (
        N_("Several pieces, one payment"),
        N_(
            "A line for each; from the second on “yes” under With the line above: one payment, one fee, "
            "and the way to pay of that line."
        ),
    ),
    (N_("A ware without numbers"), N_("Its code under Piece, and How many.")),
    (
        N_("Deposit, balance, refund"),
        N_(
            "Choose it under Kind. A deposit needs its amount; an empty balance is what is left to pay, "
            "an empty refund all that was paid."
        ),
    ),
    (
        N_("A gift with a sale"),
        N_(
            "Under Gift on top. For one group: that group gets the gift in full, or the whole line where "
            "there is no gift."
        ),
    ),
    (
        N_("Money without a piece"),
        N_("Kind (donation, raffle, refreshments, postage, other), Amount and Paid by."),
    ),
    (
        N_("Paid now, fetched later"),
        N_("A Claim number on the line, and on Hand over who that is. No names on Takings."),
    ),
    (
        N_("Reserved, nothing paid"),
        N_(
            "The claim number on Pieces, beside the piece. An agreed price there holds for it alone; "
            "empty it when the piece is free again."
        ),
    ),
    (
        N_("Still to be made"),
        N_(
            "Kind order, the ware's code, How many, the Claim number, and under Amount what is paid "
            "ahead. When it is made, put a piece to the claim on Pieces; when it is fetched, sell that "
            "piece for what is paid then, 0 where nothing is left."
        ),
    ),
    (
        N_("The money is not there yet"),
        N_(
            "Promised, or the card machine was offline: “yes” under Not yet arrived. Empty it when it "
            "is there."
        ),
    ),
    (
        N_("In the evening"),
        N_(
            "Look at each line with a remark. Count the cash box and, in the book of the whole sale, the "
            "table: both on Cash-up."
        ),
    ),
)
"""What happens at a busy table, and what is typed then."""


def write_at_the_table(page: Page) -> None:
    """Write a row for each thing that happens at a busy table."""
    page.band(_("At the table: what to type on Takings"))
    last = len(page.widths)
    for happens, typed in ((_(one), _(other)) for one, other in CASES):
        row = page.put_row(((happens, "strong wrapped"),), first_column=2)
        page.put_wide(row, (3, last), typed, "label wrapped")
        grow_height_across(page, row, (2, 2, happens), (3, last, typed))
    page.row += 1
