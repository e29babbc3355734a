"""The keys that a pattern is signed with, read alone: a version that is sealed again needs no more of its pattern."""

from pathlib import Path

from pipeline.masters.source_file import LARGEST_TEXT
from pipeline.masters.toml.toml_file import PATTERN_FILE, read_toml
from pipeline.model.public_keys import public_key


def signing_keys(folder: Path) -> tuple[str, ...]:
    """`sign` of a folder's `pattern.toml` that was accepted before: public keys, without their comments."""
    values, _ = read_toml(folder.name, PATTERN_FILE, folder / PATTERN_FILE, LARGEST_TEXT)
    return tuple(key for line in values["pattern"].get("sign", ()) if (key := public_key(line)) is not None)
