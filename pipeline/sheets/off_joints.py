"""Last millimetres: stacks moved a little, so that joints miss notches, points and places for text."""

from collections.abc import Mapping, Sequence

import numpy as np
import shapely

from pipeline.geometry.chains import Array
from pipeline.sheets.packing import Packing
from pipeline.sheets.papers import Tile
from pipeline.sheets.stacks import Stack, moved

_REACH_MM = 8.0
_STEP_MM = 2.0


def joints_across(spans: Array, start_mm: float, step_mm: float) -> int:
    """How many of the spans (N x 2: low and high along one axis) have a joint within them."""
    low, high = np.floor((spans - start_mm) / step_mm).T
    return int((low != high).sum())


def shift_off_joints(
    packing: Packing, stacks: Mapping[str, Stack], tiles: Sequence[Tile], fixed: Sequence[str] = ()
) -> None:
    """Shift each stack within a few millimetres where fewer of its marks then lie on a joint and no page is added.

    `fixed` stay. Stacks never come nearer to each other than they may lie.
    """
    steps = np.arange(-_REACH_MM, _REACH_MM + _STEP_MM / 2, _STEP_MM)
    shifts = np.stack(np.meshgrid(steps, steps), axis=-1).reshape(-1, 2)
    shifts = shifts[np.lexsort((shifts[:, 1], shifts[:, 0], np.hypot(*shifts.T)))]
    for name in tuple(packing.placed):
        marks = stacks[name].marks
        if name in fixed or not marks:
            continue
        one = packing.placed[name]
        place = one.pose.placement(one.left_mm, one.top_mm)
        bounds = shapely.bounds(np.array([moved(mark, place) for mark in marks], dtype=object))

        def on_joints(shift: Array, bounds: Array = bounds) -> int:
            across, down = bounds[:, [0, 2]] + shift[0], bounds[:, [1, 3]] + shift[1]
            return sum(
                joints_across(across, 0, tile.step_x_mm) + joints_across(down, 0, tile.step_y_mm) for tile in tiles
            )

        counts = np.array([on_joints(shift) for shift in shifts])
        if counts[0] == 0 or counts.min() == counts[0]:
            continue
        pages, height = packing.pages, packing.height_mm
        packing.take(name)
        others = shapely.union_all(
            [other.pose.shape_at(other.left_mm, other.top_mm) for other in packing.placed.values()]
        )
        shapely.prepare(others)
        for index in np.argsort(counts, kind="stable"):
            left, top = one.left_mm + float(shifts[index][0]), one.top_mm + float(shifts[index][1])
            if index == 0 or counts[index] >= counts[0]:
                packing.put(one.pose, one.left_mm, one.top_mm)
                break
            inside = left >= 0 and top >= 0 and left + one.pose.width_mm <= packing.width_mm
            if not inside or top + one.pose.height_mm > height or others.intersects(one.pose.shape_at(left, top)):
                continue
            packing.put(one.pose, left, top)
            if packing.pages <= pages:
                break
            packing.take(name)
