"""How sure the number to start is where losses were counted on earlier sales, said in sentences."""

from collections.abc import Iterator, Sequence
from typing import Final

from salebook.base.rounding import floor
from salebook.base.words import N_, _, chained, ngettext
from salebook.making.losses import Run
from salebook.plan.model import Seen
from salebook.plan.money import rounded
from salebook.plan.quantities import plain

COUNTED: Final = {
    "throwing": N_("in throwing {lost} of {entered}"),
    "drying": N_("in drying {lost} of {entered}"),
    "biscuit": N_("in the biscuit firing {lost} of {entered}"),
    "glaze": N_("in the glaze firing {lost} of {entered}"),
    "seconds": N_("seconds {lost} of {entered}"),
}


def starting_sentences(runs: Sequence[Run]) -> Iterator[str]:
    """Say how sure the number to start is of each ware whose losses were counted, and what was counted."""
    for run in runs:
        if run.ware.has_counts:
            yield _how_sure(run)


def _how_sure(run: Run) -> str:
    wanted = run.ware.wanted
    says = ngettext(
        "{ware}: {started} to start: {sure} in 100 that {wanted} is good. "
        "Losses counted on earlier sales: {counts}.",
        "{ware}: {started} to start: {sure} in 100 that {wanted} are good. "
        "Losses counted on earlier sales: {counts}.",
        wanted,
    )
    sure = floor(run.chance_of_enough * 100)
    counts = chained(_("{first}, {last}"), _counts(run.ware.seen))
    return says.format(ware=run.ware.name, started=run.started, sure=sure, wanted=wanted, counts=counts)


def _counts(seen: Seen) -> Iterator[str]:
    for stage, count in seen:
        if count:
            says, shown = COUNTED[stage], {key: plain(rounded(number, 1)) for key, number in count}
            yield _(says).format(**shown)
