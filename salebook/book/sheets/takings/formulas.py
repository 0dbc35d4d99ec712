"""The formulas of one line of Takings, written with the columns' keys in square brackets."""

from collections.abc import Mapping
from typing import Final

from salebook.base.words import _
from salebook.book.formulas import money_rounded, quoted
from salebook.book.sheets.sums_in_words import live_sentence
from salebook.event.lines import BETWEEN, LIKE_DIGITS, Asks
from salebook.event.remarks import Remark, say
from salebook.event.table_count import OFF_BY_COUNT, ON_OR_OFF

# Shared formulas would make the file a fifth and opening a third quicker: each line has 6 800 letters of
# formulas. But those that lean on another sheet are reported to make one widespread program fail on saving,
# which nobody here could try.
OF_PIECE: Final = "takings_index,[=index]"
EARLIER: Final = 'takings_order,"<"&[=order]'
PAID_WITH_ORDER: Final = (
    'SUMPRODUCT((takings_kind="order")*(takings_piece=INDEX(pieces_code,[=index]))'
    "*(TRIM(takings_claim)=INDEX(pieces_held_for,[=index])),takings_amount)"
)


def formulas_of_a_line() -> Mapping[str, str]:
    """Return the formula of each column that is worked out, by its key without the sign before it."""
    order = 'IF(COUNTA([day]:[note])=0,"",N([bundle])*most_lines+N([line]))'
    worked_out = _words() | _looked_up() | _moved() | _counted() | _off_table() | _remarks()
    return {
        "order": order,
        **{key: f'IF([=order]="","",{formula})' for key, formula in worked_out.items()},
    }


def _words() -> dict[str, str]:
    """What was typed, as it is understood."""
    bundle = 'takings_order,">"&[=order]-N([line]),takings_order,"<="&[=order]'
    nearest = f'SUMIFS(takings_days,{bundle},takings_days_before,[=days_before],takings_days,">0")'
    piece = "UPPER(TRIM([piece]))"
    for sign in "*?~":
        piece = f'SUBSTITUTE({piece},"{sign}","_")'
    kind = "LOWER(TRIM([kind]))"
    return {
        "days_before": f'COUNTIFS({bundle},takings_days,">0")',
        "day": f"IF(N([day])>0,[day],IF([=days_before]=0,first_day,{nearest}))",
        "kind": f'IF({kind}="","sale",IF(ISNUMBER(FIND(","&{kind}&",",kind_words)),{kind},"?"))',
        "typed_piece": piece,
        **_loosely(),
        "piece": "IF([=loose]>0,INDEX(pieces_number,[=loose]),[=typed_piece])",
        "typed_way": f'IF(TRIM([way])<>"",TRIM([way]),IF({_is_yes("[with_above]")},{_way_above()},""))',
        "way": _one_of("way_names", "[=typed_way]", only='IF(ROWS(way_names)=1,INDEX(way_names,1),"")'),
        "group": _one_of("group_names", "[group]", only='""'),
        "claim": "TRIM([claim])",
    }


def _loosely() -> dict[str, str]:
    """The piece that was typed without its dash or zeros, or with letters that look like digits."""
    forms = ("pieces_index", 'TEXT(pieces_index,"00")', 'TEXT(pieces_index,"000")')
    same = "+".join(f"(pieces_bare_code&{form}=[=bare])" for form in forms)
    alike = f"(pieces_index>0)*(({same})>0)"
    bare = "[=typed_piece]"
    for sign, digit in (*((sign, "") for sign in BETWEEN), *zip(*LIKE_DIGITS, strict=True)):
        bare = f'SUBSTITUTE({bare},"{sign}","{digit}")'
    is_as_it_stands = "OR([=found]>0,ISNUMBER(MATCH([=typed_piece],tally_code,0)))"
    return {
        "found": 'IF([=typed_piece]="",0,IFERROR(MATCH([=typed_piece],pieces_number,0),0))',
        "bare": f'IF([=typed_piece]="","",IF({is_as_it_stands},"",{bare}))',
        "loose": f'IF([=bare]="",0,IF(SUMPRODUCT({alike})=1,SUMPRODUCT({alike}*pieces_row),0))',
    }


def _way_above() -> str:
    """Return the way typed on the nearest line of the bundle that does not go with the one above it."""
    earlier = '(takings_order>[=order]-N([line]))*(takings_order<[=order])*(takings_kind<>"")'
    has_own = '((TRIM(takings_ways)<>"")+(TRIM(takings_above)="")+(TRIM(takings_above)="no")>0)'
    order = f"[=order]-N([line])+SUMPRODUCT(MAX({earlier}*{has_own}*takings_line))"
    return f'IFERROR(TRIM(INDEX(takings_ways,MATCH({order},takings_order,0))&""),"")'


def _one_of(names: str, typed: str, *, only: str) -> str:
    """Return the name that was typed, as the plan writes it.

    A look-up would do, but for names that hold a * or a ?.
    """
    same = f"(TRIM({names})=TRIM({typed}))"
    row = f"SUMPRODUCT({same}*(ROW({names})-MIN(ROW({names}))+1))"
    return f'IF(TRIM({typed})="",{only},IF(SUMPRODUCT({same}*1)=0,"",INDEX({names},{row})))'


def _looked_up() -> dict[str, str]:
    """What the register says of the piece."""
    of_ware = "MATCH([=piece],tally_code,0)"
    price = f'IF([=kind]="order",IFERROR(INDEX(tally_price,{of_ware})*[=count],""),"")'
    name = f'IF([=kind]="order",IFERROR(INDEX(tally_name,{of_ware}),""),"")'
    listed = f"IF([=index]>0,INDEX(pieces_price,[=index])*[=count],{price})"
    needs_piece = 'ISNUMBER(FIND(","&[=kind]&",",piece_words&"order,"))'
    return {
        "index": f"IF({needs_piece},MAX([=found],[=loose]),0)",
        "code": 'IF([=index]=0,"",INDEX(pieces_code,[=index]))',
        "same": "IF([=index]=0,0,IF(INDEX(pieces_code,[=index])=[=piece],0,INDEX(pieces_lines,[=index])))",
        "first": f"IF([=same]=0,0,IF([=same]=1,[=order],IF(COUNTIFS({OF_PIECE},{EARLIER})=0,[=order],0)))",
        "count": 'IF([=same]>0,1,IF(OR([=index]>0,[=kind]="order"),'
        "IF(ISNUMBER([count]),MAX(0,INT([count])),1),0))",
        "name": f"IF([=index]>0,INDEX(pieces_name,[=index]),{name})",
        "list": 'IF(AND([=kind]="order",[=same]=0,N([agreed_price])>0),'
        f"{money_rounded('N([agreed_price])')}*[=count],{listed})",
        "status": 'IF([=index]>0,INDEX(pieces_status,[=index]),"")',
        "to_pay": 'IF([=index]>0,INDEX(pieces_to_pay,[=index]),"")',
    }


def _moved() -> dict[str, str]:
    """What the line moves: typed, at list price, or what the other lines of the piece leave."""
    refund = 'IF([=kind]="refund",-1,1)'
    unnumbered = f'IF(OR([=kind]="sale",[=kind]="refund"),{_asks(Asks.COUNTED)},"")'
    numbered = (
        f'IF([=kind]="sale",{_asks(Asks.LIST_PRICE)},IF([=kind]="balance",{_asks(Asks.BALANCE)},'
        f'IF([=kind]="refund",{_asks(Asks.REFUND)},"")))'
    )
    free = money_rounded(f"-{_typed('refund')}-{_typed('sale')}-[=list]*{_asked(Asks.LIST_PRICE, EARLIER)}")
    net = f"SUMIFS(takings_typed,{OF_PIECE})+SUMIFS(takings_at_list,{OF_PIECE})"
    balance = f"IF({_asked(Asks.BALANCE, EARLIER)}>0,0,MAX(0,{money_rounded(f'[=list]-({net})')}))"
    price_if_balance = f"IF({_asked(Asks.BALANCE)}>0,[=list],0)"
    back = f"IF({_asked(Asks.REFUND, EARLIER)}>0,0,-MAX({money_rounded(net)},{price_if_balance}))"
    untyped = f"IF([=same]=1,[=list],IF({free}>=0,[=list],0))"
    return {
        "asks": f'IF(OR([amount]<>"",[=index]=0),"",IF([=same]=0,{unnumbered},{numbered}))',
        "typed": f"IF(ISNUMBER([amount]),IF([amount]<0,0,{refund}*{money_rounded('[amount]')}),0)",
        "at_list": f"IF([=asks]={_asks(Asks.COUNTED)},{refund}*[=list],"
        f"IF([=asks]={_asks(Asks.LIST_PRICE)},{untyped},0))",
        "left": f"IF([=asks]={_asks(Asks.BALANCE)},{balance},IF([=asks]={_asks(Asks.REFUND)},{back},0))",
        "amount": "[=typed]+[=at_list]+[=left]",
        "gift": f"IF(ISNUMBER([gift]),MAX(0,{money_rounded('[gift]')}),0)",
    }


def _asks(asks: Asks) -> str:
    return quoted(asks.value)


def _asked(asks: Asks, more: str = "") -> str:
    """Count the lines of the same piece that leave something to be worked out."""
    return f"COUNTIFS({OF_PIECE},takings_asks,{_asks(asks)}{',' if more else ''}{more})"


def _typed(kind: str, more: str = "") -> str:
    """Add up what was typed on the lines of the same piece that are of one kind."""
    return f"SUMIFS(takings_typed,{OF_PIECE},takings_kind,{quoted(kind)}{',' if more else ''}{more})"


def _counted() -> dict[str, str]:
    """How the line counts in the sums of other sheets."""
    waits, above = _is_yes("[waiting]"), _is_yes("[with_above]")
    straight = 'SUMPRODUCT((way_names=[=way])*(way_paid_to<>""))>0'
    return {
        "money": f"IF({waits},0,[=amount]+[=gift])",
        "place": "IF([=money]=0,0,ROWS([line^]))",
        "waiting": "[=amount]+[=gift]-[=money]",
        "positive": f"IF([=money]<=0,0,IF({straight},0,[=money]))",
        "is_payment": f"IF([=positive]<=0,0,IF({above},0,1))",
        "named": f'IF([=group]="",0,IF(OR({waits},{straight}),0,IF([=gift]>0,[=gift],[=amount])))',
    }


def _off_table() -> dict[str, str]:
    """How many pieces the line takes off the table: a numbered one when the first of its price is paid."""
    before = money_rounded(f"SUMIFS(takings_amount,{OF_PIECE},{EARLIER})")
    after = money_rounded(f"SUMIFS(takings_amount,{OF_PIECE},{EARLIER})+[=amount]")
    alone = "IF([=amount]>0,1,0)"
    among_several = f"IF({after}>0,1,0)-IF({before}>0,1,0)"
    stands_aside = f"NOT(OR({','.join(f'[=status]={quoted(status)}' for status in ON_OR_OFF)}))"
    aside = "INDEX(pieces_aside,[=index])"
    is_off = f"IF({aside}>0,[=day]>{aside},{stands_aside})"
    numbered = f"IF({is_off},0,IF([=same]=1,{alone},{among_several}))"
    signs = "+".join(f'IF([=kind]="{kind}",{sign},0)' for kind, sign in OFF_BY_COUNT.items())
    return {"off_table": f"IF([=index]=0,0,IF([=same]=0,[=count]*({signs}),{numbered}))"}


def _is_yes(cell: str) -> str:
    return f'AND(TRIM({cell})<>"",TRIM({cell})<>"no")'


def _remarks() -> dict[str, str]:
    """What needs a look; the first that is wrong is said."""
    order = _first_of(
        ('[=piece]=""', Remark.WHICH_WARE),
        ("IF([=index]>0,FALSE,ISERROR(MATCH([=piece],tally_code,0)))", _no_such_piece("pieces_code")),
    )
    no_piece = _first_of(
        ('[=piece]<>""', Remark.NO_PIECE_HERE), ('AND([amount]="",[gift]="")', Remark.HOW_MUCH)
    )
    known = _first_of(
        ('[=piece]=""', Remark.WHICH_PIECE),
        ("[=index]=0", _no_such_piece("pieces_number")),
        ("IF(ISNUMBER([count]),[count]<>[=count],FALSE)", Remark.ONE_NUMBER_ONE_PIECE),
        otherwise=f'IF([=kind]="refund",{_remarks_on_refund()},{_remarks_on_paying()})',
    )
    needs_piece = 'ISNUMBER(FIND(","&[=kind]&",",piece_words))'
    return {
        "about_piece": f'IF([=kind]="order",{order},IF({needs_piece},{known},{no_piece}))',
        "remark": f'IF(COUNTA([piece]:[claim])=0,"",{_remarks_on_line()})',
    }


def _remarks_on_line() -> str:
    to_another = 'SUMPRODUCT((way_names=[=way])*(way_paid_to<>"")*(way_paid_to<>[=group]))>0'
    words = _first_of(
        ('AND([=kind]="order",TRIM([claim])="")', Remark.CLAIM_NUMBER),
        ('AND(TRIM([group])<>"",[=group]="")', Remark.NO_SUCH_GROUP),
        ('AND(TRIM([way])<>"",[=way]="")', Remark.NO_SUCH_WAY),
        ('AND([=way]="",[=money]<>0)', Remark.HOW_WAS_IT_PAID),
        (f'IF([=group]="",FALSE,{to_another})', Remark.PAID_TO_ANOTHER),
        ("ISTEXT([day])", Remark.NOT_A_DATE),
    )
    return _first_of(
        ("OR(ISTEXT([amount]),ISTEXT([gift]),ISTEXT([count]))", Remark.NOT_A_NUMBER),
        ("MIN([amount],[gift],[count])<0", Remark.WITH_A_MINUS),
        ('[=kind]="?"', Remark.NO_SUCH_KIND),
        otherwise=f'IF([=about_piece]<>"",[=about_piece],{words})',
    )


def _remarks_on_refund() -> str:
    return _first_of(
        (f"AND([=asks]={_asks(Asks.REFUND)},[=left]=0)", Remark.NOTHING_TO_GIVE_BACK),
        ("IF([=same]=0,FALSE,INDEX(pieces_paid,[=index])<0)", Remark.MORE_THAN_PAID),
    )


def _remarks_on_paying() -> str:
    sold_before = money_rounded(
        f"{_typed('sale', EARLIER)}+[=list]*{_asked(Asks.LIST_PRICE, EARLIER)}+{_typed('refund')}"
    )
    unlisted = f"AND([=asks]={_asks(Asks.LIST_PRICE)},[=at_list]=0)"
    held = 'TRIM(INDEX(pieces_reserved_for,[=index])&"")'
    reserved_for, _said = live_sentence(_(Remark.RESERVED_FOR.value), subject=(held, ""))
    reserved = f'IF({held}="","",IF({held}=TRIM([claim]),"",{reserved_for}))'
    warning = "INDEX(pieces_warning,[=index])"
    fills_order = "INDEX(pieces_fills_order,[=index])=1"
    part_paid = f'IF(OR([=same]=0,[=asks]=""),FALSE,IF({fills_order},{PAID_WITH_ORDER}>0,FALSE))'
    is_there = 'OR([=status]="here",[=status]="reserved",[=status]="not made")'
    for_nothing = (
        f'IF(AND([=same]>0,[=kind]="sale",{is_there}),IF(ISNUMBER([amount]),[amount]=0,FALSE),FALSE)'
    )
    return _first_of(
        (_of_several(f"{_asked(Asks.REFUND, EARLIER)}>0"), Remark.GIVEN_BACK_BEFORE),
        (_of_several(f'IF([=kind]="sale",OR({unlisted},{sold_before}>0),FALSE)'), Remark.SOLD_TWICE),
        (
            _of_several(f"IF([=asks]={_asks(Asks.LIST_PRICE)},{_typed('deposit')}>0,FALSE)"),
            Remark.DEPOSIT_IS_PAID,
        ),
        (f"AND([=asks]={_asks(Asks.BALANCE)},[=left]=0)", Remark.NOTHING_LEFT),
        (_of_several(f"IF([=asks]={_asks(Asks.BALANCE)},{_typed('refund')}<0,FALSE)"), Remark.HOW_MUCH),
        ('AND([amount]="",[=asks]="")', Remark.HOW_MUCH),
        (part_paid, Remark.PAID_WITH_THE_ORDER),
        (for_nothing, Remark.GIVEN_AWAY),
        ("IF([=same]=0,FALSE,ROUND([=typed]-far_above*[=list],6)>=0)", Remark.FAR_ABOVE_PRICE),
        otherwise=f'IF({warning}<>"",{warning},{reserved})',
    )


def _of_several(condition: str) -> str:
    """Look at the other lines of the piece only where there are any: most pieces have a single line."""
    return f"IF([=same]>1,{condition},FALSE)"


def _no_such_piece(names: str) -> str:
    """Say what to type, by the first of the sale's own names."""
    return live_sentence(_(Remark.NO_SUCH_PIECE.value), subject=(f"INDEX({names},1)", ""))[0]


def _first_of(*wrong: tuple[str, Remark | str], otherwise: str = '""') -> str:
    """Return the first remark whose condition holds; one that names something is a formula by itself."""
    formula = otherwise
    for condition, remark in reversed(wrong):
        says = quoted(say(remark)) if isinstance(remark, Remark) else remark
        formula = f"IF({condition},{says},{formula})"
    return formula
