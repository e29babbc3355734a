"""How much longer a lay may become on cloth with a repeat, where pieces have lines that must lie on one place of it.

Cloth is put in between: a piece moves along the cloth until its matching line lies right, by less than one repeat, and
all that lies behind it moves as far. What hooks into each other moves together. So the extra is at most one repeat for
each row, the rows being the longest chain of such pieces of which each lies behind another (calculated); buying a
repeat a row is common practice. A second piece to be matched that hooks into a first is laid behind all others,
with a repeat of its own. Where the cloth repeats across too, a piece also moves sideways, for which no room is known:
then each of them is laid behind all others.
"""

from collections.abc import Collection

import numpy as np
import shapely

from pipeline.geometry.chains import Array
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay, Shapes

SCAN_MM = 1.0
"""What lies behind what is looked at along lines so far apart across the cloth."""


def extra_mm(request: LayRequest, lay: Lay, matched: Collection[str], along_mm: float, across: bool) -> float:
    """What a lay needs at most beyond its length. `matched`: items with a matching line; `along_mm`: the repeat along
    the cloth's length; `across`: whether it has one across, too."""
    marked = np.array([place.item in matched for place in lay.placed])
    if not marked.any():
        return 0.0
    shapes = Shapes(request)
    outlines = [shapes.placed(place) for place in lay.placed]
    long_mm = np.array([float(np.ptp(outline[:, 0])) for outline in outlines])
    if across:
        return float((long_mm[marked] + along_mm).sum())
    before = behind_each_other(outlines)
    group = np.argmax(before & before.T, axis=1)  # the first of those that are before and behind each other
    groups = np.unique(group)
    weight = {k: bool(marked[group == k].any()) for k in groups}
    longest: dict[int, int] = {}
    for k in sorted(groups, key=lambda k: int(before[:, k].sum())):
        ahead = [longest[other] for other in longest if before[other, k]]
        longest[k] = max(ahead, default=0) + weight[k]
    apart = 0.0
    for k in groups:
        hooked = np.sort(long_mm[marked & (group == k)])[:-1]
        apart += float((hooked + along_mm).sum())
    return max(longest.values()) * along_mm + apart


def behind_each_other(outlines: list[Array]) -> np.ndarray:
    """[i, j]: whether some of outline j lies behind some of i along the cloth, or behind what does; shape (n, n).

    Each lies behind itself.
    """
    count = len(outlines)
    polygons = [shapely.make_valid(shapely.Polygon(outline)) for outline in outlines]
    low = min(float(outline[:, 1].min()) for outline in outlines)
    high = max(float(outline[:, 1].max()) for outline in outlines)
    left = min(float(outline[:, 0].min()) for outline in outlines) - 1
    right = max(float(outline[:, 0].max()) for outline in outlines) + 1
    heights = np.arange(low + SCAN_MM / 2, high, SCAN_MM)
    scans = shapely.linestrings([[(left, y), (right, y)] for y in heights])
    rows, begins, whose = [], [], []
    for index, polygon in enumerate(polygons):
        parts, at = shapely.get_parts(shapely.intersection(polygon, scans), return_index=True)
        kept = shapely.length(parts) > 0
        rows.append(at[kept])
        begins.append(shapely.bounds(parts[kept])[:, 0])
        whose.append(np.full(int(kept.sum()), index))
    at, begin, owner = np.concatenate(rows), np.concatenate(begins), np.concatenate(whose)
    order = np.lexsort((begin, at))
    at, owner = at[order], owner[order]
    next_to = at[1:] == at[:-1]
    reach = np.eye(count, dtype=bool)
    reach[owner[:-1][next_to], owner[1:][next_to]] = True
    for _ in range(max(1, int(count).bit_length())):
        reach = reach @ reach
    return np.asarray(reach)
