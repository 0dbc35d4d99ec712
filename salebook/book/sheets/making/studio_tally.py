"""The part of the sheet Making in which the studio keeps count, and what follows from it, live."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from salebook.base.words import _
from salebook.book.figure import Figure, serial
from salebook.book.formulas import up
from salebook.book.page import Page, number
from salebook.book.sheets.row_height import named_row
from salebook.making.studio_tally import DIGITS, HALF, StudioState, curve_at, middle_term, shares_ahead
from salebook.reckoning import Reckoning

COUNTED: Final = ("thrown", "dry", "biscuit", "good", "seconds", "broken")


def put_studio_tally(page: Page, reckoning: Reckoning, stand: Sequence[StudioState]) -> None:
    """Write what was counted of each ware, what is likely and how many more to throw; then how that is found.

    The rows of the shares that come through, and of how many to start, have been written before.
    """
    page.band(_("Studio tally: what came through so far"))
    page.paragraph(
        _(
            "Count everything that has ever come through, after each throwing and each kiln. Broken is "
            "whatever was lost after throwing. Real losses then take the place of expected ones; on Pieces "
            "say in the end how many are out of the kiln."
        ),
        "note",
    )
    below = page.row + 2 + len(stand) + 1 + 3  # the first row of what stands behind
    _counts(page, reckoning, stand, below)
    _behind(page, reckoning, stand)
    _numbers(page, reckoning)


def _counts(page: Page, reckoning: Reckoning, stand: Sequence[StudioState], below: int) -> None:
    keys = ("=name", "code", *COUNTED, "=on_the_way", "=likely", "=to_throw", "=by")
    page.headings(
        keys,
        (
            _("Name"),
            _("Code"),
            _("Thrown"),
            _("Dry"),
            _("Out of the biscuit firing"),
            _("Out good"),
            _("Seconds"),
            _("Broken"),
            _("On the way"),
            _("Good ones likely"),
            _("How many more to throw"),
            _("By"),
        ),
        section="studio",
    )
    first = page.row
    for position, outcome in enumerate(stand):
        _count_row(page, outcome, below + position, reckoning.days.last_day_to_throw)
    last = page.row - 1
    page.number_only(f"D{first}:I{last}", says=_("A whole number, not below 0, is expected here"))
    page.name("studio_to_throw", first, 12, last_row=last)
    page.highlight(f"L{first}:M{last}", f"$L{first}>0")
    page.row += 1


def _count_row(page: Page, outcome: StudioState, behind: int, by: date | None) -> None:
    row, ware, count = page.row, outcome.run.ware, outcome.count
    places = page.book.addresses
    starts = places["making", ware.code, "row"]
    good = f"J{places['making', ware.code, 'shares']}"
    likely = "+".join(f"{pieces}{behind}*{share}{behind}" for pieces, share in zip("EFG", "HIJ", strict=True))
    enough = f"ROUND(-L{behind}-curve_at_confidence*SQRT(K{behind}),{DIGITS})>=0"
    last = f"(L{behind}^2-curve_at_confidence^2*K{behind})"
    root = f"SQRT(MAX(0,M{behind}^2-4*{good}^2*{last}))"
    more = up(f"(M{behind}+{root})/(2*{good}^2)")
    page.put_row(
        (
            ("studio", "key"),
            (Figure(f"={places['wares', ware.code, 'name']}", ware.name), "result wrapped"),
            (ware.code, "label"),
            *((getattr(count, key), "input whole") for key in COUNTED),
            (
                Figure(f"=MAX(0,D{behind}-N(G{row})-N(H{row})-N(I{row}))", outcome.on_the_way),
                "result whole",
            ),
            (Figure(f"=N(G{row})+{likely}", outcome.likely), "result tenths"),
            (
                Figure(f"=IF(D{behind}=0,E{starts},IF({enough},0,{more}))", outcome.to_throw),
                "strong whole",
            ),
            (
                Figure(f'=IF(L{row}>0,last_day_to_throw,"")', serial(by if outcome.to_throw else None)),
                "result date",
            ),
        )
    )
    places["studio", ware.code, "row"] = str(row)


def _behind(page: Page, reckoning: Reckoning, stand: Sequence[StudioState]) -> None:
    page.paragraph(_("How that is found"), "note")
    page.headings(
        (
            *("name", "code", "thrown_so_far", "wet", "dry", "biscuit"),
            *("share_wet", "share_dry", "share_biscuit", "spread", "short", "middle"),
        ),
        (
            _("Name"),
            _("Code"),
            _("Thrown so far"),
            _("Not dry yet"),
            _("Dry, to fire"),
            _("To glaze or in glaze"),
            _("Of these good, not dry"),
            _("Of these good, dry"),
            _("Of these good, to glaze"),
            _("Spread of the likely"),
            _("Wanting, less half a piece"),
            _("Middle term"),
        ),
        section="standing",
    )
    first = page.row
    confidence = float(reckoning.plan.sale.confidence)
    for outcome in stand:
        _behind_row(page, outcome, confidence)
    page.name("studio_thrown", first, 4, last_row=page.row - 1)
    page.row += 1


def _behind_row(page: Page, outcome: StudioState, confidence: float) -> None:
    row, run, places = page.row, outcome.run, page.book.addresses
    code = run.ware.code
    at, shares, starts = (
        places["studio", code, "row"],
        places["making", code, "shares"],
        places["making", code, "row"],
    )
    done = f"(N(G{at})+N(H{at}))"
    fired, dried = f"MAX(N(F{at}),{done})", f"MAX(N(E{at}),N(F{at}),{done})"
    wet, dry, biscuit = shares_ahead(run)
    good = float(run.good_share)
    middle = middle_term(outcome.short, good, curve_at(confidence))
    spread = "+".join(f"{n}{row}*{p}{row}*(1-{p}{row})" for n, p in zip("EFG", "HIJ", strict=True))
    page.put_row(
        (
            ("standing", "key"),
            (Figure(f"=B{at}", run.ware.name), "result wrapped"),
            (code, "label"),
            (Figure(f"=MAX(N(D{at}),{dried})", outcome.count.thrown_so_far), "result whole"),
            (Figure(f"=J{at}-F{row}-G{row}", outcome.wet), "result whole"),
            (Figure(f"=MIN({dried}-{done},J{at})-G{row}", outcome.dry), "result whole"),
            (Figure(f"=MIN({fired}-{done},J{at})", outcome.biscuit), "result whole"),
            (Figure(f"=(1-E{shares})*I{row}", wet), "result percent"),
            (Figure(f"=(1-F{shares})*J{row}", dry), "result percent"),
            (Figure(f"=(1-G{shares})*(1-H{shares})", biscuit), "result percent"),
            (Figure(f"={spread}", outcome.spread), "result hundredths"),
            (Figure(f"=D{starts}-K{at}-half_a_piece", outcome.short), "result hundredths"),
            (
                Figure(
                    f"=2*L{row}*J{shares}+curve_at_confidence^2*J{shares}*(1-J{shares})",
                    middle,
                ),
                "result hundredths",
            ),
        )
    )


def _numbers(page: Page, reckoning: Reckoning) -> None:
    page.paragraph(
        _(
            "How many more follows the normal curve, half a piece before the whole one, which is within a "
            "piece or two of exact: the likely ones, less so many times the root of the spread, reach what "
            "is wanted."
        ),
        "note",
    )
    curve = curve_at(float(reckoning.plan.sale.confidence))
    for name, label, value in (
        ("half_a_piece", _("Half a piece"), number(HALF)),
        ("curve_at_confidence", _("Normal curve, at how sure"), Figure("=NORMSINV(confidence)", curve)),
    ):
        style = "result hundredths" if isinstance(value, Figure) else "worked number"
        named_row(page, name, label, value, style)
    page.row += 1
