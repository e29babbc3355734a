"""The lines in a hem's allowance on which it is folded again, and those on which what is grown on is folded, from cut
line to cut line."""

from itertools import pairwise

import numpy as np
import shapely

from pipeline.cutting.bands import offset_points
from pipeline.cutting.clips import polyline
from pipeline.cutting.parts import Parts
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.runs import make_run
from pipeline.cutting.telling import Teller
from pipeline.cutting.turned import run_on
from pipeline.geometry.chains import Array
from pipeline.geometry.curves import Line
from pipeline.model.pieces import DrawnPiece, InsideLine
from pipeline.model.turns import turn_names

_COLLINEAR_MM = 1e-4


def turn_lines(drawn: DrawnPiece, parts: Parts, ring: Array, teller: Teller) -> tuple[InsideLine, ...]:
    """The fold lines of all hems that are folded more than once, and of all that is grown on, on the piece inside a cut
    line, as half where it is half. A line that the designer drew and called so is told."""
    cloth, taken = shapely.polygons(ring), {line.name for line in drawn.inside}
    found = []
    numbers: dict[str, int] = {}
    for index, rule in enumerate(parts.rules.edges):
        runs = [run.points for run in parts.runs if run.edge == index] if rule.lines_mm else []
        for out_mm in rule.lines_mm:
            numbers[rule.name] = numbers.get(rule.name, 0) + 1
            name = turn_names(rule.name, numbers[rule.name])[-1]
            if out_mm >= rule.width_mm - parts.rules.trim_mm:
                continue
            if name in taken:
                teller.tell(
                    "turn-line-drawn",
                    "block",
                    f"its fold line is called {name}, as a line is that you drew.",
                    f"Take the line out of the drawing, or give it another name: {_drawn_by(rule)} has it drawn.",
                    where=rule.name,
                    found=name,
                    allowed="no inside line of that name",
                )
            corners = parts.rules.corners[index - 1], parts.rules.corners[index]
            path = _line(runs, out_mm, cloth, (corners[0].kind != "step", corners[1].kind != "step"))
            found += [InsideLine(name, path, False, "fold")] if path else []
    return tuple(found)


def _drawn_by(rule: EdgeRule) -> str:
    return "folds" if rule.extension is None else "grown_on"


def _line(runs: list[Array], out_mm: float, cloth: shapely.Geometry, runs_on: tuple[bool, bool]) -> tuple[Line, ...]:
    """The line beside an edge, so far out: what lies on the cloth of it, run on past those of its ends that `runs_on`
    names, at corners of the piece; empty where nothing does, since another allowance covers it."""
    chain = np.vstack([runs[0], *(run[1:] for run in runs[1:])])
    left, top, right, bottom = shapely.bounds(cloth)
    far = float(np.hypot(right - left, bottom - top))
    for at_end in (False, True):
        chain = run_on(chain, at_end, far) if runs_on[at_end] else chain
    beside = offset_points(make_run(0, chain), out_mm)
    middle = shapely.line_interpolate_point(shapely.linestrings(beside), 0.5, normalized=True)
    stretches = shapely.get_parts(shapely.intersection(shapely.linestrings(beside), cloth))
    stretches = stretches[shapely.length(stretches) > 0]
    if not len(stretches):
        return ()
    nearest = stretches[int(np.argmin(shapely.distance(stretches, middle)))]
    straight = shapely.simplify(nearest, _COLLINEAR_MM)
    return tuple(Line(a, b) for a, b in pairwise(polyline(shapely.get_coordinates(straight))))
