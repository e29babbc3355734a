"""What a projector throws on the table: pieces of one material, whole, with the grain along the long side."""

from collections.abc import Mapping, Sequence

from shapely.geometry import LineString

from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Cuts
from pipeline.model.questions import copies, owner_of
from pipeline.sheets.layout import Layout, Placement
from pipeline.sheets.packing import Packing, Pose, Taste, pose_of
from pipeline.sheets.papers import MOST_PAGE_MM
from pipeline.sheets.stacks import Stack, stacks_of, turned
from pipeline.sheets.starts import begun, lying
from pipeline.sheets.stay import BEYOND_MM, Bounds, Sold, grown, staying
from pipeline.sheets.verify import verify_layout

LABEL_ROOM_MM = 8.0
"""Sizes are written large for a projector."""
BORDER_MM = 40.0
"""Room around the pieces for corner brackets and ticks."""
PANEL_ROOM_MM = 800.0
"""What the panel below the pieces takes of the longest page, at the most, with the border between."""
_WIDER = 1.25
_NARROWER = 0.9


def projector_cuts(pattern: Pattern, cut: Cuts, material: str) -> dict[str, Mapping[str, CutPiece]]:
    """Those pieces that are cut of a material, in the sizes in which they are."""
    shown: dict[str, Mapping[str, CutPiece]] = {}
    for piece, sizes in cut.items():
        entries = owner_of(pattern, piece).cut
        shown[piece] = {size: one for size, one in sizes.items() if copies(entries, size, material).copies}
    return {piece: sizes for piece, sizes in shown.items() if sizes}


def projector_stacks(pattern: Pattern, cuts: Cuts) -> tuple[Stack, ...]:
    """Pieces as a projector shows them, whole where the pattern says so."""
    return stacks_of(pattern, cuts, pattern.projector.unfold, LABEL_ROOM_MM)


def arrange_projector(
    stacks: Sequence[Stack], width_mm: float, one_way: bool = False, sold: Sold | None = None
) -> Layout:
    """One sheet, its grain along x, at most as wide (y) as the table and as short (x) as it can be found.

    Narrower where it would be wider than long: few small pieces need no whole table. Wider than the table where it
    would be longer than a page can be. `one_way` turns all tops the same way. What was `sold` stays where it has room.
    Raises ValueError where even a square of the largest page does not hold the pieces.
    """
    longest = MOST_PAGE_MM - 2 * BORDER_MM
    most = longest - PANEL_ROOM_MM
    poses = {stack.piece: _along_grain(stack, one_way) for stack in stacks}
    if sold is not None and (layout := _as_sold(stacks, poses, sold, longest)) is not None:
        return layout
    narrowest = max((turns[0].width_mm for turns in poses.values()), default=0.0)
    width = max(narrowest, min(most, width_mm - 2 * BORDER_MM))
    while width <= most:
        packing = _shortest(stacks, poses, width)
        if packing.height_mm <= longest:
            while packing.height_mm < packing.used_width_mm and width > narrowest:
                width = max(narrowest, _NARROWER * packing.used_width_mm)
                packing = _shortest(stacks, poses, width)
            return _laid_down(stacks, packing)
        width = most if width < most < _WIDER * width else _WIDER * width
    raise ValueError(
        f"the pieces need a page of more than {MOST_PAGE_MM:g} x {MOST_PAGE_MM:g} mm for a projector; leave the"
        ' format "projector" out of [print] formats'
    )


def _as_sold(stacks: Sequence[Stack], poses: Mapping[str, Sequence[Pose]], sold: Sold, longest: float) -> Layout | None:
    """What was sold, with as few stacks elsewhere as can be; None where it has to be wider or becomes too long."""
    if not verify_layout(stacks, sold.layout):
        return sold.layout
    wide = sold.layout.height_mm

    def fits(bounds: Bounds) -> bool:
        return bounds[3] <= wide + BEYOND_MM

    turns = {piece: {(pose.quarter_turns + 3) % 4 for pose in own} for piece, own in poses.items()}
    there = tuple(place for place in sold.layout.placements if place.quarter_turns in turns.get(place.piece, ()))
    kept = Sold(Layout(sold.layout.width_mm, wide, there), sold.areas)
    places = staying(stacks, kept, fits)
    upright = {
        piece: Placement(piece, wide - place.y_mm, place.x_mm, (place.quarter_turns + 1) % 4)
        for piece, place in places.items()
    }
    packing = begun(wide, (), lying(stacks, poses, upright))
    for stack in sorted(stacks, key=lambda stack: (-stack.region.area, stack.piece)):
        if stack.piece not in places:
            found = packing.best(poses[stack.piece], Taste(0.0))
            if found is None:
                return None
            packing.put(*found)
            places[stack.piece] = _lying_down(found[0].placement(*found[1:]), wide)
    layout = grown(stacks, places, sold.layout.width_mm, wide)
    return layout if layout.width_mm <= longest else None


def _lying_down(upright: Placement, wide_mm: float) -> Placement:
    """A place of the sheet turned a quarter to the left."""
    x, y = upright.y_mm, wide_mm - upright.x_mm
    return Placement(upright.piece, round(x, 3), round(y, 3), (upright.quarter_turns + 3) % 4)


def _shortest(stacks: Sequence[Stack], poses: Mapping[str, Sequence[Pose]], width_mm: float) -> Packing:
    return min((_packed(order, poses, width_mm) for order in _orders(stacks)), key=lambda one: one.height_mm)


def _along_grain(stack: Stack, one_way: bool) -> tuple[Pose, ...]:
    """Turns that hold the grain upright here, since the sheet is turned at the end; the top up where it matters."""
    rises: list[float] = []
    for turns in range(4):
        (_, bottom), (_, top) = turned(LineString(stack.grain), turns).coords
        rises.append(bottom - top)
    held = [rise if one_way else abs(rise) for rise in rises]
    return tuple(pose_of(stack, turns) for turns in range(4) if held[turns] > max(held) - 1e-6)


def _orders(stacks: Sequence[Stack]) -> tuple[list[Stack], list[Stack]]:
    def tall(stack: Stack) -> float:
        left, top, right, bottom = stack.region.bounds
        return max(right - left, bottom - top)

    return sorted(stacks, key=lambda stack: -stack.region.area), sorted(stacks, key=lambda stack: -tall(stack))


def _packed(order: Sequence[Stack], poses: Mapping[str, Sequence[Pose]], width_mm: float) -> Packing:
    packing = Packing(width_mm, ())
    for stack in order:
        found = packing.best(poses[stack.piece], Taste(0.0))
        assert found is not None, "the sheet is as wide as the widest stack"
        packing.put(*found)
    return packing


def _laid_down(stacks: Sequence[Stack], packing: Packing) -> Layout:
    """The sheet turned a quarter to the left: up becomes left, left becomes bottom; never shorter (x) than wide."""
    places: dict[str, Placement] = {}
    for piece, one in packing.placed.items():
        places[piece] = _lying_down(one.pose.placement(one.left_mm, one.top_mm), packing.used_width_mm)
    width, length = round(packing.used_width_mm, 3), round(packing.height_mm, 3)
    return Layout(max(length, width), width, tuple(places[stack.piece] for stack in stacks))
