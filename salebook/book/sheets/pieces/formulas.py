"""The formulas of one piece's row on Pieces, written with the columns' keys in square brackets."""

from typing import Final

from salebook.base.words import _
from salebook.book.formulas import money_rounded, quoted
from salebook.book.sheets.pieces.row import PieceRow, plan_section
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.event.remarks import Remark, say

ORDERS: Final = '(takings_kind="order")*(takings_piece=[=code])*(TRIM(takings_claim)=[=held_for])'
"""The orders that a piece fills."""
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
        price = f'IF(AND([=grade]="second",N({seconds})>0),{seconds},{price})'
    agreed = money_rounded("N([agreed_price])")
    return f"IF({agreed}>0,{agreed},IF([=ordered_at]>0,[=ordered_at],{price}))"


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
    ordered = f"IF([=lines]=0,FALSE,{_lines_of_kind('order')}>0)"
    unpaid = (
        f'IF([=index]>[tally.out],"not made",IF(OR(TRIM([reserved_for])<>"",{ordered}),"reserved","here"))'
    )
    mishap = f'IF(TRIM([mishap])<>"",LOWER(TRIM([mishap])),{unpaid})'
    ends = "+".join(_lines_of_kind(kind) for kind in ("sale", "balance"))
    is_sold = f"IF([=settled]>0,TRUE,IF([=fills_order]=1,{ends}>{_lines_of_kind('refund')},FALSE))"
    return f'IF({is_sold},"sold",IF([=paid]>0,"deposit",{mishap}))'


def to_pay() -> str:
    """Work out what is left to pay for what is reserved or part paid."""
    left = f"MAX(0,{money_rounded('[=price]-[=paid]')})"
    return f'IF(OR([=status]="deposit",[=status]="reserved"),{left},0)'


def paid() -> str:
    """Add up what all lines about it move."""
    return f"IF([=lines]=0,0,{money_rounded('SUMIFS(takings_amount,takings_index,[=row])')})"


def settled() -> str:
    """Add up what was paid for it beyond deposits and orders; with a balance, all of it."""
    ahead = f"{_of_kind('deposit')}+{_of_kind('order')}"
    balances = _lines_of_kind("balance")
    of_several = f"IF({balances}>0,[=paid],{money_rounded(f'[=paid]-({ahead})')})"
    # Most pieces have one line, and each sum by kind reads all lines: in a large sale that would be felt.
    only_kind = "INDEX(takings_kind,MATCH([=row],takings_index,0))"
    of_one = f'IF(ISNUMBER(FIND(","&{only_kind}&",",",deposit,order,")),0,[=paid])'
    return f"IF([=lines]=0,0,IF([=lines]=1,{of_one},{of_several}))"


def sold(row: PieceRow) -> str:
    """Count the pieces sold: 1 or 0, but for a ware without numbers."""
    if row.is_numbered:
        return 'IF([=status]="sold",1,0)'
    priced = "{}+{}-{}".format(*(_of_kind(kind, "takings_count") for kind in ("sale", "balance", "refund")))
    return f"IF([=lines]=0,0,MAX(0,{priced}))"


def to_giver() -> str:
    """Work out the giver's part of what was paid."""
    return f"IF([=sold]=0,0,{money_rounded('[donated.keeps]*[=paid]')})"


def held_for(row: PieceRow) -> str:
    """Return the claim that it waits for: as filled in, else that of its first line."""
    if not row.is_numbered:
        return '""'
    first = "SUMIFS(takings_first,takings_index,[=row])"
    of_line = f'TRIM(INDEX(takings_claim,MATCH({first},takings_order,0))&"")'
    return f'IF(TRIM([reserved_for])<>"",TRIM([reserved_for]),IF([=lines]=0,"",{of_line}))'


def fills_order() -> str:
    """Tell by 1 that its claim ordered such a ware."""
    return f'IF([=held_for]="",0,IF(SUMPRODUCT({ORDERS})>0,1,0))'


def ordered_at() -> str:
    """Return what one piece of its orders costs on average, rounded down, where that was agreed."""
    counts = f"SUMPRODUCT({ORDERS}*ISNUMBER(takings_agreed_price)*(takings_agreed_price>0),takings_count)"
    price = f"SUMPRODUCT({ORDERS},takings_count,takings_agreed_price)/{counts}"
    return f"IF([=fills_order]=0,0,IF({counts}=0,0,ROUNDDOWN(ROUND(({price})*minor_units,6),0)/minor_units))"


def aside(row: PieceRow) -> str:
    """Return the day from which a mark keeps it off the table; 0: no mark, or no day."""
    if not row.is_numbered:
        return "0"
    is_marked = 'TRIM([mishap])&TRIM([reserved_for])<>""'
    return f'IF(AND(LOWER(TRIM([mishap]))<>"left over",{is_marked}),N([marked_on]),0)'


def off_by_mark() -> str:
    """Tell by 1 that the mark took it off the table: it was made, and not paid for."""
    paid = money_rounded('SUMIFS(takings_amount,takings_index,[=row],takings_day,"<="&[=aside])')
    stood = f"IF([=lines]=0,1,IF({paid}>0,0,1))"
    return f"IF(OR([=aside]=0,[=index]>[tally.out]),0,{stood})"


def warning(row: PieceRow) -> str:
    """Say what is odd about money paid for it."""
    if not row.is_numbered:
        return '""'
    marked, _said = live_sentence(_(Remark.MARKED_AS.value), subject=("LOWER(TRIM([mishap]))", ""))
    not_out = f'IF([=index]>[tally.out],{quoted(say(Remark.NOT_OUT_OF_THE_KILN))},"")'
    return f'IF(OR([=status]="sold",[=status]="deposit"),IF(TRIM([mishap])<>"",{marked},{not_out}),"")'


def _lines_of_kind(kind: str) -> str:
    return f"COUNTIFS(takings_index,[=row],takings_kind,{quoted(kind)})"


def _of_kind(kind: str, values: str = "takings_amount") -> str:
    return f"SUMIFS({values},takings_index,[=row],takings_kind,{quoted(kind)})"
