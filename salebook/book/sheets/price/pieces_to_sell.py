"""How many pieces have to be sold, as formulas; "none" where no number of them will do."""

from salebook.base.words import _
from salebook.book.figure import Value
from salebook.book.formulas import quoted, up


def needed(amount: str, mean: str) -> str:
    """Return the formula of the pieces that make an amount, where one brings in `mean` on average."""
    none = quoted(_("none"))
    return f"IF({mean}>0,MAX(0,{up(f'{amount}/{mean}')}),IF({amount}<=0,0,{none}))"


def pays_back(mean: str, costs: str = "fixed_sale") -> str:
    """Return the formula of the pieces that pay back costs, at first those of the table."""
    return f"IF({mean}>0,MAX(0,{up(f'{costs}/{mean}')}),{quoted(_('none'))})"


def or_none(number: Value | None) -> Value:
    """Return a number, or the word for none."""
    return _("none") if number is None else number
