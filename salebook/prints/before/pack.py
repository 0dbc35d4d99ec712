"""Every print of the sale pack, by file name."""

from pathlib import Path

from salebook.prints.before.agreement import agreement_file, agreement_html
from salebook.prints.before.poster import poster_html
from salebook.prints.before.price_list import price_list_html
from salebook.prints.before.takings_on_paper import takings_on_paper_html
from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.pieces import pieces_for_sale
from salebook.prints.labels.tags import tags_html
from salebook.prints.studio.firing_card import firing_html
from salebook.prints.studio.making_list import making_html
from salebook.reckoning import Reckoning


def all_prints(reckoning: Reckoning, *, templates: Path | None = None) -> dict[str, str]:
    """Return the pages of all prints made before the sale, by file name.

    Raises FaultyPlanError for labels that cannot be printed, TemplateFaultError for a faulty template,
    FileError for a folder of templates that is not there.
    """
    pieces = pieces_for_sale(reckoning)
    prints = {
        "labels.html": labels_html(reckoning, pieces, templates=templates),
        "tags.html": tags_html(reckoning, pieces, templates=templates),
        "price-list.html": price_list_html(reckoning, templates=templates),
        "tally.html": takings_on_paper_html(reckoning, templates=templates),
        "making.html": making_html(reckoning, templates=templates),
        "firing.html": firing_html(reckoning, templates=templates),
        "poster.html": poster_html(reckoning, templates=templates),
    }
    for number, group in enumerate(reckoning.plan.beneficiaries, 1):
        prints[agreement_file(group, number)] = agreement_html(reckoning, group, templates=templates)
    return prints
