"""The boxes in which a firing is written down: called alike on the firing card and on the sheet Firing."""

from collections.abc import Mapping
from typing import Final

from salebook.base.words import N_, _

BOXES: Final = {
    "load": N_("Load"),
    "day": N_("Day"),
    "stays": N_("Who stays"),
    "before": N_("Meter before"),
    "after": N_("Meter after"),
    "used": N_("kWh used"),
    "opened_at": N_("Opened at"),
    "came_out": N_("Came out"),
    "lost": N_("Lost"),
    "why": N_("Why lost"),
}
"""By their keys, in the order in which they are filled in."""

BY_GAS: Final = {
    "before": N_("Gas meter or bottle before"),
    "after": N_("Gas meter or bottle after"),
    "used": N_("Gas used"),
}
"""What some of them are called where the kiln burns gas."""


def firing_boxes(fuel: str) -> Mapping[str, str]:
    """Return what each box is called in the chosen language, by its key."""
    said = BOXES | BY_GAS if fuel == "gas" else BOXES
    return {key: _(text) for key, text in said.items()}
