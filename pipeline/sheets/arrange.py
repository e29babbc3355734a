"""Where stacks lie on the sheet: few pages of every paper, then short; the same input always gives the same layout."""

from collections.abc import Mapping, Sequence

from pipeline.model.findings import PatternFaultError
from pipeline.sheets.improve import improve, quality
from pipeline.sheets.layout import Layout, Placement
from pipeline.sheets.off_joints import shift_off_joints
from pipeline.sheets.packing import Packing, poses_of
from pipeline.sheets.papers import PAPERS, Tile, tile_of
from pipeline.sheets.stacks import Stack
from pipeline.sheets.starts import TASTES, begun, first_packings, lying, place
from pipeline.sheets.stay import Sold, grown, staying
from pipeline.sheets.verify import verify_layout

COMMON_TILES = (tile_of(PAPERS["a4"], 10.0), tile_of(PAPERS["letter"], 10.0))
PLACINGS = 480
"""How often a stack is placed in all, however many there are: this bounds the time that a build takes."""
_STARTS = 0.75


def arrange(
    stacks: Sequence[Stack],
    tiles: Sequence[Tile] = COMMON_TILES,
    previous: Layout | None = None,
    pins: Mapping[str, Placement] | None = None,
    effort: float = 1.0,
    sold: Sold | None = None,
) -> Layout:
    """One layout of all stacks for all `tiles`.

    `pins` stay where they are. So does what lies in `previous`, as far as it still has room there: after a fix, pieces
    that were printed before are found where they were. `effort` scales the work, 1.0 being about two seconds for a
    garment. What was `sold` comes before both, and nothing else is searched better then.
    Raises PatternFaultError where pins overlap or leave the sheet.
    """
    if not stacks:
        return Layout(0.0, 0.0, ())
    if sold is not None:
        return _as_sold(stacks, tiles, sold)
    if previous is not None and not verify_layout(stacks, previous):
        where = {place.piece: place for place in previous.placements}
        if all(where.get(piece, pin) == pin for piece, pin in (pins or {}).items()):
            return previous
    kept = _kept(stacks, previous, pins or {})
    poses = {stack.piece: poses_of(stack) for stack in stacks}
    fixed = lying(stacks, poses, kept)
    rest = [stack for stack in stacks if stack.piece not in kept]
    placings = round(PLACINGS * effort)
    packings = first_packings(rest, poses, tiles, round(placings * _STARTS), fixed)
    best = min(packings, key=quality)
    better = improve(best, poses, round(placings * (1 - _STARTS)), kept)
    layout = tidied(stacks, better, tiles, kept)
    if previous is None:
        return layout
    width, height = max(previous.width_mm, layout.width_mm), max(previous.height_mm, layout.height_mm)
    return Layout(width, height, layout.placements)


def _as_sold(stacks: Sequence[Stack], tiles: Sequence[Tile], sold: Sold) -> Layout:
    if not verify_layout(stacks, sold.layout):
        return sold.layout
    places = staying(stacks, sold)
    if len(places) < len(stacks):
        poses = {stack.piece: poses_of(stack) for stack in stacks}
        widest = max(min(pose.width_mm for pose in own) for own in poses.values())
        packing = begun(max(sold.layout.width_mm, widest), tiles, lying(stacks, poses, places))
        for stack in sorted(stacks, key=lambda stack: (-stack.region.area, stack.piece)):
            if stack.piece not in places:
                place(packing, poses[stack.piece], TASTES[1])
        places = {one.piece: one for one in tidied(stacks, packing, tiles, places).placements}
    return grown(stacks, places, sold.layout.width_mm, sold.layout.height_mm)


def _kept(stacks: Sequence[Stack], previous: Layout | None, pins: Mapping[str, Placement]) -> dict[str, Placement]:
    named = {stack.piece: stack for stack in stacks}
    kept = {piece: pin for piece, pin in pins.items() if piece in named}
    faults = verify_layout([named[piece] for piece in kept], _boundless(kept))
    if faults:
        told = "; ".join(fault.message for fault in faults)
        raise PatternFaultError(f"pinned pieces of layout.json: {told}. Move them apart there, or pin one less.")
    for former in previous.placements if previous is not None else ():
        if former.piece in named and former.piece not in kept:
            tried = {**kept, former.piece: former}
            if not verify_layout([named[piece] for piece in tried], _boundless(tried)):
                kept = tried
    return kept


def _boundless(places: Mapping[str, Placement]) -> Layout:
    return Layout(float("inf"), float("inf"), tuple(places.values()))


def tidied(
    stacks: Sequence[Stack], packing: Packing, tiles: Sequence[Tile], kept: Mapping[str, Placement] | None = None
) -> Layout:
    """The packing as a layout in the order of the stacks, joints kept off marks; `kept` places stay as they are."""
    held = kept or {}
    shift_off_joints(packing, {stack.piece: stack for stack in stacks}, tiles, tuple(held))
    places = {piece: one.pose.placement(one.left_mm, one.top_mm) for piece, one in packing.placed.items()}
    places.update(held)
    width, height = round(packing.used_width_mm, 3), round(packing.height_mm, 3)
    return Layout(width, height, tuple(places[stack.piece] for stack in stacks))
