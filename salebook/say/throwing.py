"""What is thrown on one day, said in sentences: how many, of what ball, on how many bats."""

from collections.abc import Iterator

from salebook.base.words import _, ngettext
from salebook.making.days import Throw
from salebook.plan.model import Plan, Ware


def throw_title(throw: Throw, plan: Plan) -> str:
    """Say what is thrown on a day, such as "20 × Harbour mug"."""
    return _("{count} × {name}").format(count=throw.pieces, name=ware_of(throw, plan).name)


def throw_sentences(throw: Throw, plan: Plan) -> Iterator[str]:
    """Say what to weigh out for it, and how many bats it takes where the plan counts them."""
    ware, count = ware_of(throw, plan), throw.pieces
    says = ngettext("Weigh {count} ball of {ball}, {clay}.", "Weigh {count} balls of {ball}, {clay}.", count)
    yield says.format(count=count, ball=ware.ball.to_text_in_both_units(), clay=ware.clay)
    if plan.making.bats is not None:
        yield ngettext("Set out {count} bat.", "Set out {count} bats.", count).format(count=count)


def ware_of(throw: Throw, plan: Plan) -> Ware:
    """Return the ware that is thrown."""
    return next(ware for ware in plan.wares if ware.code == throw.code)
