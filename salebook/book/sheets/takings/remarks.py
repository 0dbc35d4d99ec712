"""The remarks on a line: each column looks at one thing; its words stand at its head, above the keys."""

from collections.abc import Mapping
from typing import Final

from salebook.base.words import _
from salebook.book.formulas import is_any_of, quoted
from salebook.book.page import Page
from salebook.book.references import Placed
from salebook.event.lines import Asks
from salebook.event.posted_line import ABOUT_PIECE, LOOKS
from salebook.event.register import Piece
from salebook.event.remarks import Remark

WORDS: Final[Mapping[str, tuple[Remark, ...]]] = {
    "typed": (Remark.NOT_A_NUMBER, Remark.WITH_A_MINUS, Remark.NO_SUCH_KIND),
    "order": (Remark.WHICH_WARE,),
    "which": (Remark.WHICH_PIECE, Remark.ONE_NUMBER_ONE_PIECE),
    "other": (Remark.NO_PIECE_HERE, Remark.HOW_MUCH),
    "refund": (Remark.NOTHING_TO_GIVE_BACK, Remark.MORE_THAN_PAID),
    "again": (Remark.GIVEN_BACK_BEFORE, Remark.SOLD_TWICE, Remark.DEPOSIT_IS_PAID),
    "amount": (Remark.NOTHING_LEFT,),
    "given": (Remark.PAID_WITH_THE_ORDER, Remark.GIVEN_AWAY),
    "price": (Remark.FAR_ABOVE_PRICE,),
    "piece": (Remark.RESERVED_FOR, Remark.MARKED_AS, Remark.NOT_OUT_OF_THE_KILN),
    "names": (Remark.CLAIM_NUMBER, Remark.NO_SUCH_GROUP, Remark.NO_SUCH_WAY),
    "paid": (Remark.HOW_WAS_IT_PAID, Remark.PAID_TO_ANOTHER, Remark.NOT_A_DATE),
}
"""The words at the head of each column; those that name a piece to type follow them."""
NO_SUCH: Final = {"order": "no_such_ware", "which": "no_such_piece"}
"""Names of the cells that say which piece to type."""


def said(remark: Remark) -> str:
    """Return the name of the cell in which a remark's words stand."""
    return f"remark_{remark.name.lower()}"


def about(remark: Remark, subject: str) -> str:
    """Return the formula of a remark that names something."""
    return f'SUBSTITUTE({said(remark)},"{{subject}}",{subject})'


def write_words(page: Page, placed: Placed, example: Piece) -> None:
    """Write the words of the remarks at the heads of their columns, from the sheet's first row on."""
    shown = {"order": example.code, "which": example.number}
    for look, remarks in WORDS.items():
        words = [(said(remark), _(remark.value)) for remark in remarks]
        if look in NO_SUCH:
            words.append((NO_SUCH[look], _(Remark.NO_SUCH_PIECE.value).format(subject=shown[look])))
        at = placed.column(f"{look}_remark")
        for row, (name, text) in enumerate(words, start=1):
            page.put(row, at, text, "small text")
            page.name(name, row, at)


def remark_formulas() -> dict[str, str]:
    """Return the formula of each look; those of a line with nothing in it find nothing."""
    return {f"{look}_remark": _first_of(*wrong) for look, wrong in (_looks() | _of_money()).items()}


Wrong = tuple[str, Remark | str]
"""A condition, and what is said where it holds; a text is a formula."""


def _looks() -> dict[str, tuple[Wrong, ...]]:
    """What is wrong with what was typed, and with the piece."""
    is_of_piece = 'ISNUMBER(FIND(","&[=kind]&",",piece_words))'
    return {
        "typed": (
            ("OR(ISTEXT([amount]),ISTEXT([gift]),ISTEXT([count]))", Remark.NOT_A_NUMBER),
            ("MIN([amount],[gift],[count])<0", Remark.WITH_A_MINUS),
            ('[=kind]="?"', Remark.NO_SUCH_KIND),
        ),
        "order": (
            ('[=kind]<>"order"', '""'),
            ('[=piece]=""', Remark.WHICH_WARE),
            ("[=index]+[=ware]=0", NO_SUCH["order"]),
        ),
        "which": (
            (f"NOT({is_of_piece})", '""'),
            ('[=piece]=""', Remark.WHICH_PIECE),
            ("[=index]=0", NO_SUCH["which"]),
            ("AND(ISNUMBER([count]),[count]<>[=count])", Remark.ONE_NUMBER_ONE_PIECE),
        ),
        "other": (
            (f'OR([=order]="",[=kind]="order",{is_of_piece})', '""'),
            ('[=piece]<>""', Remark.NO_PIECE_HERE),
            ('AND([amount]="",[gift]="")', Remark.HOW_MUCH),
        ),
        "names": (
            ('AND([=kind]="order",[=claim]="")', Remark.CLAIM_NUMBER),
            ('AND(TRIM([group])<>"",[=group]="")', Remark.NO_SUCH_GROUP),
            ('AND(TRIM([way])<>"",[=way]="")', Remark.NO_SUCH_WAY),
        ),
        "paid": (
            ('[=order]=""', '""'),
            ('AND([=way]="",[=money]<>0)', Remark.HOW_WAS_IT_PAID),
            ('AND([=group]<>"",[=paid_to]<>"",[=paid_to]<>[=group])', Remark.PAID_TO_ANOTHER),
            ("ISTEXT([day])", Remark.NOT_A_DATE),
        ),
    }


def _of_money() -> dict[str, tuple[Wrong, ...]]:
    """What is wrong with the money for a piece."""
    at_list, balance, refund = (
        f"[=asks]={quoted(asks.value)}" for asks in (Asks.LIST_PRICE, Asks.BALANCE, Asks.REFUND)
    )
    is_there = is_any_of("[=status]", ("here", "reserved", "not made"))
    kept_for, warning = "INDEX(pieces_kept_for,[=index])", "INDEX(pieces_warning,[=index])"
    nothing: Wrong = ("[=pays]<>1", '""')
    return {
        "refund": (
            ('[=kind]<>"refund"', '""'),
            (f"AND({refund},[=left]=0)", Remark.NOTHING_TO_GIVE_BACK),
            ("[=same]=0", '""'),
            ("INDEX(pieces_paid,[=index])<0", Remark.MORE_THAN_PAID),
        ),
        "again": (
            ("[=after_refund]=1", Remark.GIVEN_BACK_BEFORE),
            ('OR([=kind]<>"sale",[=same]<2)', '""'),
            (f"OR(AND({at_list},[=at_list]=0),[=sold_already]>0)", Remark.SOLD_TWICE),
            (f"AND({at_list},INDEX(pieces_deposits,[=index])>0)", Remark.DEPOSIT_IS_PAID),
        ),
        "amount": (
            nothing,
            (f"AND({balance},[=left]=0)", Remark.NOTHING_LEFT),
            (f"AND({balance},INDEX(pieces_refunds,[=index])<0)", Remark.HOW_MUCH),
            ('AND([amount]="",[=asks]="")', Remark.HOW_MUCH),
        ),
        "given": (
            ("OR([=pays]<>1,[=same]=0)", '""'),
            ('AND([=asks]<>"",INDEX(pieces_paid_with_order,[=index])>0)', Remark.PAID_WITH_THE_ORDER),
            (f'AND([=kind]="sale",{is_there},ISNUMBER([amount]),[amount]=0)', Remark.GIVEN_AWAY),
        ),
        "price": (
            ("OR([=pays]<>1,[=same]=0)", '""'),
            ("AND([=list]>0,ROUND([=typed]-far_above*[=list],6)>=0)", Remark.FAR_ABOVE_PRICE),
        ),
        "piece": (
            nothing,
            (f'{warning}<>""', warning),
            (f'AND({kept_for}<>"",{kept_for}<>[=claim])', about(Remark.RESERVED_FOR, kept_for)),
        ),
    }


def about_piece() -> str:
    """Return the formula of what is said of the piece: a line has one kind, so one of the first three."""
    which, *others = (f"[={look}_remark]" for look in ABOUT_PIECE[2:])
    first = f"[=order_remark]&[=which_remark]&{which}"
    return _first_said(first, *others)


def remark() -> str:
    """Return the formula of the remark that is said: the first, where the line says more than a day."""
    others = (f"[={look}_remark]" for look in LOOKS if look not in {"typed", *ABOUT_PIECE})
    return f'IF(COUNTA([piece]:[claim])=0,"",{_first_said("[=typed_remark]", "[=about_piece]", *others)})'


def _first_said(*remarks: str) -> str:
    *others, formula = remarks
    for said_first in reversed(others):
        formula = f'IF({said_first}<>"",{said_first},{formula})'
    return formula


def _first_of(*wrong: Wrong) -> str:
    """Return what is said where the first of some conditions holds."""
    formula = '""'
    for condition, remark in reversed(wrong):
        says = said(remark) if isinstance(remark, Remark) else remark
        formula = f"IF({condition},{says},{formula})"
    return formula
