"""Guides between the cut lines of neighbouring sizes, for who is one size at one end of an edge, another at the other.

They stand where the designer says so (`blend`), in two ways for each pair of sizes, and show only while the layers of
both are on.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise, permutations
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.lines import BLEND, Line
from pipeline.drawing.nest.stretches import Stretch, points_of
from pipeline.drawing.styles import BLEND_DASH_MM, LineStyle
from pipeline.geometry.blend import blended
from pipeline.geometry.chains import Array, arc_lengths, coordinates, places_along
from pipeline.geometry.curves import point_along
from pipeline.model.edge_places import SAME_MM, place_mm
from pipeline.model.piece_specs import EdgePart
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import edge_spec
from pipeline.model.sizes import ladders
from pipeline.sheets.layout import nest_affine

_LEAST_APART_MM = 1.0
"""Lines that are nowhere farther from each other need no guide."""


class Guide(NamedTuple):
    """A guide from the line of the first of two sizes, where it begins, to that of the second."""

    line: Line
    start: str
    end: str


def blend_guides(nest: Nest, cuts: Mapping[str, CutPiece], quarter_turns: int) -> list[Guide]:
    """The guides of a piece, edge by edge, of each pair of neighbouring sizes both ways."""
    if nest.look.terse or len(nest.sizes) < 2:
        return []
    found = []
    for edge in next(iter(cuts.values())).edges:
        blend = edge_spec(nest.pattern, nest.name, edge.name).blend
        for pair in _neighbours(nest) if blend else ():
            lines = {size: _cut_between(cuts[size], edge.name, blend, quarter_turns) for size in pair}
            for start, end in permutations(pair):
                one, other = lines[start], lines[end]
                if one is not None and other is not None and _apart_mm(one, other) > _LEAST_APART_MM:
                    stretch = Stretch(pair, points_of(np.round(blended(one, other), 4) + 0.0), False)
                    style = LineStyle(nest.look.ink, nest.look.clip_mm, BLEND_DASH_MM)
                    found.append(Guide(Line(stretch, style, BLEND), start, end))
    return found


def _neighbours(nest: Nest) -> Iterator[tuple[str, str]]:
    """Sizes of a piece that follow each other on a ladder, in the pattern's order."""
    for ladder in ladders(nest.pattern):
        for pair in pairwise(size for size in ladder.sizes if size in nest.sizes):
            first, second = sorted(pair, key=nest.sizes.index)
            yield first, second


def _cut_between(cut: CutPiece, edge: str, blend: EdgePart | bool, quarter_turns: int) -> Array | None:
    """The cut line of an edge, or of a part of it, in nest coordinates and walking order; None where it has none."""
    runs = [coordinates(run) for named in cut.edges if named.name == edge for run in named.cut_line if len(run) > 1]
    if not runs:
        return None
    line = np.vstack(runs)
    line = line[np.concatenate(([True], np.hypot(*np.diff(line, axis=0).T) > 0))]
    if isinstance(blend, EdgePart):
        places = [_on_cut_mm(cut, edge, name, line) for name in (blend.start, blend.end)]
        if None in places:
            return None
        low, high = sorted(place for place in places if place is not None)
        along = arc_lengths(line)
        inner = line[(along > low) & (along < high)]
        line = np.vstack((places_along(line, along, low), inner, places_along(line, along, high)))
    a, b, c, d, e, f = nest_affine(cut.drawn.anchor, quarter_turns)
    return np.asarray(line @ np.array(((a, b), (c, d))) + (e, f)) if arc_lengths(line)[-1] > SAME_MM else None


def _on_cut_mm(cut: CutPiece, edge: str, name: str, line: Array) -> float | None:
    """How far along the cut line of an edge it passes a named place of the seam line."""
    at_mm = place_mm(cut.drawn, edge, name)
    if at_mm is None:
        return None
    whole_mm, length_mm = cut.edge(edge).gross_length_mm, float(arc_lengths(line)[-1])
    if at_mm <= SAME_MM or at_mm >= whole_mm - SAME_MM:
        return 0.0 if at_mm <= SAME_MM else length_mm
    place, _ = point_along(cut.drawn.edge(edge).path, at_mm)
    return float(shapely.line_locate_point(shapely.linestrings(line), shapely.Point(place)))


def _apart_mm(one: Array, other: Array) -> float:
    """How far two lines are apart at most, at the same shares of their lengths."""
    shares = np.linspace(0.0, 1.0, 21)
    first, second = (places_along(line, (along := arc_lengths(line)), shares * along[-1]) for line in (one, other))
    return float(np.hypot(*(first - second).T).max())
