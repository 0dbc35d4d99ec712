"""Small invented sales for the tests of the prints."""

from collections.abc import Callable
from typing import Concatenate, ParamSpec, TypeVar

from salebook.event.register import Piece
from salebook.event.report import Report
from salebook.plan.load import read_plan
from salebook.prints.labels.pieces import pieces_for_sale
from salebook.prints.render import Printer, printer_for
from salebook.reckoning import Reckoning, reckon

Subject = TypeVar("Subject", Reckoning, Report)
Made = TypeVar("Made")
Options = ParamSpec("Options")

USUAL_LABELS = """
[labels]
page = "A4"
columns = 3
rows = 7
width = "63.5 mm"
height = "38.1 mm"
left = "7.2 mm"
top = "15.1 mm"
across = "66.0 mm"
down = "38.1 mm"
"""

SALE = """
format = 1

[sale]
title = {title!r}
maker = "Millrace studio"
venue = "The old mill"
days = [2027-05-08]
locale = "{locale}"
currency = "{currency}"
target = 300

[[beneficiaries]]
name = "Village library"
parts = 2

[[beneficiaries]]
name = "Towpath rangers"

[[clays]]
name = "buff stoneware"
pack = "12.5 kg"
pack_price = 15
shrinkage = 0.12

[[wares]]
code = {code!r}
name = {name!r}
wanted = {wanted}
price = {price}
clay = "buff stoneware"
ball = "12 oz"
made_height = "160 mm"
made_diameter = "80 mm"
losses = {{ glaze = 0.1 }}
seconds = 0.2
seconds_price = 12
care = "Wash by hand"

[[donated]]
code = "SPN"
name = "Carved spoon"
maker = "A neighbour"
price = 14
count = 2
keeps = 0.25
"""


def sale(
    *,
    title: str = "Orchard open studio",
    code: str = "LAN",
    name: str = "Lantern",
    wanted: int = 24,
    price: str = "28",
    locale: str = "en_GB",
    currency: str = "GBP",
    labels: str = USUAL_LABELS,
    more: str = "",
) -> Reckoning:
    """Reckon a small sale of one ware and two donated spoons."""
    text = SALE.format(
        title=title, code=code, name=name, wanted=wanted, price=price, locale=locale, currency=currency
    )
    return reckon(read_plan(text + more + labels, file="test.toml"))


def made(
    print_of: Callable[Concatenate[Printer, Subject, Options], Made],
    subject: Subject,
    *options: Options.args,
    **more: Options.kwargs,
) -> Made:
    """Return a print, or several, made with the templates that come with salebook."""
    return print_of(printer_for(subject.plan), subject, *options, **more)


def pieces(reckoning: Reckoning) -> tuple[Piece, ...]:
    """Return the pieces planned for sale."""
    return pieces_for_sale(reckoning)


def own_pieces(reckoning: Reckoning) -> tuple[Piece, ...]:
    """Return the wares' pieces: firsts, then seconds."""
    return tuple(piece for piece in pieces(reckoning) if not piece.giver)


def labels_table(
    *,
    page: str = "A4",
    columns: int = 3,
    rows: int = 7,
    width: float = 63.5,
    height: float = 38.1,
    left: float = 7.2,
    top: float = 15.1,
    across: float = 66.0,
    down: float = 38.1,
    promise: bool = False,
) -> str:
    """Return the plan's [labels] with measures in mm."""
    return f"""
[labels]
page = "{page}"
columns = {columns}
rows = {rows}
width = "{width} mm"
height = "{height} mm"
left = "{left} mm"
top = "{top} mm"
across = "{across} mm"
down = "{down} mm"
promise = {str(promise).lower()}
"""
