"""Digests of the project's own code: a changed module runs again what uses it, and only that."""

import hashlib
import os
import re
from functools import cache
from pathlib import Path
from typing import Any

import msgspec

ROOT = Path(__file__).resolve().parents[2]
_IMPORT = re.compile(r"^\s*from\s+(pipeline[\w.]*)\s+import\s+(?:\(([\w,\s]*)\)|([\w, ]*))", re.MULTILINE)
_DATA = {".toml", ".ttf", ".json", ".css", ".js", ".typ"}


def digest(value: Any) -> str:
    """A short name for any value that JSON can hold."""
    return hashlib.sha256(msgspec.json.encode(value, order="deterministic")).hexdigest()[:16]


def program_digest() -> str:
    """A digest of all files of the project that code or data is in: where it is the same, every module's is."""
    total = hashlib.sha256()
    for folder, folders, names in os.walk(ROOT / "pipeline"):
        folders.sort()
        for name in sorted(names):
            if name.endswith((".py", *_DATA)):
                with open(os.path.join(folder, name), "rb") as file:
                    data = file.read()
                total.update(f"{os.path.relpath(folder, ROOT)}/{name}\0{len(data)}\0".encode() + data)
    return total.hexdigest()[:16]


@cache
def code_digest(module: str) -> str:
    """A digest of a module of ours and of all that it imports, data files of its packages included."""
    seen: set[str] = set()
    _collect(module, seen)
    total = hashlib.sha256()
    for name in sorted(seen):
        total.update(name.encode() + b"\0" + _content(name) + b"\0")
    return total.hexdigest()[:16]


def _collect(module: str, seen: set[str]) -> None:
    seen.add(module)
    for name in _imports(module):
        if name not in seen:
            _collect(name, seen)


@cache
def _file(module: str) -> Path | None:
    path = ROOT / Path(*module.split("."))
    file = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
    return file if file.is_file() else None


@cache
def _content(module: str) -> bytes:
    """A digest of a module's own file, and of the data files of a package."""
    file = _file(module)
    assert file is not None
    total = hashlib.sha256(file.read_bytes())
    if file.name == "__init__.py" and "." in module:
        for data in sorted(path for path in file.parent.rglob("*") if path.suffix in _DATA):
            total.update(str(data.relative_to(ROOT)).encode() + b"\0" + data.read_bytes())
    return total.digest()


@cache
def _imports(module: str) -> tuple[str, ...]:
    """The modules of ours that a module imports, and the package that it is in: other names have no file."""
    file = _file(module)
    assert file is not None
    names = [module.rpartition(".")[0]] if "." in module else []
    for source, several, few in _IMPORT.findall(file.read_text(encoding="utf-8")):
        words = (word.strip() for word in (several or few).split(","))
        names += [source, *(f"{source}.{word}" for word in words if word)]
    return tuple(dict.fromkeys(name for name in names if _file(name) is not None))
