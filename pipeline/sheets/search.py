"""A longer search for the paper layout: an engine that packs strips, several widths, the best saved.

The engine is handed in: this room starts no process and knows no clock. What it answers is held against the outlines.
"""

import math
from collections.abc import Callable, Collection, Sequence
from itertools import product

import msgspec
import shapely

from pipeline.sheets.arrange import COMMON_TILES, arrange, lying, tidied
from pipeline.sheets.improve import improve, quality
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import HEADER_MM, LargeLayout, Layout, Placement, SavedLayout
from pipeline.sheets.packing import Packing, poses_of
from pipeline.sheets.papers import LARGE_MARGIN_MM, Paper, Tile
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.stacks import Stack, moved
from pipeline.sheets.starts import Poses, begun, sheet_widths
from pipeline.sheets.unbroken import Unbroken
from pipeline.sheets.verify import verify_layout
from pipeline.sheets.whole import Turn, arrange_large, holds, known_poses

_SIMPLER_MM = 0.2
_PLACINGS = 240
_LONGER = 8.0


class StripItem(msgspec.Struct, frozen=True):
    """An outline that lies once on the strip, at one of these angles in degrees, from x towards y."""

    shape: tuple[tuple[float, float], ...]
    angles: tuple[float, ...]


class StripPlace(msgspec.Struct, frozen=True):
    """Where an item lies: turned about (0, 0), then moved."""

    x_mm: float
    y_mm: float
    angle_deg: float


PackStrip = Callable[[float, Sequence[StripItem], int], Sequence[StripPlace] | None]
"""Packs items on a strip of a height (y), short in x, by a seed; places in the items' order, None if it failed."""


def search_layout(
    stacks: Sequence[Stack],
    pack: PackStrip,
    tiles: Sequence[Tile] = COMMON_TILES,
    saved: SavedLayout | None = None,
    rounds: int = 1,
) -> Layout:
    """The best of what was saved so far, of what a build arranges, and of what the engine finds on several widths.
    In each of `rounds` it begins from another seed.

    The engine cannot hold a piece in its place: where pieces are pinned, a build's method works longer instead.
    """
    if not stacks:
        return Layout(0.0, 0.0, ())
    poses = {stack.piece: poses_of(stack) for stack in stacks}
    pins = saved.pins if saved is not None else {}
    layouts = [arrange(stacks, tiles, pins=pins, effort=_LONGER if pins else 1.0)]
    if saved is not None and not verify_layout(stacks, saved.layout):
        layouts.insert(0, saved.layout)

    def rank(layout: Layout) -> tuple[float, float]:
        return quality(_packed(stacks, poses, layout, tiles))

    if pins:
        return min(layouts, key=rank)
    items = [StripItem(_outline(stack), (0.0, 90.0, 180.0, 270.0)) for stack in stacks]
    for width, seed in product(sheet_widths(poses, tiles), range(1, rounds + 1)):
        found = pack(width, items, seed)
        for layout in _upright(stacks, found, width) if found is not None else ():
            if not verify_layout(stacks, layout):
                packing = _packed(stacks, poses, layout, tiles)
                layouts.append(tidied(stacks, improve(packing, poses, _PLACINGS), tiles))
    return min(layouts, key=rank)


def search_large(
    stacks: Sequence[Stack], pack: PackStrip, paper: Paper, saved: LargeLayout | None, drawn: Collection[Turn]
) -> LargeLayout:
    """The best of what was saved so far, of a build's method working longer, and on a roll of what the engine finds.

    `drawn` are the turns in which stacks are drawn already; the engine is offered no other where they fit the roll.
    """
    own = arrange_large(stacks, paper, None, drawn, _LONGER)
    if not stacks:
        return own
    found = [saved, own] if saved is not None and holds(stacks, paper, saved) else [own]
    if paper.kind == "roll" and own.layout.height_mm == own.sheet_height_mm:
        found += _on_roll(stacks, pack, paper, Unbroken(own.sheet_width_mm, own.sheet_height_mm), drawn)

    def length(one: LargeLayout) -> float:
        pages = plan_large(one, placed_stacks(stacks, one.layout), paper, ()).pages
        return round(len(pages) * (one.sheet_height_mm + 2 * LARGE_MARGIN_MM + HEADER_MM), 1)

    return min(found, key=length)


def _on_roll(
    stacks: Sequence[Stack], pack: PackStrip, paper: Paper, window: Unbroken, drawn: Collection[Turn]
) -> list[LargeLayout]:
    """What the engine finds on one page of a roll; nothing where that does not hold."""
    known = known_poses({stack.piece: poses_of(stack) for stack in stacks}, window, drawn)
    items = [
        StripItem(_outline(stack), tuple(90.0 * ((pose.quarter_turns - 1) % 4) for pose in known[stack.piece]))
        for stack in stacks
    ]
    places = pack(window.width_mm, items, 1)
    if places is None:
        return []
    layout, _ = _upright(stacks, places, window.width_mm)
    long = float(math.ceil(layout.height_mm))
    large = LargeLayout(
        window.width_mm, long, msgspec.structs.replace(layout, width_mm=window.width_mm, height_mm=long)
    )
    return [large] if holds(stacks, paper, large) else []


def _packed(stacks: Sequence[Stack], poses: Poses, layout: Layout, tiles: Sequence[Tile]) -> Packing:
    fixed = lying(stacks, poses, {place.piece: place for place in layout.placements})
    return begun(max(sheet_widths(poses, tiles, fixed)[0], layout.width_mm), tiles, fixed)


def _outline(stack: Stack) -> tuple[tuple[float, float], ...]:
    """The outer ring, at most `_SIMPLER_MM` larger: the engine knows no holes."""
    grown = stack.region.simplify(_SIMPLER_MM / 2).buffer(_SIMPLER_MM / 2, join_style="mitre")
    largest = max(shapely.get_parts(grown), key=lambda part: part.area)
    return tuple((float(x), float(y)) for x, y in largest.exterior.coords[:-1])


def _upright(stacks: Sequence[Stack], found: Sequence[StripPlace], width_mm: float) -> tuple[Layout, Layout]:
    """The strip as a sheet, its length downward: with its start at the top, and the other way round.

    A strip ends raggedly; which end is the last row makes a difference in pages.
    """
    layouts: list[Layout] = []
    for turns in (1, 3):
        places: list[Placement] = []
        for stack, at in zip(stacks, found, strict=True):
            x, y = (-at.y_mm, at.x_mm) if turns == 1 else (at.y_mm, -at.x_mm)
            places.append(Placement(stack.piece, x, y, (round(at.angle_deg / 90) + turns) % 4))
        boxes = [moved(stack.region, place).bounds for stack, place in zip(stacks, places, strict=True)]
        left, top = min(box[0] for box in boxes), min(box[1] for box in boxes)
        right, bottom = max(box[2] for box in boxes), max(box[3] for box in boxes)
        shifted = tuple(
            Placement(place.piece, round(place.x_mm - left, 3), round(place.y_mm - top, 3), place.quarter_turns)
            for place in places
        )
        layouts.append(Layout(round(min(width_mm, right - left), 3), round(bottom - top, 3), shifted))
    return layouts[0], layouts[1]
