"""Where stacks lie on a copy shop's sheets and rolls: whole where a sheet holds them, few sheets, a short roll."""

import math
from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import NamedTuple

import msgspec

from pipeline.sheets.improve import improve, shorten
from pipeline.sheets.layout import HEADER_MM, LargeLayout, Layout
from pipeline.sheets.off_joints import shift_off_joints
from pipeline.sheets.packing import Packing, Placed, Pose, Taste, poses_of
from pipeline.sheets.papers import LARGE_MARGIN_MM, Paper, Tile
from pipeline.sheets.stacks import Stack, moved
from pipeline.sheets.starts import Poses, lying, place
from pipeline.sheets.stay import BEYOND_MM, Bounds, Sold, staying
from pipeline.sheets.unbroken import Unbroken
from pipeline.sheets.verify import TOLERANCE_MM, verify_layout

PLACINGS = 160
"""How often a stack is placed to make the best of the first packings better."""
_DEAR_MM = 1100.0
_TASTE = Taste(10_000.0)
_LONGER = (1.0, 1.04, 1.1, 1.2)
"""Pages of a roll that are tried, in shares of the least length."""

Turn = tuple[str, int]
"""A piece and its quarter turns, 0 to 3."""


class _Found(NamedTuple):
    """A packing on pages of one window, how long these must be, and what is compared, least first: sheets or mm of
    roll, then how little the emptiest page holds.
    """

    packing: Packing
    window: Unbroken
    page_mm: float
    cost: float
    unused: float

    @property
    def rank(self) -> tuple[float, float]:
        return round(self.cost, 1), round(self.unused, 3)


def arrange_large(
    stacks: Sequence[Stack],
    paper: Paper,
    saved: LargeLayout | None = None,
    drawn: Collection[Turn] = (),
    effort: float = 1.0,
    areas: Mapping[str, float] | None = None,
) -> LargeLayout:
    """The arrangement of all stacks for one sheet or roll; `saved` is it, as long as it holds.

    Where there are `areas`, those of the stacks as they were, `saved` was sold: only what has no room there moves.

    A sheet stands or lies, whichever cuts fewer stacks that the paper holds whole, then whichever needs fewer sheets.
    A roll is as short as it is found; where a stack is wider than the roll, or all are longer than a page can be, it is
    several pages of equal length. Each turn of a stack must be drawn: turns that are not in `drawn` are taken where a
    stack is cut otherwise, or a sheet saved; all are alike where it is empty. `effort` scales the work.
    """
    if not stacks:
        return LargeLayout(0.0, 0.0, Layout(0.0, 0.0, ()))
    if saved is not None and holds(stacks, paper, saved):
        return saved
    if saved is not None and areas is not None and (sold := _as_sold(stacks, paper, saved, areas, drawn)) is not None:
        return sold
    poses, placings = {stack.piece: poses_of(stack) for stack in stacks}, round(PLACINGS * effort)
    windows = _windows(poses, paper)
    found = _least(_first(window, stacks, known_poses(poses, window, drawn), paper) for window in windows)
    if paper.kind == "roll" and found.packing.pages == 1:
        found = _found(shorten(found.packing, known_poses(poses, found.window, drawn), placings), found.window, paper)
    elif paper.kind == "sheet" and found.cost > _bound(poses, found.window):
        dear = _dear(poses, drawn)
        turned = _least(_packed(window, stacks, dear, paper) for window in windows)
        found = min(found, turned, key=lambda one: one.cost)
        if found.cost > _bound(poses, found.window):
            better = _found(improve(_again(found.packing), dear, placings), found.window, paper)
            found = min(found, better, key=lambda one: one.cost)
    return _laid(stacks, found)


def _as_sold(
    stacks: Sequence[Stack], paper: Paper, saved: LargeLayout, areas: Mapping[str, float], drawn: Collection[Turn]
) -> LargeLayout | None:
    """What was sold, with as few stacks elsewhere as can be; None where the paper or a stack needs other sheets."""
    window = Unbroken(saved.sheet_width_mm, saved.sheet_height_mm)
    poses = {stack.piece: poses_of(stack) for stack in stacks}
    others = [other for other in _windows(poses, paper) if _shows(window, other, paper)]
    if not others:
        return None
    one_page = paper.kind == "roll" and saved.layout.height_mm <= window.height_mm + 1e-6
    if one_page:  # it may become longer
        window = others[0]
    elif any(_fewest(window, own) > _fewest(others[0], own) for own in poses.values()):
        return None
    within = BEYOND_MM

    def fits(bounds: Bounds) -> bool:
        left, top, right, bottom = bounds
        across = window.touched(left + within, top + within, right - within, bottom - within)
        return across <= max(1, window.pages(right - left - 2 * within, bottom - top - 2 * within))

    places = staying(stacks, Sold(saved.layout, areas), fits)
    tile = Tile(window.width_mm, window.height_mm, window.width_mm, window.height_mm)
    columns = max(1, round(saved.layout.width_mm / window.width_mm))
    packing = Packing(columns * window.width_mm, (tile,), window)
    for there in lying(stacks, poses, places):
        packing.put(there.pose, there.left_mm, there.top_mm)
    known = known_poses(poses, window, drawn)
    for stack in sorted(stacks, key=lambda stack: (-stack.region.area, stack.piece)):
        if stack.piece not in places:
            if min(pose.width_mm for pose in known[stack.piece]) > packing.width_mm:
                return None
            place(packing, known[stack.piece], _TASTE)
            one = packing.placed[stack.piece]
            places[stack.piece] = one.pose.placement(one.left_mm, one.top_mm)
    rows = 1 + max(_last_row(one, window) for one in packing.placed.values())
    page_mm = window.height_mm
    if one_page and rows == 1:
        page_mm = max(saved.sheet_height_mm, _deepest_mm(packing, window))
    rows = max(rows, round(saved.layout.height_mm / page_mm)) if not one_page else rows
    layout = Layout(packing.width_mm, rows * page_mm, tuple(places[stack.piece] for stack in stacks))
    return LargeLayout(window.width_mm, page_mm, layout)


def turns_of(layout: Layout) -> frozenset[Turn]:
    """The turns in which a layout's pieces must be drawn."""
    return frozenset((place.piece, place.quarter_turns % 4) for place in layout.placements)


def holds(stacks: Sequence[Stack], paper: Paper, arranged: LargeLayout) -> bool:
    """Whether an arrangement is one of these stacks for this paper, and cuts none more than it must."""
    window = Unbroken(arranged.sheet_width_mm, arranged.sheet_height_mm)
    poses = {stack.piece: poses_of(stack) for stack in stacks}
    if not any(_shows(window, other, paper) for other in _windows(poses, paper)):
        return False
    if verify_layout(stacks, arranged.layout):
        return False
    named = {stack.piece: stack for stack in stacks}
    for one in arranged.layout.placements:
        bounds = moved(named[one.piece].region, one).buffer(-TOLERANCE_MM).bounds
        if window.touched(*bounds) > _fewest(window, poses[one.piece]):
            return False
    return True


def _shows(window: Unbroken, other: Unbroken, paper: Paper) -> bool:
    """Whether a saved window is one of the paper: as large, of a roll also shorter."""
    wide, high = window.width_mm - other.width_mm, window.height_mm - other.height_mm
    return abs(wide) < 1e-3 and (-other.height_mm < high < 1e-3 if paper.kind == "roll" else abs(high) < 1e-3)


def _windows(poses: Poses, paper: Paper) -> list[Unbroken]:
    """What a page shows, standing or lying: those that cut fewest stacks."""
    around = 2 * LARGE_MARGIN_MM
    windows = [Unbroken(wide - around, high - around - HEADER_MM) for wide, high in paper.sides]
    cut = [sum(_fewest(window, own) > 1 for own in poses.values()) for window in windows]
    return [window for window, count in zip(windows, cut, strict=True) if count == min(cut)]


def _fewest(window: Unbroken, poses: Sequence[Pose]) -> int:
    """Pages that a stack needs at least."""
    return min(window.pages(pose.width_mm, pose.height_mm) for pose in poses)


def known_poses(poses: Poses, window: Unbroken, drawn: Collection[Turn]) -> dict[str, list[Pose]]:
    """The turns that cut each stack least; of them those that are drawn, where any is."""
    known: dict[str, list[Pose]] = {}
    for piece, own in poses.items():
        fewest = _fewest(window, own)
        whole = [pose for pose in own if window.pages(pose.width_mm, pose.height_mm) == fewest]
        known[piece] = [pose for pose in whole if (piece, pose.quarter_turns) in drawn] or whole
    return known


def _dear(poses: Poses, drawn: Collection[Turn]) -> dict[str, list[Pose]]:
    """All turns, those that are not drawn yet only where a stack then lies much higher."""
    return {
        piece: [
            pose
            if not drawn or (piece, pose.quarter_turns) in drawn
            else msgspec.structs.replace(pose, dear_mm=_DEAR_MM)
            for pose in own
        ]
        for piece, own in poses.items()
    }


def _bound(poses: Poses, window: Unbroken) -> int:
    """No arrangement has fewer sheets: the area of all stacks over that of a window."""
    return math.ceil(sum(own[0].shape.area for own in poses.values()) / (window.width_mm * window.height_mm))


def _least(found: Iterable[_Found]) -> _Found:
    return min(found, key=lambda one: one.rank)


def _first(window: Unbroken, stacks: Sequence[Stack], poses: Poses, paper: Paper) -> _Found:
    """The best of a few packings; of a roll, on shorter pages too where one page is not enough."""
    best = _packed(window, stacks, poses, paper)
    if paper.kind == "sheet" or best.packing.pages == 1:
        return best
    tallest = max(min(pose.height_mm for pose in own) for own in poses.values())
    fair = max(tallest, best.packing.height_mm / best.packing.pages)
    heights = {min(window.height_mm, float(math.ceil(share * least))) for share in _LONGER for least in (fair, tallest)}
    shorter = (Unbroken(window.width_mm, height) for height in sorted(heights))
    return _least([best, *(_packed(one, stacks, poses, paper) for one in shorter)])


def _packed(window: Unbroken, stacks: Sequence[Stack], poses: Mapping[str, Sequence[Pose]], paper: Paper) -> _Found:
    """The best packing of several orders."""
    narrowest = max(min(pose.width_mm for pose in own) for own in poses.values())
    width = window.width_mm * max(1, math.ceil((narrowest - 1e-6) / window.width_mm))
    tile = Tile(window.width_mm, window.height_mm, window.width_mm, window.height_mm)
    found: list[_Found] = []
    for order in _orders(stacks):
        packing = Packing(width, (tile,), window)
        for stack in order:
            place(packing, poses[stack.piece], _TASTE)
        found.append(_found(packing, window, paper))
    return _least(found)


def _orders(stacks: Sequence[Stack]) -> list[list[Stack]]:
    def sides(stack: Stack) -> tuple[float, float]:
        left, top, right, bottom = stack.region.bounds
        return right - left, bottom - top

    measures = (
        lambda stack: stack.region.area,
        lambda stack: max(sides(stack)),
        lambda stack: sum(sides(stack)),
        lambda stack: math.prod(sides(stack)),
    )
    return [sorted(stacks, key=lambda stack: (-measure(stack), stack.piece)) for measure in measures]


def _again(packing: Packing) -> Packing:
    """The same packing, to be changed."""
    (pages,) = packing.papers
    copy = Packing(packing.width_mm, (pages.tile,), packing.unbroken)
    for one in packing.placed.values():
        copy.put(one.pose, one.left_mm, one.top_mm)
    return copy


def _found(packing: Packing, window: Unbroken, paper: Paper) -> _Found:
    (pages,) = packing.papers
    used = pages.count[pages.count > 0]
    page_mm = window.height_mm if paper.kind == "sheet" else _deepest_mm(packing, window)
    cost = float(len(used)) if paper.kind == "sheet" else len(used) * (page_mm + HEADER_MM + 2 * LARGE_MARGIN_MM)
    return _Found(packing, window, page_mm, cost, 1.0 - float(used.min() / used.max()))


def _deepest_mm(packing: Packing, window: Unbroken) -> float:
    """How far down the fullest page reaches, in whole millimetres; all of it where a stack is cut across."""
    deepest = 0.0
    for one in packing.placed.values():
        down = one.top_mm - _row(one, window) * window.height_mm + one.pose.height_mm
        deepest = max(deepest, math.ceil(down - 1e-6))
    return min(window.height_mm, deepest)


def _row(one: Placed, window: Unbroken) -> int:
    return math.floor((one.top_mm + 1e-6) / window.height_mm)


def _last_row(one: Placed, window: Unbroken) -> int:
    return math.ceil((one.top_mm + one.pose.height_mm - 1e-6) / window.height_mm) - 1


def _touched(one: Placed, window: Unbroken) -> int:
    right, bottom = one.left_mm + one.pose.width_mm, one.top_mm + one.pose.height_mm
    return window.touched(one.left_mm, one.top_mm, right, bottom)


def _laid(stacks: Sequence[Stack], found: _Found) -> LargeLayout:
    """Pages moved up to where the one above ends; what is cut moved a little, so that joints miss its marks."""
    packing, window = found.packing, found.window
    cut = {piece: one for piece, one in packing.placed.items() if _touched(one, window) > 1}
    if cut:
        (pages,) = packing.papers
        shift_off_joints(
            packing, {stack.piece: stack for stack in stacks}, (pages.tile,), [*(packing.placed.keys() - cut)]
        )
        for piece, former in cut.items():
            if _touched(packing.placed[piece], window) > _touched(former, window):
                packing.take(piece)
                packing.put(former.pose, former.left_mm, former.top_mm)
    spare = window.height_mm - found.page_mm
    places = {
        piece: one.pose.placement(one.left_mm, one.top_mm - _row(one, window) * spare)
        for piece, one in packing.placed.items()
    }
    rows = 1 + max(_last_row(one, window) for one in packing.placed.values())
    layout = Layout(packing.width_mm, rows * found.page_mm, tuple(places[stack.piece] for stack in stacks))
    return LargeLayout(window.width_mm, found.page_mm, layout)
