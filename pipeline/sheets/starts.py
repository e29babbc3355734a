"""First packings: each stack in turn to its best place, for several widths, orders and tastes."""

from collections.abc import Mapping, Sequence

import msgspec

from pipeline.sheets.layout import Placement
from pipeline.sheets.packing import Packing, Pose, Taste
from pipeline.sheets.papers import Tile
from pipeline.sheets.stacks import Stack, moved

TASTES = (
    Taste(1000.0, lower_end=False),
    Taste(1000.0),
    Taste(300.0, lower_end=False),
    Taste(100.0, lower_end=False),
    Taste(300.0),
)
"""Best first, by the mean over 3 garments, 3 of one size and 3 skirts; none is best for all, so each is tried."""
_WIDTHS = 4
_AREA, _AROUND, _BOX = range(3)
_ALONE = (
    (2, _AROUND, TASTES[4]),
    (1, _BOX, Taste(10_000.0, lower_end=False)),
    (2, _AREA, TASTES[4]),
    (2, _BOX, TASTES[4]),
    (1, _BOX, TASTES[0]),
)
"""Width, order and taste to try first for one tiled paper alone: together the best of all for most of ten (three sizes
of a jacket, two of a pinafore, on A4 and Letter each)."""

Poses = Mapping[str, Sequence[Pose]]


class Fixed(msgspec.Struct, frozen=True):
    """A stack that lies already and stays: its pose and the corner of its bounding box."""

    pose: Pose
    left_mm: float
    top_mm: float


def lying(stacks: Sequence[Stack], poses: Poses, places: Mapping[str, Placement]) -> list[Fixed]:
    """The stacks that have a place, there."""
    fixed: list[Fixed] = []
    for stack in stacks:
        if stack.piece in places:
            at, own = places[stack.piece], poses[stack.piece]
            turns = at.quarter_turns % 4
            # a turn that looks like an earlier one has no pose of its own
            pose = next((pose for pose in own if pose.quarter_turns == turns), own[turns % len(own)])
            left, top, _, _ = moved(stack.region, at).bounds
            fixed.append(Fixed(pose, max(0.0, left), max(0.0, top)))
    return fixed


def sheet_widths(poses: Poses, tiles: Sequence[Tile], fixed: Sequence[Fixed] = ()) -> list[float]:
    """Widths worth trying: whole tiles of the narrowest paper, from the fewest that hold every stack."""
    tile = min(tiles, key=lambda tile: tile.width_mm)
    least = max(min(pose.width_mm for pose in turns) for turns in poses.values())
    least = max([least, *(one.left_mm + one.pose.width_mm for one in fixed)])
    area = sum(turns[0].shape.area for turns in poses.values())
    first = 1
    while _tiles_wide(tile, first) < least - 1e-6:
        first += 1
    # beyond twice as wide as long, a sheet only wastes its last row
    most = max(first, 2 * round(area**0.5 / tile.step_x_mm))
    return [_tiles_wide(tile, count) for count in range(first, min(first + _WIDTHS, most + 1))]


def _tiles_wide(tile: Tile, count: int) -> float:
    return count * tile.step_x_mm + (tile.width_mm - tile.step_x_mm)


def place(packing: Packing, poses: Sequence[Pose], taste: Taste) -> None:
    """Put a stack to its best place. Raises ValueError where it is wider than the sheet in every turn."""
    found = packing.best(poses, taste)
    if found is None:
        raise ValueError(f"{poses[0].piece} is wider than the sheet of {packing.width_mm:g} mm in every turn")
    packing.put(*found)


def begun(width_mm: float, tiles: Sequence[Tile], fixed: Sequence[Fixed]) -> Packing:
    """A sheet on which only what is fixed lies."""
    packing = Packing(width_mm, tiles)
    for one in fixed:
        packing.put(one.pose, one.left_mm, one.top_mm)
    return packing


def first_packings(
    stacks: Sequence[Stack],
    poses: Poses,
    tiles: Sequence[Tile],
    placings: int,
    fixed: Sequence[Fixed] = (),
) -> list[Packing]:
    """At least two packings of `stacks` around what is fixed, and as many as `placings` of a stack allow."""

    def box(stack: Stack) -> float:
        return poses[stack.piece][0].width_mm * poses[stack.piece][0].height_mm

    def around(stack: Stack) -> float:
        return poses[stack.piece][0].width_mm + poses[stack.piece][0].height_mm

    orders = [
        sorted(stacks, key=lambda stack: (-measure(stack), stack.piece))
        for measure in (lambda stack: stack.region.area, around, box)
    ]
    widths = sheet_widths(poses, tiles, fixed)
    tries = [(width, order, taste) for taste in TASTES for order in orders for width in widths]
    if len(tiles) == 1:
        alone = [(widths[n], orders[order], taste) for n, order, taste in _ALONE if n < len(widths)]
        tries = [*alone, *(one for one in tries if one not in alone)]
    packings: list[Packing] = []
    for width, order, taste in tries[: max(2, placings // max(1, len(stacks)))]:
        packing = begun(width, tiles, fixed)
        for stack in order:
            place(packing, poses[stack.piece], taste)
        packings.append(packing)
    return packings
