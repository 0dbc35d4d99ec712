"""What share of the pieces is lost at each stage: as believed, and as counted on earlier sales."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated

from pydantic import BeforeValidator

from salebook.base.beta import Beta
from salebook.plan import fields
from salebook.plan.keys import Record, key


class Losses(Record):
    """Share of the pieces lost at each stage."""

    throwing: fields.Loss = key("Lost in throwing", default=Decimal(0))
    drying: fields.Loss = key("Lost in drying", default=Decimal(0))
    biscuit: fields.Loss = key("Lost in biscuit firing", default=Decimal(0))
    glaze: fields.Loss = key("Lost in glaze firing", default=Decimal(0))


USUAL_LOSSES = Losses(
    throwing=Decimal("0.03"), drying=Decimal("0.03"), biscuit=Decimal("0.02"), glaze=Decimal("0.04")
)
"""Losses assumed where a ware gives none (common practice, no source)."""


class SeenLoss(Record):
    """Pieces lost of those that went into a stage on earlier sales; parts where many stand for fewer."""

    lost: fields.SeenCount = key("Lost")
    entered: fields.SeenCount = key("Of so many")


_SeenLoss = Annotated[SeenLoss, BeforeValidator(fields.seen_parts)]


class Seen(Record):
    """What was counted on earlier sales, stage by stage; of the survivors, how many had a flaw."""

    throwing: _SeenLoss | None = key("Lost in throwing", default=None)
    drying: _SeenLoss | None = key("Lost in drying", default=None)
    biscuit: _SeenLoss | None = key("Lost in biscuit firing", default=None)
    glaze: _SeenLoss | None = key("Lost in glaze firing", default=None)
    seconds: _SeenLoss | None = key("Seconds among the rest", default=None)

    def after(self, before: Mapping[str, Beta]) -> Mapping[str, Beta]:
        """Return what is believed of each stage once what was counted is added."""
        counted = ((stage, count) for stage, count in self if count)
        return {
            **before,
            **{stage: before[stage].updated(count.lost, count.entered) for stage, count in counted},
        }


BELIEVED_WORTH, ASSUMED_WORTH = 20, 10
"""How many counted pieces a plan's share of losses stands for, and one that was only assumed (judgement)."""


def believed(losses: Losses | None, seconds: Decimal) -> Mapping[str, Beta]:
    """Return how sure the share that each stage loses is, seconds last, before anything was counted.

    Losses that the plan leaves out, or a share of seconds of 0, were only assumed.
    """
    worth = ASSUMED_WORTH if losses is None else BELIEVED_WORTH
    before = {stage: Beta.believed(share, worth=worth) for stage, share in losses or USUAL_LOSSES}
    worth = BELIEVED_WORTH if seconds else ASSUMED_WORTH
    return {**before, "seconds": Beta.believed(seconds, worth=worth)}
