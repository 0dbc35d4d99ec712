"""Labels with codes: salebook against segno alone, which draws the same codes."""

import sys

import segno

from salebook.prints.labels.labels import labels_html
from salebook.prints.labels.pieces import pieces_for_sale
from salebook.prints.labels.qr_codes import MASK, VERSION
from salebook.prints.render import printer_for
from tests.bench.clock import processor_seconds
from tests.support.print_sales import sale

PIECES = 1_000
LIMIT = 2.0
RUNS = 5


def code_alone(number: str) -> str:
    code = segno.make_qr(
        number, error="q", version=VERSION, mode="alphanumeric", mask=MASK, boost_error=False
    )
    return code.svg_inline()


def test_a_thousand_labels_take_at_most_twice_what_segno_needs_for_the_codes() -> None:
    reckoning = sale(wanted=PIECES)
    pieces = pieces_for_sale(reckoning)
    assert len(pieces) > PIECES
    printer = printer_for(reckoning.plan)
    labels_html(printer, reckoning, [])  # templates are read once, whatever is printed
    bare = processor_seconds(lambda: [code_alone(piece.number) for piece in pieces], runs=RUNS)
    ratio = processor_seconds(lambda: labels_html(printer, reckoning, pieces), runs=RUNS) / bare
    sys.stdout.write(f"\nlabels of {len(pieces)} pieces / segno alone: {ratio:.2f}\n")
    assert ratio <= LIMIT
