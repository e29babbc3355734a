"""What a job depends on besides the content of its inputs: the parts of `pattern.toml` that it uses, and code.

So a changed title does not cut anew, and a changed module runs again what uses it.
"""

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

import msgspec

from pipeline.bundle.promised import archive_outputs, built_outputs
from pipeline.model.outputs import BookletSpec
from pipeline.model.pattern import Pattern, Strip
from pipeline.model.piece_specs import MarkSpec, PieceSpec, Side
from pipeline.model.topstitching import rows_of
from pipeline.rules.sources import Source, refused
from pipeline.work.code import code_digest, digest
from pipeline.work.libraries import all_versions
from pipeline.work.receipts import OF_RUN

Part = Callable[[Pattern], Any]


class Rule(msgspec.Struct, frozen=True):
    """The step of a rule, what it uses of a pattern, and which saved files, and which texts, are inputs where there are
    any."""

    step: str
    part: Part
    saved: Callable[[Source], list[Path]] = lambda source: []
    texts: bool = False


def counts_part(pattern: Pattern) -> Any:
    """What `data/pieces.json` says besides measures."""
    owners: list[PieceSpec | Strip] = [*pattern.pieces.values(), *pattern.strips.values()]
    cut = {owner.name: owner.cut for owner in owners}
    return [pattern.version, cut]


def shape_part(pattern: Pattern) -> Any:
    """What reading and cutting use: everything of pieces and strips but their texts and counts."""
    pieces = [
        msgspec.structs.replace(
            piece,
            title={},
            number=0,
            cut=(),
            cord=None,
            line_marks={},
            point_marks={},
            around=(),
            start=None,
            corners=(),
            edges={name: msgspec.structs.replace(edge, blend=False) for name, edge in piece.edges.items()},
        )
        for piece in pattern.pieces.values()
    ]
    strips = [msgspec.structs.replace(strip, title={}, cord=None, casings=()) for strip in pattern.strips.values()]
    rows = [rows_of(pattern, piece) for piece in pattern.pieces]
    return [pieces, strips, rows, pattern.size_sets, pattern.body, pattern.pixels_per_inch, pattern.clips]


def exchange_part(pattern: Pattern) -> Any:
    """What a file for cutting machines says besides shapes."""
    titles = [
        *(piece.title for piece in pattern.pieces.values()),
        *(strip.title for strip in pattern.strips.values()),
        *(cloth.title for cloth in pattern.materials.values()),
    ]
    marks = {
        piece.name: [
            piece.source,
            rows_of(pattern, piece.name),
            *(_sides(named) for named in (piece.line_marks, piece.point_marks)),
        ]
        for piece in pattern.pieces.values()
    }
    return [
        counts_part(pattern),
        titles,
        list(pattern.materials),
        pattern.title,
        pattern.languages,
        pattern.base,
        marks,
    ]


def _sides(marks: Mapping[str, MarkSpec]) -> dict[str, Side | None]:
    return {name: mark.side for name, mark in marks.items()}


def sheets_part(pattern: Pattern) -> Any:
    """What arranging and tiling use."""
    views = {name: piece.views for name, piece in pattern.pieces.items()}
    return [pattern.print, list(pattern.views), views, list(pattern.strips)]


def cloth_part(pattern: Pattern) -> Any:
    """What lays use: strips are as long as body measures and parts of edges say, of which darts and pleats take up
    some, and what is found is told in the pattern's units.
    """
    cut = {name: (piece.cut, piece.grain, piece.views) for name, piece in pattern.pieces.items()}
    strips = [msgspec.structs.replace(strip, title={}, cord=None, casings=()) for strip in pattern.strips.values()]
    shown: dict[str, Any] = {"title": {}, "repeat_length_mm": None, "repeat_width_mm": None}
    materials = {name: msgspec.structs.replace(cloth, **shown) for name, cloth in pattern.materials.items()}
    told = [pattern.base, pattern.units]
    taken = {
        name: [piece.source, {edge: spec.takes for edge, spec in piece.edges.items() if spec.takes}]
        for name, piece in pattern.pieces.items()
    }
    return [cut, taken, strips, materials, pattern.body, list(pattern.views), pattern.lay_seconds, told]


def text_part(pattern: Pattern) -> Any:
    """All that pages may print: the whole pattern but what only checks, lays, tables of notions and channels use. Of
    seams that is rows of stitching."""
    stitched = {name: seam for name, seam in pattern.seams.items() if seam.topstitch_mm}
    other = {"seams": stitched, "waivers": (), "channels": {}, "lay_seconds": 0, "bands": (), "sign": ()}
    uncounted = {name: msgspec.structs.replace(each, count=None, marks=None) for name, each in pattern.notions.items()}
    other |= {
        "notions": uncounted,
        "pixels_per_inch": None,
        "drawings": (),
        "by_shape": False,
        "booklet": BookletSpec(),
    }
    return msgspec.structs.replace(pattern, **other)


def notions_too(pattern: Pattern) -> Any:
    """All that tables tell: how many of each notion, too."""
    return [text_part(pattern), [(each.count, each.marks) for each in pattern.notions.values()]]


def seams_too(pattern: Pattern) -> Any:
    """All that a booklet may print, in which seams are named and shown."""
    return [text_part(pattern), pattern.seams, pattern.booklet]


def _layouts_and_logo(source: Source) -> list[Path]:
    return [*source.layouts(), *source.logo()]


def _words(pattern: Pattern) -> Any:
    return pattern.words


def _nothing(pattern: Pattern) -> Any:
    return None


def _outputs(pattern: Pattern) -> Any:
    return [built_outputs(pattern), archive_outputs(pattern)]


RULES = {
    "findings": Rule("findings", _words, texts=True),
    "data": Rule("data", counts_part),
    "layout": Rule("layout", sheets_part, Source.layouts),
    "drawings": Rule("drawings", text_part),
    "print": Rule("print_file", text_part, Source.logo),
    "preview": Rule("preview", _nothing),
    "by-size": Rule("by_size", text_part, _layouts_and_logo),
    "by-view": Rule("by_view", text_part, _layouts_and_logo),
    "projector": Rule("projector", text_part, Source.sold),
    "calibration": Rule("calibration", text_part),
    "lays": Rule("lays", cloth_part, lambda source: source.saved("lays.json")),
    "lay-pictures": Rule("lay_pictures", text_part),
    "tables": Rule("tables", notions_too),
    "exchange": Rule("exchange", exchange_part),
    "booklet": Rule("booklet", seams_too, texts=True),
    "listing": Rule("listing", seams_too),
    "changes": Rule("changes", text_part, Source.former),
    "correction": Rule("correction", text_part, Source.former),
    "reprint": Rule("reprint", text_part, lambda source: [*source.former(), *source.logo()]),
    "archives": Rule("archives", lambda pattern: [text_part(pattern), pattern.channels], Source.former),
    "bundle": Rule("bundle", _outputs, Source.former, texts=True),
}
"""By the name of a rule's log, without what its wildcards add: `print-a4` is a job of `print`."""


class Dependencies:
    """What every job of a run depends on, by the folder and the name of its log."""

    def __init__(
        self, sources: Mapping[str, Source], release: Path, code_digest: Callable[[str], str] = code_digest
    ) -> None:
        self.sources, self.release, self.code_digest = sources, release, code_digest
        self.libraries = all_versions()
        self.known: dict[tuple[str, str], str] = {}

    def __call__(self, folder: str, name: str) -> str | None:
        """A digest; None where no job is called that."""
        if folder != OF_RUN and folder not in self.sources:
            return None
        if (folder, name) not in self.known:
            value = self._of_run(name) if folder == OF_RUN else self._of_pattern(self.sources[folder], name)
            if value is None:
                return None
            self.known[folder, name] = digest(value)
        return self.known[folder, name]

    def _of_run(self, name: str) -> Any:
        if name not in ("gate", "verdict"):
            return None
        return [name, list(self.sources), self.code_digest(f"pipeline.steps.{name}")]

    def _of_pattern(self, source: Source, name: str) -> Any:
        pattern = source.pattern if not refused(source) else None
        texts = [file.name for file in source.texts()]
        if pattern is None:
            return [texts, self.code_digest("pipeline.steps.findings")] if name == "findings" else None
        size = name.removeprefix("pieces-")
        if size != name:
            if size not in pattern.sizes:
                return None
            return [
                self.libraries,
                self.code_digest("pipeline.steps.pieces"),
                shape_part(pattern),
                source.masters[size],
            ]
        rule = next((rule for key, rule in RULES.items() if name == key or name.startswith(f"{key}-")), None)
        if rule is None:
            return None
        saved = [file.name for file in rule.saved(source)]
        place = str(self.release) if name == "bundle" else None
        code = self.code_digest(f"pipeline.steps.{rule.step}")
        named = texts if rule.texts else []
        return [self.libraries, code, rule.part(pattern), pattern.sizes, named, saved, place]
