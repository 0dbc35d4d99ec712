"""The words that people see, in the language that was chosen."""

from gettext import NullTranslations, translation
from pathlib import Path

_chosen: list[NullTranslations] = [NullTranslations()]


def use_language(locale: str) -> None:
    """Say everything in the language of a locale such as "en_GB"; English where there is no translation."""
    folder = Path(__file__).with_name("locale")
    _chosen[0] = translation("salebook", localedir=str(folder), languages=[locale], fallback=True)


def _(text: str) -> str:
    """Return a text in the chosen language."""
    return _chosen[0].gettext(text)
