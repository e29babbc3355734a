"""`ledger.json`: every sealed version, hashed over itself and the one before it, so that an edited past shows."""

import hashlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from pipeline.ledger.facts import Facts
from pipeline.ledger.packed import inflated, shape_digest
from pipeline.masters.source_file import FileFault, read_source
from pipeline.model.findings import PatternFaultError

LEDGER = "ledger.json"
FORMAT = 1
LARGEST_LEDGER = 50_000_000
"""Bytes. Shapes are kept once for all versions: a new version of a garment adds what changed."""


class Entry(msgspec.Struct, frozen=True, kw_only=True):
    """A sealed version. `files` are the SHA-256 of every file of its bundle; `previous` is the entry's before it.

    `source` is a digest of the source that its sheets were made of, `layouts` the name of where pieces lay on them.
    """

    version: str
    date: str
    made_with: dict[str, str]
    files: dict[str, str]
    facts: Facts
    previous: str
    source: str = ""
    layouts: str = ""
    digest: str = ""


class Signature(msgspec.Struct, frozen=True):
    """A version's detached signatures, as OpenSSH writes them: of its SHA256SUMS for buyers, and of its entry."""

    checksums: str
    entry: str


class Ledger(msgspec.Struct, frozen=True, kw_only=True):
    """All sealed versions of a pattern, oldest first; `shapes` and `layouts` are the packed ones that they name.

    `signatures` are by version: no part of an entry, since they are made of it.
    """

    versions: tuple[Entry, ...] = ()
    signatures: dict[str, Signature] = {}
    shapes: dict[str, str] = {}
    layouts: dict[str, str] = {}
    format: int = FORMAT

    def entry(self, version: str) -> Entry | None:
        """The sealed version of that number."""
        return next((entry for entry in self.versions if entry.version == version), None)


def entry_digest(entry: Entry) -> str:
    """SHA-256 of all that an entry says, its own digest left out."""
    said = msgspec.structs.asdict(msgspec.structs.replace(entry, digest=""))
    for name in ("source", "layouts"):  # entries of before these were kept say nothing of them
        if not said[name]:
            del said[name]
    return hashlib.sha256(_json(said, "sorted")).hexdigest()


Look = Callable[[Ledger, bytes], FileFault | None]
"""What tells whether a ledger was edited, of its values and its text."""


def ledger_json(ledger: Ledger) -> bytes:
    """The text of the file, a line for each part of an entry and for each shape: a repository shows what was added."""
    entries = []
    for entry in ledger.versions:
        said = msgspec.structs.asdict(entry)
        entries.append("{\n" + ",\n".join(f" {_text(name)}: {_text(part)}" for name, part in said.items()) + "\n}")
    tables = [f'"{name}": {{\n{_lines(texts)}\n}}' for name, texts in _kept(ledger).items()]
    if ledger.signatures:  # ledgers of patterns that are not signed say nothing of them
        signatures = ",\n".join(f"{_text(version)}: {_text(each)}" for version, each in ledger.signatures.items())
        tables.insert(0, f'"signatures": {{\n{signatures}\n}}')
    parts = ",\n".join(['"versions": [\n' + ",\n".join(entries) + "\n]", *tables])
    return f'{{"format": {ledger.format},\n{parts}}}\n'.encode()


def _kept(ledger: Ledger) -> dict[str, dict[str, str]]:
    """What entries name by digest."""
    return {"shapes": ledger.shapes, "layouts": ledger.layouts}


def _lines(texts: dict[str, str]) -> str:
    return ",\n".join(f"{_text(digest)}: {_text(text)}" for digest, text in texts.items())


def read_ledger(folder: Path, look: Look | None = None) -> Ledger | FileFault:
    """The ledger beside a pattern, empty where there is none; or why it cannot be read, an edited past included.

    `look` stands for `edited`, for whoever remembers which bytes it was asked of.
    """
    data = read_source(folder / LEDGER, LARGEST_LEDGER)
    if isinstance(data, FileFault):
        return Ledger() if data.code == "no-file" and not (folder / LEDGER).is_symlink() else data
    return parsed_ledger(data, look)


def ledger_of(folder: Path) -> Ledger:
    """The ledger beside a pattern. Raises PatternFaultError where it cannot be read."""
    ledger = read_ledger(folder)
    if isinstance(ledger, FileFault):
        found = f"{ledger.message} Found {ledger.found}, expected {ledger.allowed}. {ledger.remedy}"
        raise PatternFaultError(f"{folder / LEDGER} {found}")
    return ledger


def parsed_ledger(data: bytes, look: Look | None = None) -> Ledger | FileFault:
    """A ledger's text as values, or what is wrong with it."""
    try:
        ledger = msgspec.json.decode(data, type=Ledger)
    except (msgspec.MsgspecError, RecursionError, UnicodeDecodeError) as fault:
        return _fault("unreadable", "cannot be read.", str(fault), "what `seal` wrote")
    if ledger.format != FORMAT:
        return _fault("unreadable", "cannot be read.", f"format {ledger.format}", f"format {FORMAT}")
    return (look(ledger, data) if look else edited(ledger)) or ledger


def edited(ledger: Ledger) -> FileFault | None:
    """The first entry that is not as sealed, does not follow the one before it, or names a shape that is lost."""
    before = ""
    for entry in ledger.versions:
        message = f"is not as it was sealed: version {entry.version} was edited"
        if entry.digest != (found := entry_digest(entry)):
            return _fault("edited", f"{message}.", found, entry.digest)
        if entry.previous != before:
            message = f"is not as it was sealed: what stood before version {entry.version} was edited or taken out"
            return _fault("edited", f"{message}.", before or "nothing before it", entry.previous or "nothing before it")
        before = entry.digest
        named = {piece.shape for sizes in entry.facts.pieces.values() for piece in sizes.values()}
        if lost := sorted(named - ledger.shapes.keys()):
            return _fault("edited", f"{message}.", f"no shape {lost[0]}", "every shape that it names")
        if entry.layouts and entry.layouts not in ledger.layouts:
            return _fault("edited", f"{message}.", f"no layouts {entry.layouts}", "the layouts that it names")
    for what, texts, digest_of in (("a shape", ledger.shapes, shape_digest), ("a layout", ledger.layouts, text_digest)):
        for digest, text in texts.items():
            if (found := _digest(text, digest_of)) != digest:
                return _fault("edited", f"is not as it was sealed: {what} was edited.", found, digest)
    return None


def text_digest(text: str) -> str:
    """The name of a compressed text: by what it says. Raises ValueError where it is none."""
    return hashlib.sha256(inflated(text)).hexdigest()[:24]


def _digest(text: str, digest_of: Callable[[str], str]) -> str:
    try:
        return digest_of(text)
    except ValueError as fault:
        return str(fault)


def _fault(code: str, message: str, found: str, allowed: str) -> FileFault:
    remedy = "Take ledger.json from your last commit: it says what was sold, and nothing makes it anew."
    return FileFault(code, message, remedy, found, allowed)


def _json(value: Any, order: Any = None) -> bytes:
    return msgspec.json.encode(value, order=order)


def _text(value: Any) -> str:
    return _json(value).decode()
