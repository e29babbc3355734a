"""Where the joints of pages pass through a piece: what is to be read stands on one page where there is room."""

from collections.abc import Sequence
from typing import NamedTuple

import shapely

from pipeline.sheets.layout import PagePlan, Placement


class Joints(NamedTuple):
    """Straight joints of one print file, in a piece's nest coordinates in mm: upright ones at x, level ones at y."""

    at_x: tuple[float, ...]
    at_y: tuple[float, ...]


def joints_in_nest(plan: PagePlan, place: Placement) -> Joints:
    """The joints of a plan's pages as they pass a piece that lies at `place`: where each page but the first begins."""
    windows = [page.window for page in plan.pages if page.window is not None]
    lefts = sorted({round(window.left_mm - place.x_mm, 3) for window in windows})
    tops = sorted({round(window.top_mm - place.y_mm, 3) for window in windows})
    return Joints(tuple(lefts[1:]), tuple(tops[1:]))


def joint_lines(files: Sequence[Joints], bounds: tuple[float, float, float, float]) -> shapely.MultiLineString:
    """The joints of several files as lines across the bounds (left, top, right, bottom); none that misses them."""
    left, top, right, bottom = bounds
    lines = [((x, top), (x, bottom)) for joints in files for x in joints.at_x if left < x < right]
    lines += [((left, y), (right, y)) for joints in files for y in joints.at_y if top < y < bottom]
    return shapely.MultiLineString(lines)
