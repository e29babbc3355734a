"""The JSON schema beside the sources says what the types say."""

import json
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from pipeline.masters.toml.document import Document, Table
from pipeline.masters.toml.schema import json_schema, schema_text

ROOT = Path(__file__).parents[2]
CASES = Path(__file__).parent / "toml_cases"
GOOD, AXES = (tomllib.loads((CASES / name).read_text(encoding="utf-8")) for name in ("good.toml", "axes.toml"))
"""The second has what the first cannot: sizes on more than one ladder."""


def test_the_file_is_kept_in_step() -> None:
    written = (ROOT / "source" / "pattern.schema.json").read_text(encoding="utf-8")
    assert written == schema_text(), "write schema_text() to source/pattern.schema.json"
    assert json.loads(written) == json_schema()


def resolved(schema: dict[str, Any], node: dict[str, Any]) -> dict[str, Any]:
    while "$ref" in node:
        node = schema["$defs"][node["$ref"].rpartition("/")[2]]
    return node


def test_every_table_is_closed_and_lists_its_keys() -> None:
    schema = json_schema()
    tables = [node for node in schema["$defs"].values() if "properties" in node]
    assert len(tables) == len(Table.__subclasses__())
    assert all(node["additionalProperties"] is False for node in tables)
    top = resolved(schema, schema)
    assert set(top["properties"]) == {name.replace("_", "-") for name in Document.__struct_fields__}
    assert top["required"] == ["format", "pattern"]
    assert {"from", "to", "kind"} == set(schema["$defs"]["TakeTable"]["properties"])


def used_keys(schema: dict[str, Any], node: dict[str, Any], value: Any) -> Iterator[tuple[str, str]]:
    """(table, key) of every key that a value uses, found by following the schema."""
    options = [resolved(schema, option) for option in resolved(schema, node).get("anyOf", [node])]
    for option in options:
        if isinstance(value, dict) and "properties" in option:
            for key, below in value.items():
                assert key in option["properties"], (option["title"], key)
                yield option["title"], key
                yield from used_keys(schema, option["properties"][key], below)
        elif isinstance(value, dict) and isinstance(option.get("additionalProperties"), dict):
            for below in value.values():
                yield from used_keys(schema, option["additionalProperties"], below)
        elif isinstance(value, list) and "items" in option:
            for below in value:
                yield from used_keys(schema, option["items"], below)


def test_the_good_files_use_every_key_of_the_schema() -> None:
    schema = json_schema()
    used = set(used_keys(schema, schema, GOOD)) | set(used_keys(schema, schema, AXES))
    there = {(name, key) for name, node in schema["$defs"].items() for key in node["properties"]}
    assert used == there


def test_reading_a_pattern_loads_no_heavy_library() -> None:
    """The workflow reads patterns before any rule; geometry and drawing would cost it a third of a second."""
    code = "import pipeline.masters.toml.load, pipeline.masters.lookup, sys; print(*sys.modules)"
    told = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True)
    assert not {"numpy", "shapely", "cairosvg", "PIL", "pypdf"} & set(told.stdout.split())
