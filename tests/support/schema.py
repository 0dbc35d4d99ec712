"""A workbook's file against the schemas of its format."""

from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

from lxml import etree

from tests.support.cells import parts_of

SCHEMAS = Path(__file__).parent.parent / "ooxml_schema"
"""ISO/IEC 29500 (ECMA-376), transitional, as published with the standard."""

SCHEMA_OF = {
    "xl/workbook.xml": "sml.xsd",
    "xl/styles.xml": "sml.xsd",
    "xl/sharedStrings.xml": "sml.xsd",
    "xl/worksheets/sheet": "sml.xsd",
    "xl/tables/": "sml.xsd",
    "xl/charts/chart": "dml-chart.xsd",
    "xl/drawings/drawing": "dml-spreadsheetDrawing.xsd",
    "docProps/app.xml": "shared-documentPropertiesExtended.xsd",
    "docProps/custom.xml": "shared-documentPropertiesCustom.xsd",
}
"""How the name of a part begins, and the schema that the part must keep to."""


@cache
def _schema(name: str) -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(str(SCHEMAS / name)))


def violations(xlsx: bytes) -> list[str]:
    """Return one line for each place where a workbook's file breaks a schema of its format."""
    return [line for name, part in parts_of(xlsx).items() for line in _violations(name, part)]


def _violations(name: str, part: bytes) -> Iterator[str]:
    schema = next((_schema(xsd) for start, xsd in SCHEMA_OF.items() if name.startswith(start)), None)
    if schema is not None and not schema.validate(etree.fromstring(part)):
        log: Iterable[etree._LogEntry] = schema.error_log  # type: ignore[assignment]  # the stubs miss __iter__
        yield from (f"{name}: line {error.line}: {error.message}" for error in log)
