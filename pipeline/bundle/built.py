"""A bundle's folder as its checks look at it: the print files, the tables and the pieces that it delivers."""

import hashlib
from collections.abc import Callable, Iterable
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple, Protocol

import msgspec

from pipeline.bundle.built_pdf import BuiltPdf
from pipeline.bundle.promised import REPRINT
from pipeline.checks.attempts import looking_at
from pipeline.checks.registry import Outcome
from pipeline.model.pattern import Pattern
from pipeline.model.questions import ending_in, spoken
from pipeline.sheets.papers import PAPERS
from pipeline.tables.write import TablesFile
from pipeline.work.cache import Answers


class EdgeData(msgspec.Struct, frozen=True):
    """An edge of `data/pieces.json`."""

    length_mm: float
    gross_length_mm: float


class InsideData(msgspec.Struct, frozen=True):
    """An inside line of `data/pieces.json`."""

    length_mm: float


class NotchData(msgspec.Struct, frozen=True):
    """A notch of `data/pieces.json`."""

    name: str | None
    edge: str
    at_mm: float


class CutData(msgspec.Struct, frozen=True):
    """A cut entry of `data/pieces.json`."""

    material: str
    count: int
    mirrored: int


class BundleFile(Protocol):
    """A file of a bundle: its place there, and a digest of its bytes."""

    @property
    def path(self) -> str: ...

    @property
    def digest(self) -> str: ...


class PieceData(msgspec.Struct, frozen=True):
    """A piece of `data/pieces.json`, as far as it is held against other files."""

    edges: dict[str, EdgeData]
    inside: dict[str, InsideData]
    notches: list[NotchData]
    cut_area_mm2: float
    cut_outline: list[tuple[float, float]]
    cut: list[CutData]
    on_fold: bool


class SizeData(msgspec.Struct, frozen=True):
    """The pieces of one size."""

    pieces: dict[str, PieceData]


class PiecesFile(msgspec.Struct, frozen=True):
    """The file `data/pieces.json`."""

    pattern: str
    version: str
    sizes: dict[str, SizeData]


class Built:
    """A bundle: the pattern it was built from, its folder, and what was found before of files of the same bytes."""

    def __init__(self, pattern: Pattern, folder: Path, answers: Answers | None = None) -> None:
        self.pattern = pattern
        self.folder = folder
        self._answers = answers

    def told(
        self, pdf: BuiltPdf, find: Callable[["Built", BuiltPdf], Iterable[Outcome]], held_against: Any = None
    ) -> tuple[Outcome, ...]:
        """What `find` tells of a file. It may look at the pattern, the file and `held_against`, and at nothing else."""
        found: tuple[Outcome, ...] = self.known(
            pdf, lambda: tuple(find(self, pdf)), tuple[Outcome, ...], find, held_against
        )
        return found

    def known(
        self, file: BundleFile, find_out: Callable[[], Any], kind: Any, asked: Any, held_against: Any = None
    ) -> Any:
        """What is found out of a file: as before, where pattern, file and `held_against` are as before.

        `asked` is the function whose question it is.
        """
        with looking_at(file=file.path):
            if self._answers is None:
                return find_out()
            whole = (asked.__module__, asked.__qualname__, self._pattern, file.path, file.digest, held_against)
            return self._answers.value_of(whole, find_out, kind)

    def speaking(self, pdf: BuiltPdf) -> Pattern:
        """The pattern in the languages of a print file."""
        return spoken(self.pattern).get(ending_in(self.pattern, pdf.path), self.pattern)

    @cached_property
    def _pattern(self) -> str:
        return hashlib.sha256(msgspec.json.encode(self.pattern)).hexdigest()

    @cached_property
    def pdfs(self) -> tuple[BuiltPdf, ...]:
        """Every PDF, by its path."""
        paths = sorted(path.relative_to(self.folder).as_posix() for path in self.folder.rglob("*.pdf"))
        return tuple(BuiltPdf(self.folder, path) for path in paths)

    @property
    def prints(self) -> tuple[BuiltPdf, ...]:
        """The print files, whole."""
        return tuple(pdf for pdf in self.pdfs if is_print(pdf.path))

    @property
    def booklets(self) -> tuple[BuiltPdf, ...]:
        """The files under booklet/."""
        return tuple(pdf for pdf in self.pdfs if pdf.path.startswith("booklet/"))

    @property
    def at_scale(self) -> tuple[BuiltPdf, ...]:
        """The files whose lengths are lengths of cloth: all but booklets."""
        return tuple(pdf for pdf in self.pdfs if not pdf.path.startswith("booklet/"))

    @cached_property
    def tables(self) -> TablesFile:
        """`tables/tables.json`. Raises OSError and msgspec errors."""
        return msgspec.json.decode((self.folder / "tables/tables.json").read_bytes(), type=TablesFile)

    @cached_property
    def pieces(self) -> PiecesFile:
        """`data/pieces.json`. Raises OSError and msgspec errors."""
        return msgspec.json.decode((self.folder / "data/pieces.json").read_bytes(), type=PiecesFile)


def is_print(path: str) -> bool:
    """Whether a file prints the pattern by itself; pages that only changed are held to be what they are there."""
    return path.startswith("print/") and not path.startswith(REPRINT)


class NameParts(NamedTuple):
    """What a print file shows: its format, and the one size or the one view where it shows no other."""

    format: str
    size: str | None = None
    view: str | None = None


def name_parts(pattern: Pattern, path: str) -> NameParts:
    """By a file's place: "print/by-size/34-a4.pdf" is ("a4", "34"), whatever languages it speaks."""
    name = path.removeprefix("print/").removesuffix(".pdf").removesuffix(ending_in(pattern, path))
    room, _, part = name.partition("/")
    for paper in sorted(PAPERS, key=len, reverse=True):
        if part.endswith(f"-{paper}"):
            alone = part.removesuffix(f"-{paper}")
            return NameParts(paper, alone) if room == "by-size" else NameParts(paper, view=alone)
    return NameParts(name)
