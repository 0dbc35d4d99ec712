"""What a person may have meant by a line of a plan that cannot be read."""

import re
from collections.abc import Iterator

from salebook.base.words import _
from salebook.plan.tables import LISTS, bracketed

LONGEST_LOOKED_AT = 300
"""Letters of a line that are looked at; no line that a person wrote is much longer."""

_QUOTE_LEFT_OPEN = r'^[^"]*"(?:[^"]*"[^"]*")*[^"]*$'
_LIST_NOT_CLOSED = r"^\[\[[^\[\]]*\]?\s*(#|$)"
_DAY_FIRST = r"[=\[,]\s*[0-9]{1,2}(st|nd|rd|th)?[ ./-]{1,2}([0-9]{1,2}|[^\W\d]{3,9})[ ./-]{1,2}[0-9]{4}"
_MONTH_FIRST = r"[=\[,]\s*[^\W\d]{3,9} [0-9]{1,2},? [0-9]{4}"
_YEAR_FIRST = r"[=\[,]\s*[0-9]{4}([/.][0-9]|-[0-9]-|-[0-9]{2}-[0-9](?![0-9]))"


def likely_cause(line: str, says: str) -> str:
    """Guess what is wrong with a line, by what it is and what the reader of TOML says; "" without a guess."""
    if says.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate")):
        return _written_twice(line)
    if says.startswith("Invalid date"):
        return _("there is no such day")
    begin = line[:LONGEST_LOOKED_AT]
    return next((hint for pattern, hint in _hints() if re.search(pattern, begin)), "")


def _written_twice(line: str) -> str:
    heading = re.match(r"\[\s*(\w+)\s*\]", line)
    if heading and heading[1] in LISTS:
        return _("write {table}, with double brackets, above each of them").format(
            table=bracketed(heading[1])
        )
    return _("a key or a table stands here for the second time")


def _hints() -> Iterator[tuple[str, str]]:
    """Yield what a faulty line may look like and what to do about it; the first that fits is said."""
    as_date = _("write a date as year-month-day, such as 2027-06-12")
    yield _LIST_NOT_CLOSED, _("double brackets are closed by two, as in [[wares]]")
    yield r'^"?[\w-]+"?\s*:', _("write = in place of the colon")
    yield "[“”„‘’«»]", _("these quotation marks are not the straight ones")
    yield _QUOTE_LEFT_OPEN, _("a quotation mark is missing")
    yield r"=\s*[£€$¥]", _("write an amount of money without the sign of its currency")
    yield r"=\s*[0-9.,]+\s*%", _("leave out the % sign; a share is a fraction, 0.05 for 5 %")
    yield _DAY_FIRST, as_date
    yield _MONTH_FIRST, as_date
    yield _YEAR_FIRST, as_date
    yield r"=\s*[0-9]{1,2}:[0-9]{2}", _('a time of day stands in quotation marks, such as "07:00"')
    yield r"=\s*[0-9]+,[0-9]+\s*(#|$)", _("write a decimal point, or the number in quotation marks")
    yield r"=\s*[0-9]{1,3}([ ,'][0-9]{3})+(?![0-9])", _("leave out what stands between the thousands")
    yield r"=\s*0[0-9]", _("leave out the 0 in front")
    yield r"(?i)=\s*(true|false|yes|no)\s*(#|$)", _("write true or false, in small letters")
    yield r"=\s*[^\s\"'\[{0-9+=-]", _("write a number in figures, and a text in quotation marks")
    yield r"=\s*[0-9][0-9./ ]*[^\W\d]", _("a number with its unit stands in quotation marks")
    yield r"=\s*\{[^}]*$", _("what stands in braces stands on one line")
