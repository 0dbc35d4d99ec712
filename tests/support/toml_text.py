"""Tables as the text of a plan file."""

import json
from collections.abc import Mapping
from datetime import date
from decimal import Decimal
from typing import Any


def toml_text(tables: Mapping[str, Any]) -> str:
    """Write tables as TOML, the same when read again."""
    lines: list[str] = []
    for key, table in tables.items():
        if isinstance(table, Mapping):
            lines += ["", f"[{key}]", *_pairs(table)]
        elif isinstance(table, list) and table and isinstance(table[0], Mapping):
            for record in table:
                lines += ["", f"[[{key}]]", *_pairs(record)]
        else:
            lines += _pairs({key: table})
    return "\n".join(lines) + "\n"


def _pairs(table: Mapping[str, Any]) -> list[str]:
    return [f"{key} = {_toml_value(value)}" for key, value in table.items()]


def _toml_value(value: Any) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return json.dumps(value, ensure_ascii=False)
        case date():
            return value.isoformat()
        case Mapping():
            return "{ " + ", ".join(_pairs(value)) + " }"
        case list() | tuple():
            return "[" + ", ".join(map(_toml_value, value)) + "]"
        case _:
            return format(value, "f") if isinstance(value, Decimal) else str(value)
