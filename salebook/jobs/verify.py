"""A report's list of lines added up again: read, compared with the fingerprint on a letter, and told."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from functools import partial
from pathlib import Path
from typing import Final

from babel.numbers import format_decimal
from rich.table import Table

from salebook.accounts.file import RowFault
from salebook.accounts.fingerprint import typed_fingerprint
from salebook.accounts.lines import amount_of
from salebook.accounts.verification import DayPrint, Verification, verification_of
from salebook.base.errors import FileError, UnfitError, WrongUseError, error_text
from salebook.base.terminal import printable
from salebook.base.words import N_, _, ngettext
from salebook.event.breakdown import KINDS
from salebook.jobs.columns import titled_table
from salebook.jobs.price_json import JsonObject
from salebook.prints.wording import purpose_label

EXPECTED: Final[Mapping[str, str]] = {
    "part": N_("one of sale, currency, line, fee, cost, giver, share, paid"),
    "amount": N_("an amount such as 12.50"),
    "whole number": N_("a whole number"),
    "day": N_("a day such as 2027-06-19"),
    "kind": N_("a kind that the list knows, such as sale"),
    "arrived": N_("yes, no or straight"),
    "group": N_("a group that has exactly one row with the word share"),
    "parts": N_("how many parts, such as 2; of the currency 100, where a hundred pence make one pound"),
    "nothing": N_("nothing right of the last column"),
    "currency": N_("one row with the word currency"),
    "sale": N_("one row with the word sale"),
}


@dataclass(frozen=True, kw_only=True)
class Figures:
    """Writes the amounts of one list for a person."""

    digits: int

    def __call__(self, amount: Decimal) -> str:
        """Return an amount in the way of the language that is spoken."""
        pattern = f"#,##0.{'0' * self.digits}" if self.digits else "#,##0"
        return format_decimal(amount, format=pattern, locale=_("en"))


def verify_list(path: Path, letter: str = "") -> Verification:
    """Read a list and add it up again, against the fingerprint on a letter where one is given.

    Raises WrongUseError where that is no fingerprint, FileError where the file is no list of lines.
    """
    try:
        asked = typed_fingerprint(letter) if letter else ""
    except UnfitError as expected:
        says = _("--fingerprint: found {found}, expected {expected}; it stands at the foot of the letter")
        raise WrongUseError(says.format(found=letter, expected=expected)) from expected
    try:
        content = path.read_bytes()
    except OSError as trouble:
        raise FileError(f"{path}: {error_text(trouble)}") from trouble
    return verification_of(content, file=str(path), asked=asked)


def verdict(found: Verification) -> str:
    """Say in one sentence whether it is the list of the letter."""
    if not found.asked:
        says = _("Fingerprint of this list: {fingerprint}. Compare it with the one on your letter.")
        return says.format(fingerprint=found.fingerprint)
    if found.is_same:
        says = _("This is the same list as on your letter: {fingerprint}.")
        return says.format(fingerprint=found.fingerprint)
    if found.same_day:
        return _of_evening(found.same_day)
    if found.is_misread:
        says = ngettext(
            "Only {count} letter differs: look at your letter again. You typed {asked}, the list has "
            "{fingerprint}.",
            "Only {count} letters differ: look at your letter again. You typed {asked}, the list has "
            "{fingerprint}.",
            found.letters_differ,
        )
    else:
        says = _("This is not the list of your letter: you typed {asked}, the list has {fingerprint}.")
    return says.format(count=found.letters_differ, asked=found.asked, fingerprint=found.fingerprint)


def _of_evening(day: DayPrint) -> str:
    says = (
        _("The lines of till {till} of {day} are those that were signed in the evening: {fingerprint}.")
        if day.till
        else _("The lines of {day} are those that were signed in the evening: {fingerprint}.")
    )
    return says.format(till=day.till, day=day.day, fingerprint=day.fingerprint)


def what_is_wrong(found: Verification, file: str) -> Iterator[str]:
    """Say each row that cannot be read, and each share that is not what the list adds up to."""
    for fault in found.faults:
        yield _fault(fault, file)
    figure = Figures(digits=found.listed.digits)
    for group in found.differences:
        says = _("The list says {stated} for {group}, but it adds up to {share}.")
        yield says.format(stated=figure(group.stated), group=group.group, share=figure(group.share))


def _fault(fault: RowFault, file: str) -> str:
    values = {
        "file": file,
        "row": fault.row,
        "key": fault.key,
        "found": fault.found or _("nothing"),
        "expected": _(EXPECTED[fault.expected]),
    }
    if not fault.row:
        return _("{file}: expected {expected} in its first column, found {found}").format(**values)
    if not fault.key:
        return _("{file}: row {row}: found {found}, expected {expected}").format(**values)
    return _("{file}: row {row}, {key}: found {found}, expected {expected}").format(**values)


def remarks(found: Verification) -> Iterator[str]:
    """Say what was taken for granted."""
    if found.is_day_first_assumed:
        yield _("The days are written with numbers that read two ways: they were read as day, month, year.")


def tables_of(found: Verification) -> Iterator[Table]:
    """Yield the sums as tables for the terminal."""
    sums, figure = found.sums, Figures(digits=found.listed.digits)
    unit = next((row.kind for row in found.rows if row.part == "currency"), "")
    in_all = [(_("In all"), sums.takings)]
    kinds = [(kind_said(kind), sums.by_kind[kind]) for kind in sorted(sums.by_kind, key=_kind_place)]
    ways = [(way or _("way to pay not known"), sum_) for way, sum_ in sums.by_way.items()]
    promised = [(_("Promised, in no sum here"), sums.waiting)] if sums.waiting else []
    yield _table(_("What came in"), unit, [*kinds, *in_all], figure)
    yield _table(_("How it was paid"), unit, [*ways, *in_all, *promised], figure)
    off = {
        _("Given for a group by name"): -sums.named,
        _("Fees"): -sums.fees,
        _("Costs that the takings pay"): -sums.costs,
        _("Givers' parts"): -sums.to_givers,
    }
    rows = [(_("Takings"), sums.takings), *((name, sum_) for name, sum_ in off.items() if sum_)]
    left = (
        (_("Missing, so nothing to share"), -sums.pool) if sums.pool < 0 else (_("Money to share"), sums.pool)
    )
    yield _table(_("What is shared"), unit, [*rows, left], figure)
    yield _groups(found, figure)
    yield _days(found, figure)


def _table(title: str, unit: str, rows: Iterable[tuple[str, Decimal]], figure: Figures) -> Table:
    table = titled_table(title, "", unit)
    for name, amount in rows:
        table.add_row(printable(name), figure(amount))
    return table


def _kind_place(kind: str) -> int:
    return KINDS.index(kind) if kind in KINDS else len(KINDS)


def kind_said(kind: str) -> str:
    """Say what money was for; a kind that nobody knows as it stands."""
    return purpose_label(KINDS[KINDS.index(kind)]) if kind in KINDS else kind


def _groups(found: Verification, figure: Figures) -> Table:
    columns = (_("parts"), _("by name"), _("share"), _("in all"), _("paid"), _("to pay"))
    table = titled_table(_("What each group gets"), "", *columns)
    for group in found.sums.groups:
        sums = (group.named, group.share, group.total, group.paid, group.to_pay)
        table.add_row(printable(group.group), str(group.parts), *map(figure, sums))
    return table


def _days(found: Verification, figure: Figures) -> Table:
    columns = (_("fingerprint"), _("lines"), _("money"))
    table = titled_table(_("Day by day, as on the pages of the evenings"), "", *columns, left=2)
    for day in found.days:
        name = _("{day}, till {till}").format(day=day.day, till=day.till) if day.till else day.day
        table.add_row(printable(name), day.fingerprint, str(day.lines), figure(day.money))
    return table


def verification_json(found: Verification) -> JsonObject:
    """Return what was found as values that JSON holds; the page check.html works out the same."""
    sums, money = found.sums, partial(amount_of, digits=found.listed.digits)
    once = {row.part: row for row in found.rows if row.part in {"sale", "currency"}}
    single = {fault.expected for fault in found.faults if not fault.row}
    sale, currency = (once.get(part) if part not in single else None for part in ("sale", "currency"))
    return {
        "currency": currency.kind if currency else "",
        "kind": sale.kind if sale else "",
        "what": sale.what if sale else "",
        "fingerprint": found.fingerprint,
        "asked": found.asked or None,
        "same": found.is_same,
        "letters_differ": found.letters_differ or None,
        "day_same": {"day": day.day, "till": day.till} if (day := found.same_day) else None,
        "takings": {
            "total": money(sums.takings),
            **{
                name: {key: money(amount) for key, amount in by.items()}
                for name, by in (("by_kind", sums.by_kind), ("by_way", sums.by_way), ("by_day", sums.by_day))
            },
        },
        **{name: money(getattr(sums, name)) for name in ("named", "fees", "costs", "to_givers", "pool")},
        "shares": [
            {
                "group": group.group,
                "parts": group.parts,
                **{
                    name: money(getattr(group, name))
                    for name in ("named", "share", "stated", "total", "straight", "paid", "to_pay")
                },
            }
            for group in sums.groups
        ],
        "waiting": money(sums.waiting),
        "days": [{**vars(day), "money": money(day.money)} for day in found.days],
        "faults": [vars(fault) for fault in found.faults],
        "differences": [
            {"group": group.group, "stated": money(group.stated), "share": money(group.share)}
            for group in found.differences
        ],
        "remarks": ["day first"] if found.is_day_first_assumed else [],
    }
