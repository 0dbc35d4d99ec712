"""The plan: everything that the maker tells us, checked, frozen and typed."""

from collections.abc import Mapping
from decimal import Decimal
from functools import cached_property
from typing import Any, Literal

from salebook.base.words import N_
from salebook.plan import fields
from salebook.plan.fields import MetBy
from salebook.plan.keys import MISSING, Missing, Record, key
from salebook.plan.kiln import (
    Calibration,
    Energy,
    EnergyRate,
    Firing,
    Kiln,
    Shelf,
    Stage,
    Step,
)
from salebook.plan.losses import ASSUMED_WORTH, BELIEVED_WORTH, USUAL_LOSSES, Losses, Seen, SeenLoss
from salebook.plan.money import format_money, minor_digits
from salebook.plan.opening import Opening
from salebook.plan.quantities import mm
from salebook.plan.studio import (
    LEFT_TO_THE_TARGET,
    USUAL_SELLS,
    Carried,
    Clay,
    Demand,
    DemandPoint,
    Donated,
    Footprint,
    Making,
    Material,
    Per,
    Source,
    Ware,
    Work,
)

__all__ = [
    "ASSUMED_WORTH",
    "BELIEVED_WORTH",
    "LEFT_TO_THE_TARGET",
    "MISSING",
    "USUAL_LOSSES",
    "USUAL_SELLS",
    "Beneficiary",
    "Calibration",
    "Carried",
    "Clay",
    "Demand",
    "DemandPoint",
    "Donated",
    "Energy",
    "EnergyRate",
    "Firing",
    "Footprint",
    "Hours",
    "Kiln",
    "Labels",
    "Losses",
    "Making",
    "Material",
    "MetBy",
    "Missing",
    "OtherIncome",
    "Outlook",
    "Overhead",
    "Payment",
    "Per",
    "Plan",
    "Record",
    "Sale",
    "Seen",
    "SeenLoss",
    "Shelf",
    "Source",
    "Stage",
    "Step",
    "Ware",
    "Work",
]


class Sale(Record):
    """What, when and for how much."""

    title: fields.Name = key("Title", "what the sale is called")
    maker: fields.Name = key("Maker", "who makes")
    venue: fields.Text = key("Where", default="")
    days: fields.Days = key("Day {n}", "list of dates")
    open: Opening | None = key("Open", default=None, note=N_("opening hours, such as 10:00 to 17:00"))
    target: fields.Money = key("Target", note=N_("what the groups are to receive together"))
    price_step_given: fields.Price | None = key(
        "Price step",
        "proposed prices are whole numbers of these",
        default=None,
        alias="price_step",
        usual="0.50, or 50 where there are no pennies",
        note=N_("prices that salebook proposes are whole numbers of these; empty: the usual one"),
    )
    confidence: fields.Confidence = key(
        "How sure",
        "wanted chance of enough good pieces, and of the target, 0.5 to 0.999",
        default=Decimal("0.9"),
        note=N_("how sure you want to be of enough good pieces"),
    )
    currency: fields.CurrencyCode = key("Currency", 'three letters, such as "GBP", "CHF"', default="GBP")
    locale: fields.LocaleName = key(
        "Language and country", 'how sums and dates are written, such as "en_GB", "de_CH"', default="en_GB"
    )
    denominations: fields.Coins = key(
        "Coins and notes",
        "coins and notes to count, where salebook does not know your currency's",
        default=(),
        usual="as known",
        note=N_("empty: those of the currency"),
    )

    @property
    def digits(self) -> int:
        """Digits of the currency's minor unit."""
        return minor_digits(self.currency)

    @property
    def price_step(self) -> Decimal:
        """What proposed prices are a multiple of: as given, else 0.50, or 50 without minor digits."""
        usual = Decimal(50) if self.digits == 0 else Decimal("0.50")
        return usual if self.price_step_given is None else self.price_step_given

    def format_money(self, amount: Decimal) -> str:
        """Say an amount of the sale's money as its locale writes it, such as "£12.50"."""
        return format_money(amount, self.currency, self.locale)


class Beneficiary(Record):
    """A group that shares in the takings."""

    name: fields.Name = key("Group", "the group")
    parts: fields.Parts = key("Parts", "its parts of what is shared", default=1)
    agreed: fields.Day | None = key(
        "Agreed on",
        "the day on which it agreed to its name, the parts and the costs taken off",
        default=None,
        usual="a warning",
    )
    registration: fields.Text = key("Registered number", default="")
    contact: fields.Text = key("Contact", "whom to write to", default="")


class Hours(Record):
    """The worth put on one hour: never money spent."""

    rate: fields.Money = key("One hour is worth", default=Decimal(0), note=N_("a worth, never money spent"))


class Overhead(Record):
    """A cost for the whole sale."""

    name: fields.Name = key("Name", "the cost")
    amount: fields.Money = key("Amount", "what it comes to")
    met_by: MetBy = key("Who pays", default="maker")


class OtherIncome(Record):
    """Refreshments, a raffle, a collecting tin: expected to go to the groups in full."""

    name: fields.Name = key("From", "the income")
    expected: fields.Money = key("Expected", "given to the groups in full")


class Payment(Record):
    """A way to pay, and what it costs."""

    name: fields.Name = key("Way", "a way to pay", usual="cash only")
    percent: fields.Percent = key("Fee, per cent", "fee: of the amount", default=Decimal(0))
    fixed: fields.Money = key("Fee for each sale", default=Decimal(0))
    cash: fields.YesNo = key("In the cash box", "counted in the cash box", default=False)
    share_given: fields.Share | None = key(
        "Share of sales",
        "of the sales expected; they add up to 1",
        default=None,
        alias="share",
        usual="0, or 1 for the only way",
    )
    paid_to: fields.Text = key("Paid straight to", "a group's name: paid straight to it", default="")

    def fee(self, amount: Decimal, payments: int = 1) -> Decimal:
        """Return what it takes of an amount that comes in so many payments, unrounded."""
        return amount * self.percent / 100 + self.fixed * payments


class Outlook(Record):
    """How the day may go."""

    name: fields.Name = key("Kind of day", "how the day may go", usual="one, as expected")
    weight: fields.NotNegative = key(
        "How likely, in parts", "how likely, beside the others", default=Decimal(1)
    )
    factor: fields.Factor = key(
        "Sales, times the usual", "times the share expected to sell", default=Decimal(1)
    )


class Labels(Record):
    """A sheet of labels, by its measures."""

    page: Literal["A4", "Letter"] = key(
        "Paper",
        '"A4" or "Letter", for the workbook and all prints; the block is given whole or not at all',
        default="A4",
        usual='"A4" for labels; all else as in your country',
    )
    columns: fields.TypedCount = key("Labels across", default=3)
    rows: fields.TypedCount = key("Labels down", default=7)
    width: fields.PositiveLength = key("A label is wide", "of a label", default=mm("63.5"))
    height: fields.PositiveLength = key("and high", "of a label", default=mm("38.1"))
    left: fields.NotNegativeLength = key("Page edge to the first label", default=mm("7.2"))
    top: fields.NotNegativeLength = key("Page top to the first label", default=mm("15.1"))
    across: fields.PositiveLength = key("One label's left edge to the next", default=mm("66.0"))
    down: fields.PositiveLength = key("One label's top to the next", default=mm("38.1"))
    promise: fields.YesNo = key(
        "Print what goes to the groups",
        'print "at least … of this price goes to …" where that holds',
        default=False,
    )


class Plan(Record):
    """One sale, from the bag of clay to the share-out."""

    format: Literal[1] = key("The form of the file", "the form of the file, 1")
    sale: Sale = key("The sale")
    beneficiaries: tuple[Beneficiary, ...] = key("The groups")
    clays: tuple[Clay, ...] = key("Clay", default=())
    wares: tuple[Ware, ...] = key("Your pieces", default=())
    donated: tuple[Donated, ...] = key("Pieces that other makers give", default=())
    carried: tuple[Carried, ...] = key("Pieces left from an earlier sale", default=())
    making: Making = key("Throwing and drying", default=Making())
    kiln: Kiln | None = key("The kiln", default=None)
    firings: tuple[Firing, ...] = key("Firings, in the order in which a piece meets them", default=())
    energy: Energy | None = key("What energy costs", default=None)
    materials: tuple[Material, ...] = key("Materials", default=())
    work: tuple[Work, ...] = key("Work", default=())
    hours: Hours = key("Your hours", default=Hours())
    overheads: tuple[Overhead, ...] = key("Other costs", default=())
    other_income: tuple[OtherIncome, ...] = key("Other money expected", default=())
    payments_given: tuple[Payment, ...] = key("Ways to pay", default=(), alias="payments")
    outlooks_given: tuple[Outlook, ...] = key("Kinds of day", default=(), alias="outlooks")
    labels: Labels = key("Sheet of labels", default=Labels())

    def model_copy(self, *, update: Mapping[str, Any] | None = None, deep: bool = False) -> "Plan":
        """Return a copy with other values, in which what follows from them is worked out anew."""
        copied = super().model_copy(update=update, deep=deep)
        for worked_out in vars(copied).keys() - type(self).model_fields.keys():
            del vars(copied)[worked_out]
        return copied

    @property
    def there(self) -> tuple[Donated | Carried, ...]:
        """What need not be made: donated pieces, and those left from an earlier sale."""
        return (*self.donated, *self.carried)

    @property
    def goods(self) -> tuple[Source, ...]:
        """Everything that has a code: the wares, then what is there, in plan order."""
        return (*self.wares, *self.there)

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

    def ware_called(self, code: str) -> Ware | None:
        """Return the ware of a code; None where there is none."""
        return next((ware for ware in self.wares if ware.code == code), None)
