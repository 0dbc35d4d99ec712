"""Workbooks that are quick to write and to read."""

from tests.support.books import few_lines, read_once

__all__ = ["few_lines", "read_once"]
