"""Straight pieces that need no drawing: how large they are cut, and those that are drawn all the same."""

from typing import NamedTuple

from pipeline.cutting.telling import CHECK
from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point, Vector
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern, Strip, StripMake
from pipeline.model.pieces import CutEdge, CutPiece, DrawnPiece, Edge, GrainLine, InsideLine
from pipeline.model.questions import copies
from pipeline.model.sums import lengths_of, sum_mm

FACTOR: dict[StripMake, int] = {"flat": 1, "edges-to-centre": 2, "doubled": 2, "thirds": 3, "quarters": 4}
"""Widths that a strip is cut for one that is finished (common practice)."""
SEAMED: frozenset[StripMake] = frozenset(("flat", "doubled"))
"""Makes whose long edges are sewn, so that they have an allowance; the raw edges of the others lie folded inside."""
_FOLDS: dict[StripMake, tuple[float, ...]] = {
    "flat": (),
    "edges-to-centre": (1 / 4, 3 / 4),
    "doubled": (1 / 2,),
    "thirds": (1 / 3, 2 / 3),
    "quarters": (1 / 4, 1 / 2, 3 / 4),
}


class CutSize(NamedTuple):
    """A strip as it is cut."""

    width_mm: float
    length_mm: float


def strip_cut_size(strip: Strip, length_mm: float) -> CutSize:
    """How a strip is cut whose length without allowances is given: width x its make's factor, and 2 allowances more
    where its long edges are sewn; length + 2 allowances."""
    width_mm = strip.width_mm * FACTOR[strip.make]
    if strip.make in SEAMED:
        width_mm += 2 * strip.allowance_mm
    return CutSize(width_mm, length_mm + 2 * strip.allowance_mm)


def strip_piece(strip: Strip, size: str, length_mm: float) -> CutPiece:
    """A strip as a piece: upright, edges `top`, `right`, `bottom`, `left`, its folds as inside lines."""
    cut = strip_cut_size(strip, length_mm)
    side = strip.allowance_mm if strip.make in SEAMED else 0.0
    end = strip.allowance_mm
    width_mm = cut.width_mm - 2 * side
    seam = (Point(0.0, 0.0), Point(width_mm, 0.0), Point(width_mm, length_mm), Point(0.0, length_mm))
    outer = (
        Point(-side, -end),
        Point(width_mm + side, -end),
        Point(width_mm + side, length_mm + end),
        Point(-side, length_mm + end),
    )
    names = ("top", "right", "bottom", "left")
    edges, cut_edges = [], []
    for index, name in enumerate(names):
        start, stop = seam[index], seam[(index + 1) % 4]
        cut_start, cut_stop = outer[index], outer[(index + 1) % 4]
        edges.append(Edge(name, (Line(start, stop),)))
        cut_edges.append(
            CutEdge(
                name=name,
                length_mm=start.distance(stop),
                gross_length_mm=start.distance(stop),
                allowance_mm=side if index % 2 else end,
                fold=False,
                hem=False,
                cut_line=((cut_start, cut_stop),),
                cut_length_mm=cut_start.distance(cut_stop),
            )
        )
    drawn = DrawnPiece(
        piece=strip.name,
        size=size,
        file="pattern.toml",
        edges=tuple(edges),
        grain=_grain(strip, width_mm, length_mm),
        inside=tuple(_fold_line(share * width_mm, length_mm) for share in _FOLDS[strip.make]),
        anchor=Point(0.0, 0.0),
    )
    return CutPiece(
        drawn=drawn,
        edges=tuple(cut_edges),
        seam_drawn=seam,
        cut_drawn=outer,
        seam_outline=seam,
        cut_outline=outer,
        seam_area_mm2=width_mm * length_mm,
        cut_area_mm2=cut.width_mm * cut.length_mm,
    )


def _fold_line(x: float, length_mm: float) -> InsideLine:
    return InsideLine(None, (Line(Point(x, 0.0), Point(x, length_mm)),), closed=False, kind="fold")


def _grain(strip: Strip, width_mm: float, length_mm: float) -> GrainLine:
    """A line through the strip's middle: along it, across it, or at 45° to it."""
    middle = Point(width_mm / 2, length_mm / 2)
    if strip.grain == "across":
        half = Vector(-0.4 * width_mm, 0.0)
    elif strip.grain == "bias":
        reach = 0.4 * min(width_mm, length_mm)
        half = Vector(reach, -reach)
    else:
        half = Vector(0.0, -0.4 * length_mm)
    return GrainLine(middle.plus(half.scaled(-1.0)), middle.plus(half))


def drawn_strips(
    pattern: Pattern, size: str, pieces: tuple[CutPiece, ...]
) -> tuple[tuple[CutPiece, ...], tuple[Finding, ...]]:
    """The strips of one size that are drawn as pieces too, in the order of `pattern.toml`."""
    lengths = lengths_of(pattern, size, {piece.piece: piece for piece in pieces})
    strips: list[CutPiece] = []
    findings: list[Finding] = []
    for strip in pattern.strips.values():
        if not strip.drawn or not copies(strip.cut, size).copies:
            continue
        length_mm = sum_mm(strip.length, lengths)
        if length_mm is not None and length_mm > 0 and strip.width_mm > 0:
            strips.append(strip_piece(strip, size, length_mm))
            continue
        findings.append(
            Finding(
                check=CHECK,
                code="strip-length",
                severity="block",
                pattern=pattern.name,
                size=size,
                where=f"strips.{strip.name}",
                file="pattern.toml",
                object=f"strips.{strip.name}.length",
                found="no length" if length_mm is None else f"{length_mm:.2f} mm",
                allowed="more than 0 mm",
                message=f"strips.{strip.name}: its length, {strip.length.text}, comes to nothing that can be drawn.",
                remedy="Let its sum name edges and measures that this size has, and come to more than 0 mm.",
            )
        )
    return tuple(strips), tuple(findings)
