"""The lines in a hem's allowance on which it is folded again, from cut line to cut line."""

from itertools import pairwise

import numpy as np
import shapely

from pipeline.cutting.bands import offset_points
from pipeline.cutting.clips import polyline
from pipeline.cutting.outline import Parts
from pipeline.cutting.runs import make_run
from pipeline.cutting.telling import Teller
from pipeline.cutting.turned import run_on
from pipeline.geometry.chains import Array
from pipeline.geometry.curves import Line
from pipeline.model.pieces import DrawnPiece, InsideLine
from pipeline.model.turns import turn_names

_COLLINEAR_MM = 1e-4


def turn_lines(drawn: DrawnPiece, parts: Parts, ring: Array, teller: Teller) -> tuple[InsideLine, ...]:
    """The fold lines of all hems that are folded more than once, on the piece inside a cut line, as half where it is
    half. A line that the designer drew and called so is told."""
    cloth, taken = shapely.polygons(ring), {line.name for line in drawn.inside}
    found = []
    for index, rule in enumerate(parts.rules.edges):
        runs = [run.points for run in parts.runs if run.edge == index] if rule.folds_mm else []
        for name, out_mm in zip(turn_names(rule.name, len(rule.folds_mm)), rule.folds_mm, strict=True):
            if out_mm >= rule.width_mm - parts.rules.trim_mm:
                continue
            if name in taken:
                teller.tell(
                    "turn-line-drawn",
                    "block",
                    f"its fold line is called {name}, as a line is that you drew.",
                    "Take the line out of the drawing, or give it another name: folds has it drawn.",
                    where=rule.name,
                    found=name,
                    allowed="no inside line of that name",
                )
            path = _line(runs, out_mm, cloth)
            found += [InsideLine(name, path, False, "fold")] if path else []
    return tuple(found)


def _line(runs: list[Array], out_mm: float, cloth: shapely.Geometry) -> tuple[Line, ...]:
    """The line beside an edge, so far out: what lies on the cloth of it, run on past both its ends; empty where nothing
    does, since another allowance covers it."""
    chain = np.vstack([runs[0], *(run[1:] for run in runs[1:])])
    left, top, right, bottom = shapely.bounds(cloth)
    far = float(np.hypot(right - left, bottom - top))
    beside = offset_points(make_run(0, run_on(run_on(chain, True, far), False, far)), out_mm)
    middle = shapely.line_interpolate_point(shapely.linestrings(beside), 0.5, normalized=True)
    stretches = shapely.get_parts(shapely.intersection(shapely.linestrings(beside), cloth))
    stretches = stretches[shapely.length(stretches) > 0]
    if not len(stretches):
        return ()
    nearest = stretches[int(np.argmin(shapely.distance(stretches, middle)))]
    straight = shapely.simplify(nearest, _COLLINEAR_MM)
    return tuple(Line(a, b) for a, b in pairwise(polyline(shapely.get_coordinates(straight))))
