"""What to type on Takings, case by case: a part of the first sheet of every book."""

from salebook.base.words import _
from salebook.book.page import Page
from salebook.book.sheets.row_height import grow_height_across


def write_at_the_table(page: Page) -> None:
    """Write a row for each thing that happens at a busy table."""
    page.band(_("At the table: what to type on Takings"))
    last = len(page.widths)
    for happens, typed in _cases():
        row = page.put_row(((happens, "strong wrapped"),), first_column=2)
        page.put_wide(row, (3, last), typed, "label wrapped")
        grow_height_across(page, row, (2, 2, happens), (3, last, typed))
    page.row += 1


def _cases() -> tuple[tuple[str, str], ...]:
    return (
        (
            _("A sale"),
            _(
                "The number under Piece (a scanner types it) and the way to pay under Paid by. The price "
                "comes from Pieces, the day from the line above."
            ),
        ),
        (
            _("Sold for another price"),
            _("What was paid, under Amount. A price changed on Plan would change earlier sales too."),
        ),
        (
            _("Several pieces, one payment"),
            _(
                "A line for each; from the second on “yes” under With the line above: one payment, one fee, "
                "and the way to pay of that line."
            ),
        ),
        (_("A ware without numbers"), _("Its code under Piece, and How many.")),
        (
            _("Deposit, balance, refund"),
            _(
                "Choose it under Kind. A deposit needs its amount; an empty balance is what is left to pay, "
                "an empty refund all that was paid."
            ),
        ),
        (
            _("A gift with a sale"),
            _(
                "Under Gift on top. For one group: that group gets the gift in full, or the whole line where "
                "there is no gift."
            ),
        ),
        (
            _("Money without a piece"),
            _("Kind (donation, raffle, refreshments, postage, other), Amount and Paid by."),
        ),
        (
            _("Paid now, fetched later"),
            _("A Claim number on the line, and on Hand over who that is. No names on Takings."),
        ),
        (
            _("Reserved, nothing paid"),
            _(
                "The claim number on Pieces, beside the piece. An agreed price there holds for it alone; "
                "empty it when the piece is free again."
            ),
        ),
        (
            _("Still to be made"),
            _(
                "Kind order, the ware's code, How many, the Claim number, and under Amount what is paid "
                "ahead. When it is made, put a piece to the claim on Pieces; when it is fetched, sell that "
                "piece for what is paid then, 0 where nothing is left."
            ),
        ),
        (
            _("The money is not there yet"),
            _(
                "Promised, or the card machine was offline: “yes” under Not yet arrived. Empty it when it "
                "is there."
            ),
        ),
        (
            _("In the evening"),
            _(
                "Look at each line with a remark. Count the cash box and, in the book of the whole sale, the "
                "table: both on Cash-up."
            ),
        ),
    )
