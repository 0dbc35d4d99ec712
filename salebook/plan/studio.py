"""What the maker tells us of the studio: clays, pieces, what is used up, work."""

from collections.abc import Mapping
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import AfterValidator, BeforeValidator

from salebook.base.beta import Beta
from salebook.base.errors import UnfitError
from salebook.base.words import N_, _
from salebook.plan import fields
from salebook.plan.keys import Kind, Record, key
from salebook.plan.losses import USUAL_LOSSES, Losses, Seen, believed

Per = Literal["piece started", "piece glazed", "piece finished", "piece sold", "batch", "load", "sale"]


class Clay(Record):
    """A clay, as it is bought and as it shrinks."""

    name: fields.Name = key("Name", "the clay")
    pack: fields.PositiveMass = key("A bag holds", "mass of a bag")
    pack_price: fields.Money = key("A bag costs", "price of a bag")
    shrinkage: fields.Shrinkage = key("Shrinks, thrown to fired", "linear, from thrown to fired")
    drying_shrinkage_given: fields.Shrinkage | None = key(
        "of it in drying",
        "the part of it before the biscuit firing",
        default=None,
        alias="drying_shrinkage",
        usual="half",
    )
    waste: fields.Waste = key("Waste on top", "on top of the balls", default=Decimal("0.10"))
    dry_fraction: fields.DryFraction = key(
        "Dry part of its weight", "dry mass / plastic mass", default=Decimal("0.80")
    )
    whole_packs: fields.YesNo = key(
        "Pay whole bags", "whether whole bags are bought for this sale", default=True
    )
    met_by: fields.MetBy = key("Who pays", default="maker")

    @property
    def drying_shrinkage(self) -> Decimal:
        """Linear shrinkage before the biscuit firing: as given, else half (common practice, no source)."""
        return self.shrinkage / 2 if self.drying_shrinkage_given is None else self.drying_shrinkage_given


class DemandPoint(Record):
    """How large a share would sell at a price."""

    price: fields.Price = key("At this price")
    share: fields.Share = key("This share sells")


def _by_price(points: tuple[DemandPoint, ...]) -> tuple[DemandPoint, ...]:
    if len({point.price for point in points}) < len(points):
        raise UnfitError(_("each price once"))
    return tuple(sorted(points, key=lambda point: point.price))


Demand = Annotated[
    tuple[Annotated[DemandPoint, BeforeValidator(fields.demand_parts)], ...], AfterValidator(_by_price)
]
"""Points of demand in the order of their prices, each price once."""


class Footprint(Record):
    """The ground that a piece takes, widest by narrowest, lip and handle included, as thrown."""

    widest: fields.PositiveLength = key("Widest, lip and handle")
    narrowest: fields.PositiveLength = key("Narrowest")


LEFT_TO_THE_TARGET = 0
"""Stands as `wanted` until it is worked out how many pieces the target takes."""


USUAL_SELLS = Decimal("0.9")
"""Share expected to sell where the plan says nothing of it (common practice, no source)."""


class Ware(Record):
    """One kind of piece that the maker makes."""

    name: fields.Name = key("Name", "the ware")
    code: fields.Code = key("Code", "1 to 6 capital letters or digits")
    wanted: fields.Wanted = key(
        "Good pieces wanted",
        default=LEFT_TO_THE_TARGET,
        usual="one ware may leave it out: the fewest that make the target with `confidence`",
    )
    price: fields.Price = key("Price", "price of a good one")
    seconds_price: fields.Price | None = key("Price of a second", default=None, usual="seconds are not sold")
    sells: fields.Share = key("Share that sells", "share expected to sell", default=USUAL_SELLS)
    spoken_for: fields.Count = key("Spoken for", "pieces sure to sell", default=0)
    numbered: fields.YesNo = key("Numbered", "false: sold by code and count", default=True)
    care: fields.Line = key(
        "Care, for the label", "one line on the label; promise only what was tested", default=""
    )
    demand: Demand = key(
        "How many would sell at each price",
        "`[[price, share], …]`: how many would sell at each price",
        default=(),
        usual="`sells` at any price",
    )
    clay: fields.ClayName = key("Clay", "a clay's name")
    ball: fields.PositiveMass = key("Ball", "mass of clay for one")
    made_height: fields.PositiveLength | None = key(
        "Height as thrown", "as thrown; needed where there are firings", default=None
    )
    made_diameter: fields.PositiveLength | None = key(
        "Width as thrown", "as thrown; needed where there are firings", default=None
    )
    fired_height: fields.PositiveLength | None = key(
        "or height fired", "instead of, or agreeing with, the made one", default=None
    )
    fired_diameter: fields.PositiveLength | None = key(
        "or width fired", "instead of, or agreeing with, the made one", default=None
    )
    footprint: Annotated[Footprint, BeforeValidator(fields.footprint_parts)] | None = key(
        "Room it needs, if not round",
        'widest by narrowest as thrown, "150 x 110 mm", where not round',
        default=None,
        usual="round",
    )
    losses_given: Losses | None = key(
        "Losses",
        "shares lost: `{ throwing, drying, biscuit, glaze }`",
        default=None,
        alias="losses",
        usual="0.03, 0.03, 0.02, 0.04",
    )
    seconds_given: fields.Loss = key(
        "Seconds among the rest",
        "share of the survivors with a flaw",
        default=Decimal(0),
        alias="seconds",
    )
    per_shelf_biscuit: fields.PerShelf | None = key(
        "On a shelf, biscuit", "pieces on a shelf, where you know better", default=None, usual="worked out"
    )
    per_shelf_glaze: fields.PerShelf | None = key(
        "On a shelf, glaze", "pieces on a shelf, where you know better", default=None, usual="worked out"
    )

    seen: Seen = key(
        "Counted on earlier sales",
        "counted on earlier sales, `[lost, of so many]`: `{ throwing, drying, biscuit, glaze, seconds }`",
        default=Seen(),
        usual="nothing counted",
    )

    @property
    def losses_believed(self) -> Losses:
        """The losses before anything was counted: as given, else the usual ones."""
        return USUAL_LOSSES if self.losses_given is None else self.losses_given

    @property
    def has_counts(self) -> bool:
        """Whether anything was counted on earlier sales."""
        return self.seen != Seen()

    @property
    def beliefs_before(self) -> Mapping[str, Beta]:
        """How sure the share lost at each stage was before anything was counted; seconds last."""
        return believed(self.losses_given, self.seconds_given)

    @property
    def beliefs(self) -> Mapping[str, Beta]:
        """The same after what was counted on earlier sales."""
        return self.seen.after(self.beliefs_before)

    @property
    def losses(self) -> Losses:
        """The losses to reckon with: as believed, and where anything was counted, the means after that."""
        if not self.has_counts:
            return self.losses_believed
        means = {stage: belief.mean for stage, belief in self.beliefs.items() if stage != "seconds"}
        return Losses.model_construct(None, **means)

    @property
    def seconds(self) -> Decimal:
        """The share of seconds to reckon with, likewise."""
        return self.beliefs["seconds"].mean if self.has_counts else self.seconds_given

    @property
    def stem(self) -> str:
        """What the numbers of its pieces begin with."""
        return self.code


class Donated(Record):
    """Pieces that another maker gives."""

    name: fields.Name = key("Name", "the piece")
    code: fields.Code = key("Code", "unique among wares too")
    count: fields.PositiveCount = key("How many", default=1)
    price: fields.Price = key("Price", "its price")
    keeps: fields.Share = key(
        "Giver's part", "share of the price that goes back to the giver", default=Decimal(0)
    )
    sells: fields.Share = key("Share that sells", "share expected to sell", default=USUAL_SELLS)
    spoken_for: fields.Count = key("Spoken for", "pieces sure to sell", default=0)
    maker: fields.Name = key("Given by", "who gives it")
    care: fields.Line = key(
        "Care, for the label", "one line on the label; promise only what was tested", default=""
    )

    @property
    def stem(self) -> str:
        """What the numbers of the pieces begin with."""
        return self.code


class Carried(Record):
    """Pieces of the maker's own that an earlier sale left: they are there, and keep their numbers."""

    name: fields.Name = key("Name", "the piece")
    numbers: fields.PieceNumbers = key("Their numbers", 'such as "JUG-003, JUG-011..014", or a list of them')
    stem: fields.Code = key("Code", "what their numbers begin with, a ware's or another", alias="code")
    price: fields.Price = key("Price", "what stands on their labels")
    second: fields.YesNo = key("Seconds", "whether they are seconds", default=False)
    sells_given: fields.Share | None = key(
        "Share that sells",
        "share expected to sell",
        default=None,
        alias="sells",
        usual="as the ware's of that code at this price, else 0.9",
    )
    spoken_for: fields.Count = key("Spoken for", "pieces sure to sell", default=0)
    care: fields.Line = key(
        "Care, for the label", "one line on the label; promise only what was tested", default=""
    )

    @property
    def code(self) -> str:
        """What tells them from all other pieces: the first of their numbers with a +, which no code has."""
        return self.numbers[0].replace("-", "+")

    @property
    def count(self) -> int:
        """How many there are."""
        return len(self.numbers)


Source = Ware | Donated | Carried
"""Where pieces come from: made for the sale, given to it, or left from an earlier one."""


class Making(Record):
    """How the maker works: batches, bats and drying."""

    batch: fields.PositiveCount = key("Thrown in one go", default=20, unit=N_("pieces"))
    bats: fields.PositiveCount | None = key(
        "Bats",
        "bats you own",
        default=None,
        usual="no limit",
        note=N_("empty: no limit; a piece holds its bat until leather hard"),
    )
    days_on_bat: fields.WholeDays = key("On the bat", "until leather hard", default=1, unit=N_("days"))
    drying_days: fields.WholeDays = key("Leather hard to bone dry", default=7, unit=N_("days"))
    free_days: tuple[fields.Day, ...] = key("Day off", "dates without work", default=())


class Material(Record):
    """Something used up: glaze, a bag, a label."""

    name: fields.Name = key("Name", "the material")
    amount: fields.NotNegative = key("Amount", "for each `per`")
    unit: fields.Line = key("Unit", "of the amount", default="")
    per: Annotated[Per, Kind.TEXT] = key("for each", "what it is used for")
    wares: fields.Codes = key("of these pieces", "codes", default=(), usual="all")
    pack_amount: fields.Positive = key("A pack holds", "in one pack")
    pack_price: fields.Money = key("A pack costs", "of one pack")
    whole_packs: fields.YesNo = key("Pay whole packs", "whether whole packs are bought", default=True)
    met_by: fields.MetBy = key("Who pays", default="maker")


class Work(Record):
    """Work that takes a time for each piece, batch, load or sale."""

    name: fields.Name = key("Name", "the work")
    minutes: fields.Minutes = key("Minutes", "for each `per`")
    per: Annotated[Per, Kind.TEXT] = key("for each", "what it is done for")
    wares: fields.Codes = key("of these pieces", "codes", default=(), usual="all")
