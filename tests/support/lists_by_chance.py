"""Lists of lines by chance: as a report writes them, and as programs rewrite and people spoil them."""

import csv
import io
import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from salebook.accounts.file import list_bytes
from salebook.accounts.row import HEADING, KEYS, MONEY, WHOLE, Row
from salebook.accounts.values import tidy

CURRENCIES: Final = {"JPY": 0, "GBP": 2, "KWD": 3}
KINDS: Final = ("sale", "order", "deposit", "balance", "refund", "donation", "raffle", "postage", "other")
PIECES_OF_TEXT: Final = (
    *(
        "Mug",
        "Reed bank",
        "é",
        "e\u0301",
        "ﬁ",
        "\U0001f600",
        "\U0001d518",
        "\ufb33",
        "\u1112\u1161\u11ab",
        "İ",
    ),
    *(
        "ß",
        "\u2028",
        "\u00a0",
        "\u200f",
        "\u202e",
        "\ufeff",
        "\x07",
        "\x7f",
        "\x85",
        "\\",
        '"',
        "'",
        "''",
        "=1",
    ),
    *(
        "＝",
        "-",
        "+",
        "@",
        "<b>",
        "&amp;",
        "{0}",
        ",",
        ";",
        "\t",
        "\n",
        "\r",
        " ",
        "__proto__",
        "1",
        "10",
        "2",
    ),
)
"""Letters beyond 16 bits, parts of letters, steering signs, quotation marks, separators, keys of objects."""


def a_text(chance: random.Random) -> str:
    """Return a short text, tidy as the list's writer makes it."""
    return tidy("".join(chance.choices(PIECES_OF_TEXT, k=chance.choice((0, 1, 1, 2, 3, 5)))))


@dataclass(frozen=True, kw_only=True)
class Sale:
    """What the rows of one list have in common."""

    chance: random.Random
    digits: int
    groups: tuple[str, ...]
    ways: tuple[str, ...]
    days: tuple[str, ...]

    def amount(self, most: int) -> str:
        """Return a sum up to so many units, as the list writes it."""
        units = f"{self.chance.randrange(1, most * 10**self.digits):0{self.digits + 1}}"
        return f"{units[: len(units) - self.digits]}.{units[-self.digits :]}" if self.digits else units


def a_list(chance: random.Random) -> tuple[Row, ...]:
    """Return the rows of a list by chance."""
    currency, digits = chance.choice(list(CURRENCIES.items()))
    days = tuple(f"2027-{chance.randint(1, 12):02}-{chance.randint(1, 28):02}" for _day in range(2))
    texts = [tuple(a_text(chance) for _text in range(chance.randint(1, 4))) for _kind in range(2)]
    sale = Sale(chance=chance, digits=digits, groups=texts[0], ways=texts[1], days=days)
    rows = [
        Row(
            part="sale",
            day=max(days),
            kind=chance.choice(("final", "not final", "interim")),
            what=a_text(chance),
        ),
        Row(part="currency", kind=currency, parts=str(10**digits)),
        *(_line(sale, number) for number in range(1, chance.randint(1, 25))),
        *(Row(part="fee", way=way, amount=f"-{sale.amount(9)}") for way in sale.ways),
        Row(part="cost", kind="overhead", what=a_text(chance), amount=f"-{sale.amount(90)}"),
        Row(part="giver", piece="SPN", what=a_text(chance), amount=f"-{sale.amount(20)}"),
        *(_share(sale, place, group) for place, group in enumerate(sale.groups, start=1)),
        Row(part="paid", day=days[0], group=sale.groups[0], amount=sale.amount(50)),
    ]
    chance.shuffle(rows)
    return tuple(rows)


def _line(sale: Sale, number: int) -> Row:
    chance, amount = sale.chance, sale.amount(3000)
    return Row(
        part="line",
        till=chance.choice(("1", "2", "garden")),
        line=str(number),
        day=chance.choice(sale.days),
        kind=chance.choice(KINDS),
        piece=chance.choice(("", "MUG-001")),
        what=a_text(chance),
        count=chance.choice(("", "1", "12")),
        list_price=chance.choice(("", amount)),
        amount=chance.choice((amount, f"-{amount}")),
        gift=chance.choice(("", "", sale.amount(5))),
        way=chance.choice(("", *sale.ways)),
        group=chance.choice(("", *sale.groups)),
        to_group=chance.choice(("", "", sale.amount(5))),
        arrived=chance.choice(("yes", "yes", "yes", "no", "straight")),
    )


def _share(sale: Sale, place: int, group: str) -> Row:
    parts = str(sale.chance.randint(1, 5))
    return Row(part="share", line=str(place), group=group, amount=f"-{sale.amount(500)}", parts=parts)


Writer = Callable[[str], str]


def _as_it_is(text: str) -> str:
    return text


def _grouped(text: str, separator: str, decimal: str) -> str:
    minus, whole, rest = "-" if text.startswith("-") else "", *text.lstrip("-").partition(".")[::2]
    return f"{minus}{int(whole):,}".replace(",", separator) + (f"{decimal}{rest}" if rest else "")


def _without_zeros(text: str) -> str:
    return text.rstrip("0").removesuffix(".") if "." in text else text


def _in_binary(text: str) -> str:
    if "." not in text:
        return text
    last = int(text[-1])
    return f"{text[:-1]}{last - 1}99999999999999989" if last else f"{text}0000000000000000001"


MONEY_STYLES: Final[tuple[Writer, ...]] = (
    _as_it_is,
    lambda text: _grouped(text, ",", "."),
    lambda text: _grouped(text, ".", ","),
    lambda text: _grouped(text, "\u00a0", ","),
    lambda text: _grouped(text, "\u202f", ","),
    lambda text: _grouped(text, "’", "."),
    lambda text: text.replace("-", "\N{MINUS SIGN}"),
    _without_zeros,
    _in_binary,
)
"""How spreadsheet programs write a sum, in one place or another; nothing is lost by any."""

WHOLE_STYLES: Final[tuple[Writer, ...]] = (_as_it_is, lambda text: f"{text}.0", lambda text: f"{text},00")


def _day_as(pattern: str) -> Writer:
    def written(text: str) -> str:
        year, month, day = text.split("-")
        values = {"y": year, "yy": year[2:], "m": int(month), "d": int(day), "mm": month, "dd": day}
        return pattern.format(**values)

    return written


DAY_STYLES: Final = tuple(
    map(
        _day_as,
        ("{y}-{mm}-{dd}", "{y}/{m}/{d}", "{dd}.{mm}.{y}", "{m}/{d}/{yy}", "{d}-{m}-{y}", "{mm}/{dd}/{y}"),
    )
)


@dataclass(frozen=True, kw_only=True)
class Program:
    """How one spreadsheet program writes a list that it saves."""

    chance: random.Random
    money: Writer = _as_it_is
    whole: Writer = _as_it_is
    day: Writer = _as_it_is
    separator: str = ","
    end: str = "\r\n"
    encoding: str = "utf-8-sig"
    quotes_all: bool = False

    def saved(self, rows: tuple[Row, ...]) -> bytes:
        """Return the file as that program saves it: values rewritten, rows shuffled, some of them empty."""
        content = list_bytes(self.chance.sample(rows, k=len(rows))).decode("utf-8-sig")
        table = io.StringIO()
        writer = csv.writer(
            table,
            delimiter=self.separator,
            lineterminator="\r\n",
            quoting=csv.QUOTE_ALL if self.quotes_all else csv.QUOTE_MINIMAL,
        )
        writer.writerow(HEADING)
        for cells in list(csv.reader(io.StringIO(content, newline="")))[1:]:
            writer.writerow(self._rewritten(key, cell) for key, cell in zip(KEYS, cells, strict=True))
            if self.chance.random() < 0.1:
                writer.writerow([""] * self.chance.randint(1, 16))
        text = table.getvalue()
        # Of a file with ends of lines inside its texts, a program keeps the ends that it has.
        if not any("\n" in cell or "\r" in cell for row in rows for cell in row.texts):
            text = text.replace("\r\n", self.end)
        return text.encode(self.encoding)

    def _rewritten(self, key: str, cell: str) -> str:
        if not cell:
            return cell
        style = (
            self.money if key in MONEY else self.whole if key in WHOLE else self.day if key == "day" else None
        )
        return style(cell) if style else cell


def a_program(chance: random.Random) -> Program:
    """Return a spreadsheet program by chance."""
    return Program(
        chance=chance,
        money=chance.choice(MONEY_STYLES),
        whole=chance.choice(WHOLE_STYLES),
        day=chance.choice(DAY_STYLES),
        separator=chance.choice(",;\t"),
        end=chance.choice(("\r\n", "\n", "\r")),
        encoding=chance.choice(("utf-8", "utf-8-sig", "utf-16")),
        quotes_all=chance.choice((True, False)),
    )


def spoilt(content: bytes, chance: random.Random) -> bytes:
    """Return a file with some letters taken out, doubled or replaced anywhere below its heading."""
    encoding = "utf-16" if content[:2] in {b"\xff\xfe", b"\xfe\xff"} else "utf-8-sig"
    heading, *rest = content.decode(encoding).partition("arrived")
    letters = list("".join(rest))
    for _time in range(chance.randint(1, 12)):
        place = chance.randrange(8, len(letters))
        letters[place] = chance.choice(
            ("", letters[place] * 2, *"0123456789.,;-/'\" \r\nyx", "\U0001f600", "\ufb33")
        )
    return (heading + "".join(letters)).encode(encoding)
