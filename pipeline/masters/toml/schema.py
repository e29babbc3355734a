"""The JSON schema of `pattern.toml`, for editors that know TOML; generated from the types in `document`."""

from typing import Any

import msgspec

from pipeline.masters.toml.document import Document


def json_schema() -> dict[str, Any]:
    """The schema, as JSON values."""
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": "pattern.toml"}
    return msgspec.json.decode(msgspec.json.encode({**head, **msgspec.json.schema(Document)}))


def schema_text() -> str:
    """The schema as the text of `source/pattern.schema.json`."""
    return msgspec.json.format(msgspec.json.encode(json_schema()), indent=2).decode() + "\n"
