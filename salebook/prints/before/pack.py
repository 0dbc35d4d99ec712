"""Every print of the sale pack, by file name."""

from collections.abc import Sequence

from salebook.event.register import Piece
from salebook.prints.before.agreement import agreement_file, agreement_html
from salebook.prints.before.poster import poster_html
from salebook.prints.before.price_list import price_list_html
from salebook.prints.before.takings_on_paper import takings_on_paper_html
from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.pieces import pieces_for_sale
from salebook.prints.labels.tags import tags_html
from salebook.prints.render import Printer
from salebook.prints.studio.firing_card import firing_html
from salebook.prints.studio.making_list import making_html
from salebook.reckoning import Reckoning


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
        "making.html": making_html(printer, reckoning),
        "firing.html": firing_html(printer, reckoning),
        "poster.html": poster_html(printer, reckoning),
    }
    for number, group in enumerate(reckoning.plan.beneficiaries, 1):
        prints[agreement_file(group, number)] = agreement_html(printer, reckoning, group)
    return prints
