"""The cloth of a lay to scale in small, as it lies: its pieces, their grain, folds and selvedges.

What is cut from which layer is told by tone and hatching, so that it reads in black and white.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_marks import LINE_MM, SMALL_MM, arrow_ends, arrow_head, on_ground, ruler, stacked, unit
from pipeline.drawing.cloth.lay_words import LayWords
from pipeline.drawing.cloth.name_places import NamePlace, name_beside, name_inside
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.lay_names import LaidName
from pipeline.drawing.scene import Run, Scene, Shape
from pipeline.drawing.styles import BLACK, WHITE, Colour, LineStyle
from pipeline.geometry.points import Point
from pipeline.lays.lay import Placed, Shapes
from pipeline.lays.zones import Zone, zones
from pipeline.model.questions import nap_of
from pipeline.words import say, say_all

GREY = "#d9d9d9"
_SELVEDGE_GREY = "#8c8c8c"
_LARGEST_SCALE = 1 / 3
_SIDE_MM = 9.0
_RULER_MM = 8.0
_EDGE_MM = 5.5
_LEAST_CLOTH_MM = 40.0
"""A cloth is drawn this tall at least, whatever is written: such a picture is made smaller on its page."""
_CLOTH_MM = 0.35
_FOLD_MM = 0.9
_HATCH_MM = 1.6


class Look(NamedTuple):
    """The room of a picture, with all that is written over and under the cloth, the least text, whether pieces have
    their titles where there is room, or their numbers alone, and how far outlines may be drawn from themselves."""

    width_mm: float
    height_mm: float
    least_mm: float
    titles: bool
    coarse_mm: float = 0.02


class Cloth:
    """The cloth, drawn under a head in a room that is left over."""

    def __init__(self, words: LayWords, look: Look, top_mm: float = 0.0, below_mm: float = 0.0) -> None:
        self.words, self.pattern, self.look = words, words.pattern, look
        self.request, self.lay = words.chosen.request, words.chosen.lay
        self.zones = zones(self.request, self.lay.doubled_mm)
        self.across_mm = self.zones[-1].bottom_mm
        selvedge = self.request.selvedge_mm
        self.outer_mm = tuple(0.0 if folded else selvedge for folded in self._folded_edges())
        around = 2 * _EDGE_MM + _RULER_MM
        tall = max(_LEAST_CLOTH_MM, look.height_mm - top_mm - below_mm - around) / (self.across_mm + sum(self.outer_mm))
        self.scale = min(_LARGEST_SCALE, (look.width_mm - 2 * _SIDE_MM) / self.lay.length_mm, tall)
        self.length = self.lay.length_mm * self.scale
        self.top = top_mm + _EDGE_MM + self.outer_mm[0] * self.scale
        self.lower = self.top + self.across_mm * self.scale
        self.bottom = self.lower + self.outer_mm[1] * self.scale + _EDGE_MM + _RULER_MM
        # a picture that is taller than its page is made smaller there
        self.least_mm = look.least_mm * max(1.0, (self.bottom + below_mm) / look.height_mm)

    def scene(self, pieces: Iterable[Shape]) -> Scene:
        """The cloth alone as a picture, with its pieces: without titles they are the same in every language."""
        shapes = (*self.cloth(), *pieces, *self.marks())
        return scene.of(0, 0, self.length + 2 * _SIDE_MM, self.bottom, shapes)

    def _folded_edges(self) -> tuple[bool, bool]:
        """Whether a fold is the upper edge of the cloth as it lies, and the lower."""
        return any(zone.folded and not zone.turned for zone in self.zones), any(zone.turned for zone in self.zones)

    def say(self, key: str) -> str:
        return say_all(self.pattern.languages, key)

    def _edges(self) -> tuple[str, str]:
        """What is written at the upper edge of the cloth as it lies, and at the lower."""
        first, last = self._folded_edges()
        selvedges = "lay.selvedges" if self.request.way == "fold" else "lay.selvedge"
        return self.say("lay.fold" if first else "lay.selvedge"), self.say("lay.fold" if last else selvedges)

    @property
    def right_mm(self) -> float:
        """How far the picture reaches: where the cloth is short, as far as the names of its edges."""
        return max(self.length + 2 * _SIDE_MM, *(text_width_mm(edge, SMALL_MM) for edge in self._edges()))

    def cloth(self) -> Iterator[Shape]:
        left, selvedge = _SIDE_MM, self.request.selvedge_mm * self.scale
        upper, lower = (edge * self.scale for edge in self.outer_mm)
        yield scene.rectangle(left, self.top - upper, self.length, upper, _SELVEDGE_GREY)
        yield scene.rectangle(left, self.lower, self.length, lower, _SELVEDGE_GREY)
        for zone, other in pairwise(self.zones):
            if zone.folded:
                yield scene.rectangle(left, self._y(zone.bottom_mm), self.length, selvedge, _SELVEDGE_GREY)
            if other.turned:
                yield scene.rectangle(left, self._y(other.top_mm) - selvedge, self.length, selvedge, _SELVEDGE_GREY)
        corners = [
            (left, self.top),
            (left + self.length, self.top),
            (left + self.length, self.lower),
            (left, self.lower),
        ]
        yield scene.polyline([Point(*corner) for corner in corners], BLACK, _CLOTH_MM, closed=True)
        above, below = self._edges()
        middle = max(left + self.length / 2, text_width_mm(above, SMALL_MM) / 2, text_width_mm(below, SMALL_MM) / 2)
        yield scene.text(Point(middle, self.top - upper - 1.3), above, SMALL_MM, "middle")
        y = self.lower + lower + 1.3 + SMALL_MM * CAP_HEIGHT
        yield scene.text(Point(middle, y), below, SMALL_MM, "middle")

    def _y(self, across_mm: float) -> float:
        return self.top + across_mm * self.scale

    def marks(self) -> Iterator[Shape]:
        """What lies over the pieces: folds and rulers, and of a cloth in two zones how many layers each has."""
        left, right = _SIDE_MM, _SIDE_MM + self.length
        for zone in self.zones:
            if zone.folded:
                y = self._y(zone.fold_mm)
                yield scene.line(Point(left, y), Point(right, y), BLACK, _FOLD_MM, (4.0, 1.2))
        y = self.bottom - 1.5
        yield from ruler(
            Point(left, y), Point(right, y), self.words.on_ruler(self.lay.length_mm), self.look.least_mm, _SIDE_MM - 1
        )
        for start_mm, end_mm in self._stretches():
            x = _SIDE_MM - 3.0
            told = self.words.on_ruler(end_mm - start_mm)
            yield from ruler(Point(x, self._y(end_mm)), Point(x, self._y(start_mm)), told, self.look.least_mm, _EDGE_MM)
        if len(self.zones) > 1:
            for zone in self.zones:
                yield from self._layers(zone, right + 1.5 + SMALL_MM * CAP_HEIGHT)

    def _stretches(self) -> Iterator[tuple[float, float]]:
        """What is measured across: all of it, but of a partial fold what is folded in and the rest."""
        if self.request.way == "partial-fold":
            turned_in = self.lay.doubled_mm + self.request.selvedge_mm
            yield from ((0.0, turned_in), (turned_in, self.across_mm))
        else:
            yield (0.0, self.across_mm)

    def _layers(self, zone: Zone, x: float) -> Iterator[Shape]:
        tall = (zone.bottom_mm - zone.top_mm) * self.scale
        key = "lay.two-layers" if zone.folded else "lay.one-layer"
        middle = Point(x, self._y((zone.top_mm + zone.bottom_mm) / 2))
        yield from stacked(
            [[self.say(key)], [say(self.pattern.languages[0], key)]], 0.95 * tall, middle, -90.0, self.look.least_mm
        )

    def pieces(self) -> Iterator[Shape]:
        shapes = Shapes(self.request)
        laid = [
            shapely.polygons(shapes.placed(place) * self.scale + (_SIDE_MM, self.top)).simplify(self.look.coarse_mm)
            for place in self.lay.placed
        ]
        names, outside = self.words.names(), list[NamePlace]()
        for place, polygon in zip(self.lay.placed, laid, strict=True):
            points = [Point(x, y) for x, y in shapely.get_coordinates(polygon)[:-1].tolist()]
            yield scene.polygon(points, self._tone(place))
            if place.layers in ("lower", "upper"):
                yield self._hatched(polygon, slanting=True)
            elif place.layers == "one" and self.words.face_down(place):
                yield self._hatched(polygon, slanting=False)
            yield scene.polyline(points, BLACK, LINE_MM, closed=True)
            taken = [*laid, *(other.ground for other in outside)]
            name, ends = self._name(place, polygon, names[place.item], taken)
            if name.to is not None:
                outside.append(name)
            if ends is not None:
                yield from self._arrow(place.item, ends)
            if name.to is None:
                yield from on_ground(name.middle, name.text, name.size_mm, name.turned_deg, self._tone(place))
        for name in outside:
            yield scene.line(name.middle, name.to or name.middle, BLACK, LINE_MM)
            yield from on_ground(name.middle, name.text, name.size_mm, name.turned_deg, WHITE)

    def _name(
        self, place: Placed, polygon: shapely.Polygon, name: LaidName, taken: Sequence[shapely.Geometry]
    ) -> tuple[NamePlace, tuple[Point, Point] | None]:
        """A piece's name and from where to where its grain line goes.

        A shorter name where it leaves room for the grain line; on the cloth beside the piece where none does.
        """
        found: list[NamePlace] = []
        titled = ((f"{name.short} {name.title}", name.short),) if self.look.titles else ()
        for texts in (*titled, (name.short,)):
            if inside := name_inside(polygon, texts, self.least_mm):
                found.append(inside)
                ends = self._grain(place, polygon, inside)
                if ends is not None or not self._has_grain():
                    return inside, ends
        cloth = shapely.box(_SIDE_MM, self.top, _SIDE_MM + self.length, self.lower)
        beside = name_beside(polygon, name.short, self.least_mm, cloth, taken)
        ends = self._grain(place, polygon, beside)
        return (found[0], None) if found and (beside.to is None or ends is None) else (beside, ends)

    def _has_grain(self) -> bool:
        return self.request.one_way or not self.request.free_turn

    def _grain(self, place: Placed, polygon: shapely.Polygon, name: NamePlace) -> tuple[Point, Point] | None:
        """Where the grain line of a piece lies; none where the cloth has no grain. A strip's grain is the cloth's."""
        if not self._has_grain():
            return None
        angle = 0.0 if place.item.startswith("strips.") else place.angle_deg
        return arrow_ends(polygon, name.ground, unit(angle))

    def _tone(self, place: Placed) -> Colour:
        return GREY if place.layers in ("pair", "fold") else WHITE

    def _hatched(self, polygon: shapely.Polygon, slanting: bool) -> Shape:
        left, top, right, bottom = polygon.bounds
        aside = bottom - top if slanting else 0.0
        starts = np.arange(left - aside, right, _HATCH_MM)
        strokes = shapely.MultiLineString([[(x, bottom), (x + aside, top)] for x in starts]).intersection(polygon)
        lines = [part for part in shapely.get_parts(strokes) if part.geom_type == "LineString"]
        return scene.strokes([[Point(x, y) for x, y in part.coords] for part in lines], _SELVEDGE_GREY, 0.1)

    def _arrow(self, item: str, ends: tuple[Point, Point]) -> Iterator[Shape]:
        """A grain line with the heads that it has on paper: one, two, or a full one up and an open one."""
        along = ends[0].to(ends[1]).unit()
        half = ends[0].distance(ends[1]) / 2
        name = item.removeprefix("strips.")
        nap = nap_of(self.pattern, name)
        yield scene.line(*ends, BLACK, LINE_MM)
        head = min(1.4, half / 2)
        yield scene.polygon(arrow_head(ends[1], along, head), BLACK)
        if nap != "one-way":
            lower = arrow_head(ends[0], along.scaled(-1), head)
            if nap == "either":
                yield scene.path([Run(lower, closed=True)], LineStyle(BLACK, LINE_MM), WHITE)
            else:
                yield scene.polygon(lower, BLACK)
