"""How wide a text is in a sans-serif face, by a table: prints are fitted without scripts or fonts.

Advance widths in thousandths of the type size, of a face that has the widths of Arial and Helvetica
(Liberation Sans 2, read from its horizontal metrics), rounded up to the next 25. A letter with an accent that
is not named is as wide as without it.
"""

import unicodedata
from functools import lru_cache

MM_PER_POINT = 25.4 / 72
"""A point is 1/72 inch (CSS Values and Units, absolute lengths)."""

WIDE = 1000
"""Chinese, Japanese and Korean signs stand in a square."""

PICTURE = 1400
"""Emoji and other pictures."""

UNKNOWN = 1000
"""Letters of scripts that the table does not hold: wider than most."""

_REGULAR = {
    200: "'′",
    225: "ijlłſιіј\u2018\u2019\u201a\u201b",
    275: "|¦",
    300: " !,./:;I[\\]ft\u00a0·ìíîïĩīĭıľŧΙІї",
    350: "()-`r{}¡¨²³´¸¹ŀ\u2010\u2011“”„•",
    375: '"ªºťг″',
    400: "*°Ίτ",
    450: "ĳεζξк",
    475: "^зт",
    500: "JcksvxyzĸγκλνςЈсухѕ",
    525: "χчьэє",
    550: "±¶÷υГвпя",
    575: "#$0123456789?L_abdeghnopqu¢£¤¥§«¯»ðþđħĿŁŋΓβδηθορабеинорцђћџ\u2013‗†‡€",
    600: "+<=>~¬µ×αμКдл−",
    625: "FTZ¿ßøďŉŦΖΣΤσЗТъ",
    650: "ΞφУ",
    675: "&ABEKPSVXYÞΑΒΔΕΚΛΡΥΧЅАБВЕЛРХЧЬж",
    700: "πДм",
    725: "CDHNRUwÐĐĦŊΗΝΠψЄЏИНПСЭЯы",
    750: "©®ĲΩЦю",
    775: "ΌΏФ",
    800: "GOQØΈΘΟΦωОЪ",
    825: "фшщњ",
    850: "Mm¼½¾ΉΜΨМ",
    875: "ΎЂЋ",
    900: "%æЫ",
    925: "ЖШљ",
    950: "WœЩ",
    1000: "ÆŒ\u2014\u2015…™",
    1025: "@ЊЮ",
    1075: "Љ",
}
_BOLD = {
    250: "'′",
    300: " ,./I\\ijl|\u00a0¦·ıłſΙιІіј\u2018\u2019\u201a\u201b",
    350: "!()-:;[]`ft¡¨²³´¸¹ŧ·\u2010\u2011•",
    375: "ªº",
    400: "*r{}°ľ",
    425: "г",
    450: "ξτ",
    475: '"Ίεζ',
    500: "zŀťзкт“”„″",
    525: "ς",
    550: "±÷θ",
    575: "#$0123456789J_aceksvxy¢£¤¥§«¯¶»ĳĸγκλνЈГаесухэєѕ\u2013‗†‡€",
    600: "+<=>^~¬µ×Συχчя−",
    625: "?FLTZbdghnopqu¿ßðøþđħĿŁŋŦΓΖΤαβδημορКТУбвинопрцьђћџ",
    650: "ΞЗдл",
    675: "EPSVXYÞΕΛΡΥΧЅЕРХ",
    700: "σ",
    725: "&ABCDHKNRUÐďĐĦŉŊΑΒΔΗΚΝΠφЄЏАБВДИЛНПСЧЬЭЯж",
    750: "©®Цмъ",
    775: "πψ",
    800: "GOQwØĲΘΟО",
    825: "ΌΦΨΩ",
    850: "M¼½¾ΏΜωМшщ",
    875: "ΈЋФЪфыю",
    900: "%mæЂ",
    925: "ΉЖњ",
    950: "WœΎ",
    975: "@љ",
    1000: "ÆŒЫ\u2014\u2015…™",
    1025: "ШЩ",
    1050: "Ю",
    1075: "Њ",
    1100: "Љ",
}


def _by_sign(groups: dict[int, str]) -> dict[str, int]:
    return {sign: width for width, signs in groups.items() for sign in signs}


_TABLES = {False: _by_sign(_REGULAR), True: _by_sign(_BOLD)}


def text_mm(text: str, points: float, *, bold: bool = False) -> float:
    """Return the width in mm that a text takes on one line, at a type size in points."""
    return ems(text, bold=bold) * points * MM_PER_POINT


@lru_cache(maxsize=4096)
def ems(text: str, *, bold: bool = False) -> float:
    """Return the width of a text in units of its type size."""
    table = _TABLES[bold]
    return sum(table.get(sign) or _width_of(sign, table) for sign in text) / 1000


def is_wide(sign: str) -> bool:
    """Whether a sign stands in a square, so that a line may break before and after it."""
    return unicodedata.east_asian_width(sign) in {"W", "F"}


def _width_of(sign: str, table: dict[str, int]) -> int:
    category = unicodedata.category(sign)
    if category in {"Mn", "Me", "Cf", "Cc"}:
        return 0
    if category in {"So", "Cn", "Co"}:
        return PICTURE
    if is_wide(sign):
        return WIDE
    return table.get(unicodedata.normalize("NFD", sign)[0], UNKNOWN)
