"""What to mind of the kiln's loads, said in sentences, and from when missing power is worth saying."""

from collections.abc import Iterator

from babel.lists import format_list

from salebook.base.words import _
from salebook.making.loading import Load, Loading, rides_along
from salebook.plan.model import Plan

LEAST_SHORT_KW = 0.05
"""Less missing power than this is not worth a word."""


def load_sentences(loading: Loading, plan: Plan) -> tuple[str, ...]:
    """Say how many kiln loads there are and could be at the least, and what would ride along in the last."""
    return (*_loads(loading), *_ride_along(loading, plan))


def load_sentence(load: Load) -> str:
    """Say what stands in a load, bottom shelf first, such as "9 MUG · 9 MUG · 4 BOWL"."""
    return " · ".join(f"{layer.pieces} {layer.code}" for layer in load.layers)


def is_mixed(load: Load) -> bool:
    """Whether more than one ware stands in a load."""
    return len({layer.code for layer in load.layers}) > 1


def _loads(loading: Loading) -> Iterator[str]:
    found, least, fired = len(loading.loads), loading.lower_bound, loading.to_fire
    if fired != found:
        yield _("Kiln loads: {fired}, as you say; {found} were found.").format(fired=fired, found=found)
    elif found > least:
        says = _("Kiln loads: {found}; by the height of the shelves alone {least} might do.")
        yield says.format(found=found, least=least)
    else:
        yield _("Kiln loads: {found}, and fewer cannot do.").format(found=found)
    mixed = [str(number) for number, load in enumerate(loading.loads, start=1) if is_mixed(load)]
    if mixed:
        yield _("Several wares share load {loads}.").format(loads=", ".join(mixed))


def _ride_along(loading: Loading, plan: Plan) -> Iterator[str]:
    more = {code: count for code, count in rides_along(loading, plan).items() if count}
    if more:
        listed = format_list(
            [f"{count} {code}" for code, count in more.items()], style="or", locale=plan.sale.locale
        )
        yield _("In the last load {more} more would ride along for nothing.").format(more=listed)
