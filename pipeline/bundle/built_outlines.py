"""What print files draw for a size, held against the cut lines of `data/pieces.json`: the vectors themselves."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial

import numpy as np

from pipeline.bundle.built import Built, PieceData, SizeData, name_parts
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.bundle.built_layers import own_layers
from pipeline.bundle.built_pdf import BuiltPdf
from pipeline.bundle.outline_match import LEAST_SHOWN, NOTHING, Lines, Match, Outline, Way, match
from pipeline.bundle.pdf_sheets import Drawn, planes
from pipeline.bundle.promised import tiled_formats
from pipeline.checks.attempts import looking_at
from pipeline.checks.registry import Outcome
from pipeline.model.questions import spoken

OFF_MM = 0.15
_LEAST_LINES = 2.0
"""With seam lines and marks a size shows 2.3 to 2.7 times the length of its cut lines (in 8 patterns)."""
_FAR_MM = 10_000.0
"""Farther than any drawing is wide."""

Matches = dict[str, dict[str, Match | None]]
"""How each piece was found, by size."""


@BUILT.register(
    id="built-outlines",
    title="What is drawn for a size is that size's cut line",
    rationale=(
        "A line that is drawn for several sizes, or in the layer of another, is cut by all who print that layer. "
        "All files of all sizes show the same drawings, so the first is looked at, and of those that show one size "
        "alone, which share no lines, the first of the middle size: all would take five times the time."
    ),
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source=(
        "the cut lines of data/pieces.json within 0.15 mm: 0.1 mm is what lines that sizes share may be off, 0.05 mm "
        "what is lost on laying an outline on them (a judgement)"
    ),
)
def built_outlines(built: Built) -> Iterator[Outcome]:
    """Every cut line of every size."""
    for pdf in _looked_at(built):
        alone = name_parts(built.pattern, pdf.path).size
        there = {size: data for size, data in built.pieces.sizes.items() if alone in (None, size)}
        against = {
            size: {name: (piece.cut_outline, piece.on_fold) for name, piece in data.pieces.items()}
            for size, data in there.items()
        }
        matches: Matches = built.known(pdf, partial(_found, built, pdf, there), Matches, _found, against)
        for size, pieces in matches.items():
            for piece, found in pieces.items():
                yield from _told(pdf, size, piece, found)


def _found(built: Built, pdf: BuiltPdf, there: Mapping[str, SizeData]) -> Matches:
    ways: dict[str, Way] = {}
    found: Matches = {}
    for size, drawn in _by_size(built, pdf).items():
        with looking_at(size=size):
            found[size] = _matches(drawn, there[size].pieces if size in there else {}, ways)
    return found


def _looked_at(built: Built) -> list[BuiltPdf]:
    """The first file of all sizes, one that is printed at home where there is one, and the first of the middle size."""
    sizes = built.pattern.sizes
    tiled = tuple(f"print/{name}{end}.pdf" for name in tiled_formats(built.pattern) for end in spoken(built.pattern))
    first: dict[str | None, BuiltPdf] = {}
    for pdf in sorted(built.prints, key=lambda pdf: pdf.path not in tiled):
        first.setdefault(name_parts(built.pattern, pdf.path).size, pdf)
    return [pdf for alone, pdf in first.items() if alone in (None, sizes[len(sizes) // 2])]


def _told(pdf: BuiltPdf, size: str, piece: str, found: Match | None) -> Iterator[Outcome]:
    what = f"the cut line of {piece} in size {size}"
    if found is None:
        text = (
            f"whether {what} lies where it should on the finished page was not measured, for it has too few corners to"
            " be found again there; nothing is wrong by that: look at it once on the page"
        )
        yield at_file(pdf.path, "not-measured", text, "", "", size=size, severity="info")
    elif found.shown < LEAST_SHOWN:
        text = f"{what} is not there"
        yield at_file(pdf.path, "lost", text, f"{found.shown:.0%} of it", f"{LEAST_SHOWN:.0%} and more", size=size)
    elif found.off_mm > OFF_MM:
        x, y = found.place
        text = f"{what} is drawn elsewhere, at ({x:.1f}, {y:.1f}) mm of its outline"
        yield at_file(pdf.path, "off", text, f"{found.off_mm:.2f} mm off", f"{OFF_MM:g} mm", size=size)


def _by_size(built: Built, pdf: BuiltPdf) -> dict[str, list[tuple[Drawn, ...]]]:
    """What shows with a size's layer alone, by planes.

    A drawing of a file of one size is a whole piece: they are laid far from each other, alike for all papers.
    """
    if (alone := name_parts(built.pattern, pdf.path).size) is not None:
        forms = sorted(own_layers(built, pdf)[alone], key=lambda form: form.content)
        return {alone: [tuple(Drawn(form, _FAR_MM * k, 0.0) for k, form in enumerate(forms))]}
    found = planes(pdf.pages)
    return {
        size: [part for plane in found if (part := tuple(each for each in plane if each.form in forms))]
        for size, forms in own_layers(built, pdf).items()
    }


def _matches(
    drawn: Sequence[Sequence[Drawn]], pieces: Mapping[str, PieceData], ways: dict[str, Way]
) -> dict[str, Match | None]:
    """Each piece's match; `ways` holds how each was found in the last size, and is brought up to date."""
    planes = [Lines([line for each in plane for line in each.lines]) for plane in drawn]
    found: dict[str, Match | None] = {}
    wanted_mm = 0.0
    for name, piece in pieces.items():
        with looking_at(piece=name):
            outline = Outline(np.array(piece.cut_outline), piece.on_fold)
            found[name] = match(outline, planes, OFF_MM, ways.get(name))
        wanted_mm += outline.length_mm
    ways.update({name: each.way for name, each in found.items() if each and each.way})
    too_short = sum(lines.length_mm for lines in planes) < _LEAST_LINES * wanted_mm
    if too_short and 2 * sum(match is None for match in found.values()) >= len(found):
        return {name: match or NOTHING for name, match in found.items()}
    return found
