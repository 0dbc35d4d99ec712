"""The formulas of one line of Takings, written with the columns' keys in square brackets.

Each is one step that fits a line of the screen; what it leans on stands in a column of its own. A cell is
read as a number by SUM, which takes a text or an empty cell for 0 in every program.
"""

from collections.abc import Iterable, Mapping
from typing import Final

from salebook.book.formulas import is_any_of, money_rounded, quoted
from salebook.book.sheets.name_lookup import found, standing_at
from salebook.book.sheets.takings.remarks import about_piece, remark, remark_formulas
from salebook.event.lines import BETWEEN, LIKE_DIGITS, Asks
from salebook.event.table_count import OFF_BY_COUNT, ON_OR_OFF

# Shared formulas would make the file a fifth and opening a third quicker: each line has 7 000 letters of
# formulas. But those that lean on another sheet are reported to make one widespread program fail on saving,
# which nobody here could try.
OF_PIECE: Final = "takings_index,[=index]"
EARLIER: Final = 'takings_order,"<"&[=order]'
BUNDLE: Final = 'takings_order,">"&[=order]-SUM([line]),takings_order,"<="&[=order]'


def formulas_of_a_line() -> Mapping[str, str]:
    """Return the formula of each column that is worked out, by its key without the sign before it."""
    order = 'IF(COUNTA([day]:[note])=0,"",SUM([bundle])*most_lines+SUM([line]))'
    worked_out = _words() | _ways() | _looked_up() | _moved() | _several() | _counted() | _off_table()
    return {
        "order": order,
        **{key: f'IF([=order]="","",{formula})' for key, formula in worked_out.items()},
        **remark_formulas(),
        "about_piece": about_piece(),
        "remark": remark(),
    }


def _words() -> dict[str, str]:
    """What was typed, as it is understood."""
    nearest = f'SUMIFS(takings_days,{BUNDLE},takings_days_before,[=days_before],takings_days,">0")'
    last_time = (
        f"SUMIFS(takings_times,{BUNDLE},takings_day,[=day],takings_times_before,[=times_before],"
        'takings_times,">=0")'
    )
    kind = "LOWER(TRIM([kind]))"
    group = found("group", "TRIM([group])")
    return {
        "days_before": f'COUNTIFS({BUNDLE},takings_days,">0")',
        "day": f"IF(SUM([day])>0,[day],IF([=days_before]=0,first_day,{nearest}))",
        "times_before": f'IF(times_typed=0,0,COUNTIFS({BUNDLE},takings_times,">=0"))',
        "moment": f"[=day]+IF(ISNUMBER([time]),[time],IF([=times_before]=0,0,{last_time}))",
        "kind": f'IF({kind}="","sale",IF(ISNUMBER(FIND(","&{kind}&",",kind_words)),{kind},"?"))',
        "typed_piece": _without("UPPER(TRIM([piece]))", ((sign, "_") for sign in "*?~")),
        "found": 'IF([=typed_piece]="",0,IFERROR(MATCH([=typed_piece],pieces_number,0),0))',
        **_loosely(),
        "piece": "IF([=loose]>0,INDEX(pieces_number,[=loose]),[=typed_piece])",
        "group": f'IF(TRIM([group])="","",IF({group}=0,"",{standing_at(group, "group", "names")}))',
        "claim": "TRIM([claim])",
    }


def _loosely() -> dict[str, str]:
    """The piece that was typed without its dash or zeros, or with letters that look like digits."""
    forms = ("pieces_bare", "pieces_bare_2", "pieces_bare_3")
    same = "+".join(f"({form}=[=bare])" for form in forms)
    first, second, third = (f"MATCH([=bare],{form},0)" for form in forms)
    unsigned = _without("[=typed_piece]", ((sign, "") for sign in BETWEEN))
    return {
        "ware": 'IF(OR([=typed_piece]="",[=found]>0),0,IFERROR(MATCH([=typed_piece],tally_code,0),0))',
        "unsigned": f'IF([=found]+[=ware]>0,"",{unsigned})',
        "bare": _without("[=unsigned]", zip(*LIKE_DIGITS, strict=True)),
        "alike": f'IF([=bare]="",0,SUMPRODUCT({same}))',
        "loose": f"IF([=alike]=1,IFERROR({first},IFERROR({second},{third})),0)",
    }


def _without(text: str, signs: Iterable[tuple[str, str]]) -> str:
    """Return a formula that puts other signs in place of some."""
    for sign, other in signs:
        text = f'SUBSTITUTE({text},"{sign}","{other}")'
    return text


def _ways() -> dict[str, str]:
    """The way to pay: a line that goes with the one above is paid as the nearest line that says how."""
    nearest = 'SMALL(takings_own_way,COUNTIF(takings_own_way,"<"&[=order]))'
    above = 'TRIM(INDEX(takings_ways,MATCH([=way_from],takings_order,0))&"")'
    is_in_bundle = "[=way_from]>SUM([bundle])*most_lines"
    return {
        "own_way": f'IF(AND(TRIM([way])="",{_is_yes("[with_above]")}),0,[=order])',
        "way_from": f"IF([=own_way]>0,[=order],{nearest})",
        "typed_way": f'IF([=own_way]>0,TRIM([way]),IF({is_in_bundle},{above},""))',
        "way_row": f'IF([=typed_way]="",IF(ROWS(way_names)=1,1,0),{found("way", "[=typed_way]")})',
        "way": f'IF([=way_row]=0,"",{standing_at("[=way_row]", "way", "names")})',
        "paid_to": f'IF([=way_row]=0,"",{standing_at("[=way_row]", "way", "straight")})',
    }


def _looked_up() -> dict[str, str]:
    """What the register says of the piece, and the list of wares of one that is ordered without a number."""
    needs_piece = 'ISNUMBER(FIND(","&[=kind]&",",piece_words&"order,"))'
    is_ordered = '[=kind]="order"'
    counts = f"OR([=index]>0,{is_ordered})"
    is_ware = f"AND({is_ordered},[=ware]>0)"
    name, price = (standing_at("[=ware]", "tally", column) for column in ("name", "price"))
    name, price = f'IF({is_ware},{name},"")', f'IF({is_ware},{price}*[=count],"")'
    listed = f"IF([=index]>0,INDEX(pieces_price,[=index])*[=count],{price})"
    return {
        "index": f"IF({needs_piece},MAX([=found],[=loose]),0)",
        "code": 'IF([=index]=0,"",INDEX(pieces_code,[=index]))',
        "same": "IF([=index]=0,0,IF(INDEX(pieces_code,[=index])=[=piece],0,INDEX(pieces_lines,[=index])))",
        "first": f"IF([=same]=0,0,IF([=same]=1,[=order],IF(COUNTIFS({OF_PIECE},{EARLIER})=0,[=order],0)))",
        "count": f"IF([=same]>0,1,IF({counts},IF(ISNUMBER([count]),MAX(0,INT([count])),1),0))",
        "agreed": f"IF({is_ordered},MAX(0,{money_rounded('SUM([agreed_price])')}),0)",
        "name": f"IF([=index]>0,INDEX(pieces_name,[=index]),{name})",
        "list": f"IF(AND([=agreed]>0,[=same]=0),[=agreed]*[=count],{listed})",
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
    sold = f"{_of_piece('refunds')}+{_of_piece('typed_sales')}+[=list]*[=before]"
    net = _of_piece("net")
    due = f"MAX(0,{money_rounded(f'[=list]-{net}')})"
    back = f"-MAX({net},IF({_of_piece('asks_left')}>0,[=list],0))"
    return {
        "asks": f'IF(OR([amount]<>"",[=index]=0),"",IF([=same]=0,{unnumbered},{numbered}))',
        "typed": f"IF(ISNUMBER([amount]),IF([amount]<0,0,{refund}*{money_rounded('[amount]')}),0)",
        "at_list": f"IF([=asks]={_asks(Asks.COUNTED)},{refund}*[=list],"
        f"IF([=asks]={_asks(Asks.LIST_PRICE)},IF(ROUND({sold},6)<=0,[=list],0),0))",
        "left": f'IF(OR([=asks]="",[=before]>0),0,IF([=asks]={_asks(Asks.BALANCE)},{due},'
        f"IF([=asks]={_asks(Asks.REFUND)},{back},0)))",
        "amount": "[=typed]+[=at_list]+[=left]",
        "gift": f"IF(ISNUMBER([gift]),MAX(0,{money_rounded('[gift]')}),0)",
    }


def _several() -> dict[str, str]:
    """What earlier lines of the piece do to the line; most pieces have a single line."""
    is_sale = '[=kind]="sale"'
    sold = f'SUMIFS(takings_typed,{OF_PIECE},takings_kind,"sale",{EARLIER})'
    alike = f'IF({is_sale},{_open(_asks(Asks.LIST_PRICE))},IF([=asks]="",0,{_open("[=asks]")}))'
    after_refund = f"IF({_open(_asks(Asks.REFUND))}>0,1,0)"
    return {
        "pays": 'IF(OR([=index]=0,[=kind]="refund",[=kind]="order"),0,1)',
        "before": f"IF([=same]<2,0,{alike})",
        "after_refund": f"IF(OR([=same]<2,[=pays]=0),0,{after_refund})",
        "sold_already": f'IF(OR([=same]<2,[=kind]<>"sale"),0,'
        f"ROUND({sold}+[=list]*[=before]+{_of_piece('refunds')},6))",
    }


def _open(asks: str) -> str:
    """Count the earlier lines of the piece that leave something to be worked out."""
    return f"COUNTIFS({OF_PIECE},takings_asks,{asks},{EARLIER})"


def _asks(asks: Asks) -> str:
    return quoted(asks.value)


def _of_piece(column: str) -> str:
    """Return what a column of Pieces says of the line's piece."""
    return f"INDEX(pieces_{column},[=index])"


def _counted() -> dict[str, str]:
    """How the line counts in the sums of other sheets."""
    waits, above = _is_yes("[waiting]"), _is_yes("[with_above]")
    return {
        "money": f"IF({waits},0,[=amount]+[=gift])",
        "place": "IF([=money]=0,0,ROWS([line^]))",
        "waiting": "[=amount]+[=gift]-[=money]",
        "positive": 'IF([=paid_to]="",MAX(0,[=money]),0)',
        "is_payment": f"IF([=positive]<=0,0,IF({above},0,1))",
        "named": f'IF(OR([=group]="",[=paid_to]<>"",{waits}),0,IF([=gift]>0,[=gift],[=amount]))',
    }


def _off_table() -> dict[str, str]:
    """How many pieces the line takes off the table: a numbered one when the first of its price is paid."""
    on_or_off = is_any_of("[=status]", ON_OR_OFF)
    aside = _of_piece("aside")
    signs = "+".join(f'IF([=kind]="{kind}",{sign},0)' for kind, sign in OFF_BY_COUNT.items())
    numbered = "IF([=paid_before]+[=amount]>0,1,0)-IF([=paid_before]>0,1,0)"
    return {
        "aside": f"IF([=same]=0,0,IF({aside}>0,IF([=day]>{aside},1,0),IF({on_or_off},0,1)))",
        "paid_before": f"IF([=same]<2,0,{money_rounded(f'SUMIFS(takings_amount,{OF_PIECE},{EARLIER})')})",
        "off_table": f"IF([=index]=0,0,IF([=same]=0,[=count]*({signs}),IF([=aside]=1,0,{numbered})))",
    }


def _is_yes(cell: str) -> str:
    return f'AND(TRIM({cell})<>"",TRIM({cell})<>"no")'
