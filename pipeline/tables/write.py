"""The tables as files: CSV text and the bytes of `tables.json`. The same rows give the same bytes."""

import csv
import io
from collections.abc import Iterator, Sequence
from typing import Any

import msgspec

from pipeline.tables.cloth import ClothRow
from pipeline.tables.cut_list import CutRow
from pipeline.tables.notions import NotionRow
from pipeline.tables.pages import PageRow
from pipeline.tables.sizes import SizeRow
from pipeline.tables.strips import StripRow

_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What spreadsheets take a cell's text for a formula by: OWASP, "CSV Injection"; full-width letters included."""


class TablesFile(msgspec.Struct, frozen=True, kw_only=True, rename={"cut_list": "cut-list"}):
    """The file `tables.json`."""

    pattern: str
    version: str
    cloth: tuple[ClothRow, ...] = ()
    cut_list: tuple[CutRow, ...] = ()
    strips: tuple[StripRow, ...] = ()
    notions: tuple[NotionRow, ...] = ()
    sizes: tuple[SizeRow, ...] = ()
    pages: tuple[PageRow, ...] = ()
    format: int = 1


def tables_json(tables: TablesFile) -> bytes:
    """The file, one row a line."""
    head = {"format": tables.format, "pattern": tables.pattern, "version": tables.version}
    parts = [f"{_json(key)}: {_json(value)}" for key, value in head.items()]
    for name, rows in _tables(tables):
        lines = ",\n".join(f"  {_json(row)}" for row in rows)
        parts.append(f"{_json(name)}: [\n{lines}\n]" if rows else f"{_json(name)}: []")
    return ("{\n" + ",\n".join(parts) + "\n}\n").encode()


def csv_files(tables: TablesFile, languages: Sequence[str]) -> dict[str, str]:
    """CSV text by file name, `cloth.csv` and so on; titles have a column a language."""
    types = {field.name: field.type for field in msgspec.structs.fields(TablesFile)}
    files = {}
    for name, rows in _tables(tables):
        row_type = types[name.replace("-", "_")].__args__[0]
        files[f"{name}.csv"] = _csv(row_type, rows, languages)
    return files


def table_files() -> tuple[str, ...]:
    """The files that tables are written to."""
    names = (field.encode_name for field in msgspec.structs.fields(TablesFile) if field.default == ())
    return (*(f"{name}.csv" for name in names), "tables.json")


def _tables(tables: TablesFile) -> Iterator[tuple[str, tuple[msgspec.Struct, ...]]]:
    for field in msgspec.structs.fields(TablesFile):
        value = getattr(tables, field.name)
        if isinstance(value, tuple):
            yield field.encode_name, value


def _json(value: Any) -> str:
    return msgspec.json.encode(value).decode()


def _csv(row_type: type[msgspec.Struct], rows: tuple[msgspec.Struct, ...], languages: Sequence[str]) -> str:
    names = [field.name for field in msgspec.structs.fields(row_type)]
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")  # RFC 4180
    writer.writerow([head for name in names for head in _heads(name, languages)])
    for row in rows:
        writer.writerow([cell for name in names for cell in _cells(getattr(row, name), name, languages)])
    return text.getvalue()


def _heads(name: str, languages: Sequence[str]) -> list[str]:
    return [f"title_{language}" for language in languages] if name == "title" else [name]


def _cells(value: Any, name: str, languages: Sequence[str]) -> list[str]:
    if name == "title":
        return [_harmless(value.get(language, "")) for language in languages]
    if value is None:
        return [""]
    if isinstance(value, bool):
        return ["true" if value else "false"]
    if isinstance(value, tuple):
        return [_harmless(" ".join(value))]
    return [_harmless(value) if isinstance(value, str) else str(value)]


def _harmless(text: str) -> str:
    """A text that no spreadsheet runs: an apostrophe before what would begin a formula. tables.json has the text."""
    return f"'{text}" if text.startswith(_FORMULA) else text
