"""The one way to a file that a designer wrote: only regular files, of bounded size, and whole.

What is read next to nothing of is told from it without reading: a pipe never ends, a device has no end, and a file of
20 GB does not fit into memory.
"""

import os
import stat
from pathlib import Path

import msgspec

LARGEST_MASTER = 4_000_000
LARGEST_DRAWING = 20_000_000
"""Of a drawing with many pieces and sizes in it: five times a master."""
LARGEST_TEXT = 1_000_000
"""Of `pattern.toml` and `CHANGES.md`."""
LARGEST_SAVED = 5_000_000
"""Of `lays.json` and `layout.json`: sixty times those of the demo jacket."""
_TRIES = 3
_KINDS = {
    stat.S_IFDIR: "a folder",
    stat.S_IFIFO: "a pipe",
    stat.S_IFSOCK: "a socket",
    stat.S_IFCHR: "a device",
    stat.S_IFBLK: "a device",
}


class FileFault(msgspec.Struct, frozen=True):
    """Why a file is not read. `message` goes on after the file's name: "is a pipe, not a file."

    `code` is "no-file", "unreadable", "not-a-file", "too-large" or "changing".
    """

    code: str
    message: str
    remedy: str
    found: str
    allowed: str


def read_source(path: Path, limit: int) -> bytes | FileFault:
    """The bytes of a regular file of at most `limit` bytes, all of one moment; or why there are none. Never waits."""
    try:
        # Without O_NONBLOCK a pipe that nobody writes to would never open, and with O_NOCTTY a terminal stays strange.
        handle = os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_NOCTTY | os.O_CLOEXEC)
    except OSError as error:
        return _unreadable(error)
    try:
        for _ in range(_TRIES):
            before = os.fstat(handle)
            if (fault := _fault_of(before, limit)) is not None:
                return fault
            data = _from_start(handle, limit)
            after = os.fstat(handle)
            if len(data) == before.st_size and _moment(before) == _moment(after):
                return data
    except OSError as error:
        return _unreadable(error)
    finally:
        os.close(handle)
    return FileFault(
        "changing",
        "was written to while it was read.",
        "Give the command again when the file is complete.",
        f"another content each of {_TRIES} times",
        "a file at rest",
    )


def source_fault(path: Path, limit: int) -> FileFault | None:
    """Why `read_source` would not read a file, as far as can be told without opening it."""
    try:
        found = os.stat(path)
    except OSError as error:
        return _unreadable(error)
    fault = _fault_of(found, limit)
    if fault is None and not os.access(path, os.R_OK):
        return _unreadable(PermissionError(None, "Permission denied"))
    return fault


def plain_name(name: str) -> str:
    """A file's name as text that can be written: bytes that are no UTF-8 become the sign for what cannot be shown."""
    return os.fsencode(name).decode("utf-8", "replace")


def _moment(found: os.stat_result) -> tuple[int, int]:
    return found.st_mtime_ns, found.st_size


def _from_start(handle: int, limit: int) -> bytes:
    os.lseek(handle, 0, os.SEEK_SET)
    parts, wanted = [], limit + 1
    while wanted > 0 and (part := os.read(handle, wanted)):
        parts.append(part)
        wanted -= len(part)
    return b"".join(parts)


def _fault_of(found: os.stat_result, limit: int) -> FileFault | None:
    if not stat.S_ISREG(found.st_mode):
        kind = _KINDS.get(stat.S_IFMT(found.st_mode), "something else")
        return FileFault("not-a-file", f"is {kind}, not a file.", "Put a file in its place.", kind, "a regular file")
    if found.st_size > limit:
        return FileFault(
            "too-large",
            f"has {found.st_size:,} bytes; at most {limit:,} are read.",
            "Take out what does not belong there.",
            f"{found.st_size:,} bytes",
            f"{limit:,} bytes",
        )
    return None


def _unreadable(error: OSError) -> FileFault:
    if isinstance(error, FileNotFoundError):
        return FileFault("no-file", "is not there.", "Put it there.", "no file", "a file")
    why = error.strerror or "an error"
    remedy = "Make it a file that you may read."
    return FileFault("unreadable", f"cannot be read: {why}.", remedy, why, "a file that can be read")
