"""The words that people see, in the language that was chosen."""

from collections.abc import Callable, Iterable
from functools import cache, reduce
from gettext import NullTranslations, translation
from pathlib import Path
from typing import TypeVar

Made = TypeVar("Made")

_chosen: list[NullTranslations] = [NullTranslations()]

OWN_TRANSLATIONS = Path(__file__).parents[1] / "locale"


def use_language(locale: str, *, translations: Path = OWN_TRANSLATIONS) -> None:
    """Say everything in the language of a locale such as "en_GB"; English where there is no translation."""
    use_catalogue(translation("salebook", localedir=str(translations), languages=[locale], fallback=True))


def use_catalogue(catalogue: NullTranslations) -> None:
    """Say everything as a catalogue of translations has it."""
    _chosen[0] = catalogue


def _(text: str) -> str:
    """Return a text in the chosen language."""
    return _chosen[0].gettext(text)


def ngettext(one: str, many: str, n: int) -> str:
    """Return the text for so many in the chosen language, which may have more forms than two."""
    return _chosen[0].ngettext(one, many, n)


def pgettext(context: str, text: str) -> str:
    """Return a short text that means different things in different places; `context` says which one."""
    return _chosen[0].pgettext(context, text)


def once_a_language(make: Callable[[], Made]) -> Callable[[], Made]:
    """Return a function that makes something of words once for each language; it must not be changed."""
    made = cache(lambda _language: make())
    return lambda: made(_chosen[0])


def chained(says: str, texts: Iterable[str]) -> str:
    """Return texts as one, each put with those before it into a text with {first} and {last}."""
    several = tuple(texts)
    return reduce(lambda first, last: says.format(first=first, last=last), several) if several else ""


def N_(text: str) -> str:  # noqa: N802  gettext's own name
    """Return a text as it is: one that is looked up later, which the list of texts to translate must hold."""
    return text
