"""The designer's logo as start pages show it: areas in plain colours, out of the SVG that booklets have as it is.

It is drawn with the pages, by the same means as all that stands on them; what could not be drawn true is refused.
"""

import math
from collections.abc import Iterable, Iterator
from functools import partial
from itertools import pairwise
from typing import NamedTuple

import msgspec
import shapely

from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Affine, Point
from pipeline.geometry.windings import filled_area, oriented_rings
from pipeline.masters.copied import LOGO
from pipeline.masters.stages import OF_LOGO
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.numbers import PIXELS_PER_INCH
from pipeline.masters.svg.paint import Paints, Stroke
from pipeline.masters.svg.path_data import Subpath
from pipeline.masters.svg.reading import FileUnusableError, Reading
from pipeline.masters.svg.tree import Node, parse_svg
from pipeline.masters.svg.viewport import root_size_mm
from pipeline.masters.svg.walk import Shape, drawn_objects
from pipeline.model.findings import Finding
from pipeline.model.logo import Area, Logo

WIDEST_MM, HIGHEST_MM = 30.0, 15.0
"""A logo is printed on pages as large as fits into this."""
_CHORD_ERROR_MM = 0.005
"""As printed."""
_BEYOND_MM = 0.1
_STRETCH = 1e-3
"""How far a transform may stretch, as a share, and a stroke still be as wide in all directions."""
_OUTLINES = "Turn it into paths of the drawing itself."
_CAPS = {"butt": "flat", "round": "round", "square": "square"}
_JOINS = {"miter": "mitre", "round": "round", "bevel": "bevel"}


def read_logo(data: bytes, pattern: str) -> tuple[Logo | None, tuple[Finding, ...]]:
    """(the logo at the size in which it is printed, what is to be told of it); no logo where something blocks.

    What makes a file no drawing at all is told where the booklet's drawings are, and not again here.
    """
    guard, reading = Reading(pattern, None, None, LOGO), Reading(pattern, None, None, LOGO)
    try:
        root = parse_svg(data)
        shapes, words = drawn_objects(root, guard, PIXELS_PER_INCH)
        page = root_size_mm(root, "width", PIXELS_PER_INCH), root_size_mm(root, "height", PIXELS_PER_INCH)
    except (SvgFault, FileUnusableError):
        return None, ()
    if guard.blocked:
        return None, ()
    for text in words:
        message, found = "The logo has a text, which every program would set in another font.", text.said
        reading.tell("text", message, _OUTLINES, node=text.node, found=found, allowed="areas and strokes")
    scale = min(WIDEST_MM / page[0], HIGHEST_MM / page[1])
    painted = list(_painted(root, shapes, reading, _CHORD_ERROR_MM / scale))
    for part in painted:
        _tell_beyond(part, page, reading)
    if not painted and not reading.blocked:
        message, remedy = "The logo paints nothing.", "Give its shapes a fill or a stroke, or take the file out."
        reading.tell("nothing-painted", message, remedy, found="no area", allowed="an area in a plain colour")
    findings = tuple(msgspec.structs.replace(finding, check=OF_LOGO.id) for finding in reading.findings())
    if reading.blocked:
        return None, findings
    smaller = Affine(a=scale, d=scale)
    areas = tuple(
        Area(tuple(tuple(map(smaller.point, ring)) for ring in oriented_rings(part.area)), part.colour)
        for part in painted
    )
    finest = min((part.width_mm * scale for part in painted if part.width_mm), default=None)
    return Logo(page[0] * scale, page[1] * scale, areas, finest), findings


class _Painted(NamedTuple):
    """A fill or a stroke, with its object; mm are those of the file's page."""

    area: shapely.Geometry
    colour: str
    node: Node
    width_mm: float | None = None


def _painted(root: Node, shapes: Iterable[Shape], reading: Reading, error_mm: float) -> Iterator[_Painted]:
    """All that is painted, in its order: of a shape its fill, then its stroke."""
    paints: Paints | None = reading.attempt(root, lambda: Paints(root))
    if paints is None:
        return
    for shape in shapes:
        drawn: list[_Painted] | None = reading.attempt(shape.node, partial(_of, paints, shape, error_mm))
        yield from (part for part in drawn or () if not part.area.is_empty)


def _of(paints: Paints, shape: Shape, error_mm: float) -> list[_Painted]:
    assert shape.own is not None, "the walk knows its shapes"
    paint = paints.of(shape.own, shape.within)
    if any(above.tag in ("svg", "symbol") for above in shape.within[1:]):
        raise SvgFault("nested", "The object lies in a drawing within the drawing.", _OUTLINES, "svg", "one drawing")
    runs = [flattened(stroke.segments, error_mm) for stroke in shape.strokes if stroke.segments]
    drawn = []
    if paint.fill:
        drawn.append(_Painted(filled_area(runs, paint.even_odd), paint.fill, shape.node))
    if paint.stroke:
        width_mm = paint.stroke.width * _enlarged(shape.to_mm)
        area = shapely.unary_union([_stroked(each, paint.stroke, width_mm, error_mm) for each in shape.strokes])
        drawn.append(_Painted(area, paint.stroke.colour, shape.node, width_mm))
    return drawn


def _enlarged(to_mm: Affine) -> float:
    """By how much a map enlarges, alike in all directions. Raises SvgFault."""
    across, down = math.hypot(to_mm.a, to_mm.b), math.hypot(to_mm.c, to_mm.d)
    skewed = abs(to_mm.a * to_mm.c + to_mm.b * to_mm.d)
    if abs(across - down) > _STRETCH * across or skewed > _STRETCH * across * down:
        raise _stroke_fault("is stretched more in one direction than in the other", f"{across:.3g} x {down:.3g}")
    return across


def _stroked(stroke: Subpath, style: Stroke, width_mm: float, error_mm: float) -> shapely.Geometry:
    """The area that a stroke covers. Raises SvgFault where corners are cut in a way that is not drawn."""
    if not stroke.segments:
        if style.cap != "butt":
            raise _stroke_fault("is a point with caps", "a point")
        return shapely.Polygon()
    points = flattened(stroke.segments, error_mm)
    if style.join == "miter" and _sharpest(points, stroke.closed) > style.mitre_limit:
        raise _stroke_fault("has a corner too sharp for its mitre", f"stroke-miterlimit {style.mitre_limit:g}")
    line = shapely.LinearRing(points) if stroke.closed and len(set(points)) > 2 else shapely.LineString(points)
    return line.buffer(
        width_mm / 2,
        quad_segs=16,
        cap_style=_CAPS[style.cap],
        join_style=_JOINS[style.join],
        mitre_limit=style.mitre_limit,
    )


def _sharpest(points: tuple[Point, ...], closed: bool) -> float:
    """How far the longest mitre would reach, in widths of the stroke (SVG 1.1, 11.4, stroke-miterlimit)."""
    chords = [start.to(end) for start, end in pairwise(points) if start != end]
    turns = [abs(before.turn_rad(after)) for before, after in pairwise([*chords, *chords[: int(closed)]])]
    return max((1 / max(math.cos(turn / 2), 1e-9) for turn in turns), default=1.0)


def _stroke_fault(what: str, found: str) -> SvgFault:
    return SvgFault("stroke", f"The object's stroke {what}.", "Turn the stroke into a path.", found, "plain strokes")


def _tell_beyond(part: _Painted, page: tuple[float, float], reading: Reading) -> None:
    left, top, right, bottom = part.area.bounds
    if min(left, top) < -_BEYOND_MM or right > page[0] + _BEYOND_MM or bottom > page[1] + _BEYOND_MM:
        reading.tell(
            "beyond-page",
            "The object reaches beyond the drawing's page, where programs cut it off.",
            "Fit the page to the drawing.",
            node=part.node,
            found=f"{left:.1f} to {right:.1f} mm, {top:.1f} to {bottom:.1f} mm",
            allowed=f"0 to {page[0]:.1f} mm, 0 to {page[1]:.1f} mm",
        )
