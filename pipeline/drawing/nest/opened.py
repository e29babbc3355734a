"""A piece on the fold as one layer of cloth: both its halves, and where it was folded."""

from collections.abc import Mapping
from typing import NamedTuple

import msgspec

from pipeline.drawing.nest.takes import TakeMarks
from pipeline.geometry.curves import Line, mapped_path
from pipeline.geometry.points import Affine, Point
from pipeline.model.pieces import CutPiece, InsideLine, MarkPoint

MIRRORED = "'"
"""Ends the keys of marks on the second half of an opened piece; no name has it."""
CENTRE = f"{MIRRORED}centre"
"""The key of the line along which an opened piece would be folded: its centre."""
_ON_FOLD_MM = 0.15
"""A fold edge is straight within 0.1 mm."""
_AT_FOLD_MM = 3.0
"""So near to the fold an arrow begins that begins on it: it lies inside the edge, which may slant there."""


class OneHalf(NamedTuple):
    """Lines and points that one half of an opened piece has alone, by name: whether that is the half that is drawn."""

    lines: Mapping[str | None, bool] = {}
    points: Mapping[str | None, bool] = {}


BOTH_HALVES = OneHalf()


def opened(cut: CutPiece, fold: tuple[Point, Point], one_half: OneHalf) -> CutPiece:
    """A piece opened along its fold: a line there, its marks on both halves or the one that has them.

    A line that lies on the fold is there once, and then it is the one that shows the fold.
    """
    mirror = _mirror(fold)
    drawn = cut.drawn
    on_fold = [line for line in cut.inside if _lies_on(line, fold)]
    centre = () if on_fold else (_centre_line(cut, fold),)
    return msgspec.structs.replace(
        cut,
        fold=None,
        seam_drawn=cut.seam_outline,
        cut_drawn=cut.cut_outline,
        slits=cut.slits
        + tuple(
            msgspec.structs.replace(slit, outer=mirror.point(slit.outer), inner=mirror.point(slit.inner))
            for slit in cut.slits
        ),
        clips=cut.clips + tuple((mirror.point(a), mirror.point(b)) for a, b in cut.clips),
        turns=(),
        rows=(),
        drawn=msgspec.structs.replace(
            drawn,
            inside=(*_lines_of_both(cut, mirror, one_half, on_fold), *centre),
            points=tuple(mark for mark in drawn.points if one_half.points.get(mark.name, True))
            + tuple(
                MarkPoint(
                    _on_other_half(mark.name, one_half.points),
                    mirror.point(mark.place),
                    (mirror.point(mark.slit[0]), mirror.point(mark.slit[1])) if mark.slit else None,
                )
                for mark in drawn.points
                if not one_half.points.get(mark.name, False)
            ),
        ),
    )


def _lines_of_both(
    cut: CutPiece, mirror: Affine, one_half: OneHalf, on_fold: list[InsideLine]
) -> tuple[InsideLine, ...]:
    own = tuple(line for line in cut.inside if line in on_fold or one_half.lines.get(line.name, True))
    return own + tuple(
        msgspec.structs.replace(
            line, name=_on_other_half(line.name, one_half.lines), path=mapped_path(line.path, mirror)
        )
        for line in cut.inside
        if line not in on_fold and not one_half.lines.get(line.name, False)
    )


def _centre_line(cut: CutPiece, fold: tuple[Point, Point]) -> InsideLine:
    """The fold from cut line to cut line."""
    along = fold[0].to(fold[1]).unit()
    reach = [along.dot(fold[0].to(place)) for place in cut.cut_drawn if _is_on(place, fold)]
    ends = [fold[0].plus(along.scaled(end)) for end in (min(reach), max(reach))]
    return InsideLine(CENTRE, (Line(*ends),), closed=False)


def _lies_on(line: InsideLine, fold: tuple[Point, Point]) -> bool:
    return all(_is_on(segment.at(t), fold) for segment in line.path for t in (0.0, 0.5, 1.0))


def _is_on(place: Point, fold: tuple[Point, Point]) -> bool:
    return abs(fold[0].to(fold[1]).unit().cross(fold[0].to(place))) <= _ON_FOLD_MM


def opened_takes(takes: TakeMarks, fold: tuple[Point, Point]) -> TakeMarks:
    """What is taken on both halves. Folded where the piece is, both halves of a pleat are one, laid one way: its arrow
    leads from where it begins on the other half to where it ends on the drawn one."""
    mirror, along = _mirror(fold), fold[0].to(fold[1]).unit()
    arrows: list[tuple[Point, Point]] = []
    for tail, head in takes.arrows:
        if abs(along.cross(fold[0].to(tail))) <= _AT_FOLD_MM:
            arrows.append((mirror.point(head), head))
        else:
            arrows += [(tail, head), (mirror.point(tail), mirror.point(head))]
    return TakeMarks(tuple(arrows), takes.tips + tuple(mirror.point(tip) for tip in takes.tips))


def _on_other_half(name: str | None, one_half: Mapping[str | None, bool]) -> str | None:
    """What a mark is called there: by its own name where it is nowhere else."""
    return name if name is None or name in one_half else name + MIRRORED


def _mirror(fold: tuple[Point, Point]) -> Affine:
    """Reflection across the fold's line: x' = 2 (x·u) u - x about a point on it."""
    along = fold[0].to(fold[1]).unit()
    a, b = 2 * along.dx * along.dx - 1, 2 * along.dx * along.dy
    start = fold[0]
    return Affine(a, b, b, -a, start.x - a * start.x - b * start.y, start.y - b * start.x + a * start.y)
