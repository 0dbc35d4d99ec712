"""Labels and tags by themselves, from a plan or from the workbook of a sale."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from salebook.base.errors import WrongUseError
from salebook.base.words import _
from salebook.book.read import read_book
from salebook.event.claims import ClaimState, waiting_claims
from salebook.event.event import reckon_event
from salebook.event.offers import as_it_stands
from salebook.event.question import question_line
from salebook.event.register import Piece
from salebook.jobs.source import DASH, is_workbook, name_of, reckoning_from, reckoning_of
from salebook.prints.labels.addresses import ADDRESSES, address_remarks, addresses_html
from salebook.prints.labels.labels import label_remarks, labels_html
from salebook.prints.labels.pieces import pieces_as_they_are, pieces_for_sale, pieces_on_the_table
from salebook.prints.labels.tags import tags_html
from salebook.prints.pdf import pdf_of
from salebook.prints.render import Printer, printer_for
from salebook.reckoning import Reckoning

PDF_ENDING = ".pdf"
PAGE_ENDINGS = frozenset({".html", ".htm"})


@dataclass(frozen=True, kw_only=True)
class Labelling:
    """What to print labels for."""

    reckoning: Reckoning
    pieces: tuple[Piece, ...]
    waiting: tuple[ClaimState, ...] = ()
    """What is to be sent, where address labels were asked for."""
    questions: tuple[str, ...] = ()
    """What a person should look at in the workbook first."""


@dataclass(frozen=True, kw_only=True)
class LabelOptions:
    """How to print labels; `nudge` as typed, in mm to the right and down; `claim_slips` are those of tags."""

    only: str | None = None
    skip: int = 0
    nudge: str = "0,0"
    outline: bool = False
    tags: bool = False
    claim_slips: bool = False
    addresses: bool = False
    templates: Path | None = None
    as_pdf: bool = False

    @property
    def are_tags(self) -> bool:
        """Whether tie-on cards were asked for."""
        return self.tags or self.claim_slips

    @property
    def usual_file(self) -> Path:
        """The file that they are written to where none is named."""
        name = ADDRESSES if self.addresses else "tags.html" if self.are_tags else "labels.html"
        return Path(name).with_suffix(".pdf" if self.as_pdf else ".html")


def comes_as_pdf(file: Path | None, *, asked: bool) -> bool:
    """Whether labels come as PDF: where it was asked for, or where the file to write is named so.

    Raises WrongUseError where the file is named as something else.
    """
    if file is None or file == DASH:
        return asked
    ending = file.suffix.lower()
    if ending == PDF_ENDING:
        return True
    if asked or ending not in PAGE_ENDINGS:
        says = _("{file}: expected a name that ends in {ending}")
        raise WrongUseError(says.format(file=file, ending=PDF_ENDING if asked else _(".html or .pdf")))
    return False


def labelling_from(
    file: Path, *, only: str | None = None, only_made: bool = False, without_reserved: bool = False
) -> Labelling:
    """Read what to print labels for from a plan, "-" for standard input, or from a workbook.

    From a workbook these are the pieces that wait to be sold; where `only` names some, any of the register.

    Raises WrongUseError for `only_made` or `without_reserved` with a plan, which knows neither, or beside
    `only`, and where nothing is left to print for; FileError where the file cannot be read, FaultyPlanError
    with all its faults.
    """
    chosen_by_state = only_made or without_reserved
    if not is_workbook(file):
        if chosen_by_state:
            says = _(
                "{file}: a plan does not know what was made or reserved; name the sale's workbook instead"
            )
            raise WrongUseError(says.format(file=name_of(file)))
        reckoning = reckoning_from(file)
        return Labelling(reckoning=reckoning, pieces=pieces_for_sale(reckoning))
    if only is not None and chosen_by_state:
        raise WrongUseError(_("--only prints whatever it names: leave out --made and --without-reserved"))
    read = read_book(file)
    reckoning = reckoning_of(read.plan, file=file)
    event = reckon_event(reckoning, read.entries)
    pieces = (
        pieces_on_the_table(event, only_made=only_made, without_reserved=without_reserved)
        if only is None
        else pieces_as_they_are(event)
    )
    if not pieces:
        says = _("{file}: there is no piece to print a label for")
        if only_made and not any(totals.is_counted for totals in event.state.piece_totals):
            says = _(
                "{file}: there is no piece to print a label for; count on Making what came out of the kiln"
            )
        raise WrongUseError(says.format(file=file))
    asked = [question for question in read.questions if question.sheet == read.sheets["Pieces"]]
    return Labelling(
        reckoning=as_it_stands(reckoning, event), pieces=pieces, questions=tuple(map(question_line, asked))
    )


def addressing_from(file: Path, options: LabelOptions, *, chosen_by_state: bool = False) -> Labelling:
    """Read from a sale's workbook what is to be sent, with names and addresses from its sheet Hand over.

    Raises WrongUseError for options that choose pieces, for a plan, which knows nobody, and where nothing is
    to be sent; else as `labelling_from` does.
    """
    if chosen_by_state or options.only is not None or options.are_tags or options.outline:
        raise WrongUseError(_("--addresses goes together with --skip, --nudge, --templates and --pdf alone"))
    if not is_workbook(file):
        says = _("{file}: a plan does not know whom to send anything; name the sale's workbook instead")
        raise WrongUseError(says.format(file=name_of(file)))
    read = read_book(file)
    reckoning = reckoning_of(read.plan, file=file)
    claims = waiting_claims(read.entries.claims, reckon_event(reckoning, read.entries).state)
    waiting = tuple(each for each in claims if each.is_sent)
    if not waiting:
        raise WrongUseError(_("{file}: nothing on the sheet Hand over is to be sent").format(file=file))
    asked = [question for question in read.questions if question.sheet == read.sheets["Hand over"]]
    return Labelling(
        reckoning=reckoning, pieces=(), waiting=waiting, questions=tuple(map(question_line, asked))
    )


def printed(labelling: Labelling, options: LabelOptions) -> bytes:
    """Return a file of labels or tie-on cards, HTML or PDF.

    Raises as `printer_for`, `labels_html`, `tags_html` and `pdf_of` do, and WrongUseError for options that
    cards do not have.
    """
    printer = printer_for(labelling.reckoning.plan, options.templates)
    if options.addresses:
        html = _addresses(printer, labelling, options)
        return pdf_of(html) if options.as_pdf else html.encode()
    make, given = _labels_or_tags(options)
    html = make(printer, labelling.reckoning, labelling.pieces, only=options.only, **given)
    return pdf_of(html) if options.as_pdf else html.encode()


def _addresses(printer: Printer, labelling: Labelling, options: LabelOptions) -> str:
    return addresses_html(
        *(printer, labelling.reckoning, labelling.waiting), skip=options.skip, nudge=nudge_of(options.nudge)
    )


def _labels_or_tags(options: LabelOptions) -> tuple[Callable[..., str], dict[str, Any]]:
    nudge = nudge_of(options.nudge)
    if not options.are_tags:
        return labels_html, {"skip": options.skip, "nudge": nudge, "outline": options.outline}
    if options.skip or options.outline or nudge != (0, 0):
        says = _("--skip, --nudge and --outline are for sheets of labels; tags are cut from plain card")
        raise WrongUseError(says)
    return tags_html, {"claim_slips": options.claim_slips}


def print_remarks(labelling: Labelling, options: LabelOptions) -> tuple[str, ...]:
    """Say what a person should know before printing."""
    if options.addresses:
        return (*labelling.questions, *address_remarks(labelling.reckoning, labelling.waiting))
    remarks = () if options.are_tags else label_remarks(labelling.reckoning, nudge=nudge_of(options.nudge))
    return (*labelling.questions, *remarks)


def nudge_of(text: str) -> tuple[float, float]:
    """Read a nudge such as "0.5,-1": mm to the right, mm down.

    Raises WrongUseError where it is not two numbers.
    """
    try:
        right, down = (float(part) for part in text.split(","))
    except ValueError:
        says = _("“{text}” is no nudge: expected two numbers in mm, right and down, such as 0.5,-1")
        raise WrongUseError(says.format(text=text[:40])) from None
    return right, down
