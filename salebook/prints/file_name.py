"""Names of files that are made once for each group or person."""

import re
import unicodedata

LONGEST = 40


def file_name(kind: str, number: int, name: str) -> str:
    """Return a print's file name: its kind, its number, and a name in plain letters."""
    slug = plain_name(name)
    return f"{kind}-{number}{'-' if slug else ''}{slug}.html"


def plain_name(name: str) -> str:
    """Return a name in plain letters, as it may stand in a file's; empty where it has none."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    return "-".join(re.findall(r"[a-z0-9]+", plain))[:LONGEST].strip("-")
