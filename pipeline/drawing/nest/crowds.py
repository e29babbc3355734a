"""How much of a nest's cut lines lies closer to another size's than a line is wide: there they are one bar."""

import numpy as np
import shapely

from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.lines import cut_lines
from pipeline.geometry.chains import coordinates

_EVERY_MM = 5.0


def crowded_share(nest: Nest) -> float:
    """The share of their length, looked at every 5 mm, at which cut lines touch one that is drawn beside them."""
    lines = [shapely.linestrings(coordinates(line.stretch.ring)) for line in cut_lines(nest)]
    tree = shapely.STRtree(lines)
    touching = looked_at = 0
    for index, line in enumerate(lines):
        places = shapely.line_interpolate_point(line, np.arange(0.0, line.length, _EVERY_MM))
        of, beside = tree.query(places, predicate="dwithin", distance=nest.look.cut_mm)
        touching += len(np.unique(of[beside != index]))
        looked_at += len(places)
    return touching / looked_at if looked_at else 0.0
