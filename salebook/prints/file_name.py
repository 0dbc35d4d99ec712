"""Names of files that are made once for each group or person."""

import re
import unicodedata

LONGEST = 40


def file_name(kind: str, number: int, name: str) -> str:
    """Return a print's file name: its kind, its number, and a name in plain letters."""
    plain = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    slug = "-".join(re.findall(r"[a-z0-9]+", plain))[:LONGEST].strip("-")
    return f"{kind}-{number}{'-' if slug else ''}{slug}.html"
