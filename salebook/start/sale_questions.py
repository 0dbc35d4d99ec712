"""The questions on the sale: what, when and for whom, what is made, who pays, and how buyers pay."""

import math
import re
from collections.abc import Callable, Sequence
from datetime import date
from decimal import Decimal

from salebook.base.words import _
from salebook.making.losses import started_for
from salebook.plan import fields, money
from salebook.plan.fields import UnfitError
from salebook.plan.model import USUAL_LOSSES, Sale
from salebook.plan.quantities import plain
from salebook.start.choices import (
    AND,
    AS_IT_TAKES,
    CARD,
    CASH,
    EQUALLY,
    ME,
    NOTHING,
    PAYERS,
    TAKINGS,
    WAYS,
    has_kiln,
    money_for,
    name_in,
    one_of,
)
from salebook.start.groups import doubts_of_groups, groups_in_words, read_groups, words_of_groups
from salebook.start.question import Doubt, Question, SoFar
from salebook.start.spoken_days import days_in, days_in_words, reads_two_ways, saturday_in
from salebook.start.spoken_hours import NOT_YET, hours_in
from salebook.start.spoken_money import Money, amount_and_currency, amount_in, fee_in, format_fee
from salebook.start.spoken_numbers import in_digits, number_in

WEEKS_AHEAD = 12
"""Until the sale, where nobody knows the day: time to throw, dry, fire and fire again (judgement)."""
BUYERS = 10
MOST_WANTED = 10_000
CONFIDENCE = Sale.model_fields["confidence"].default


def about_the_sale() -> tuple[Question, ...]:
    """Return the questions on what, when, for whom, for how much, and what is made."""
    return (*_what_and_when(), *_groups(), _target(), *_piece(), _how_many())


def about_money() -> tuple[Question, ...]:
    """Return the questions on who pays for what, and how buyers pay."""
    return (*_costs(), *_ways_to_pay())


def _what_and_when() -> tuple[Question, ...]:
    return (
        Question(
            key="title",
            asks=lambda _so_far: _("What is the sale called?"),
            such_as=lambda _so_far: _("Spring pottery sale"),
            read=_read_name,
            assumed=lambda _so_far: _("Pottery sale"),
            because=_("a name to be going on with"),
        ),
        Question(
            key="maker",
            asks=lambda _so_far: _("Who makes the pieces? The name as it shall stand on the labels."),
            such_as=lambda _so_far: _("Quince Yard pots"),
            read=_read_name,
            assumed=lambda _so_far: _("The potter"),
            because=_("put the name that buyers shall read"),
        ),
        Question(
            key="days",
            asks=lambda _so_far: _("On which day is it, or on which days?"),
            such_as=lambda _so_far: _('12 June 2027, or "12 and 13 June 2027"'),
            read=_read_days,
            assumed=lambda so_far: saturday_in(WEEKS_AHEAD, so_far.defaults.today).isoformat(),
            because=_("a Saturday twelve weeks ahead"),
            words=lambda days: ", ".join(day.isoformat() for day in days),
            in_words=lambda days, _so_far: days_in_words(days),
            doubts=_doubts_of_days,
        ),
        Question(
            key="open",
            asks=lambda _so_far: _("From when to when is it open on each day?"),
            such_as=lambda _so_far: _('"10 to 5", or "not yet"'),
            read=lambda text, _so_far: hours_in(text),
            words=lambda hours: NOT_YET if hours is None else str(hours),
            assumed=lambda _so_far: NOT_YET,
            because=_("the poster says no hours until the plan does"),
        ),
    )


def _groups() -> tuple[Question, ...]:
    return (
        Question(
            key="groups",
            asks=lambda _so_far: _("Which groups is it for?"),
            such_as=lambda _so_far: _("Village library, Youth choir"),
            read=read_groups,
            assumed=lambda _so_far: _("A good cause"),
            because=_("put the name of the group, and ask it first"),
            words=words_of_groups,
            in_words=groups_in_words,
            doubts=doubts_of_groups,
        ),
        Question(
            key="parts",
            asks=lambda _so_far: _("Do they share equally?"),
            such_as=lambda so_far: _('yes, or the parts of each in that order: "{parts}"').format(
                parts=", ".join(["2", *["1"] * (len(so_far["groups"]) - 1)])
            ),
            read=_read_parts,
            assumed=lambda _so_far: EQUALLY,
            because=_("all groups get the same"),
            words=lambda parts: ", ".join(map(str, parts)) or EQUALLY,
            offered=lambda _so_far: EQUALLY,
            concerns=lambda so_far: len(so_far["groups"]) > 1,
        ),
    )


def _target() -> Question:
    return Question(
        key="target",
        asks=lambda _so_far: _("How much are they to receive together?"),
        such_as=lambda so_far: f"{money_for('600', so_far.defaults.currency)} {so_far.defaults.currency}",
        read=_read_target,
        assumed=lambda so_far: f"{so_far.defaults.currency} {money_for('300', so_far.defaults.currency)}",
        because=_("ask the groups what it is for, and what that costs"),
        words=Money.to_text,
        in_words=_target_in_words,
    )


def _piece() -> tuple[Question, ...]:
    return (
        Question(
            key="piece",
            asks=lambda _so_far: _("What do you make for it? One kind of piece is enough to begin with."),
            such_as=lambda _so_far: _("mug"),
            read=_read_piece,
            assumed=lambda _so_far: _("mug"),
            because=_("what most potters make first"),
            doubts=_doubts_of_piece,
        ),
        Question(
            key="price",
            asks=lambda so_far: _("What shall one {piece} cost?").format(piece=so_far["piece"]),
            such_as=lambda so_far: f"{money_for('16', so_far.currency)} {so_far.currency}",
            read=lambda text, so_far: amount_in(text, so_far.currency, above_nothing=True),
            words=plain,
            assumed=lambda so_far: money_for("16", so_far.currency),
            because=_("look at what such a piece costs at sales near you"),
            in_words=_cost_in_words,
        ),
    )


def _how_many() -> Question:
    return Question(
        key="number",
        asks=lambda so_far: _("How many finished ones do you want on the table ({piece})?").format(
            piece=so_far["piece"]
        ),
        such_as=lambda _so_far: "40",
        read=_read_number,
        assumed=lambda _so_far: AS_IT_TAKES,
        because=_("what makes the target likely enough, where you can make so many"),
        words=lambda number: AS_IT_TAKES if number is None else str(number),
        in_words=_number_in_words,
    )


def _costs() -> tuple[Question, ...]:
    return (
        _who_pays("clay_paid", _("Who pays for the clay?"), because=_("the maker pays for the clay")),
        _who_pays(
            "firing_paid",
            _("Who pays for the firings?"),
            because=_("the maker pays for the firings"),
            concerns=has_kiln,
        ),
        Question(
            key="firing_cost",
            asks=lambda _so_far: _("What will firing cost, all of it? It comes off the takings."),
            such_as=lambda so_far: _('{amount}, or "nothing"').format(
                amount=money_for("24", so_far.currency)
            ),
            read=lambda text, so_far: amount_in(text, so_far.currency),
            words=lambda cost: plain(cost) if cost else NOTHING,
            assumed=lambda so_far: money_for("24", so_far.currency),
            because=_("ask whoever fires for you"),
            in_words=_cost_in_words,
            concerns=lambda so_far: not has_kiln(so_far),
        ),
        Question(
            key="hall",
            asks=lambda _so_far: _("What does the hall or the table cost?"),
            such_as=lambda so_far: _('{amount}, or "nothing"').format(
                amount=money_for("35", so_far.currency)
            ),
            read=lambda text, so_far: amount_in(text, so_far.currency),
            words=lambda cost: plain(cost) if cost else NOTHING,
            assumed=lambda _so_far: NOTHING,
            because=_("no cost of a hall or a table is taken off"),
            in_words=_cost_in_words,
        ),
        _who_pays(
            "hall_paid",
            _("Who pays for the hall or the table?"),
            because=_("it comes off the takings"),
            usual=TAKINGS,
            concerns=lambda so_far: bool(so_far["hall"]),
        ),
    )


def _ways_to_pay() -> tuple[Question, ...]:
    return (
        Question(
            key="ways",
            asks=lambda _so_far: _("How can people pay?"),
            such_as=lambda _so_far: _('"cash only" or "cash and card"'),
            read=lambda text, _so_far: one_of(text, WAYS),
            assumed=lambda _so_far: CASH,
            because=_("everybody pays in cash"),
        ),
        Question(
            key="fee",
            asks=lambda _so_far: _("What does the card firm take of each payment?"),
            such_as=lambda _so_far: _('1.69 %, or "1.4 % + 0.20"'),
            read=lambda text, so_far: fee_in(text, so_far.currency),
            words=lambda fee: format_fee(*fee),
            assumed=lambda _so_far: "1.75 %",
            because=_("look at the card firm's terms"),
            concerns=_takes_cards,
        ),
        Question(
            key="cards",
            asks=lambda _so_far: _("Of ten buyers, how many pay by card?"),
            such_as=lambda _so_far: "6",
            read=lambda text, _so_far: number_in(text, 0, BUYERS),
            assumed=lambda _so_far: "6",
            because=_("six in ten pay by card: ask somebody who sold there before"),
            concerns=_takes_cards,
        ),
    )


def _takes_cards(so_far: SoFar) -> bool:
    return bool(so_far["ways"] == CARD)


def _who_pays(
    key: str, asks: str, *, because: str, usual: str = ME, concerns: Callable[[SoFar], bool] | None = None
) -> Question:
    return Question(
        key=key,
        asks=lambda _so_far: asks,
        such_as=lambda _so_far: _('"me", "the takings" or "a sponsor"'),
        read=lambda text, _so_far: one_of(text, PAYERS),
        assumed=lambda _so_far: usual,
        because=because,
        offered=lambda so_far: _as_for_the_clay(so_far) if usual == ME else usual,
        concerns=concerns or (lambda _so_far: True),
    )


def _as_for_the_clay(so_far: SoFar) -> str:
    return str(so_far["clay_paid"]) if so_far.was_asked("clay_paid") else ME


def _read_name(text: str, _so_far: SoFar) -> str:
    return name_in(text)


def _read_days(text: str, so_far: SoFar) -> tuple[date, ...]:
    month_first = so_far.defaults.locale.endswith("_US")
    return days_in(text, today=so_far.defaults.today, month_first=month_first)


def _doubts_of_days(said: str, days: Sequence[date], so_far: SoFar) -> Sequence[Doubt]:
    """Ask about days that may be others, and about days past."""
    words = days_in_words(days)
    if is_past := days[0] < so_far.defaults.today:
        words = _("{days}, which is past,").format(days=words)
    if reads_two_ways(said):
        says = _("Numbers alone read two ways: to be sure, write the month as a word. Is {days} meant?")
        return (Doubt(asks=says.format(days=words)),)
    return (Doubt(asks=_("Is {days} meant?").format(days=words)),) if is_past else ()


def _read_piece(text: str, _so_far: SoFar) -> str:
    if re.search(r"[,;]\s*\S", text):
        raise UnfitError(_("one kind of piece for now; the others can be added to the file later"))
    return name_in(text)


def _doubts_of_piece(_said: str, piece: str, _so_far: SoFar) -> Sequence[Doubt]:
    if not AND.search(piece):
        return ()
    says = _('Other kinds can be added to the file later. Is "{piece}" one piece, sold as one?')
    return (Doubt(asks=says.format(piece=piece)),)


def _read_parts(text: str, so_far: SoFar) -> tuple[int, ...]:
    """Read the parts of each group; none where all get the same."""
    if text.strip().lower() in {EQUALLY, "yes", "y", "equal", "the same"}:
        return ()
    count = len(so_far["groups"])
    expected = _('"yes", or {count} whole numbers with commas between').format(count=count)
    parts = re.findall(r"[^,;:\s]+", in_digits(text))
    if len(parts) != count or not all(part.isascii() and part.isdigit() for part in parts):
        raise UnfitError(expected)
    read = fields.Number(1, 1_000_000, whole=True, say=lambda: expected)
    return tuple(int(read(int(part))) for part in parts)


def _read_target(text: str, so_far: SoFar) -> Money:
    target = amount_and_currency(text, so_far.defaults.currency)
    if not target.amount:
        raise UnfitError(_("an amount above 0: it may be a small one, and it can be changed later"))
    return target


def _target_in_words(target: Money, so_far: SoFar) -> str:
    return money.format_money(target.amount, target.currency, so_far.defaults.locale)


def _read_number(text: str, _so_far: SoFar) -> int | None:
    """Read how many are wanted; None for as many as the target takes."""
    return None if text.strip().lower() == AS_IT_TAKES else number_in(text, 1, MOST_WANTED)


def _number_in_words(wanted: int | None, _so_far: SoFar) -> str:
    """Say how many to start for as many as are wanted."""
    if wanted is None:
        return AS_IT_TAKES
    good = float(math.prod(1 - share for _stage, share in USUAL_LOSSES))
    started = started_for(wanted, good, float(CONFIDENCE))
    return _("{wanted} on the table: start {started}, since some break").format(
        wanted=wanted, started=started
    )


def _cost_in_words(cost: Decimal, so_far: SoFar) -> str:
    return money.format_money(cost, so_far.currency, so_far.defaults.locale) if cost else NOTHING
