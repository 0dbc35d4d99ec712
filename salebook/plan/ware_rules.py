"""What must hold of the clays, the wares, the donated pieces and those left from an earlier sale."""

from collections import Counter
from collections.abc import Iterable, Iterator
from decimal import Decimal

from salebook.base.stages import fewest_to_start
from salebook.base.words import _, chained, ngettext
from salebook.plan.draft import Draft, Placed
from salebook.plan.faults import Finding, described, missing, ordinal, unknown_name, wrong
from salebook.plan.model import LEFT_TO_THE_TARGET, Carried, Clay, Donated, Material, Sale, Ware, Work
from salebook.plan.piece_numbers import in_stretches, number_of, parts_of
from salebook.plan.quantities import plain
from salebook.plan.tables import table_of

MOST_PIECES = 6_000
"""To make and given: their pack takes half a minute, and their workbook opens without a long wait."""
LEAST_GOOD_SHARE = Decimal("0.02")
SIZES_AGREE_WITHIN_MM = 1
"""People measure and round sizes to a whole millimetre."""


def something_is_for_sale(draft: Draft) -> Iterator[Finding]:
    """A sale has wares, donated pieces or some left from an earlier sale."""
    if not (draft.has(Ware) or draft.has(Donated) or draft.has(Carried)):
        yield missing(_("at least one ware or one donated piece"), "wares")


def codes_are_unique(draft: Draft) -> Iterator[Finding]:
    """Each code stands for one ware or one kind of donated piece."""
    uses = Counter([*draft.names(Ware, "code"), *draft.names(Donated, "code")])
    for code in (code for code, times in uses.items() if times > 1):
        tables = [table_of(kind) for kind in (Ware, Donated) if code in draft.names(kind, "code")]
        found = _("{code} more than once").format(code=described(code))
        expected = _("a code of its own for each ware and each donated piece")
        yield wrong(found, expected, chained(_("{first} and {last}"), tables), "code")


def carried_pieces_have_numbers_of_their_own(draft: Draft) -> Iterator[Finding]:
    """The numbers of pieces that are left begin with their code, and each is there once."""
    everywhere = Counter(number for carried in draft.all(Carried) for number in carried.record.numbers)
    for carried in draft.all(Carried):
        stem, numbers, place = carried.record.stem, carried.record.numbers, (*carried.place, "numbers")
        for code, index in map(parts_of, dict.fromkeys(numbers)):
            if code != stem:
                expected = _("a number that begins with {code}").format(code=stem)
                yield unknown_name(number_of(code, index), [number_of(stem, index)], expected, *place)
        twice = in_stretches([number for number in dict.fromkeys(numbers) if everywhere[number] > 1])
        if twice:
            yield wrong(
                _("{code} more than once").format(code=described(twice)), _("each number once"), *place
            )


def carried_pieces_are_the_makers(draft: Draft) -> Iterator[Finding]:
    """Pieces that are left have the code of a ware, or one that nobody else's pieces have."""
    given = draft.names(Donated, "code")
    for place, code in draft.texts(Carried, "code"):
        if code in given:
            expected = _("the code of a ware, or one of its own: {code} is that of a donated piece")
            yield wrong(described(code), expected.format(code=code), *place, "code")


def every_clay_is_known(draft: Draft) -> Iterator[Finding]:
    """A ware's clay is one of [[clays]]."""
    known = draft.names(Clay)
    told = {finding.place for finding in draft.findings}
    for place, clay in draft.texts(Ware, "clay"):
        if clay not in known and (*place, "clay") not in told:
            yield unknown_name(clay, known, _("a clay of [[clays]]"), *place, "clay")


def drying_is_part_of_shrinkage(draft: Draft) -> Iterator[Finding]:
    """What a clay shrinks while it dries is part of what it shrinks in all."""
    for clay in draft.all(Clay):
        if clay.record.drying_shrinkage > clay.record.shrinkage:
            expected = _("at most the shrinkage in all, {all}").format(all=plain(clay.record.shrinkage))
            yield wrong(described(clay.record.drying_shrinkage), expected, *clay.place, "drying_shrinkage")


def sizes_made_and_fired_agree(draft: Draft) -> Iterator[Finding]:
    """Where a size is given both as made and as fired, shrinkage leads from one to the other."""
    shrinkage = {clay.record.name: clay.record.shrinkage for clay in draft.all(Clay)}
    for ware in draft.all(Ware):
        if ware.record.clay in shrinkage:
            yield from _sizes_apart(ware.record, ware.place, shrinkage[ware.record.clay])


def _sizes_apart(ware: Ware, place: tuple[str, ...], shrinkage: Decimal) -> Iterator[Finding]:
    pairs = {
        "fired_height": (ware.made_height, ware.fired_height),
        "fired_diameter": (ware.made_diameter, ware.fired_diameter),
    }
    for key, (made, fired) in pairs.items():
        if made is not None and fired is not None:
            due = made.mm * (1 - shrinkage)
            if abs(due - fired.mm) > SIZES_AGREE_WITHIN_MM:
                says = _("about {due} mm, what shrinkage leaves of {made}; or only one of the two sizes")
                expected = says.format(due=round(due), made=made.to_text())
                yield wrong(described(fired.to_text()), expected, *place, key)


def enough_pieces_come_through(draft: Draft) -> Iterator[Finding]:
    """The losses of a ware leave something to sell."""
    for ware in draft.all(Ware):
        good = good_share_of(ware.record)
        if good < LEAST_GOOD_SHARE:
            found = _("{share} of the pieces left, good ones").format(share=plain(round(good, 4)))
            expected = _("losses and seconds that leave at least {least}").format(least=LEAST_GOOD_SHARE)
            yield wrong(found, expected, *ware.place, "seen" if ware.record.has_counts else "losses")


def no_more_is_lost_than_went_in(draft: Draft) -> Iterator[Finding]:
    """Of the pieces that went into a stage on earlier sales at most all were lost."""
    for ware in draft.all(Ware):
        for stage, count in ware.record.seen:
            if count and count.lost > count.entered:
                expected = _("at most the {entered} that went in").format(entered=plain(count.entered))
                yield wrong(described(count.lost), expected, *ware.place, "seen", stage, "lost")


def one_number_at_most_is_left_to_the_target(draft: Draft) -> Iterator[Finding]:
    """Only one ware can leave it to the target how many are wanted."""
    left = [ware for ware in draft.all(Ware) if ware.record.wanted == LEFT_TO_THE_TARGET]
    for ware in left[1:]:
        says = _("a number of pieces: only one ware, here {name}, can leave it to the target")
        yield missing(says.format(name=left[0].record.name), *ware.place, "wanted")


def pieces_can_be_counted(draft: Draft) -> Iterator[Finding]:
    """All the pieces of a sale together are not more than a pack and a workbook can hold."""
    wares = tuple(ware.record for ware in draft.all(Ware))
    sale = draft.one(Sale)
    confidence = sale.confidence if sale else Sale.model_fields["confidence"].default
    there = sum(there.record.count for there in _made_already(draft))
    pieces = pieces_to_make(wares, confidence) + there
    if pieces > MOST_PIECES:
        found = _("about {pieces} pieces to make or given").format(pieces=pieces)
        expected = _("at most {most} in all").format(most=MOST_PIECES)
        hint = _("fewer wanted, or two sales with a plan each")
        yield wrong(found, expected, "wares", "wanted", hint=hint)


def _made_already(draft: Draft) -> tuple[Placed[Donated] | Placed[Carried], ...]:
    return (*draft.all(Donated), *draft.all(Carried))


def pieces_to_make(wares: Iterable[Ware], confidence: Decimal) -> int:
    """Return about how many pieces are started so that as many come through as are wanted."""
    return sum(
        fewest_by_counts(ware, float(confidence))
        if ware.has_counts and good_share_of(ware) >= LEAST_GOOD_SHARE
        else int(ware.wanted / max(LEAST_GOOD_SHARE, good_share_of(ware)))
        for ware in wares
    )


def fewest_by_counts(ware: Ware, confidence: float) -> int:
    """Return how many to start of a ware whose losses were counted; more than a sale holds if none does."""
    return fewest_to_start(tuple(ware.beliefs.values()), ware.wanted, confidence, MOST_PIECES)


def good_share_of(ware: Ware) -> Decimal:
    """Return the share of the started pieces that losses and seconds leave as firsts."""
    losses = ware.losses
    through = (1 - losses.throwing) * (1 - losses.drying) * (1 - losses.biscuit) * (1 - losses.glaze)
    return through * (1 - ware.seconds)


def nobody_speaks_for_more_than_there_is(draft: Draft) -> Iterator[Finding]:
    """Pieces spoken for are among those wanted, or given."""
    pieces = [(ware.place, ware.record.spoken_for, ware.record.wanted) for ware in draft.all(Ware)]
    pieces += [(there.place, there.record.spoken_for, there.record.count) for there in _made_already(draft)]
    for place, spoken_for, count in pieces:
        if spoken_for > count != LEFT_TO_THE_TARGET:
            says = ngettext(
                "at most the {count} piece that there is", "at most the {count} pieces that there are", count
            )
            expected = says.format(count=count)
            yield wrong(described(spoken_for), expected, *place, "spoken_for")


def wares_lists_name_known_codes(draft: Draft) -> Iterator[Finding]:
    """Materials and work are for wares of the maker's own, each named once."""
    known = draft.names(Ware, "code")
    users: tuple[Placed[Material] | Placed[Work], ...] = (*draft.all(Material), *draft.all(Work))
    for user in users:
        for position, code in enumerate(user.record.wares, 1):
            place = (*user.place, "wares", ordinal(position))
            if code not in known:
                yield unknown_name(code, known, _("the code of one of [[wares]]"), *place)
            elif code in user.record.wares[: position - 1]:
                yield wrong(described(code), _("each code once"), *place)
