"""Where a sale stands and what can be expected from here on, in sentences; what matters most comes first."""

from collections.abc import Iterator
from decimal import Decimal

from babel.dates import format_time
from babel.lists import format_list

from salebook.base.rounding import ceil
from salebook.base.words import _, ngettext
from salebook.forecast.forecast import Forecast
from salebook.forecast.must_fetch import average_price
from salebook.forecast.options import MorePieces, Option
from salebook.forecast.rungs import RungLeft
from salebook.plan.model import Ware
from salebook.plan.money import ZERO, in_units, rounded
from salebook.pricing.outcome import reaches
from salebook.say.price import about, changed, in_words
from salebook.say.time import format_day, time_sentences

MUCH_BETTER = 0.05
"""A chance that rises by so much is worth a sentence."""


def forecast_sentences(forecast: Forecast) -> tuple[str, ...]:
    """Say how many are there and sold, what is still to go, and how likely the target is."""
    if forecast.is_over:
        return (_counts(forecast), _in_the_end(forecast))
    state = forecast.as_it_is.state
    if reaches(forecast.standing.reached, state.target):
        return (_counts(forecast), *_time_over(forecast), _is_reached(forecast), *_kind_of_day(forecast))
    if not state.to_sell:
        return (_counts(forecast), *_time_over(forecast), *_to_go(forecast))
    return (
        _counts(forecast),
        *_studio(forecast),
        *_to_go(forecast),
        *_at_these_prices(forecast),
        *_at_other_prices(forecast),
        *_time_over(forecast),
        *_kind_of_day(forecast),
    )


def option_text(option: Option, forecast: Forecast) -> str:
    """Say what an option is, such as "16 more of Mug thrown, begun by Mon, 7 Jun 2027"."""
    sale = forecast.plan.sale
    parts = [
        *([_rung_text(option.rung, forecast)] if option.rung else []),
        *([_more_text(option.more, forecast)] if option.more else []),
        *([_("a target of {target}").format(target=about(option.target, sale))] if option.target else []),
    ]
    return format_list(parts, locale=sale.locale)


def price_of_rest(rung: RungLeft, forecast: Forecast) -> str:
    """Say the price of what is left, where it has only one of the maker's own; else nothing."""
    ware = _only_ware_left(forecast)
    if ware is None:
        return ""
    return _short_money(rung.prices.firsts.get(ware.code, ware.price), forecast)


def _only_ware_left(forecast: Forecast) -> Ware | None:
    """Return the ware of which alone something is left; None where it has seconds too, or others are left."""
    goods = [good for good in forecast.as_it_is.state.goods if good.to_sell]
    wares = [ware for ware in forecast.plan.wares if ware.code in {good.code for good in goods}]
    return wares[0] if len(goods) == len(wares) == 1 else None


def _short_money(amount: Decimal, forecast: Forecast) -> str:
    """Say an amount, without digits where these are nought: "£48", "£45.90"."""
    sale = forecast.plan.sale
    return about(amount, sale) if amount == amount.to_integral_value() else sale.format_money(amount)


def _counts(forecast: Forecast) -> str:
    untouched = forecast.ahead.untouched
    counts = forecast.standing.counts.values()
    good = [count for (code, _grade), count in forecast.standing.counts.items() if code not in untouched]
    sold, held = sum(count.sold for count in counts), sum(count.held for count in counts)
    text = _("{good} good, {sold} sold, {raised} raised.")
    if held:
        text = _("{good} good, {sold} sold, {held} held for people, {raised} raised.")
    return text.format(
        good=sum(count.offered - count.gone for count in good),
        sold=sold,
        held=held,
        raised=_short_money(forecast.event.share_out.reached, forecast),
    )


def _studio(forecast: Forecast) -> Iterator[str]:
    """Say what is on the way, and what can still be thrown; nothing once no more comes from the studio."""
    ahead = forecast.ahead
    if not ahead.is_working:
        return
    planned = [count for (code, _grade), count in forecast.standing.counts.items() if code in ahead.untouched]
    if planned:
        count = sum(count.offered - count.gone for count in planned)
        yield ngettext(
            "{count} is planned and not counted yet: it is taken to be there in time.",
            "{count} are planned and not counted yet: they are taken to be there in time.",
            count,
        ).format(count=count)
    if planned and not ahead.tallied and not forecast.event.entries.made:
        yield from time_sentences(forecast.plan, forecast.reckoning.days)
    if way := sum(state.on_the_way for state in ahead.tallied.values()):
        yield ngettext("{count} is on the way.", "{count} are on the way.", way).format(count=way)
    if ahead.wanted and ahead.throw_by:
        yield _still_to_throw(forecast).format(
            wanted=ahead.wanted,
            count=sum(ahead.to_throw.values()),
            day=format_day(ahead.throw_by, forecast.plan.sale.locale),
        )


def _still_to_throw(forecast: Forecast) -> str:
    ahead = forecast.ahead
    in_time = sum(ahead.to_throw.values())
    if in_time == ahead.wanted:
        return ngettext(
            "{wanted} more is to throw, begun by {day}: it is counted in.",
            "{wanted} more are to throw, begun by {day}: they are counted in.",
            ahead.wanted,
        )
    if in_time:
        return _(
            "{wanted} more are wanted, and throwing them had to begin by {day}: there is time for {count}, "
            "begun today, and these are counted in."
        )
    return ngettext(
        "{wanted} more is wanted, but throwing it had to begin by {day}: it is left out.",
        "{wanted} more are wanted, but throwing them had to begin by {day}: they are left out.",
        ahead.wanted,
    )


def _time_over(forecast: Forecast) -> Iterator[str]:
    if forecast.has_begun:
        text = _("It is {day}, {time}: {percent} % of the selling time is over.")
        yield text.format(
            day=format_day(forecast.now.date(), forecast.plan.sale.locale),
            time=format_time(forecast.now.time(), "short", locale=forecast.plan.sale.locale),
            percent=round(forecast.standing.over * 100),
        )


def _is_reached(forecast: Forecast) -> str:
    text = _("The target of {goal} is reached; at the prices asked now about {net} can be expected in all.")
    return text.format(
        goal=_short_money(forecast.plan.sale.target, forecast),
        net=about(forecast.as_it_is.figures.expected_net, forecast.plan.sale),
    )


def _to_go(forecast: Forecast) -> Iterator[str]:
    state, reached = forecast.as_it_is.state, forecast.standing.reached
    expected = max(ZERO, state.held_brings + state.other_left)
    if expected:
        text = _("{expected} can be expected from what is held and from other income.")
        yield text.format(expected=_short_money(expected, forecast))
    to_go = state.target - reached - expected
    if to_go <= 0:
        text = _("With that the target of {goal} is reached, whatever else sells.")
        yield text.format(goal=_short_money(state.target, forecast))
        return
    left, each = round(state.to_sell), average_price(forecast.standing)
    yield _to_go_text(left, each, alike=_only_ware_left(forecast) is not None).format(
        to_go=_short_money(to_go, forecast),
        left=left,
        each=_short_money(_rounded_up(each or ZERO, forecast), forecast),
    )
    if reached < 0:
        text = _("That includes {short} that must come in before anything is raised.")
        yield text.format(short=_short_money(-reached, forecast))


def _to_go_text(left: int, each: Decimal | None, *, alike: bool) -> str:
    if not left:
        return _("{to_go} to go, and no piece is left to sell.")
    if each is None:
        return _("{to_go} to go, but fees and costs take all of the price of the pieces that are left.")
    if alike:
        return ngettext(
            "{to_go} to go from {left} piece: {each}.",
            "{to_go} to go from {left} pieces: {each} each if all sell.",
            left,
        )
    return ngettext(
        "{to_go} to go from {left} piece: {each}.",
        "{to_go} to go from {left} pieces: {each} each on average if all sell.",
        left,
    )


def _rounded_up(amount: Decimal, forecast: Forecast) -> Decimal:
    """Round up to the minor unit: any less would not do."""
    digits = forecast.plan.sale.digits
    return in_units(ceil(amount.scaleb(digits)), digits)


def _at_these_prices(forecast: Forecast) -> Iterator[str]:
    rung, state = forecast.as_it_is, forecast.as_it_is.state
    text = (
        _(
            "At the prices asked now {goal} is out of reach even if all sell: that would come to {all_sell}, "
            "and about {net} can be expected."
        )
        if rung.is_out_of_reach
        else _(
            "At the prices asked now the chance of {goal} is {likely} ({percent} %); about {net} can be "
            "expected, and {all_sell} if all sell."
        )
    )
    yield text.format(
        goal=_short_money(state.target, forecast),
        likely=in_words(rung.figures.chance),
        percent=round(rung.figures.chance * 100),
        net=about(rung.figures.expected_net, forecast.plan.sale),
        all_sell=about(rung.if_all_sell, forecast.plan.sale),
    )


def _at_other_prices(forecast: Forecast) -> Iterator[str]:
    """Say at which price the target is likelier, and at which it is out of reach."""
    now, known = forecast.as_it_is, [rung for rung in forecast.ladder if not rung.is_guessed]
    best = max(known, key=lambda rung: round(rung.figures.chance, 9), default=now)
    if best.figures.chance > now.figures.chance + MUCH_BETTER:
        yield _with_prices(
            best,
            forecast,
            _("At {price} it is {likely} ({percent} %)."),
            _("With prices {changed} for what is left it is {likely} ({percent} %)."),
        )
    out_of_reach = [rung for rung in known if rung.is_out_of_reach]
    if out_of_reach and not now.is_out_of_reach:
        yield _with_prices(
            out_of_reach[-1],
            forecast,
            _("At {price} it is out of reach even if all sell."),
            _("With prices {changed} it is out of reach even if all sell."),
        )


def _with_prices(rung: RungLeft, forecast: Forecast, one_price: str, several: str) -> str:
    """Say what goes for other prices: the first text where what is left has one price, else the second."""
    price, chance = price_of_rest(rung, forecast), rung.figures.chance
    return (one_price if price else several).format(
        price=price,
        changed=changed(rung.change or 0),
        likely=in_words(chance),
        percent=round(chance * 100),
    )


def _kind_of_day(forecast: Forecast) -> Iterator[str]:
    figures, outlooks = forecast.as_it_is.figures, forecast.plan.outlooks
    if not figures.fits:
        yield _(
            "What has sold fits no kind of day in the plan: the sale goes better or worse than any of them, "
            "and how likely each is stays as the plan has it."
        )
    elif forecast.standing.over and len(outlooks) > 1:
        weight, outlook = max(zip(figures.outlooks, outlooks, strict=True), key=lambda pair: pair[0])
        text = _(
            "By what has sold, the day is most likely of the kind that the plan calls “{kind}” ({percent} %)."
        )
        yield text.format(kind=outlook.name, percent=round(weight * 100))


def _in_the_end(forecast: Forecast) -> str:
    state, sale = forecast.as_it_is.state, forecast.plan.sale
    reached, net = forecast.standing.reached, forecast.as_it_is.figures.expected_net
    return _in_the_end_text(reached, net, state.target).format(
        goal=_short_money(state.target, forecast),
        net=sale.format_money(net),
        short=_short_money(rounded(state.target - net, sale.digits), forecast),
    )


def _in_the_end_text(reached: Decimal, net: Decimal, target: Decimal) -> str:
    if reaches(reached, target):
        return _("The sale is over, and the target of {goal} is reached.")
    if net == reached:
        return _("The sale is over, and {short} are missing to the target of {goal}.")
    if reaches(net, target):
        return _(
            "The sale is over. With what is still to come from what is held it comes to {net}, "
            "and the target of {goal} is reached."
        )
    return _(
        "The sale is over. With what is still to come from what is held it comes to {net}, "
        "and {short} are missing to the target of {goal}."
    )


def _rung_text(rung: RungLeft, forecast: Forecast) -> str:
    if rung.is_guessed:
        return _with_prices(
            rung,
            forecast,
            _("{price} for each that is left, if as many buy"),
            _("prices {changed} for what is left, if as many buy"),
        )
    return _with_prices(
        rung, forecast, _("{price} for each that is left"), _("prices {changed} for what is left")
    )


def _more_text(more: MorePieces, forecast: Forecast) -> str:
    text = _("{count} more of {ware} thrown, begun by {day}")
    return text.format(
        count=more.count, ware=more.ware.name, day=format_day(more.by, forecast.plan.sale.locale)
    )
