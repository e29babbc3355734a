"""Whether a layout holds: found by search or kept from before, it is believed only after this."""

from collections.abc import Sequence
from typing import Literal

import msgspec
import numpy as np
import shapely

from pipeline.sheets.layout import Layout
from pipeline.sheets.stacks import Stack, moved

TOLERANCE_MM = 0.25
"""How deep two stacks' rooms may reach into each other: far less than the room left for sizes along the lines."""


class Problem(msgspec.Struct, frozen=True):
    """One thing that is wrong with a layout, told in a sentence."""

    code: Literal["missing", "unknown", "twice", "outside", "overlap"]
    piece: str
    message: str


def verify_layout(stacks: Sequence[Stack], layout: Layout) -> tuple[Problem, ...]:
    """All that is wrong: pieces missing, unknown or placed twice, beyond the sheet, or on top of each other."""
    named = {stack.piece: stack for stack in stacks}
    placed: dict[str, shapely.Geometry] = {}
    problems: list[Problem] = []
    for place in layout.placements:
        if place.piece not in named:
            problems.append(Problem("unknown", place.piece, f"{place.piece} is placed, but there is no such piece"))
        elif place.piece in placed:
            problems.append(Problem("twice", place.piece, f"{place.piece} is placed twice"))
        else:
            placed[place.piece] = moved(named[place.piece].region, place)
    for piece in named:
        if piece not in placed:
            problems.append(Problem("missing", piece, f"{piece} has no place"))
    for piece, shape in placed.items():
        left, top, right, bottom = shape.bounds
        beyond = max(-left, -top, right - layout.width_mm, bottom - layout.height_mm)
        if beyond > TOLERANCE_MM:
            problems.append(Problem("outside", piece, f"{piece} reaches {beyond:.1f} mm beyond the sheet"))
    names = tuple(placed)
    shapes = np.array([shape.buffer(-TOLERANCE_MM / 2, join_style="mitre") for shape in placed.values()], dtype=object)
    for first, second in shapely.STRtree(shapes).query(shapes, predicate="intersects").T:
        if first < second:
            a, b = names[first], names[second]
            area = placed[a].intersection(placed[b]).area
            problems.append(Problem("overlap", a, f"{a} and {b} lie on top of each other over {area:.0f} mm²"))
    return tuple(problems)
