"""A table with a row for each ware: its name and code come first."""

from collections.abc import Callable
from typing import TypeVar

from salebook.base.words import _
from salebook.book.table import Table
from salebook.plan.model import Ware

Row = TypeVar("Row")


def ware_table(section: str, ware_of: Callable[[Row], Ware], *, source: str = "wares") -> Table[Row]:
    """Begin a table; name and code are those of the ware's row in the table `source`."""
    table: Table[Row] = Table(section, "Making", record=lambda row: ware_of(row).code)
    table.join("clays", lambda row: ware_of(row).clay)
    table.join("clay", lambda row: ware_of(row).clay)
    table.live("name", _("Name"), "wrapped", f"[{source}.name]", lambda row: ware_of(row).name)
    table.live("code", _("Code"), "text", f"[{source}.code]", lambda row: ware_of(row).code)
    return table
