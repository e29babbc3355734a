"""One table as CSV that a spreadsheet of the reader's language opens with letters and numbers right.

UTF-8 with a byte-order mark and, where the decimal sign is a comma, parted by semicolons, as spreadsheets of such a
country expect (common practice).
"""

import csv
import io
import re
from collections.abc import Iterable

from pipeline.words import say

BYTE_ORDER_MARK = "\ufeff"
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What spreadsheets take a cell's text for a formula by: OWASP, "CSV Injection"; full-width letters included."""

_DATE = re.compile("[0-9]{1,4}(-[0-9]{1,4}){1,2}")

Cell = str | float | None
Cells = list[Cell]


def csv_text(heads: Iterable[str], rows: Iterable[Cells], language: str) -> str:
    """The file: a line of headings, a line a row. Numbers have the language's decimal sign."""
    text = io.StringIO()
    decimal = say(language, "number.decimal")
    writer = csv.writer(text, lineterminator="\r\n", delimiter=";" if decimal == "," else ",")  # RFC 4180
    writer.writerow(map(_harmless, heads))
    for row in rows:
        writer.writerow(_written(cell, decimal) for cell in row)
    return BYTE_ORDER_MARK + text.getvalue()


def _written(cell: Cell, decimal: str) -> str:
    if cell is None:
        return ""
    return _harmless(cell) if isinstance(cell, str) else f"{cell:g}".replace(".", decimal)


def _harmless(text: str) -> str:
    """A text that no spreadsheet runs: an apostrophe before what would begin a formula. tables.json has the text.

    Nor makes a date of: a size 10-12 is written with an en dash, else it becomes the 10th of December.
    """
    if _DATE.fullmatch(text):
        return text.replace("-", "–")
    return f"'{text}" if text.startswith(_FORMULA) else text
