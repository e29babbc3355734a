"""The demo masters: the files are what the scripts draw, and they fit together as patterns must."""

import importlib.util
import math
import sys
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from types import ModuleType

import pytest

from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.pattern import Pattern, Seam, SideEdge
from pipeline.model.pieces import CutPiece

SOURCE = Path(__file__).resolve().parents[2] / "source"
PATTERNS = ("work-jacket", "half-circle-skirt", "child-pinafore")
CLOSES_MM = 0.01
"""The drafts solve lengths to 1e-9 mm and are written to 0.001 mm; some twenty rounded ends make up a seam."""
SECOND_DIFFERENCE_MM = MM_PER_INCH / 8
"""Smoothness of a measure over the sizes: second difference at most 1/8 in inside one grade band (common practice)."""
MASTER_BYTES = 4096

Sizes = dict[str, dict[str, CutPiece]]


@cache
def _redraw() -> ModuleType:
    spec = importlib.util.spec_from_file_location("redraw", SOURCE / "redraw.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[spec.name] = module
    spec.loader.exec_module(module)
    return module


@cache
def _cut(name: str) -> tuple[Pattern, Sizes]:
    pattern, findings = load_pattern(SOURCE / name)
    assert pattern is not None, findings
    sizes: Sizes = {}
    for size in pattern.sizes:
        drawn, told = read_size(pattern, SOURCE / name, size)
        pieces, told_of_cutting = cut_pieces(pattern, size, drawn)
        assert not [finding for finding in (*told, *told_of_cutting) if finding.severity in ("block", "warn")]
        sizes[size] = {piece.piece: piece for piece in pieces}
    return pattern, sizes


def _side_mm(pieces: dict[str, CutPiece], side: tuple[SideEdge, ...]) -> float:
    return sum(pieces[edge.piece].edge(edge.edge).length_mm for edge in side)


def _difference_mm(pieces: dict[str, CutPiece], seam: Seam) -> float:
    return _side_mm(pieces, seam.a) - _side_mm(pieces, seam.b)


@pytest.mark.parametrize("name", PATTERNS)
def test_committed_masters_are_what_the_script_draws(name: str) -> None:
    drawn = {path: text.encode() for path, text in _redraw().drawn_texts(name).items()}
    committed = {
        file.relative_to(SOURCE / name).as_posix(): file.read_bytes() for file in (SOURCE / name).glob("sizes/*/*.svg")
    }
    assert sorted(committed) == sorted(drawn)
    assert [path for path in drawn if committed[path] != drawn[path]] == []
    assert max(len(text) for text in drawn.values()) < MASTER_BYTES


@pytest.mark.parametrize("name", PATTERNS)
def test_seams_without_ease_close_in_every_size(name: str) -> None:
    pattern, sizes = _cut(name)
    plain = [seam for seam in pattern.seams.values() if (seam.ease.low, seam.ease.high) == (0.0, 0.0)]
    assert plain
    open_by = {
        (seam.name, size): _difference_mm(pieces, seam)
        for seam in plain
        for size, pieces in sizes.items()
        if all(edge.piece in pieces for edge in (*seam.a, *seam.b))
    }
    assert {key: found for key, found in open_by.items() if abs(found) > CLOSES_MM} == {}


@pytest.mark.parametrize(
    ("name", "seam", "ease_mm"),
    [("work-jacket", "armhole", 24.0), ("work-jacket", "lining-armhole", 16.0), ("work-jacket", "lining-hem", 25.0)],
)
def test_ease_is_what_the_draft_puts_in(name: str, seam: str, ease_mm: float) -> None:
    pattern, sizes = _cut(name)
    for pieces in sizes.values():
        assert _difference_mm(pieces, pattern.seams[seam]) == pytest.approx(ease_mm, abs=CLOSES_MM)


@pytest.mark.parametrize("seam", ["front-waist", "back-waist"])
def test_pinafore_skirt_is_gathered_by_half(seam: str) -> None:
    pattern, sizes = _cut("child-pinafore")
    for pieces in sizes.values():
        bodice = _side_mm(pieces, pattern.seams[seam].b)
        assert _difference_mm(pieces, pattern.seams[seam]) == pytest.approx(bodice / 2, abs=CLOSES_MM)


def _runs(pattern: Pattern) -> Iterator[tuple[str, ...]]:
    """The sizes of each grading band; a band's first step starts from the last size before it."""
    ends = [0, *(pattern.sizes.index(size) for size in pattern.bands), len(pattern.sizes) - 1]
    yield from (pattern.sizes[a : b + 1] for a, b in pairwise(ends))


@pytest.mark.parametrize("name", PATTERNS)
def test_every_edge_grows_evenly_within_a_band(name: str) -> None:
    pattern, sizes = _cut(name)
    stepped = {"pocket"}  # drawn once for a set of sizes
    jumps = {}
    for run in _runs(pattern):
        for piece in sizes[run[0]].values():
            for edge in piece.edges:
                lengths = [sizes[size][piece.piece].edge(edge.name).length_mm for size in run]
                second = [c - 2 * b + a for a, b, c in zip(lengths, lengths[1:], lengths[2:], strict=False)]
                if piece.piece not in stepped and any(abs(found) > SECOND_DIFFERENCE_MM for found in second):
                    jumps[piece.piece, edge.name] = second
    assert jumps == {}


@pytest.mark.parametrize(("piece", "length_in"), [("panel-long", 30.0), ("panel-short", 22.0)])
def test_skirt_panels_are_quarters_of_a_ring(piece: str, length_in: float) -> None:
    """Half a circle in two panels: waist = r pi / 2, hem = R pi / 2, area = (R² - r²) pi / 4, r = waist / pi.

    Coordinates are written to 0.0001 mm, which leaves an area uncertain by about the perimeter times that.
    """
    pattern, sizes = _cut("half-circle-skirt")
    for size, pieces in sizes.items():
        waist = pattern.body["waist"].sizes_mm[size] + 0.5 * MM_PER_INCH
        inner, length = waist / math.pi, length_in * MM_PER_INCH
        outer = inner + length
        cut = pieces[piece]
        assert cut.edge("waist").length_mm == pytest.approx(waist / 2, abs=0.005)
        assert cut.edge("hem").length_mm == pytest.approx(outer * math.pi / 2, abs=0.005)
        assert cut.edge("cf").length_mm == pytest.approx(length, abs=0.005)
        assert cut.edge("cb").length_mm == pytest.approx(length, abs=0.005)
        assert cut.seam_area_mm2 == pytest.approx((outer**2 - inner**2) * math.pi / 4, abs=0.5)


def test_skirt_quarter_is_wider_than_any_folded_cloth() -> None:
    pattern, sizes = _cut("half-circle-skirt")
    shell = pattern.materials["shell"]
    folded = max(width / 2 - shell.selvedge_mm for width in shell.widths_mm)
    for pieces in sizes.values():
        for piece in ("panel-long", "panel-short"):
            across = [point.x for point in pieces[piece].cut_outline]
            assert max(across) - min(across) > folded


def test_skirt_pocket_has_a_closed_area() -> None:
    """The fold opened: width x depth less what two rounded corners take, (1 - pi / 4) r² each."""
    _, sizes = _cut("half-circle-skirt")
    inch = MM_PER_INCH**2
    assert sizes["6"]["pocket"].seam_area_mm2 == pytest.approx((6 * 6.5 - 2 * (1 - math.pi / 4)) * inch, abs=0.1)


def test_jacket_is_as_large_as_asked() -> None:
    pattern, sizes = _cut("work-jacket")
    drawn = [spec for spec in pattern.pieces.values() if spec.source is None]
    assert len(drawn) >= 14
    assert len(sizes) == 11
    assert {pattern.notions["button"].count[size] for size in pattern.sizes} == {6, 7}  # type: ignore[index]
    lining = pattern.pieces["inside-pocket-lining"].cut[0]
    assert (lining.count["34"], lining.mirrored["34"]) == (1, 1)
