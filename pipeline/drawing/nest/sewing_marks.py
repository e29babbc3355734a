"""Marks of what is done in sewing: where the allowance is clipped afterwards, how a pleat is laid, where a dart ends.

None looks like a notch, which is a stroke at the cut line: a clip is an open V that stands between cut line and seam
line and touches neither, its tip where the snip ends.
"""

from collections.abc import Collection, Mapping, Sequence

import shapely

from pipeline.drawing import scene
from pipeline.drawing.ink import Ink, stroke_ink
from pipeline.drawing.nest.marks import arrow_head, by_sizes
from pipeline.drawing.nest.one_size import NestPiece
from pipeline.drawing.scene import Run
from pipeline.drawing.styles import LineStyle, Look, SizeCodes
from pipeline.geometry.points import Point

Arrow = tuple[Point, Point]

CLIP_ALIKE_MM = 1.5
"""Clips of several sizes within this of each other are drawn as one: half of what a snip leaves of the allowance."""
_CLIP_DEEP_MM = 2.6
_CLIP_SHARE = 0.6
"""Of the snip's length: what is left free beside the cut line, where notches are."""
_CLIP_HALF = 0.42
"""Half of a V's width against its depth."""
_ARROW_HEAD_MM = 3.0
_EDGE_MM = 0.5
"""An arrow may begin on a fold, which is the edge of the piece."""
_TIP_RADIUS_MM = 0.9


def clip_inks(pieces: Mapping[str, NestPiece], codes: SizeCodes, look: Look) -> list[Ink]:
    """Where an allowance that curves inward is clipped after sewing; near ones of several sizes once."""
    alike_mm = max(look.alike_mm, CLIP_ALIKE_MM)
    found = by_sizes({size: piece.clips for size, piece in pieces.items()}, lambda clip: clip[1:], alike_mm)
    return [clip_ink(clip, sizes, look.colour(sizes, codes), look) for clip, sizes in found]


def clip_ink(clip: tuple[Point, Point], sizes: tuple[str, ...], colour: str, look: Look) -> Ink:
    """The V of a clip, given from the cut line to where the snip ends."""
    outer, tip = clip
    out = tip.to(outer).unit()
    deep_mm = min(_CLIP_DEEP_MM * look.marks, _CLIP_SHARE * outer.distance(tip))
    base, aside = tip.plus(out.scaled(deep_mm)), out.left().scaled(_CLIP_HALF * deep_mm)
    stroke = Run((base.plus(aside), tip, base.plus(aside.scaled(-1))))
    return stroke_ink(sizes, [stroke], LineStyle(colour, look.clip_mm))._replace(sign="clip")


def pleat_inks(pieces: Mapping[str, NestPiece], codes: SizeCodes, look: Look, ground: shapely.Geometry) -> list[Ink]:
    """Which way pleats are laid: an arrow from the fold to the place on which it is laid.

    One for all sizes where a size's arrow lies in every size (`ground`) and theirs are beside it, as long as it is.
    """
    inks: list[Ink] = []
    rows = {size: piece.arrows for size, piece in pieces.items()}
    inner = ground.buffer(_EDGE_MM)
    for k in range(max(map(len, rows.values()), default=0)):
        own = {size: arrows[k] for size, arrows in rows.items() if len(arrows) > k}
        common = next((arrow for arrow in own.values() if _serves(arrow, own.values(), inner)), None)
        shared = [(common, tuple(own))] if common else [(arrow, (size,)) for size, arrow in own.items()]
        inks += [arrow_ink(arrow, sizes, look.colour(sizes, codes), look) for arrow, sizes in shared]
    return inks


def _serves(arrow: Arrow, others: Collection[Arrow], inner: shapely.Geometry) -> bool:
    """Whether an arrow lies inside all sizes and all theirs only farther up or down."""
    run = arrow[0].to(arrow[1]).unit()
    beside = (abs(run.dot(a.to(b))) for other in others for a, b in zip(arrow, other, strict=True))
    return max(beside) <= CLIP_ALIKE_MM and bool(inner.contains(shapely.LineString(arrow)))


def arrow_ink(arrow: Arrow, sizes: tuple[str, ...], colour: str, look: Look) -> Ink:
    """A stroke with an open head at its end."""
    start, end = arrow
    head_mm = min(_ARROW_HEAD_MM * look.marks, start.distance(end) / 2)
    _, left, right = arrow_head(end, start.to(end).unit(), head_mm)
    style = LineStyle(colour, look.mark_mm)
    return stroke_ink(sizes, [Run((start, end)), Run((left, end, right))], style)._replace(sign="pleat")


def tip_inks(pieces: Mapping[str, NestPiece], codes: SizeCodes, look: Look) -> list[Ink]:
    """The points of darts: small rings."""
    found = by_sizes({size: piece.tips for size, piece in pieces.items()}, lambda tip: (tip,), look.alike_mm)
    return [tip_ink(tip, sizes, look.colour(sizes, codes), look) for tip, sizes in found]


def tip_ink(tip: Point, sizes: tuple[str, ...], colour: str, look: Look) -> Ink:
    """A ring about the point of a dart."""
    radius_mm, width_mm = _TIP_RADIUS_MM * look.marks, max(look.clip_mm, look.mark_mm / 2)
    left, top, right, bottom = shapely.Point(tip).buffer(radius_mm + width_mm).bounds
    across: Sequence[tuple[Point, Point]] = (
        (Point(tip.x - radius_mm, tip.y), Point(tip.x + radius_mm, tip.y)),
        (Point(tip.x, tip.y - radius_mm), Point(tip.x, tip.y + radius_mm)),
    )
    shape = scene.circle(tip, radius_mm, colour, width_mm)
    return Ink(sizes, (shape,), (left, top, right, bottom), strokes=tuple(across), sign="dart-tip")
