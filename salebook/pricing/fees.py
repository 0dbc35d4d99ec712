"""What a way to pay takes of a price."""

from collections.abc import Iterable
from decimal import Decimal

from salebook.plan.model import Payment, Plan


def fee_on(price: Decimal, way: Payment) -> Decimal:
    """Return what one way to pay takes of a single sale at a price, unrounded."""
    return price * way.percent / 100 + way.fixed


def expected_fee(price: Decimal, plan: Plan) -> Decimal:
    """Return the fee expected on a price: each way's fee by its share of the sales, unrounded."""
    ways = zip(plan.payments, plan.payment_shares, strict=True)
    return sum((share * fee_on(price, way) for way, share in ways), Decimal(0))


def dearest_fee(price: Decimal, ways: Iterable[Payment]) -> Decimal:
    """Return the fee on a price under the way to pay that takes most of it, unrounded."""
    return max(fee_on(price, way) for way in ways)
