"""What was sold stays where it lay: after a fix only what has no room there any more is laid down elsewhere.

A changed piece may come nearer to its neighbours than it would be laid at first: whoever has the pages needs fewer new.
"""

import math
from collections.abc import Callable, Mapping, Sequence

import msgspec
import shapely

from pipeline.sheets.layout import Layout, PagePlan, Placement, SavedGrid, SavedLayout
from pipeline.sheets.stacks import LABEL_ROOM_MM, LINE_ROOM_MM, Stack, moved

CLOSER_MM = 2 * LABEL_ROOM_MM - LINE_ROOM_MM
"""How deep the rooms of two stacks may reach into each other: their lines do not touch yet."""
BEYOND_MM = LABEL_ROOM_MM - LINE_ROOM_MM
"""How far a stack's room may reach beyond the corner of the sheet: its lines do not."""
_SAME_MM2 = 1.0
_ASIDE = range(-12, 13, 2)
_STAY = ((0.0, 0.0),)
_STEPS = sorted(((float(x), float(y)) for x in _ASIDE for y in _ASIDE if x or y), key=lambda step: math.hypot(*step))
"""In mm: a piece that steps aside is found on nearly the same pages."""

Bounds = tuple[float, float, float, float]
Fits = Callable[[Bounds], bool]
Places = dict[str, Placement]


def anywhere(bounds: Bounds) -> bool:
    """Paper without an end."""
    return True


class Sold(msgspec.Struct, frozen=True):
    """A layout that was sold: `areas` are those of its stacks as they were, by piece; nothing lies left of or above
    (left, top)."""

    layout: Layout
    areas: Mapping[str, float] = {}
    left_mm: float = 0.0
    top_mm: float = 0.0


def areas_of(stacks: Sequence[Stack]) -> dict[str, float]:
    """The room that each stack takes, in whole mm²: another one shows that the piece was changed."""
    return {stack.piece: float(round(stack.region.area)) for stack in stacks}


def staying(stacks: Sequence[Stack], sold: Sold, fits: Fits = anywhere) -> Places:
    """The places that still hold, by piece, and those of pieces that only need a step aside; others have none.

    `fits` says whether paper holds a stack of these bounds. Where two stacks have too little room, the one that was
    changed gives way.
    """
    named = {stack.piece: stack for stack in stacks}

    def changed(place: Placement) -> bool:
        was = sold.areas.get(place.piece, 0.0)
        return abs(was - named[place.piece].region.area) > _SAME_MM2

    def core(place: Placement) -> shapely.Geometry:
        return moved(named[place.piece].region, place).buffer(-CLOSER_MM / 2, join_style="mitre")

    def on_sheet(place: Placement) -> bool:
        bounds = moved(named[place.piece].region, place).bounds
        return max(sold.left_mm - bounds[0], sold.top_mm - bounds[1]) <= BEYOND_MM and fits(bounds)

    found: Places = {}
    taken: list[shapely.Geometry] = []
    former = sorted((one for one in sold.layout.placements if one.piece in named), key=changed)
    for steps in (_STAY, _STEPS):  # all that can stay, then what a step aside helps
        for place in former:
            if place.piece in found:
                continue
            others = shapely.union_all(taken)
            shapely.prepare(others)
            for right, down in steps:
                tried = msgspec.structs.replace(place, x_mm=place.x_mm + right, y_mm=place.y_mm + down)
                if on_sheet(tried) and not others.intersects(shape := core(tried)):
                    found[place.piece] = tried
                    taken.append(shape)
                    break
    return {stack.piece: found[stack.piece] for stack in stacks if stack.piece in found}


def grown(stacks: Sequence[Stack], places: Mapping[str, Placement], width_mm: float, height_mm: float) -> Layout:
    """All places as a layout that is at least so large, in the order of the stacks."""
    bounds = [moved(stack.region, places[stack.piece]).bounds for stack in stacks]
    right, bottom = (round(max((0.0, *(each[side] for each in bounds))), 3) for side in (2, 3))
    return Layout(max(width_mm, right), max(height_mm, bottom), tuple(places[stack.piece] for stack in stacks))


class Before:
    """What is known of the layouts of a version that was sold; nothing where what is saved was not."""

    def __init__(self, saved: SavedLayout | None) -> None:
        self.saved = saved if saved is not None and saved.sold else None

    def areas(self, part: str) -> dict[str, float] | None:
        """The areas of the stacks of a size, a view, a projector file, or of all sizes (""), as they were."""
        return self.saved.areas.get(part, {}) if self.saved else None

    def grid(self, name: str) -> SavedGrid | None:
        """The grid of a print file, by the name of its layout."""
        return self.saved.grids.get(name) if self.saved else None

    def tiles(self, files: Sequence[str], part: str = "", layout: Layout | None = None) -> Sold | None:
        """The layout of the tiles of some files, of all sizes or of a part; nothing lies outside of any file's grid."""
        layout = self.saved.layout if self.saved and not part else layout
        if self.saved is None or layout is None:
            return None
        grids = [self.saved.grids[name] for name in files if name in self.saved.grids]
        left = max((grid.left_mm for grid in grids), default=0.0)
        top = max((grid.top_mm for grid in grids), default=0.0)
        return Sold(layout, self.saved.areas.get(part, {}), min(0.0, left), min(0.0, top))

    def thrown(self, name: str) -> Sold | None:
        """The layout of a projector file, by its name."""
        if self.saved is None or name not in self.saved.thrown:
            return None
        return Sold(self.saved.thrown[name], self.saved.areas.get(thrown_part(name), {}))

    def told(self, plan: PagePlan, layout: Layout, was: Layout | None) -> PagePlan:
        """The plan, with the pieces that lie elsewhere than they did."""
        if self.saved is None or was is None:
            return plan
        places = {place.piece: place for place in was.placements}
        found = tuple(place.piece for place in layout.placements if places.get(place.piece, place) != place)
        return msgspec.structs.replace(plan, moved=found, since=self.saved.sold) if found else plan


def thrown_part(name: str) -> str:
    """What the areas of a projector file are called by: a material may be called like a size."""
    return f"thrown {name}"


def grid_of(plan: PagePlan) -> SavedGrid | None:
    """A plan's grid, to be saved; None where it has no window."""
    tiles = [(page, page.window) for page in plan.pages if page.window is not None]
    if not tiles:
        return None
    page, window = tiles[0]
    step_x, step_y = window.width_mm - plan.overlap_mm, window.height_mm - plan.overlap_mm
    left, top = window.left_mm - (page.column - 1) * step_x, window.top_mm - (page.row - 1) * step_y
    places = tuple((one.row, one.column) for one, _ in tiles)
    return SavedGrid(left, top, window.width_mm, window.height_mm, step_x, step_y, places)
