"""Which paper a sale is printed on."""

from typing import Literal

from babel.core import Locale

from salebook.plan.model import Plan

LETTER_TERRITORIES = frozenset(
    {"US", "CA", "MX", "CL", "CO", "CR", "PA", "PH", "GT", "DO", "SV", "NI", "VE", "PR"}
)
"""Where people use Letter paper (Unicode CLDR, supplemental measurementData, paperSize)."""


def usual_page(plan: Plan) -> Literal["A4", "Letter"]:
    """Return the paper of the workbook and of prints on plain paper: the labels' own, else the country's."""
    if "page" in plan.labels.model_fields_set:
        return plan.labels.page
    return "Letter" if Locale.parse(plan.sale.locale).territory in LETTER_TERRITORIES else "A4"
