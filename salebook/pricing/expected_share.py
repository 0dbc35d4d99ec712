"""What each group can expect."""

from dataclasses import dataclass
from decimal import Decimal

from salebook.plan.model import Beneficiary, Plan
from salebook.plan.money import rounded, share_out


@dataclass(frozen=True, kw_only=True)
class ExpectedShare:
    """What a group can expect."""

    group: Beneficiary
    expected: Decimal


def expected_shares(plan: Plan, net: Decimal) -> tuple[ExpectedShare, ...]:
    """Share the expected net, or nothing where it is negative, among the groups by their parts."""
    digits = plan.sale.digits
    amount = rounded(max(Decimal(0), net), digits)
    shares = share_out(amount, [group.parts for group in plan.beneficiaries], digits)
    return tuple(
        ExpectedShare(group=group, expected=expected)
        for group, expected in zip(plan.beneficiaries, shares, strict=True)
    )
