"""What was filled in as single facts, sheet by sheet, so that a lost one shows."""

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import astuple

from salebook.book.read import BookRead
from salebook.event.entries import Entries
from salebook.event.question import Question

Fact = tuple[object, ...]


def facts(entries: Entries) -> dict[str, list[Fact]]:
    """Return the facts that stand on each sheet; each is a line, or something as small as a coin's count."""
    return {
        "Takings": [astuple(line) for line in entries.lines],
        "Pieces": [
            *((number, *astuple(piece)) for number, piece in entries.pieces.items()),
            *entries.made.items(),
        ],
        "Making": [(code, *astuple(count)) for code, count in entries.studio.items()],
        "Hand over": [astuple(claim) for claim in entries.claims],
        "Cash-up": [
            *_cash(entries),
            *(astuple(count) for count in entries.table_counts),
            *(astuple(banked) for banked in entries.banked),
            *entries.bank_reasons.items(),
        ],
        "Share-out": [*(astuple(paid) for paid in entries.payments), *entries.actual_fees.items()],
        "Costs": [*entries.actual_costs.items(), *(astuple(cost) for cost in entries.unplanned)],
        "Start here": [astuple(kept) for kept in entries.unplaced],
    }


def _cash(entries: Entries) -> Iterator[Fact]:
    for box in entries.cash:
        for face, count in box.counts.items():
            yield box.day, box.till, face, count
        said = {"float": box.float_, "out": box.paid_out, "by": box.counted_by, "check": box.checked_by}
        yield from ((box.day, box.till, key, value) for key, value in said.items() if value)


LEEWAY = {"Takings": 3}
"""How much of a line may be other than it was: what was changed, what follows of it, and its number."""
USUAL_LEEWAY = 1


def lost(before: Entries, book: BookRead) -> dict[str, list[Fact]]:
    """Return the facts of each sheet that are neither there, in part at least, nor asked about."""
    there = facts(book.entries)
    left = {
        sheet: _lost_on(sheet, known, there[sheet], [one for one in book.questions if one.sheet == sheet])
        for sheet, known in facts(before).items()
    }
    return {sheet: missing for sheet, missing in left.items() if missing}


def _lost_on(sheet: str, before: list[Fact], after: list[Fact], asked: list[Question]) -> list[Fact]:
    if any(question.row == 0 or "grey word" in question.says for question in asked):
        return []
    new = list((Counter(after) - Counter(before)).elements())
    missing = []
    for fact in (Counter(before) - Counter(after)).elements():
        alike = next((one for one in new if _alike(fact, one, LEEWAY.get(sheet, USUAL_LEEWAY))), None)
        if alike is None:
            missing.append(fact)
        else:
            new.remove(alike)
    return missing[len(asked) :]


def _alike(one: Fact, other: Fact, leeway: int) -> bool:
    if len(one) != len(other):
        return False
    return sum(a != b for a, b in zip(one, other, strict=True)) <= leeway


def changed(before: Entries, after: Entries) -> Mapping[str, int]:
    """Return how many facts of each sheet are no longer there as they were."""
    there = facts(after)
    gone = {sheet: Counter(known) - Counter(there[sheet]) for sheet, known in facts(before).items()}
    return {sheet: counter.total() for sheet, counter in gone.items() if counter}
