"""All tables as one file for programs, `tables.json`. The same rows give the same bytes."""

from collections.abc import Iterator
from typing import Any

import msgspec

from pipeline.tables.cloth import ClothRow
from pipeline.tables.cut_list import CutRow
from pipeline.tables.notions import NotionRow
from pipeline.tables.pages import PageRow
from pipeline.tables.sizes import SizeRow
from pipeline.tables.strips import StripRow


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


TABLES = tuple(field.encode_name for field in msgspec.structs.fields(TablesFile) if field.default == ())
"""The names of all tables, in the order of the file."""


def tables_json(tables: TablesFile) -> bytes:
    """The file, one row a line."""
    head = {"format": tables.format, "pattern": tables.pattern, "version": tables.version}
    parts = [f"{_json(key)}: {_json(value)}" for key, value in head.items()]
    for name, rows in _tables(tables):
        lines = ",\n".join(f"  {_json(row)}" for row in rows)
        parts.append(f"{_json(name)}: [\n{lines}\n]" if rows else f"{_json(name)}: []")
    return ("{\n" + ",\n".join(parts) + "\n}\n").encode()


def _tables(tables: TablesFile) -> Iterator[tuple[str, tuple[msgspec.Struct, ...]]]:
    for name in TABLES:
        yield name, getattr(tables, name.replace("-", "_"))


def _json(value: Any) -> str:
    return msgspec.json.encode(value).decode()
