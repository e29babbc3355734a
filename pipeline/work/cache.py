"""What a step made before, saved under the work folder, so that one changed master does not make all anew."""

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from pipeline.work.code import code_digest
from pipeline.work.files import write

_HASH_BYTES = 32


class Cache:
    """Bytes in a folder, each file named by a digest of all that it is made from: values, and the code of `module`.

    What is read equals what would be made, to the byte; a file that was harmed is made anew.
    """

    def __init__(self, folder: Path, module: str) -> None:
        self.folder, self.code = folder, code_digest(module)
        self.used: set[Path] = set()

    def has(self, made_from: Any) -> bool:
        """Whether there is a file of what is made from this."""
        return self._file(made_from).is_file()

    def _file(self, made_from: Any) -> Path:
        text = msgspec.json.encode((self.code, made_from))
        return self.folder / hashlib.sha256(text).hexdigest()[:32]

    def bytes_of(self, made_from: Any, make: Callable[[], bytes]) -> bytes:
        """What `make` returns; it is not called where that is saved. `made_from` is any value that JSON can hold."""
        file = self._file(made_from)
        self.used.add(file)
        saved = file.read_bytes() if file.is_file() else b""
        if saved[:_HASH_BYTES] == hashlib.sha256(saved[_HASH_BYTES:]).digest():
            return saved[_HASH_BYTES:]
        made = make()
        write(file, hashlib.sha256(made).digest() + made)
        return made

    def value_of(self, made_from: Any, make: Callable[[], Any], kind: Any) -> Any:
        """The same for a value of a type that JSON can hold."""
        return msgspec.json.decode(self.bytes_of(made_from, lambda: msgspec.json.encode(make())), type=kind)

    def forget_others(self) -> None:
        """Remove what was not asked for: it was made from what has changed since."""
        for file in self.folder.glob("*"):
            if file not in self.used:
                file.unlink(missing_ok=True)
