"""The part of the sheet Making that says what earlier sales tell of the losses, live."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Final

from salebook.base.beta import Beta
from salebook.base.words import N_, _
from salebook.book.page import Page
from salebook.book.table import Table, put_line
from salebook.making.losses import Run
from salebook.plan.model import ASSUMED_WORTH, BELIEVED_WORTH, Seen, SeenLoss, Ware

STAGES: Final = Seen.keys()
IN_WORDS: Final = {
    "throwing": N_("throwing"),
    "drying": N_("drying"),
    "biscuit": N_("biscuit firing"),
    "glaze": N_("glaze firing"),
    "seconds": N_("seconds"),
}
RANGE: Final = 0.9


@dataclass(frozen=True, kw_only=True)
class Belief:
    """What is believed of the share of a ware that one stage loses."""

    ware: Ware
    stage: str

    @property
    def before(self) -> Beta:
        """What was believed before anything was counted."""
        return self.ware.beliefs_before[self.stage]

    @property
    def seen(self) -> SeenLoss:
        """What was counted."""
        return getattr(self.ware.seen, self.stage) or SeenLoss(lost=Decimal(0), entered=Decimal(0))

    @property
    def after(self) -> Beta:
        """What is believed with that."""
        return self.ware.beliefs[self.stage]

    @property
    def scale(self) -> float:
        """What keeps the steps of the table of chances near 1: of no weight, as it cancels."""
        return self.ware.wanted / float(self.after.with_it + self.after.without + self.ware.wanted)


def beliefs_table(workings: int) -> Table[Belief]:
    """Declare the share that each stage loses: as believed before, what was counted, how sure that is."""
    table: Table[Belief] = Table(
        "beliefs", N_("Making"), record=lambda row: f"{row.ware.code}_{row.stage}", fitted=True
    )
    table.join("wares", lambda row: row.ware.code)
    limit = "IF([with_it]<=0,0,BETAINV(0.5{}range_of_losses/2,[with_it],[without]))"
    table.live("name", _("Name"), "wrapped", "[wares.name]", lambda row: row.ware.name)
    table.live("code", _("Code"), "text", "[wares.code]", lambda row: row.ware.code)
    table.fixed("stage", _("Stage"), "label", _stage)
    table.live("before", _("Believed before"), "percent", _believed, lambda row: row.before.mean)
    table.live(
        *("worth", _("As if so many were counted"), "whole", _worth),
        lambda row: row.before.with_it + row.before.without,
    )
    lost, entered = "SUM([seen_before.lost])", "SUM([seen_before.entered])"
    table.live("lost", _("Lost on earlier sales"), "number", lost, "seen.lost")
    table.live("entered", _("Of so many"), "number", entered, "seen.entered")
    mean = "[with_it]/([with_it]+[without])"
    table.live("mean", _("Reckoned with"), "strong percent", mean, "after.mean")
    table.live("low", _("May be from"), "percent", limit.format("-"), lambda row: row.after.middle(RANGE)[0])
    table.live("high", _("to"), "percent", limit.format("+"), lambda row: row.after.middle(RANGE)[1])
    table.skip_to(workings)
    with_it, without = "[before]*[worth]+[lost]", "(1-[before])*[worth]+[entered]-[lost]"
    table.live("with_it", _("Lost, with what was believed"), "worked number", with_it, "after.with_it")
    table.live("without", _("Kept, with what was believed"), "worked number", without, "after.without")
    doubt = "[with_it]/([without]*([with_it]+[without]+1))"
    table.live("doubt", _("Doubt of what is kept"), "worked number", doubt, "after.doubt")
    scale = "[starts.wanted]/([with_it]+[without]+[starts.wanted])"
    table.join("starts", lambda row: row.ware.code)
    table.live("scale", _("Scale of the steps"), "worked number", scale)
    return table


def _stage(row: Belief) -> str:
    heading = IN_WORDS[row.stage]
    return _(heading)


def _believed(row: Belief) -> str:
    own = f"SUM([wares.{row.stage}])"
    return own if row.stage == "seconds" else f"IF({_NONE_GIVEN},usual_{row.stage},{own})"


def _worth(row: Belief) -> str:
    assumed = "SUM([wares.seconds])=0" if row.stage == "seconds" else _NONE_GIVEN
    return f"IF({assumed},assumed_worth,believed_worth)"


_NONE_GIVEN: Final = "COUNT([wares.throwing]:[wares.glaze])=0"


def put_beliefs(page: Page, runs: Sequence[Run]) -> None:
    """Write what earlier sales say of the losses; nothing where nothing was counted."""
    wares = [run.ware for run in runs if run.ware.has_counts]
    if not wares:
        return
    page.band(_("Losses counted on earlier sales"))
    page.paragraph(
        _(
            "What the plan believes of a loss counts like so many pieces, and what was counted is added to "
            "that. The true loss may still be a little less or more: the range says how much."
        ),
        "note",
    )
    table = beliefs_table(len(page.widths) + 2)
    table.write(page, [Belief(ware=ware, stage=stage) for ware in wares for stage in STAGES])
    for name, label, content, style in (
        ("believed_worth", _("A loss that the plan gives counts like"), BELIEVED_WORTH, "worked whole"),
        ("assumed_worth", _("One that was only assumed counts like"), ASSUMED_WORTH, "worked whole"),
        ("range_of_losses", _("How sure the range is"), RANGE, "worked percents"),
    ):
        put_line(page, label, content, style, name=name)
    page.row += 1
