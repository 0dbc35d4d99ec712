"""What the maker tells us of the kiln, its firings, and what energy costs."""

from datetime import time
from decimal import Decimal
from typing import Annotated, Literal

from pydantic import BeforeValidator

from salebook.base.words import N_
from salebook.plan import fields
from salebook.plan.keys import Kind, Record, key
from salebook.plan.quantities import mm

Stage = Literal["biscuit", "glaze"]


class Shelf(Record):
    """A kiln shelf, round or rectangular."""

    shape: Literal["round", "rectangle"] = key("Shelf")
    diameter: fields.PositiveLength | None = key("Shelf across", default=None, note=N_("round shelves"))
    width: fields.PositiveLength | None = key("Shelf width", default=None, note=N_("rectangular shelves"))
    depth: fields.PositiveLength | None = key("Shelf depth", default=None, note=N_("rectangular shelves"))


class Calibration(Record):
    """A metered firing that sets the estimates right."""

    firing: Annotated[fields.Name, Kind.WORD] = key(
        "Meter reading of", note=N_("a firing below that was metered: it sets all estimates right")
    )
    metered_kwh: fields.Positive = key("The meter said", unit=N_("kWh"))


class Kiln(Record):
    """The kiln: its shelves, its height, its power, and its wall where that is known."""

    fuel: Literal["electric", "gas"] = key("Fired with", '"electric" or "gas"', default="electric")
    shelf: Shelf = key("Shelf", '`{ shape = "round", diameter }` or `{ shape = "rectangle", width, depth }`')
    usable_height: fields.PositiveLength = key("Height inside", "inside, first shelf to lid")
    shelves: fields.TypedCount | None = key(
        "Shelves owned",
        "shelves owned",
        default=None,
        usual="as many as fit",
        note=N_("empty: as many as fit"),
    )
    days_per_load: fields.TypedCount = key(
        "Days for a load", "fire, cool, unload", default=2, unit=N_("days")
    )
    shelf_thickness: fields.NotNegativeLength = key("Shelf thickness", default=mm(15))
    clearance: fields.NotNegativeLength = key(
        "Above the tallest piece",
        "above the tallest of a layer",
        default=mm(10),
        note=N_("air to the shelf above"),
    )
    gap: fields.NotNegativeLength = key(
        "Between pieces, glaze", "between glazed pieces", default=mm(5), note=N_("biscuit ware may touch")
    )
    rated_kw: fields.Positive | None = key(
        "Power on its plate",
        "power on its plate; for gas, heat to the chamber",
        default=None,
        usual="needed without the wall keys",
        unit=N_("kW"),
    )
    room: fields.Room = key("Room", "°C around it", default=Decimal(20), unit=N_("°C"))
    wall_area_m2: fields.Positive | None = key(
        "Wall area",
        "mean of inside and outside; the four wall keys go together",
        default=None,
        note=N_("all four wall keys, or none"),
        unit=N_("m²"),
    )
    wall_thickness_mm: fields.Positive | None = key(
        "Wall thickness", default=None, note=N_("all four wall keys, or none"), unit=N_("mm")
    )
    wall_conductivity: fields.Positive | None = key(
        "Wall conductivity",
        "W/(m·K)",
        default=None,
        note=N_("all four wall keys, or none"),
        unit=N_("W/(m·K)"),
    )
    wall_mass_kg: fields.Positive | None = key(
        "Wall mass", default=None, note=N_("all four wall keys, or none"), unit=N_("kg")
    )
    furniture_kg: fields.NotNegative = key(
        "Shelves and props",
        "shelves and props of one load",
        default=Decimal(0),
        note=N_("in one load"),
        unit=N_("kg"),
    )
    burner_efficiency: fields.Efficiency | None = key(
        "Burner efficiency",
        default=None,
        note=N_("gas: heat that reaches the chamber ÷ heat in the fuel"),
    )
    gas_kwh: fields.Positive | None = key(
        "Energy in the gas",
        default=None,
        usual="the meter is not read",
        note=N_("gas: kWh in 1 m³ on the meter or 1 kg in the bottle; see the bill"),
        unit=N_("kWh"),
    )
    calibration: Calibration | None = key(
        "Calibration", "`{ firing, metered_kwh }`: a metered firing", default=None
    )

    @property
    def has_walls(self) -> bool:
        """Whether the four wall keys are given."""
        return self.wall_area_m2 is not None


class Step(Record):
    """One step of a firing: up or down at a rate (°C/h), then a hold (minutes)."""

    rate: fields.HeatingRate = key("Degrees an hour")
    to: fields.FiringTemperature = key("To")
    hold: fields.Minutes = key("Hold, minutes", default=Decimal(0))


class Firing(Record):
    """A firing's schedule and what a meter said of it."""

    name: fields.Name = key("Firing", "the firing")
    stage: Stage = key("Stage", '"biscuit" or "glaze"')
    start: fields.Clock = key("Starts at", "local clock", default=time(7))
    steps: Annotated[tuple[Step, ...], BeforeValidator(fields.steps)] = key(
        "Steps", "`[{ rate, to, hold }, …]`: °C an hour, °C, minutes"
    )
    metered_kwh: fields.NotNegative = key(
        "Metered kWh, one load", "of one load, used as it is", default=Decimal(0), usual="not metered"
    )
    on_share_given: fields.OnShare | None = key(
        "Elements or burner on",
        "without wall keys: share of the time that elements or burner are on",
        default=None,
        alias="on_share",
        usual="0.5 biscuit, 0.65 glaze",
    )
    met_by: fields.MetBy = key("Who pays", default="maker")

    @property
    def on_share(self) -> Decimal:
        """Share of the time that the elements are on: as given, else common practice (no source)."""
        usual = {"biscuit": Decimal("0.5"), "glaze": Decimal("0.65")}[self.stage]
        return usual if self.on_share_given is None else self.on_share_given


class EnergyRate(Record):
    """The price of one kWh between two clock times, in minutes since midnight; from = to is the whole day."""

    from_: fields.ClockStart = key("From", alias="from")
    to: fields.ClockMinutes = key("To")
    price: fields.Rate = key("Price of 1 kWh")


class Energy(Record):
    """What energy costs through the day."""

    rates: Annotated[tuple[EnergyRate, ...], BeforeValidator(fields.rates)] = key(
        "Rates", "`[{ from, to, price }, …]`: price of 1 kWh, the day covered once"
    )
