"""How anything is written: beside its place and moved there. A reader sees the old file or the new one, never half."""

import hashlib
import os
from pathlib import Path
from typing import Any

import msgspec


def write(path: Path, data: bytes, flushed: bool = False) -> None:
    """Write beside the place and move there. Raises OSError, and leaves what was there.

    `flushed` is for what nothing makes anew: the name is moved when the content is on the disk.
    """
    path.parent.mkdir(parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name[:200]}.{os.getpid()}")
    try:
        with beside.open("wb") as handle:
            handle.write(data)
            if flushed:
                handle.flush()
                os.fsync(handle.fileno())
        beside.replace(path)
    finally:
        beside.unlink(missing_ok=True)


def write_json(path: Path, value: Any) -> None:
    """A value as JSON, keys of plain dicts in their own order."""
    write(path, msgspec.json.encode(value))


def read_json(path: Path, kind: Any) -> Any:
    """A typed value from JSON that another step wrote."""
    return msgspec.json.decode(path.read_bytes(), type=kind)


def hash_file(path: Path) -> str:
    """SHA-256 of a file, in hexadecimal."""
    with path.open("rb") as handle:
        return hashlib.file_digest(handle, "sha256").hexdigest()
