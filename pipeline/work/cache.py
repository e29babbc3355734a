"""What a step made before, saved under the work folder, so that one changed master does not make all anew."""

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from pipeline.work.code import code_digest
from pipeline.work.files import write
from pipeline.work.libraries import all_versions

_HASH_BYTES = 32
CodeOf = Callable[[str], str]
"""The digest of a module's code, and of all that it imports."""


class Cache:
    """Bytes in a folder, each file named by a digest of all that it is made from: values, the code of `module`, and
    the libraries' versions.

    What is read equals what would be made, to the byte; a file that was harmed is made anew.
    """

    def __init__(self, folder: Path, module: str, code_of: CodeOf = code_digest) -> None:
        self.folder, self.code = folder, code_of(module)
        self.used: set[Path] = set()

    def has(self, made_from: Any) -> bool:
        """Whether there is a file of what is made from this."""
        return self._file(made_from).is_file()

    def _file(self, made_from: Any) -> Path:
        return self.folder / _key(self.code, made_from)

    def bytes_of(self, made_from: Any, make: Callable[[], bytes]) -> bytes:
        """What `make` returns; it is not called where that is saved. `made_from` is any value that JSON can hold."""
        file = self._file(made_from)
        self.used.add(file)
        saved = _read(file)
        if saved is None:
            _save(file, saved := make())
        return saved

    def value_of(self, made_from: Any, make: Callable[[], Any], kind: Any) -> Any:
        """The same for a value of a type that JSON can hold."""
        return msgspec.json.decode(self.bytes_of(made_from, lambda: msgspec.json.encode(make())), type=kind)

    def forget_others(self) -> None:
        """Remove what was not asked for: it was made from what has changed since."""
        for file in self.folder.glob("*"):
            if file not in self.used:
                file.unlink(missing_ok=True)


class Answers:
    """What was found out before of the same things by the same code, in one file: each too small for one of its own."""

    def __init__(self, file: Path, module: str, code_of: CodeOf = code_digest) -> None:
        self.file, self.code = file, code_of(module)
        self.before = msgspec.json.decode(_read(file) or b"{}", type=dict[str, msgspec.Raw])
        self.now: dict[str, msgspec.Raw] = {}

    def value_of(self, asked: Any, find_out: Callable[[], Any], kind: Any) -> Any:
        """What `find_out` returns, a value of a type that JSON can hold; it is not called where that is known."""
        key = _key(self.code, asked)
        raw = self._raw(key) or msgspec.Raw(msgspec.json.encode(find_out()))
        self.now[key] = raw
        return msgspec.json.decode(raw, type=kind)

    def known(self, asked: Any, kind: Any) -> Any:
        """What was kept of it; None where nothing was."""
        key = _key(self.code, asked)
        raw = self._raw(key)
        if raw is None:
            return None
        self.now[key] = raw
        return msgspec.json.decode(raw, type=kind)

    def keep(self, asked: Any, found: Any) -> None:
        """Keep what was found, a value of a type that JSON can hold."""
        self.now[_key(self.code, asked)] = msgspec.Raw(msgspec.json.encode(found))

    def _raw(self, key: str) -> msgspec.Raw | None:
        return self.now.get(key) or self.before.get(key)

    def save(self) -> None:
        """Write what was asked for, and forget the rest."""
        _save(self.file, msgspec.json.encode(self.now))


def _key(code: str, made_from: Any) -> str:
    return hashlib.sha256(msgspec.json.encode((code, all_versions(), made_from))).hexdigest()[:32]


def _read(file: Path) -> bytes | None:
    """What was saved; None where nothing was, or where it was harmed."""
    saved = file.read_bytes() if file.is_file() else b""
    whole = saved[:_HASH_BYTES] == hashlib.sha256(saved[_HASH_BYTES:]).digest()
    return saved[_HASH_BYTES:] if whole else None


def _save(file: Path, made: bytes) -> None:
    write(file, hashlib.sha256(made).digest() + made)
