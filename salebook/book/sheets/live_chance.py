"""Tables below a sheet's printed part that work out chances, live: cases, their pieces, and kinds of day."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any, Final, NamedTuple

from salebook.base.words import _
from salebook.book.figure import Figure, Value
from salebook.book.formulas import quoted
from salebook.book.page import Page
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.book.table import Table, put_line
from salebook.forecast.live_chance import ALIKE, FEW, WITHIN, DayChance, LiveChance, Pieces
from salebook.pricing.chance import TOLERANCE

FORGIVEN: Final = format(TOLERANCE, "f")
NEXT_TO_NOTHING: Final = f"{ALIKE:.9f}"


class Live(NamedTuple):
    """A formula, without "=", and its value."""

    formula: str
    value: Value


@dataclass(frozen=True, kw_only=True)
class CasePieces:
    """Pieces alike in a case."""

    name: str
    left: Live
    sure: Live
    """Pieces that sell on any kind of day."""
    brings: Live
    sells: tuple[Live, ...]
    """The chance that one of those left sells, on each kind of day."""

    @property
    def as_pieces(self) -> Pieces:
        """Return their values."""
        sells = tuple(float(chance.value) for chance in self.sells)
        return Pieces(left=int(self.left.value), brings=float(self.brings.value), sells=sells)


@dataclass(frozen=True, kw_only=True)
class Case:
    """Pieces at some prices and at some moment, and what they have to bring."""

    key: str
    name: str
    to_bring: Live
    pieces: tuple[CasePieces, ...]
    weights: tuple[Live, ...]
    """How likely each kind of day is."""

    @property
    def needed(self) -> float:
        """What those left have to bring."""
        sure = sum(float(one.sure.value) * float(one.brings.value) for one in self.pieces)
        return float(self.to_bring.value) - sure - float(TOLERANCE)

    @cached_property
    def reckoned(self) -> LiveChance:
        """The chance, from the values."""
        return LiveChance(
            pieces=tuple(one.as_pieces for one in self.pieces),
            needed=self.needed,
            weights=tuple(float(weight.value) for weight in self.weights),
        )


_PieceRow = tuple[Case, CasePieces]
_DayRow = tuple[Case, DayChance]


@dataclass(frozen=True, kw_only=True)
class LiveChances:
    """The three tables of a sheet; `section` is how formulas call that of the cases."""

    section: str
    sheet: str
    days: Sequence[str]
    """What each kind of day is called."""

    def put(self, page: Page, cases: Sequence[Case]) -> None:
        """Write the tables below what is printed, folded away: they can be unfolded at the margin."""
        page.row += 1
        first = page.row
        page.band(_("How the chance is worked out"))
        self._pieces_table().write(page, [(case, one) for case in cases for one in case.pieces])
        self._days_table().write(page, [(case, day) for case in cases for day in case.reckoned.days])
        self._cases_table().write(page, cases)
        page.fold(first, page.row)
        page.row += 1

    def _pieces_table(self) -> Table[_PieceRow]:
        section = f"{self.section}_pieces"
        table: Table[_PieceRow] = Table(section, self.sheet, part=_key_of_case)
        table.fixed("name", _("Piece"), "small text", lambda row: f"{row[0].name}: {row[1].name}")
        for key, heading, style in (
            ("left", _("May still sell"), "small whole"),
            ("sure", _("Sell for certain"), "small whole"),
            ("brings", _("One brings in"), "small rate"),
        ):
            table.live(key, heading, style, partial(_formula, key), partial(_value, key))
        for n, day in enumerate(self.days):
            heading = _("{day}: sells").format(day=day)
            table.live(f"sells{n}", heading, "small percent", _formula_on(n), _value_on(n))
        return table

    def _days_table(self) -> Table[_DayRow]:
        section = f"{self.section}_days"
        table: Table[_DayRow] = Table(section, self.sheet, part=_key_of_case)
        for other in (self.section, f"{self.section}_pieces"):
            table.join(other, _key_of_case)

        def add(key: str, heading: str, style: str, formula: str) -> None:
            live = partial(self._of_day, formula)
            table.live(key, heading, f"small {style}", live, lambda row: getattr(row[1], key))

        table.fixed("name", _("Kind of day"), "small text", self._day_named)
        table.live(
            *("weight", _("How likely"), "small number"),
            lambda row: row[0].weights[row[1].day].formula,
            lambda row: row[0].weights[row[1].day].value,
        )
        may = "{left}*({r}>0)*({r}<1)"
        add("open", _("Pieces that may sell or not"), "whole", f"SUMPRODUCT({may})")
        add("to_go", _("They have to bring"), "money", "{needed}-SUMPRODUCT(({r}>=1)*{left}*{c})")
        for key, variance, heading, says, style, each in (
            ("sells", "mixed", _("Chance of a piece"), _("uneven by"), "percent", "{r}"),
            ("mean", "uneven", _("One brings in"), _("uneven by"), "rate", "{c}"),
        ):
            squared = f"({each}-[{key}])*({each}-[{key}])"
            add(key, heading, style, f"IF([open]>0,SUMPRODUCT({may}*{each})/[open],0)")
            add(variance, says, "number", f"IF([open]>0,SUMPRODUCT({may}*{squared})/[open],0)")
        number = "MAX(0,ROUNDUP(ROUND([to_go]/[mean],9),0))"
        alike = f"AND([uneven]<{NEXT_TO_NOTHING},[mean]>0)"
        add("count_needed", _("To sell, if all bring the same"), "whole", f"IF({alike},{number},0)")
        aim = "IF([count_needed]>0,([count_needed]-0.5)*[mean],[to_go])"
        add("aim", _("Aim of the curve"), "money", aim)
        add("expected", _("Can be expected"), "money", f"SUMPRODUCT({may}*{{r}}*{{c}})")
        add("spread", _("give or take"), "money", "SQRT(MAX(0,SUMPRODUCT({left}*{r}*(1-{r})*{c}*{c})))")
        third = "SUMPRODUCT({left}*{r}*(1-{r})*(1-2*{r})*{c}*{c}*{c})"
        add("skewness", _("how lopsided"), "thousandths", f"IF([spread]>0,{third}/[spread]^3,0)")
        add("lowest", _("at least"), "money", f"SUMPRODUCT({may}*({{c}}<0)*{{c}})")
        add("highest", _("at most"), "money", f"SUMPRODUCT({may}*({{c}}>0)*{{c}})")
        away = "IF([spread]>0,([aim]-[expected])/[spread],0)"
        add("away", _("Aim above, in spreads"), "thousandths", away)
        add("height", _("Height of the curve there"), "thousandths", "EXP(-([away]*[away])/2)/SQRT(2*PI())")
        above = "1-NORMSDIST([away])+[skewness]*([away]*[away]-1)*[height]/6"
        add("by_curve", _("By the curve"), "percent", f"MIN(1,MAX(0,{above}))")
        exact = "1-BINOMDIST([count_needed]-1,[open],[sells],TRUE)"
        by_curve = f"OR([count_needed]=0,[mixed]>={NEXT_TO_NOTHING})"
        chosen = f"IF({by_curve},[by_curve],{exact})"
        known = f"IF([to_go]<=[lowest],1,IF([to_go]>[highest],0,{chosen}))"
        add("chance", _("Chance"), "percent", known)
        undecided = "[open]>0,[to_go]>[lowest],[to_go]<=[highest]"
        few = f"IF(AND({undecided},[open]<{FEW},{by_curve}),1,0)"
        table.live("few", _("Few pieces"), "small whole", few, lambda row: int(row[1].is_few))
        cubed = "SUMPRODUCT({left}*{r}*(1-{r})*{c}*{c}*{c}*(({c}>0)-({c}<0)))"
        add("lump", _("One piece, in spreads"), "thousandths", f"IF([spread]>0,{cubed}/[spread]^3,0)")
        add(
            "off", _("May be off by"), "percent", f"IF(AND({undecided},[count_needed]=0),[height]*[lump]/2,0)"
        )
        return table

    def _of_day(self, formula: str, row: _DayRow) -> str:
        pieces, case = f"{self.section}_pieces", self.section
        return formula.format(
            left=f"[{pieces}.left:]",
            r=f"[{pieces}.sells{row[1].day}:]",
            c=f"[{pieces}.brings:]",
            needed=f"[{case}.needed]",
        )

    def _day_named(self, row: _DayRow) -> str:
        return f"{row[0].name}: {self.days[row[1].day]}"

    def _cases_table(self) -> Table[Case]:
        table: Table[Case] = Table(self.section, self.sheet, record=lambda case: case.key)
        sure, brings = (f"[{self.section}_pieces.{key}:]" for key in ("sure", "brings"))
        weights, chances, few, off = (
            f"[{self.section}_days.{key}:]" for key in ("weight", "chance", "few", "off")
        )

        table.fixed("name", _("Prices"), "small text")
        needed = f"-SUMPRODUCT({sure},{brings})-{FORGIVEN}"
        table.live(
            *("needed", _("They have to bring"), "small money", lambda case: case.to_bring.formula + needed)
        )
        table.live(
            *("chance", _("Chance"), "small percent", f"SUMPRODUCT({weights},{chances})/SUM({weights})"),
            "reckoned.chance",
        )
        tenths = "MAX(1,MIN(9,ROUND([chance]*10,0)))"
        table.live(
            *("words", _("in words"), "small text", _words_formula("[chance]", tenths)),
            lambda case: words_of(case.reckoned.chance),
        )
        rough = f"IF(OR(MAX({few})=1,SUMPRODUCT({weights},{off})/SUM({weights})>{WITHIN}),1,0)"
        table.live("rough", _("Rough"), "small whole", rough, lambda case: int(case.reckoned.is_rough))
        return table


def put_chance(page: Page, label: str, chances: LiveChances, case: Case, *, name: str) -> None:
    """Write the chance of a case, and beside it in words; and whether it is rough."""
    section, reckoned = chances.section, case.reckoned
    says = _("(rough: few pieces decide)")
    rough = f'IF([{section}.rough@{case.key}]=1,{quoted(f" {says}")},"")'
    words = f"{words_of(reckoned.chance)}{f' {says}' if reckoned.is_rough else ''}"
    put_line(
        *(page, label, Figure(f"=[{section}.chance@{case.key}]", reckoned.chance), "total percents"),
        name=name,
        note=(Figure(f"=[{section}.words@{case.key}]&{rough}", words), "result text"),
    )
    page.name(f"{name}_words", page.row - 1, 4)


def _key_of_case(row: tuple[Case, Any]) -> str:
    return row[0].key


def _formula(key: str, row: _PieceRow) -> str:
    live: Live = getattr(row[1], key)
    return live.formula


def _value(key: str, row: _PieceRow) -> Value:
    live: Live = getattr(row[1], key)
    return live.value


def _formula_on(day: int) -> Callable[[_PieceRow], str]:
    return lambda row: row[1].sells[day].formula


def _value_on(day: int) -> Callable[[_PieceRow], Value]:
    return lambda row: row[1].sells[day].value


def words_of(chance: float) -> str:
    """Say a chance as the cell beside it does: such as "about 6 in 10"."""
    if chance < 0.05:
        return _("less than 1 in 20")
    if chance > 0.95:
        return _("more than 19 in 20")
    tenths = max(1, min(9, int(chance * 10 + 0.5)))
    return _("about {tenths} in 10").format(tenths=tenths)


def _words_formula(chance: str, tenths: str) -> str:
    low, high = quoted(_("less than 1 in 20")), quoted(_("more than 19 in 20"))
    between, _said = live_sentence(_("about {tenths} in 10"), tenths=(tenths, ""))
    return f"IF({chance}<0.05,{low},IF({chance}>0.95,{high},{between}))"
