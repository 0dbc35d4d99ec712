"""Address labels for what is to be sent: names stand on them, so they are made only where asked for."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from salebook.base.errors import WrongUseError
from salebook.base.words import _
from salebook.event.claims import ClaimState
from salebook.event.entries import Claim
from salebook.prints.fitting import Fitted, lines_that_fit
from salebook.prints.labels.labels import check_skip
from salebook.prints.labels.layout import Room, room_in
from salebook.prints.labels.sheet import Place, Sheet, sheet_of
from salebook.prints.render import Printer
from salebook.reckoning import Reckoning

ADDRESSES = "addresses.html"

LARGEST_POINTS = 12.0
TELEPHONE = re.compile(
    r"(?:(?:tel|phone|mob|mobile)\b[.: ]*|(?=[+(0]))[+(0-9][0-9 ()/.-]{5,}(?:\(.*\))?", re.IGNORECASE
)
"""A part of what somebody may be reached by that has no place on a parcel."""
"""On a label of the usual size; they grow and shrink with it."""


@dataclass(frozen=True, kw_only=True)
class AddressLabel:
    """One label as it is drawn: where, and its lines, the name first."""

    place: Place
    address: Fitted


def addresses_html(
    printer: Printer,
    reckoning: Reckoning,
    waiting: Sequence[ClaimState],
    *,
    skip: int = 0,
    nudge: tuple[float, float] = (0.0, 0.0),
) -> str:
    """Return a label with name and address for each claim that is to be sent, on the plan's sheet of labels.

    Raises WrongUseError where no address fits a label, and as `labels_html` does.
    """
    sheet = sheet_of(reckoning.plan.labels, nudge=nudge)
    check_skip(skip, sheet)
    room = room_in(sheet, ())
    addresses = [found for each in waiting if (found := _fitted(each, room))]
    if not addresses:
        raise WrongUseError("\n".join(_left_out(waiting, room)))
    return printer.fill(
        "addresses.html",
        sheet=sheet,
        paper=sheet.paper,
        room=room,
        pages=list(_pages(sheet, [*[None] * skip, *addresses])),
    )


def address_remarks(reckoning: Reckoning, waiting: Sequence[ClaimState]) -> Iterator[str]:
    """Say for which claims there is no label, and that names stand on the others; no remark names anybody."""
    yield from _left_out(waiting, room_in(sheet_of(reckoning.plan.labels), ()))
    yield _("Names and addresses stand on these labels: delete the file once all is sent.")


def _left_out(waiting: Sequence[ClaimState], room: Room) -> Iterator[str]:
    for each in waiting:
        if not _address(each.claim):
            says = _("Claim {claim} is to be sent, and there is no address on Hand over: it has no label.")
            yield says.format(claim=each.claim.claim)
        elif not _fitted(each, room):
            says = _("Claim {claim}: its address is too long for a label; write it by hand.")
            yield says.format(claim=each.claim.claim)


def _fitted(waiting: ClaimState, room: Room) -> Fitted | None:
    address = _address(waiting.claim)
    if not address:
        return None
    largest, height = LARGEST_POINTS * room.scale, room.height_mm - 2 * room.pad_mm
    texts = [waiting.claim.name.strip(), *address]
    return lines_that_fit(list(filter(None, texts)), room.inner_width_mm, height, largest)


def _address(claim: Claim) -> list[str]:
    """Return an address by its lines, which commas end too; without telephone numbers and e-mail."""
    parts = (part.strip() for part in re.split(r"[\n,]", claim.contact))
    lines = [part for part in parts if part and "@" not in part and not TELEPHONE.fullmatch(part)]
    return lines if any(sign.isalpha() for line in lines for sign in line) else []


def _pages(sheet: Sheet, addresses: Sequence[Fitted | None]) -> Iterator[list[AddressLabel]]:
    for page in sheet.pages(addresses):
        yield [AddressLabel(place=place, address=address) for address, place in page if address]
