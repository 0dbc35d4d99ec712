"""Every print of the sale pack, by file name."""

from pathlib import Path

from salebook.prints.agreement import agreement_file, agreement_html
from salebook.prints.firing import firing_html
from salebook.prints.labels import labels_html
from salebook.prints.making import making_html
from salebook.prints.pieces import pieces_for_sale
from salebook.prints.poster import poster_html
from salebook.prints.price_list import price_list_html
from salebook.prints.tags import tags_html
from salebook.prints.tally import tally_html
from salebook.reckoning import Reckoning


def all_prints(reckoning: Reckoning, *, templates: Path | None = None) -> dict[str, str]:
    """Return the pages of all prints made before the sale, by file name.

    Raises FaultyPlan for labels that cannot be printed, TemplateFault for a faulty template, FileTrouble for
    a folder of templates that is not there.
    """
    pieces = pieces_for_sale(reckoning)
    prints = {
        "labels.html": labels_html(reckoning, pieces, templates=templates),
        "tags.html": tags_html(reckoning, pieces, templates=templates),
        "price-list.html": price_list_html(reckoning, templates=templates),
        "tally.html": tally_html(reckoning, templates=templates),
        "making.html": making_html(reckoning, templates=templates),
        "firing.html": firing_html(reckoning, templates=templates),
        "poster.html": poster_html(reckoning, templates=templates),
    }
    for number, group in enumerate(reckoning.plan.beneficiaries, 1):
        prints[agreement_file(group, number)] = agreement_html(reckoning, group, templates=templates)
    return prints
