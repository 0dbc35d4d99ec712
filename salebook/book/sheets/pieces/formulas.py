"""The formulas of one piece's row on Pieces, written with the columns' keys in square brackets."""

from typing import Final

from salebook.book.formulas import money_rounded, quoted
from salebook.book.sheets.pieces.row import PieceRow, plan_section
from salebook.book.sheets.takings.remarks import about, said
from salebook.event.lines import Asks
from salebook.event.remarks import Remark

ORDERS: Final = '(takings_kind="order")*(takings_piece=[=code])*(takings_for_claim=[=held_for])'
"""The orders that a piece fills."""
OF_PIECE: Final = "takings_index,[=row]"
"""The lines about it."""
IS_GRADED: Final = 'OR(TRIM([grade])="first",TRIM([grade])="second")'


def name(row: PieceRow) -> str:
    """Repeat what its ware is called."""
    return f"[{plan_section(row.piece)}.name]"


def price(row: PieceRow) -> str:
    """Take the price agreed for it, else that of the order it fills, else its ware's of its grade."""
    price = f"[{plan_section(row.piece)}.price]"
    if not row.is_numbered:
        return price
    if row.has_grade:
        seconds = "[wares.seconds_price]"
        price = f'IF(AND([=grade]="second",SUM({seconds})>0),{seconds},{price})'
    return f"IF([=agreed]>0,[=agreed],IF([=ordered_at]>0,[=ordered_at],{price}))"


def grade(row: PieceRow) -> str:
    """Take the grade filled in, else that by the studio's count, else the planned one."""
    by_count = 'IF([=place]>MAX(0,[tally.ungraded]-[tally.seconds_left]),"second","first")'
    planned = f"IF(COUNT([tally.counted])=0,{quoted(row.planned_grade)},{by_count})"
    return f"IF({IS_GRADED},LOWER(TRIM([grade])),{planned})"


def ungraded() -> str:
    """Tell by 1 that it is out of the kiln, and nobody graded it."""
    return f"IF([=index]>[tally.out],0,IF({IS_GRADED},0,1))"


def graded_second() -> str:
    """Tell by 1 that it is out of the kiln, and somebody graded it a second."""
    return 'IF([=index]>[tally.out],0,IF(TRIM([grade])="second",1,0))'


def there() -> str:
    """Tell by 1 that it is out of the kiln and there, sold or not, and by -1 that it is lost."""
    lost = 'OR([=status]="broken",[=status]="missing",[=status]="given away")'
    return f'IF([=status]="not made",0,IF({lost},-1,1))'


def place() -> str:
    """Count the pieces of its ware that nobody graded, up to this one; 0 where no second is left to find."""
    before = "SUMPRODUCT((pieces_code=[=code])*(pieces_index<=[=index])*pieces_ungraded)"
    return f"IF([tally.seconds_left]*[=ungraded]=0,0,{before})"


def status(row: PieceRow) -> str:
    """Say what became of it."""
    if not row.is_numbered:
        return 'IF(AND([tally.out]=0,[=sold]=0),"not made",IF([=sold]<[tally.out],"here","sold"))'
    unpaid = 'IF([=index]>[tally.out],"not made",IF(OR([=kept_for]<>"",[=orders]>0),"reserved","here"))'
    marked = f'IF([=mark]<>"",[=mark],{unpaid})'
    return f'IF(OR([=settled]>0,[=handed_over]=1),"sold",IF([=paid]>0,"deposit",{marked}))'


def handed_over() -> str:
    """Tell by 1 that a piece for an order left with more lines that end a purchase than refunds."""
    ends = "+".join(_lines_of_kind(kind) for kind in ("sale", "balance"))
    return f"IF(OR([=fills_order]=0,[=lines]=0),0,IF({ends}>{_lines_of_kind('refund')},1,0))"


def orders() -> str:
    """Count the lines that order this very piece."""
    return f"IF([=lines]=0,0,{_lines_of_kind('order')})"


def to_pay() -> str:
    """Work out what is left to pay for what is reserved or part paid."""
    left = f"MAX(0,{money_rounded('[=price]-[=paid]')})"
    return f'IF(OR([=status]="deposit",[=status]="reserved"),{left},0)'


def paid() -> str:
    """Add up what all lines about it move."""
    return f"IF([=lines]=0,0,{money_rounded(f'SUMIFS(takings_amount,{OF_PIECE})')})"


def only_kind() -> str:
    """Return the kind of its only line."""
    return 'IF([=lines]=1,INDEX(takings_kind,MATCH([=row],takings_index,0)),"")'


def several(key: str) -> str:
    """Add up what its lines say, where there are several.

    Most pieces have one line, and each sum by kind reads all lines: in a large sale that would be felt.
    """
    sums = {
        "net": f"ROUND(SUMIFS(takings_typed,{OF_PIECE})+SUMIFS(takings_at_list,{OF_PIECE}),6)",
        "typed_sales": _typed("sale"),
        "refunds": _typed("refund"),
        "deposits": _typed("deposit"),
        "on_orders": _typed("order"),
        "balances": _lines_of_kind("balance"),
        "asks_left": f"COUNTIFS({OF_PIECE},takings_asks,{quoted(Asks.BALANCE.value)})",
    }
    return f"IF([=lines]<2,0,{sums[key]})"


def settled() -> str:
    """Add up what was paid for it beyond deposits and orders; with a balance, all of it."""
    ahead = 'OR([=only_kind]="deposit",[=only_kind]="order")'
    beyond = money_rounded("[=paid]-[=deposits]-[=on_orders]")
    return f"IF({ahead},0,IF([=balances]>0,[=paid],{beyond}))"


def sold(row: PieceRow) -> str:
    """Count the pieces sold: 1 or 0, but for a ware without numbers."""
    if row.is_numbered:
        return 'IF([=status]="sold",1,0)'
    priced = "{}+{}-{}".format(*map(_pieces_of_kind, ("sale", "balance", "refund")))
    return f"IF([=lines]=0,0,MAX(0,{priced}))"


def to_giver() -> str:
    """Work out the giver's part of what was paid."""
    return f"IF([=sold]=0,0,{money_rounded('[donated.keeps]*[=paid]')})"


def held_for(row: PieceRow) -> str:
    """Return the claim that it waits for: as filled in, else that of its first line."""
    if not row.is_numbered:
        return '""'
    of_line = f"INDEX(takings_for_claim,MATCH(SUMIFS(takings_first,{OF_PIECE}),takings_order,0))"
    return f'IF([=kept_for]<>"",[=kept_for],IF([=lines]=0,"",{of_line}))'


def fills_order() -> str:
    """Tell by 1 that its claim ordered such a ware."""
    return f'IF([=held_for]="",0,IF(SUMPRODUCT({ORDERS})>0,1,0))'


def paid_with_order() -> str:
    """Add up what was paid on the orders that it fills."""
    return f"IF([=fills_order]=0,0,SUMPRODUCT({ORDERS},takings_amount))"


def ordered_count() -> str:
    """Count the pieces of those orders for which a price was agreed."""
    return f"IF([=fills_order]=0,0,SUMPRODUCT({ORDERS}*(takings_agreed>0),takings_count))"


def ordered_at() -> str:
    """Return what one piece of its orders costs on average, rounded down, where that was agreed."""
    price = f"SUMPRODUCT({ORDERS},takings_count,takings_agreed)/[=ordered_count]"
    return f"IF([=ordered_count]=0,0,ROUNDDOWN(ROUND({price}*minor_units,6),0)/minor_units)"


def aside(row: PieceRow) -> str:
    """Return the day from which a mark keeps it off the table; 0: no mark, or no day."""
    if not row.is_numbered:
        return "0"
    return 'IF(AND([=mark]<>"left over",[=mark]&[=kept_for]<>""),SUM([marked_on]),0)'


def off_by_mark() -> str:
    """Tell by 1 that the mark took it off the table: it was made, and not paid for."""
    paid = money_rounded(f'SUMIFS(takings_amount,{OF_PIECE},takings_day,"<="&[=aside])')
    stood = f"IF([=lines]=0,1,IF({paid}>0,0,1))"
    return f"IF(OR([=aside]=0,[=index]>[tally.out]),0,{stood})"


def warning(row: PieceRow) -> str:
    """Say what is odd about money paid for it."""
    if not row.is_numbered:
        return '""'
    marked, not_out = about(Remark.MARKED_AS, "[=mark]"), said(Remark.NOT_OUT_OF_THE_KILN)
    odd = f'IF([=mark]<>"",{marked},IF([=index]>[tally.out],{not_out},""))'
    return f'IF(OR([=status]="sold",[=status]="deposit"),{odd},"")'


def _lines_of_kind(kind: str) -> str:
    return f"COUNTIFS({OF_PIECE},takings_kind,{quoted(kind)})"


def _typed(kind: str) -> str:
    return f"SUMIFS(takings_typed,{OF_PIECE},takings_kind,{quoted(kind)})"


def _pieces_of_kind(kind: str) -> str:
    return f"SUMIFS(takings_count,{OF_PIECE},takings_kind,{quoted(kind)})"
