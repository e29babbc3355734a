"""What a run is about: the patterns, their files, and what each job depends on. Read before any rule; no outputs."""

import hashlib
import re
from functools import cache
from pathlib import Path
from typing import Any

import msgspec

from pipeline.bundle.manifest import CHECKSUMS, verify
from pipeline.bundle.swap import recover
from pipeline.masters.load import load_pattern
from pipeline.masters.lookup import check_files, master_files
from pipeline.model.findings import Finding, blocks
from pipeline.model.pattern import Pattern, PieceSpec, Strip
from pipeline.sheets.papers import PAPERS

ROOT = Path(__file__).resolve().parents[2]


class RefusalError(Exception):
    """The run cannot start; the text says why, for the person who asked."""


class Source(msgspec.Struct, frozen=True):
    """One pattern's folder as read: `pattern` is None where its `pattern.toml` was refused."""

    name: str
    folder: Path
    pattern: Pattern | None
    findings: tuple[Finding, ...]

    def texts(self) -> list[Path]:
        """What the designer wrote besides masters: `pattern.toml`, and what there is of `CHANGES.md` and a booklet."""
        written = [path for name in ("pattern.toml", "CHANGES.md") if (path := self.folder / name).is_file()]
        return [*written, *sorted(path for path in (self.folder / "booklet").rglob("*") if path.is_file())]

    def kept(self, *names: str) -> list[Path]:
        """Those of these files that a search has kept beside the pattern: lays.json, layout.json."""
        return [path for name in names if (path := self.folder / name).is_file()]

    def masters(self, size: str) -> list[Path]:
        """The master files of one size that are there; the reader tells of those that are not."""
        assert self.pattern is not None
        return [self.folder / file for file in sorted(set(master_files(self.pattern, self.folder, size).values()))]


def read_sources(source: Path, only: str | None) -> dict[str, Source]:
    """Every pattern under `source` (or those of the comma list `only`), by name. Raises RefusalError."""
    if not source.is_dir():
        raise RefusalError(f"There is no folder {source}. Say where the patterns are with --config source=FOLDER.")
    there = sorted(path.parent.name for path in source.glob("*/pattern.toml"))
    wanted = there if only is None else [name.strip() for name in str(only).split(",")]
    if unknown := [name for name in wanted if name not in there]:
        raise RefusalError(
            f"No pattern is called {', '.join(unknown)}: {source} has {', '.join(there) or 'none'}. "
            "A pattern is a folder with a pattern.toml in it."
        )
    if not wanted:
        raise RefusalError(f"{source} has no pattern: a pattern is a folder with a pattern.toml in it.")
    return {name: _read(source / name) for name in wanted}


def _read(folder: Path) -> Source:
    pattern, findings = load_pattern(folder)
    if pattern is not None:
        findings = (*findings, *check_files(pattern, folder))
    return Source(folder.name, folder, pattern, findings)


def check_config(config: dict[str, Any], known: tuple[str, ...]) -> None:
    """Refuse a --config key that means nothing. Raises RefusalError."""
    if unknown := sorted(set(config) - set(known)):
        raise RefusalError(
            f"--config {unknown[0]}= means nothing here; there are {', '.join(f'{key}=' for key in known)}"
        )


def digest(value: Any) -> str:
    """A short name for a value: what a job depends on besides its files."""
    return hashlib.sha256(msgspec.json.encode(value, order="deterministic")).hexdigest()[:16]


def counts_part(pattern: Pattern) -> str:
    """A digest of what `data/pieces.json` says besides measures."""
    owners: list[PieceSpec | Strip] = [*pattern.pieces.values(), *pattern.strips.values()]
    cut = {owner.name: owner.cut for owner in owners}
    return digest([pattern.version, pattern.sizes, cut])


def shape_part(pattern: Pattern) -> str:
    """A digest of what reading and cutting use: everything of pieces and strips but their texts and counts."""
    pieces = [
        msgspec.structs.replace(piece, title={}, number=0, cut=(), cord=None) for piece in pattern.pieces.values()
    ]
    strips = [msgspec.structs.replace(strip, title={}, cord=None) for strip in pattern.strips.values()]
    return digest([pieces, strips, pattern.size_sets, pattern.body, pattern.pixels_per_inch])


def sheets_part(pattern: Pattern) -> str:
    """A digest of what arranging and tiling use."""
    views = {name: piece.views for name, piece in pattern.pieces.items()}
    return digest([pattern.sizes, pattern.print, list(pattern.views), views, list(pattern.strips)])


def cloth_part(pattern: Pattern) -> str:
    """A digest of what lays use."""
    cut = {name: (piece.cut, piece.grain, piece.views) for name, piece in pattern.pieces.items()}
    strips = [msgspec.structs.replace(strip, title={}, cord=None) for strip in pattern.strips.values()]
    materials = {name: msgspec.structs.replace(cloth, title={}) for name, cloth in pattern.materials.items()}
    return digest([cut, strips, materials, list(pattern.views), pattern.lay_seconds])


def text_part(pattern: Pattern) -> str:
    """A digest of all that pages may print: the whole pattern but what only checks, lays and channels use."""
    other = {"seams": {}, "waivers": (), "channels": {}, "lay_seconds": 0, "bands": (), "pixels_per_inch": None}
    return digest(msgspec.structs.replace(pattern, **other))


_IMPORT = re.compile(r"^\s*from\s+(pipeline[\w.]*)\s+import\s+(?:\(([\w,\s]*)\)|([\w, ]*))", re.MULTILINE)


@cache
def code_digest(module: str) -> str:
    """A digest of a module of ours and of all that it imports: a changed module reruns what uses it, and only that."""
    seen: dict[str, bytes] = {}
    _collect(module, seen)
    total = hashlib.sha256()
    for name in sorted(seen):
        total.update(name.encode() + b"\0" + seen[name] + b"\0")
    return total.hexdigest()[:16]


def _collect(module: str, seen: dict[str, bytes]) -> None:
    path = ROOT / Path(*module.split("."))
    file = path / "__init__.py" if path.is_dir() else path.with_suffix(".py")
    if module in seen or not file.is_file():
        return
    seen[module] = file.read_bytes()
    for data in sorted(_data_files(path)) if path.is_dir() and "." in module else ():
        seen[str(data.relative_to(ROOT))] = data.read_bytes()
    for source, several, few in _IMPORT.findall(seen[module].decode()):
        words = (word.strip() for word in (several or few).split(","))
        for name in (source, *(f"{source}.{word}" for word in words if word)):
            _collect(name, seen)
    if "." in module:
        _collect(module.rpartition(".")[0], seen)


def _data_files(package: Path) -> list[Path]:
    return [path for path in package.rglob("*") if path.suffix in {".toml", ".ttf", ".json", ".css", ".js"}]


def print_files(pattern: Pattern) -> tuple[str, ...]:
    """The formats that become one file each under print/; a projector's files are several."""
    return tuple(name for name in pattern.print.formats if name != "projector")


def tiled_formats(pattern: Pattern) -> tuple[str, ...]:
    """The formats that are printed at home, page by page."""
    return tuple(name for name in print_files(pattern) if PAPERS[name].kind == "tiled")


def sizes_alone(pattern: Pattern) -> tuple[str, ...]:
    """The sizes that have files of their own under print/by-size/."""
    return pattern.sizes if pattern.print.by_size and tiled_formats(pattern) else ()


def projected(pattern: Pattern) -> tuple[str, ...]:
    """The materials that have projector files: those that something drawn is cut of."""
    if "projector" not in pattern.print.formats:
        return ()
    strips = (strip for strip in pattern.strips.values() if strip.drawn)
    drawn: list[PieceSpec | Strip] = [*pattern.pieces.values(), *strips]
    cut = {entry.material for owner in drawn for entry in owner.cut}
    return tuple(name for name in pattern.materials if name in cut)


def built_outputs(pattern: Pattern) -> tuple[tuple[str, str], ...]:
    """What rules build for a bundle: files and folders under `<work>/<pattern>/`, each with its place in the bundle."""
    materials = projected(pattern)
    own = (
        *(f"print/{name}.pdf" for name in print_files(pattern)),
        *(f"project/{name}-{ground}.pdf" for name in materials for ground in ("black-on-white", "white-on-black")),
        *(("project/calibration.pdf",) if materials else ()),
        *("preview", "lays", "tables", "data/pieces.json"),
    )
    alone = ((f"by-size/{size}", "print/by-size") for size in sizes_alone(pattern))
    return (*((f"out/{name}", name) for name in own), *alone)


def refused(source: Source) -> bool:
    """Whether nothing of this pattern can be read any further."""
    return source.pattern is None or any(blocks(finding) for finding in source.findings)


def let_on(gate: Path | str) -> list[str]:
    """The patterns that the gate lets on."""
    return msgspec.json.decode(Path(gate).read_bytes(), type=list[str])


class Stamp(msgspec.Struct, frozen=True):
    """Which bytes a bundle was given: its folder and its SHA256SUMS."""

    place: str
    checksums: str


def forget_changed_bundles(work: Path, release: Path, patterns: dict[str, Pattern]) -> None:
    """Drop the stamp of every bundle that is gone or altered, and the run's own, so that this run puts it back."""
    for pattern in patterns.values():
        stamp, place = work / pattern.name / "bundle.json", release / pattern.name / pattern.version
        recover(place)
        if stamp.is_file() and not _is_whole(pattern.name, stamp, place):
            stamp.unlink()
        if not stamp.is_file():
            (work / "released").unlink(missing_ok=True)


def _is_whole(name: str, stamp: Path, place: Path) -> bool:
    written = msgspec.json.decode(stamp.read_bytes(), type=Stamp)
    sums = place / CHECKSUMS
    if written.place != str(place) or not sums.is_file() or sums.read_text(encoding="utf-8") != written.checksums:
        return False
    return not verify(name, place)
