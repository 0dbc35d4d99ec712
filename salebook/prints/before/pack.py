"""Every print of the sale pack, by file name, with the shortest of them: the tally and the agreements."""

from collections.abc import Sequence
from typing import get_args

from salebook.event.entries import LineKind
from salebook.event.register import Piece
from salebook.plan.model import Beneficiary
from salebook.prints.before.poster import poster_html
from salebook.prints.before.price_list import price_list_html
from salebook.prints.before.shopping import shopping_html
from salebook.prints.file_name import file_name
from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.pieces import pieces_for_sale
from salebook.prints.labels.tags import tags_html
from salebook.prints.render import Printer
from salebook.prints.studio.firing_card import firing_html
from salebook.prints.studio.making_list import making_html
from salebook.reckoning import Reckoning

TALLY_LINES = 22
"""Lines that stand on one sheet across, high enough for a pencil."""


def all_prints(
    printer: Printer, reckoning: Reckoning, pieces: Sequence[Piece] | None = None
) -> dict[str, str]:
    """Return the pages of all prints made before the sale, by file name.

    `pieces` are those that wait to be sold; without them, all that are planned.

    Raises FaultyPlanError for labels that cannot be printed, TemplateFaultError for a faulty template.
    """
    labelled = pieces_for_sale(reckoning) if pieces is None else pieces
    prints = {
        "labels.html": labels_html(printer, reckoning, labelled),
        "tags.html": tags_html(printer, reckoning, labelled),
        "price-list.html": price_list_html(printer, reckoning, pieces),
        "tally.html": takings_on_paper_html(printer, reckoning),
        "shopping.html": shopping_html(printer, reckoning, labelled),
        "making.html": making_html(printer, reckoning),
        "firing.html": firing_html(printer, reckoning),
        "poster.html": poster_html(printer, reckoning),
    }
    for number, group in enumerate(reckoning.plan.beneficiaries, 1):
        prints[file_name("agreement", number, group.name)] = agreement_html(printer, reckoning, group)
    return prints


def takings_on_paper_html(printer: Printer, reckoning: Reckoning) -> str:
    """Return the tally: the sheet Takings on paper, for when the laptop fails."""
    return printer.fill(
        "tally.html",
        lines=range(1, TALLY_LINES + 1),
        kinds=get_args(LineKind),
        ways=tuple(way.name for way in reckoning.plan.payments),
    )


def agreement_html(printer: Printer, reckoning: Reckoning, group: Beneficiary) -> str:
    """Return the agreement with one group: its name, its parts, what comes off, and who signs."""
    plan = reckoning.plan
    return printer.fill(
        "agreement.html",
        group=group,
        groups=plan.beneficiaries,
        costs=[line for line in reckoning.costs.lines if line.met_by == "sale"],
        ways=[way for way in plan.payments if way.percent or way.fixed],
        given=[given for given in plan.donated if given.keeps],
        promise=plan.labels.promise,
    )
