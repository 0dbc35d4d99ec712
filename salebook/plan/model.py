"""The plan: everything that the maker tells us, checked, frozen and typed."""

from datetime import time
from decimal import Decimal
from functools import cached_property
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, model_validator

from salebook.plan import fields
from salebook.plan.money import minor_digits, said
from salebook.plan.quantities import Length

MetBy = Literal["maker", "sale", "sponsor"]
Stage = Literal["biscuit", "glaze"]
Per = Literal["piece started", "piece glazed", "piece finished", "piece sold", "batch", "load", "sale"]


class Missing:
    """Stands where a required key is left out."""


MISSING = Missing()


class Record(BaseModel):
    """A part of the plan: its keys are the plan file's, none other, and nothing changes it."""

    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=False)

    @model_validator(mode="before")
    @classmethod
    def _ask_for_what_is_missing(cls, data: object) -> object:
        """Put a mark where a required key is left out, so that its field says what it expects there."""
        return {**dict.fromkeys(cls.required_keys(), MISSING), **data} if isinstance(data, dict) else data

    @classmethod
    def keys(cls) -> tuple[str, ...]:
        """Return the keys of this record as the plan file spells them."""
        return tuple(field.alias or name for name, field in cls.model_fields.items())

    @classmethod
    def required_keys(cls) -> tuple[str, ...]:
        """Return the keys that have no default."""
        return tuple(field.alias or name for name, field in cls.model_fields.items() if field.is_required())


class Sale(Record):
    """What, when and for how much."""

    title: fields.Name
    maker: fields.Name
    venue: fields.Text = ""
    days: fields.Days
    locale: fields.LocaleName = "en_GB"
    currency: fields.CurrencyCode = "GBP"
    target: fields.Money
    price_step_given: fields.Price | None = Field(None, alias="price_step")
    confidence: fields.Confidence = Decimal("0.9")
    denominations: tuple[fields.Price, ...] = ()

    @property
    def digits(self) -> int:
        """Digits of the currency's minor unit."""
        return minor_digits(self.currency)

    @property
    def price_step(self) -> Decimal:
        """What proposed prices are a multiple of: as given, else 0.50, or 50 without minor digits."""
        usual = Decimal(50) if self.digits == 0 else Decimal("0.50")
        return usual if self.price_step_given is None else self.price_step_given

    def said(self, amount: Decimal) -> str:
        """Say an amount of the sale's money as its locale writes it, such as "£12.50"."""
        return said(amount, self.currency, self.locale)


class Beneficiary(Record):
    """A group that shares in the takings."""

    name: fields.Name
    parts: fields.Parts = 1
    agreed: fields.Day | None = None
    registration: fields.Text = ""
    contact: fields.Text = ""


class Clay(Record):
    """A clay, as it is bought and as it shrinks."""

    name: fields.Name
    pack: fields.PositiveMass
    pack_price: fields.Money
    shrinkage: fields.Shrinkage
    drying_shrinkage_given: fields.Shrinkage | None = Field(None, alias="drying_shrinkage")
    waste: fields.Waste = Decimal("0.10")
    dry_fraction: fields.DryFraction = Decimal("0.80")
    whole_packs: fields.YesNo = True
    met_by: MetBy = "maker"

    @property
    def drying_shrinkage(self) -> Decimal:
        """Linear shrinkage before the biscuit firing: as given, else half (common practice, no source)."""
        return self.shrinkage / 2 if self.drying_shrinkage_given is None else self.drying_shrinkage_given


class Losses(Record):
    """Share of the pieces lost at each stage."""

    throwing: fields.Loss = Decimal(0)
    drying: fields.Loss = Decimal(0)
    biscuit: fields.Loss = Decimal(0)
    glaze: fields.Loss = Decimal(0)


USUAL_LOSSES = Losses(
    throwing=Decimal("0.03"), drying=Decimal("0.03"), biscuit=Decimal("0.02"), glaze=Decimal("0.04")
)
"""Losses assumed where a ware gives none (common practice, no source)."""


class DemandPoint(Record):
    """How large a share would sell at a price."""

    price: fields.Price
    share: fields.Share


Demand = Annotated[
    tuple[Annotated[DemandPoint, BeforeValidator(fields.demand_parts)], ...], AfterValidator(fields.by_price)
]
"""Points of demand in the order of their prices, each price once."""


class Footprint(Record):
    """The ground that a piece takes, widest by narrowest, lip and handle included, as thrown."""

    widest: fields.PositiveLength
    narrowest: fields.PositiveLength


LEFT_TO_THE_TARGET = 0
"""Stands as `wanted` until it is worked out how many pieces the target takes."""


class Ware(Record):
    """One kind of piece that the maker makes."""

    code: fields.Code
    name: fields.Name
    wanted: fields.Wanted = LEFT_TO_THE_TARGET
    price: fields.Price
    clay: fields.Name
    ball: fields.PositiveMass
    footprint: Annotated[Footprint, BeforeValidator(fields.footprint_parts)] | None = None
    numbered: fields.YesNo = True
    made_height: fields.PositiveLength | None = None
    made_diameter: fields.PositiveLength | None = None
    fired_height: fields.PositiveLength | None = None
    fired_diameter: fields.PositiveLength | None = None
    losses_given: Losses | None = Field(None, alias="losses")
    seconds: fields.Loss = Decimal(0)
    seconds_price: fields.Price | None = None
    sells: fields.Share = Decimal("0.9")
    demand: Demand = ()
    care: fields.Text = ""
    spoken_for: fields.Count = 0
    per_shelf_biscuit: fields.PerShelf | None = None
    per_shelf_glaze: fields.PerShelf | None = None

    @property
    def losses(self) -> Losses:
        """The losses to reckon with: as given, else the usual ones."""
        return USUAL_LOSSES if self.losses_given is None else self.losses_given


class Donated(Record):
    """Pieces that another maker gives."""

    code: fields.Code
    name: fields.Name
    maker: fields.Name
    price: fields.Price
    count: fields.PositiveCount = 1
    keeps: fields.Share = Decimal(0)
    sells: fields.Share = Decimal("0.9")
    care: fields.Text = ""
    spoken_for: fields.Count = 0


class Making(Record):
    """How the maker works: batches, bats and drying."""

    batch: fields.PositiveCount = 20
    bats: fields.PositiveCount | None = None
    days_on_bat: fields.WholeDays = 1
    drying_days: fields.WholeDays = 7
    free_days: tuple[fields.Day, ...] = ()


class Shelf(Record):
    """A kiln shelf, round or rectangular."""

    shape: Literal["round", "rectangle"]
    diameter: fields.PositiveLength | None = None
    width: fields.PositiveLength | None = None
    depth: fields.PositiveLength | None = None


class Calibration(Record):
    """A metered firing that sets the estimates right."""

    firing: fields.Name
    metered_kwh: fields.Positive


class Kiln(Record):
    """The kiln: its shelves, its height, its power, and its wall where that is known."""

    fuel: Literal["electric", "gas"] = "electric"
    shelf: Shelf
    usable_height: fields.PositiveLength
    shelves: fields.PositiveCount | None = None
    days_per_load: fields.PositiveCount = 2
    shelf_thickness: fields.NotNegativeLength = Length(Decimal(15), "mm")
    clearance: fields.NotNegativeLength = Length(Decimal(10), "mm")
    gap: fields.NotNegativeLength = Length(Decimal(5), "mm")
    rated_kw: fields.Positive | None = None
    room: fields.Room = Decimal(20)
    wall_area_m2: fields.Positive | None = None
    wall_thickness_mm: fields.Positive | None = None
    wall_conductivity: fields.Positive | None = None
    wall_mass_kg: fields.Positive | None = None
    furniture_kg: fields.NotNegative = Decimal(0)
    burner_efficiency: fields.Efficiency | None = None
    calibration: Calibration | None = None

    @property
    def has_walls(self) -> bool:
        """Whether the four wall keys are given."""
        return self.wall_area_m2 is not None


class Step(Record):
    """One step of a firing: up or down at a rate (°C/h), then a hold (minutes)."""

    rate: fields.HeatingRate
    to: fields.FiringTemperature
    hold: fields.Minutes = Decimal(0)


class Firing(Record):
    """A firing's schedule and what a meter said of it."""

    name: fields.Name
    stage: Stage
    start: fields.Clock = time(7)
    steps: Annotated[tuple[Step, ...], BeforeValidator(fields.Listed(fields.MOST_STEPS, fields.steps_words))]
    metered_kwh: fields.NotNegative = Decimal(0)
    on_share_given: fields.OnShare | None = Field(None, alias="on_share")
    met_by: MetBy = "maker"

    @property
    def on_share(self) -> Decimal:
        """Share of the time that the elements are on: as given, else common practice (no source)."""
        usual = {"biscuit": Decimal("0.5"), "glaze": Decimal("0.65")}[self.stage]
        return usual if self.on_share_given is None else self.on_share_given


class EnergyRate(Record):
    """The price of one kWh between two clock times, in minutes since midnight; from = to is the whole day."""

    from_: fields.ClockStart = Field(alias="from")
    to: fields.ClockMinutes
    price: fields.NotNegative


class Energy(Record):
    """What energy costs through the day."""

    rates: Annotated[
        tuple[EnergyRate, ...], BeforeValidator(fields.Listed(fields.MOST_RATES, fields.rates_words))
    ]


class Material(Record):
    """Something used up: glaze, a bag, a label."""

    name: fields.Name
    amount: fields.NotNegative
    unit: fields.Text = ""
    per: Per
    wares: tuple[fields.Code, ...] = ()
    pack_amount: fields.Positive
    pack_price: fields.Money
    whole_packs: fields.YesNo = True
    met_by: MetBy = "maker"


class Work(Record):
    """Work that takes a time for each piece, batch, load or sale."""

    name: fields.Name
    per: Per
    minutes: fields.Minutes
    wares: tuple[fields.Code, ...] = ()


class Hours(Record):
    """The worth put on one hour: never money spent."""

    rate: fields.Money = Decimal(0)


class Overhead(Record):
    """A cost for the whole sale."""

    name: fields.Name
    amount: fields.Money
    met_by: MetBy = "maker"


class OtherIncome(Record):
    """Refreshments, a raffle, a collecting tin: expected to go to the groups in full."""

    name: fields.Name
    expected: fields.Money


class Payment(Record):
    """A way to pay, and what it costs."""

    name: fields.Name
    percent: fields.Percent = Decimal(0)
    fixed: fields.Money = Decimal(0)
    share_given: fields.Share | None = Field(None, alias="share")
    cash: fields.YesNo = False
    paid_to: fields.Text = ""

    def fee(self, amount: Decimal, payments: int = 1) -> Decimal:
        """Return what it takes of an amount that comes in so many payments, unrounded."""
        return amount * self.percent / 100 + self.fixed * payments


class Outlook(Record):
    """How the day may go."""

    name: fields.Name
    weight: fields.NotNegative = Decimal(1)
    factor: fields.Factor = Decimal(1)


class Labels(Record):
    """A sheet of labels, by its measures."""

    page: Literal["A4", "Letter"] = "A4"
    columns: fields.PositiveCount = 3
    rows: fields.PositiveCount = 7
    width: fields.PositiveLength = Length(Decimal("63.5"), "mm")
    height: fields.PositiveLength = Length(Decimal("38.1"), "mm")
    left: fields.NotNegativeLength = Length(Decimal("7.2"), "mm")
    top: fields.NotNegativeLength = Length(Decimal("15.1"), "mm")
    across: fields.PositiveLength = Length(Decimal("66.0"), "mm")
    down: fields.PositiveLength = Length(Decimal("38.1"), "mm")
    promise: fields.YesNo = False


class Plan(Record):
    """One sale, from the bag of clay to the share-out."""

    format: Literal[1]
    sale: Sale
    beneficiaries: tuple[Beneficiary, ...]
    clays: tuple[Clay, ...] = ()
    wares: tuple[Ware, ...] = ()
    donated: tuple[Donated, ...] = ()
    making: Making = Making()
    kiln: Kiln | None = None
    firings: tuple[Firing, ...] = ()
    energy: Energy | None = None
    materials: tuple[Material, ...] = ()
    work: tuple[Work, ...] = ()
    hours: Hours = Hours()
    overheads: tuple[Overhead, ...] = ()
    other_income: tuple[OtherIncome, ...] = ()
    payments_given: tuple[Payment, ...] = Field((), alias="payments")
    outlooks_given: tuple[Outlook, ...] = Field((), alias="outlooks")
    labels: Labels = Labels()

    @cached_property
    def payments(self) -> tuple[Payment, ...]:
        """The ways to pay: as given, else cash only."""
        return self.payments_given or (Payment(name="cash", share=Decimal(1), cash=True),)

    @cached_property
    def payment_shares(self) -> tuple[Decimal, ...]:
        """The share of sales expected of each way to pay; a single way takes all."""
        if len(self.payments) == 1 and self.payments[0].share_given is None:
            return (Decimal(1),)
        return tuple(Decimal(0) if way.share_given is None else way.share_given for way in self.payments)

    @cached_property
    def outlooks(self) -> tuple[Outlook, ...]:
        """The kinds of day to reckon with: as given, else one that goes as expected."""
        return self.outlooks_given or (Outlook(name="as expected"),)

    def clay_of(self, ware: Ware) -> Clay:
        """Return the clay that a ware is made of."""
        return next(clay for clay in self.clays if clay.name == ware.clay)
