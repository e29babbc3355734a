"""Where a name finds room within an area: the place is looked for once, and serves every language."""

from collections.abc import Iterable, Iterator, Sequence
from functools import cached_property

import shapely

from pipeline.booklet.figures.figure import Letters
from pipeline.booklet.figures.ink import LEADING, text_area, text_bounds
from pipeline.booklet.figures.looks import polygons
from pipeline.booklet.unbroken import unbroken_lines
from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_marks import broadest
from pipeline.drawing.fonts import CAP_HEIGHT
from pipeline.drawing.scene import Shape, Text
from pipeline.drawing.styles import Colour
from pipeline.geometry.points import Point

_OFF_MM = 0.7
"""Between a name and the rim of its area, or what else is drawn in it."""
_PATCH_MM = 0.4
_NEARLY_MM = 0.4
_SIMPLE_MM, _LEAST_MM2, _TRIES, _WIDEST_MM = 0.2, 4.0, 4, (60.0, 40.0, 28.0, 18.0)
"""How coarsely, in how small an area, in how many places and in lines how wide room for a name is looked for."""


class Room:
    """An area in mm on paper, with what is drawn in it."""

    def __init__(self, area: shapely.Geometry, obstacles: Iterable[shapely.Geometry]) -> None:
        self.area, self.obstacles = area, tuple(obstacles)
        self._looked: list[Point] = []

    @cached_property
    def _free(self) -> shapely.Geometry:
        free = self.area.buffer(-_OFF_MM)
        for obstacle in self.obstacles:
            free = free.difference(obstacle.buffer(_OFF_MM))
        shapely.prepare(free)
        return free

    @cached_property
    def _left(self) -> Iterator[Point]:
        return _middles(self._free)

    def _middle(self, position: int) -> Point | None:
        """The so-manieth place to try; None where there are no more."""
        while position >= len(self._looked):
            found = next(self._left, None)
            if found is None:
                return None
            self._looked.append(found)
        return self._looked[position]

    def name(self, name: str, more: str, tone: Colour, letters: Letters) -> list[Shape] | None:
        """A name and a smaller line under it, off obstacles where the area is broadest; None where there is no room."""
        for told, size in (
            ((name, more), letters.text_mm),
            ((name, ""), letters.text_mm),
            ((name, ""), letters.least_mm),
        ):
            for position in range(_TRIES):
                if (middle := self._middle(position)) is None:
                    break
                for widest in _WIDEST_MM:
                    block = _block(middle, _rows(*told, size, letters.small_mm, widest * letters.grown))
                    if all(self._free.covers(text_area(text)) for text in block):
                        return [*(_patch(text, tone) for text in block), *block]
        return None


def _middles(free: shapely.Geometry) -> Iterator[Point]:
    """Where an area is broadest, then where what is left of it without that circle is; each found when it is asked for,
    since most names stand in the first."""
    rest = free.simplify(_SIMPLE_MM)
    while parts := [broadest(part, _NEARLY_MM) for part in polygons(rest) if part.area > _LEAST_MM2]:
        middle, radius = max(parts, key=lambda found: found[1])
        yield middle
        rest = rest.difference(shapely.Point(middle).buffer(radius, quad_segs=4))


def _rows(name: str, more: str, size_mm: float, small_mm: float, widest_mm: float) -> list[tuple[str, float, bool]]:
    """(a line, its size, whether it is bold)."""
    rows = [(line, size_mm, True) for line in unbroken_lines(name, size_mm, widest_mm, bold=True)]
    return rows + [(line, small_mm, False) for line in (unbroken_lines(more, small_mm, widest_mm) if more else ())]


def _block(middle: Point, rows: Sequence[tuple[str, float, bool]]) -> list[Text]:
    """Rows one under the other, about a point."""
    y = middle.y - sum(LEADING * size for _, size, _ in rows) / 2
    texts = []
    for line, size, bold in rows:
        texts.append(
            scene.text(Point(middle.x, y + (LEADING + CAP_HEIGHT) / 2 * size), line, size, "middle", bold=bold)
        )
        y += LEADING * size
    return texts


def _patch(text: Text, tone: Colour) -> Shape:
    """A ground that keeps hatching away from a text."""
    left, top, right, bottom = text_bounds(text)
    return scene.rectangle(
        left - _PATCH_MM, top - _PATCH_MM, right - left + 2 * _PATCH_MM, bottom - top + 2 * _PATCH_MM, tone
    )
