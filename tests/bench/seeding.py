"""Demo patterns with faults seeded into them, and what the checks then find, in this process: only changes are read.

A fault is a set of changed texts (masters, pattern.toml, CHANGES.md) and what a finding must name. Unchanged masters
are read and cut once.
"""

import shutil
from collections.abc import Mapping
from pathlib import Path

import msgspec

from pipeline.checks.all import check_garment
from pipeline.checks.causes import places_of
from pipeline.checks.garment import Garment
from pipeline.checks.telling import tell
from pipeline.checks.waivers import waive
from pipeline.cutting.cut import cut_pieces
from pipeline.lays.demand import lay_requests
from pipeline.lays.fit import too_wide
from pipeline.masters.lookup import check_files, master_files
from pipeline.masters.read_size import read_size
from pipeline.masters.references import check_references
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding, blocks
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, DrawnPiece

SOURCE = Path(__file__).resolve().parents[2] / "source"
DEMOS = ("work-jacket", "half-circle-skirt", "child-pinafore")
Changes = Mapping[str, str | None]
"""New texts by file, relative to the pattern's folder; None for a file that is taken away."""


class Fault(msgspec.Struct, frozen=True, kw_only=True):
    """A seeded fault, and what must be named: the size (None: any), and one of the places.

    `piece` and `edges` are what was changed in a master: naming a sewn seam of one of the edges names the place.
    `place` is the `where` of what is no piece.
    """

    kind: str
    demo: str
    changes: Changes
    told: str
    size: str | None = None
    piece: str | None = None
    edges: tuple[str, ...] = ()
    place: str | None = None


class _Read(msgspec.Struct, frozen=True):
    """A master of one size and the pieces derived from it, read and cut."""

    drawn: tuple[DrawnPiece, ...]
    cuts: tuple[CutPiece, ...]
    findings: tuple[Finding, ...]


class Demo:
    """A copy of a pattern in a folder of its own, its clean reading, and what is found in it without a fault."""

    def __init__(self, source: Path, room: Path) -> None:
        self.name, self.folder = source.name, room / source.name
        shutil.copytree(source, self.folder, ignore=shutil.ignore_patterns("*.py", "__pycache__", "lays.json"))
        self.texts = {
            path.relative_to(self.folder).as_posix(): path.read_text(encoding="utf-8")
            for path in sorted(self.folder.rglob("*"))
            if path.suffix in (".svg", ".toml", ".md")
        }
        self._reads: dict[tuple[bytes, str, str | None], _Read] = {}
        self._widths: dict[tuple[bytes, tuple[int, ...]], tuple[Finding, ...]] = {}
        pattern, _ = load_pattern(self.folder)
        assert pattern is not None
        assert not any(strip.drawn for strip in pattern.strips.values()), "drawn strips are not read here"
        self.pattern = pattern
        self.cuts = {
            size: {cut.piece: cut for read in self._size(pattern, size, self.texts) for cut in read.cuts}
            for size in pattern.sizes
        }
        self._known = {_key(finding) for finding in self.findings({})}

    def told(self, changes: Changes) -> list[Finding]:
        """What blocks or warns with these texts and does not without: a garment may have what its drafter lets be."""
        found = self.findings(changes)
        return [each for each in told_above_info(found) if _key(each) not in self._known]

    def findings(self, changes: Changes) -> tuple[Finding, ...]:
        """What a run of `check` would find with these texts, in the order of pipeline/steps/findings.py."""
        try:
            for file, text in changes.items():
                self._put(file, text)
            texts = {file: text for file, text in {**self.texts, **changes}.items() if text is not None}
            return self._findings(texts)
        finally:
            for file in changes:
                self._put(file, self.texts.get(file))

    def drawn(self, piece: str, size: str) -> DrawnPiece:
        """A piece as its clean master draws it."""
        return self.cuts[size][piece].drawn

    def only_size(self, file: str) -> str | None:
        """The size that a master is read for; None where several read it."""
        sizes = [size for size, there in self.cuts.items() if any(cut.drawn.file == file for cut in there.values())]
        return sizes[0] if len(sizes) == 1 else None

    def _put(self, file: str, text: str | None) -> None:
        path = self.folder / file
        if text is None:
            path.unlink(missing_ok=True)
            return
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8", newline="\n")

    def _findings(self, texts: Mapping[str, str]) -> tuple[Finding, ...]:
        pattern, told = load_pattern(self.folder)
        if pattern is None:
            return told
        reads = {size: self._size(pattern, size, texts) for size in pattern.sizes}
        drawn = {size: tuple(piece for read in of for piece in read.drawn) for size, of in reads.items()}
        found = [*told, *check_files(pattern, self.folder)]
        found += [finding for of in reads.values() for read in of for finding in read.findings]
        found += check_references(pattern, drawn)
        if not any(map(blocks, found)):
            cuts = {size: {cut.piece: cut for read in of for cut in read.cuts} for size, of in reads.items()}
            by_piece = {
                name: {size: there[name] for size, there in cuts.items() if name in there} for name in pattern.pieces
            }
            found += check_garment(Garment(pattern, by_piece, texts.get("CHANGES.md")))
            for size, there in cuts.items():
                found += self._too_wide(pattern, size, tuple(there[n] for n in pattern.pieces if n in there))
        return waive(pattern, tuple(dict.fromkeys(found)))

    def _size(self, pattern: Pattern, size: str, texts: Mapping[str, str]) -> list[_Read]:
        files = master_files(pattern, self.folder, size)
        families: dict[str, list[str]] = {}
        for spec in pattern.pieces.values():
            if size in spec.sizes:
                families.setdefault(spec.source or spec.name, []).append(spec.name)
        reads = []
        for source, names in families.items():
            family = {name: pattern.pieces[name] for name in dict.fromkeys((source, *names))}
            text = texts.get(files.get(source, ""))
            key = (msgspec.json.encode((family, pattern.pixels_per_inch, pattern.sizes)), f"{size}/{source}", text)
            read = self._reads.get(key)
            if read is None:
                alone = msgspec.structs.replace(pattern, pieces=family, strips={})
                drawn, reading = read_size(alone, self.folder, size)
                cuts, cutting = cut_pieces(alone, size, drawn)
                read = _Read(drawn, cuts, (*reading, *cutting))
                if text is not None and text == self.texts.get(files[source]):
                    self._reads[key] = read  # a seeded one does not come again
            reads.append(read)
        return reads

    def _too_wide(self, pattern: Pattern, size: str, cuts: tuple[CutPiece, ...]) -> tuple[Finding, ...]:
        said = (pattern.materials, pattern.strips, pattern.pieces, pattern.views, pattern.body, size)
        key = (msgspec.json.encode(said), tuple(map(id, cuts)))
        if key not in self._widths:
            requests = lay_requests(pattern, size, cuts)
            self._widths[key] = tuple(finding for request in requests for finding in too_wide(pattern, request))
        return self._widths[key]


def _key(finding: Finding) -> tuple[str | None, ...]:
    return finding.check, finding.code, finding.size, finding.piece, finding.where, finding.object, finding.found


def is_first(found: list[Finding], fault: Fault, pattern: Pattern) -> bool:
    """Whether the first line that a run tells names the place of a fault."""
    line = next(iter(tell(found, (pattern.sizes,), places_of(pattern))), "")
    return any(each.message in line and names(each, fault, pattern) for each in found)


def told_above_info(findings: tuple[Finding, ...]) -> list[Finding]:
    """What blocks or warns and is not waived."""
    return [finding for finding in findings if finding.severity in ("block", "warn") and finding.waived is None]


def names(finding: Finding, fault: Fault, pattern: Pattern) -> bool:
    """Whether a finding names the size and the place of a fault."""
    if fault.size is not None and finding.size != fault.size:
        return False
    if fault.piece is not None and finding.piece == fault.piece:
        return True
    if fault.place is not None and (finding.where == fault.place or (finding.object or "").startswith(fault.place)):
        return True
    if any(f"{fault.piece}.{edge} " in finding.message for edge in fault.edges):
        return True  # two edges that should be alike, of which either may be the wrong one
    group, _, name = (finding.where or "").partition(".")
    seam = pattern.seams.get(name) if group == "seams" else None
    if seam is None:
        return False
    return any(step.piece == fault.piece and step.edge in fault.edges for step in (*seam.a, *seam.b))


def edited(text: str, table: str, old: str, new: str) -> str:
    """The text of pattern.toml with one place of one table replaced. Raises ValueError where it is not there once."""
    start = text.index(f"[{table}]\n")
    end = text.find("\n[", start)
    end = len(text) if end < 0 else end
    part = text[start:end]
    if part.count(old) != 1:
        raise ValueError(f"{old!r} stands {part.count(old)} times in [{table}]")
    return text[:start] + part.replace(old, new) + text[end:]
