"""The workbook: its sheets, reading it back, the file itself."""

import os

# With lxml openpyxl nests namespaces, and a program loses charts and properties of such a file: without it, a
# book is the same file on every machine. openpyxl asks once, when it is first imported.
os.environ.setdefault("OPENPYXL_LXML", "False")
