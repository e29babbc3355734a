"""A lay to scale in small: the cloth as it lies, every piece named, its grain, fold and selvedges.

What is cut from which layer is told by tone and hatching, so that it reads in black and white.
"""

from collections import Counter
from collections.abc import Iterator, Mapping
from itertools import pairwise

import msgspec
import numpy as np
import shapely

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.lay_names import LaidName, cloth_width, laid_names
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.styles import BLACK, WHITE, Colour
from pipeline.drawing.text_lines import fitted, wrapped
from pipeline.drawing.wording import in_decimals, length_words
from pipeline.lays.kept import Chosen
from pipeline.lays.lay import Placed, Shapes
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.points import Point, Vector
from pipeline.words import say

PICTURE_WIDTH_MM = 190.0
"""Fits an A4 page with a margin of 10 mm."""
PICTURE_HEIGHT_MM = 259.0
"""Fits the area that A4 and Letter share (190 x 259.4 mm, calculated)."""
GREY = "#d9d9d9"
_SELVEDGE_GREY = "#8c8c8c"
_LARGEST_SCALE = 1 / 4
_TALLEST_MM = {True: 78.0, False: 160.0}
"""Folded cloth: two pictures on a page."""
_SIDE_MM = 9.0
_HEAD_MM = 17.0
_RULER_MM = 7.0
_EDGE_MM = 5.0
_LINE_MM = 0.18
_CLOTH_MM = 0.35
_FOLD_MM = 0.7
_HATCH_MM = 1.6
_TEXT_MM = 2.6
_SMALL_MM = 2.1
_LEAST_MM = 1.2
_NAME_MM = 1.5
"""A name that does not fit at this size gives way to its number, which the legend explains."""


class Picture(msgspec.Struct, frozen=True):
    """A drawing of a height, as wide as every picture; its top left corner is (0, 0)."""

    height_mm: float
    body: tuple[Shape, ...]

    @property
    def scene(self) -> Scene:
        """The picture as a file of its own."""
        return scene.of(0, 0, PICTURE_WIDTH_MM, self.height_mm, self.body)


def lay_picture(pattern: Pattern, chosen: Chosen, language: str, buy: str) -> Picture:
    """The picture of one lay; `buy` is the length to buy as it is written. Raises ValueError for a missing glyph."""
    drawing = _LayDrawing(pattern, chosen, language)
    body = [*drawing.head(buy), *drawing.cloth(), *drawing.pieces(), *drawing.rulers()]
    bottom, legend = drawing.legend()
    return Picture(bottom, (*body, *legend))


class _LayDrawing:
    def __init__(self, pattern: Pattern, chosen: Chosen, language: str) -> None:
        self.pattern, self.request, self.lay, self.language = pattern, chosen.request, chosen.lay, language
        self.material = pattern.materials[self.request.material]
        self.names: Mapping[str, LaidName] = laid_names(pattern, language)
        room = PICTURE_WIDTH_MM - 2 * _SIDE_MM
        tall = self.request.height_mm + 2 * self.material.selvedge_mm
        self.scale = min(_LARGEST_SCALE, room / self.lay.length_mm, _TALLEST_MM[self.request.folded] / tall)
        self.length = self.lay.length_mm * self.scale
        self.height = self.request.height_mm * self.scale
        self.edge = self.material.selvedge_mm * self.scale
        self.top = _HEAD_MM + _EDGE_MM + (0 if self.request.folded else self.edge)

    def say(self, key: str, **values: object) -> str:
        return say(self.language, key, **values)

    def both(self, length_mm: float) -> str:
        return length_words(self.language, length_mm, self.pattern.units)

    def head(self, buy: str) -> Iterator[Shape]:
        request = self.request
        title = self.say("lay.title", material=in_language(self.material.title, self.language), size=request.size)
        if request.view is not None:
            title += f", {in_language(self.pattern.views[request.view].title, self.language)}"
        facts = [
            self.say("lay.width", width=in_decimals(self.language, cloth_width(request.width_mm, self.pattern.units))),
            self.say("lay.usable", width=self.both(request.usable_mm)),
            self.say("lay.length", length=self.both(self.lay.length_mm)),
            self.say("lay.buy", length=in_decimals(self.language, buy)),
        ]
        way = "one-way" if request.one_way else "any-way" if request.free_turn else "either-way"
        kind = "folded" if request.folded else "tried-open" if request.tried_open else "open"
        yield scene.text(Point(0, 5), *fitted([title], PICTURE_WIDTH_MM, 4.2, 2.0, bold=True), bold=True)
        yield scene.text(Point(0, 9.6), *fitted([" · ".join(facts)], PICTURE_WIDTH_MM, _TEXT_MM, 1.6))
        about = " · ".join((self.say(f"lay.{kind}"), self.say(f"lay.{way}")))
        yield scene.text(Point(0, 13.6), *fitted([about], PICTURE_WIDTH_MM, _TEXT_MM, 1.6))

    def cloth(self) -> Iterator[Shape]:
        left, right, bottom = _SIDE_MM, _SIDE_MM + self.length, self.top + self.height
        yield scene.rectangle(left, bottom, self.length, self.edge, _SELVEDGE_GREY)
        below = self.say("lay.selvedges" if self.request.folded else "lay.selvedge")
        above = self.say("lay.fold" if self.request.folded else "lay.selvedge")
        if not self.request.folded:
            yield scene.rectangle(left, self.top - self.edge, self.length, self.edge, _SELVEDGE_GREY)
        outline = [Point(left, self.top), Point(right, self.top), Point(right, bottom), Point(left, bottom)]
        yield scene.polyline(outline, BLACK, _CLOTH_MM, closed=True)
        middle, rise = (left + right) / 2, 1.2
        top = self.top - (0 if self.request.folded else self.edge)
        yield scene.text(Point(middle, top - rise), above, _SMALL_MM, "middle")
        yield scene.text(Point(middle, bottom + self.edge + rise + _SMALL_MM * CAP_HEIGHT), below, _SMALL_MM, "middle")
        if self.request.folded:
            yield scene.line(Point(left, self.top), Point(right, self.top), BLACK, _FOLD_MM, (4.0, 1.2))

    def pieces(self) -> Iterator[Shape]:
        shapes = Shapes(self.request)
        for place in self.lay.placed:
            coarse = shapely.polygons(shapes.placed(place) * self.scale + (_SIDE_MM, self.top)).simplify(0.02)
            points = [Point(x, y) for x, y in shapely.get_coordinates(coarse)[:-1].tolist()]
            yield scene.polygon(points, self._tone(place))
            if place.layers in ("lower", "upper"):
                yield self._hatched(coarse)
            yield scene.polyline(points, BLACK, _LINE_MM, closed=True)
            yield from self._inside(place, coarse)

    def _tone(self, place: Placed) -> Colour:
        grey = place.mirrored if place.layers == "one" else place.layers in ("pair", "fold")
        return GREY if grey else WHITE

    def _hatched(self, polygon: shapely.Polygon) -> Shape:
        left, top, right, bottom = polygon.bounds
        tall = bottom - top
        starts = np.arange(left - tall, right, _HATCH_MM)
        strokes = shapely.MultiLineString([[(x, bottom), (x + tall, top)] for x in starts]).intersection(polygon)
        lines = [part for part in shapely.get_parts(strokes) if part.geom_type == "LineString"]
        return scene.strokes([[Point(x, y) for x, y in part.coords] for part in lines], _SELVEDGE_GREY, 0.1)

    def _inside(self, place: Placed, polygon: shapely.Polygon) -> Iterator[Shape]:
        """The name in the middle, level where it fits; the grain arrow above it, or beside it where that is narrow."""
        middle, radius = _middle(polygon)
        name = self.names[place.item]
        full, size = f"{name.short} {name.title}", min(_SMALL_MM, 1.3 * radius)
        if size < _LEAST_MM / 2:
            return
        level = text_width_mm(full, min(size, _NAME_MM)) <= 0.92 * _width_at(polygon, middle, 0.0)
        turned = 0.0 if level else _reading_angle(polygon)
        room = 0.92 * _width_at(polygon, middle, turned)
        named = text_width_mm(full, min(size, _NAME_MM)) <= room
        text, size = fitted([full if named else name.short], room, size, 0.1)
        if not self.request.free_turn or self.request.one_way:
            along = _unit(self._grain_deg(place))
            aside = Vector(0, -2.2)
            if turned or radius < 3.0:
                aside = _unit(turned).scaled(text_width_mm(text, size) / 2 + 1.5 + min(radius, 3.0))
            yield from self._arrow(polygon, middle.plus(aside), along)
        yield from _on_ground(middle, text, size, turned, self._tone(place))

    def _grain_deg(self, place: Placed) -> float:
        """Where the grain's upper end points: a strip is laid by its length, but its grain is the cloth's."""
        return 0.0 if place.item.startswith("strips.") else place.angle_deg

    def _arrow(self, polygon: shapely.Polygon, through: Point, along: Vector) -> Iterator[Shape]:
        """One head on one-way cloth, two where either end may be up."""
        half = min(9.0, 0.42 * _width_at(polygon, through, float(np.degrees(np.arctan2(along.dy, along.dx)))))
        if half < 1.0 or not polygon.contains(shapely.Point(through)):
            return
        ends = through.plus(along.scaled(-half)), through.plus(along.scaled(half))
        yield scene.line(*ends, BLACK, _LINE_MM)
        head = min(1.1, half / 2)
        for end, way in ((ends[1], 1.0), *(((ends[0], -1.0),) if not self.request.one_way else ())):
            back = end.plus(along.scaled(-way * head))
            wing = along.left().scaled(head * 0.4)
            yield scene.polygon([end, back.plus(wing), back.plus(wing.scaled(-1))], BLACK)

    def rulers(self) -> Iterator[Shape]:
        """Length below and usable width at the left, each from end to end."""
        left, right = _SIDE_MM, _SIDE_MM + self.length
        y = self.top + self.height + self.edge + _RULER_MM
        yield from _ruler(Point(left, y), Point(right, y), self.both(self.lay.length_mm))
        x = _SIDE_MM - 3.0
        yield from _ruler(Point(x, self.top + self.height), Point(x, self.top), self.both(self.request.height_mm))

    def legend(self) -> tuple[float, list[Shape]]:
        """(height of the whole picture, what stands under the cloth)."""
        y = self.top + self.height + self.edge + _RULER_MM + 6.0
        lines: list[Shape] = [scene.text(Point(0, y), *fitted([self._tones()], PICTURE_WIDTH_MM, _SMALL_MM, 1.4))]
        for line in wrapped(" · ".join(self._counts()), _SMALL_MM, PICTURE_WIDTH_MM):
            y += _SMALL_MM * 1.5
            lines.append(scene.text(Point(0, y), line, _SMALL_MM))
        return y + 3.0, lines

    def _tones(self) -> str:
        keys = ["lay.pair", "lay.single"] if self.request.folded else ["lay.plain", "lay.image"]
        return " · ".join(self.say(key) for key in keys)

    def _counts(self) -> Iterator[str]:
        """Every place on the cloth, and what is to be known of an odd piece."""
        laid = Counter((place.item, place.layers, place.mirrored) for place in self.lay.placed)
        for (item, layers, mirrored), count in sorted(laid.items(), key=lambda entry: _order(entry[0][0], self.names)):
            name = self.names[item]
            text = f"{name.short} {name.title}: {self.say('lay.times', count=count)}"
            if layers in ("lower", "upper"):
                text += f", {self.say(f'lay.{layers}')}"
            if mirrored:
                text += f", {self.say('lay.face-down')}"
            yield text


def _order(item: str, names: Mapping[str, LaidName]) -> int:
    return list(names).index(item)


def _middle(polygon: shapely.Polygon) -> tuple[Point, float]:
    """The middle of the broadest place and its half width; of the centroid, where it is about as broad there."""
    circle = shapely.maximum_inscribed_circle(polygon, tolerance=0.1)
    radius = float(shapely.length(circle))
    centre = polygon.centroid
    if polygon.contains(centre) and polygon.exterior.distance(centre) > 0.8 * radius:
        return Point(centre.x, centre.y), float(polygon.exterior.distance(centre))
    return Point(*circle.coords[0]), radius


def _unit(angle_deg: float) -> Vector:
    return Vector(float(np.cos(np.radians(angle_deg))), float(np.sin(np.radians(angle_deg))))


def _reading_angle(polygon: shapely.Polygon) -> float:
    """Text runs along the longer side, read from below or from the right."""
    box = shapely.minimum_rotated_rectangle(polygon)
    corners = [Point(x, y) for x, y in box.exterior.coords]
    longest = max((a.to(b) for a, b in pairwise(corners[:3])), key=lambda side: side.length)
    angle = float(np.degrees(np.arctan2(longest.dy, longest.dx)))
    angle = (angle + 90) % 180 - 90
    return 0.0 if abs(angle) < 1 else angle


def _width_at(polygon: shapely.Polygon, middle: Point, angle_deg: float) -> float:
    """How far a polygon reaches both ways from a point along an angle: twice the shorter way."""
    way = _unit(angle_deg).scaled(1000)
    here = shapely.Point(middle)
    reaches = []
    for sign in (1, -1):
        crossing = shapely.LineString([middle, middle.plus(way.scaled(sign))]).intersection(polygon.exterior)
        reaches.append(0.0 if crossing.is_empty else shapely.distance(here, crossing))
    return 2 * float(min(reaches))


def _on_ground(middle: Point, text: str, size: float, turned_deg: float, tone: Colour) -> Iterator[Shape]:
    """A text centred on a point, on a ground that keeps hatching away."""
    turn = np.radians(turned_deg)
    down = Vector(float(-np.sin(turn)), float(np.cos(turn)))
    along = Vector(down.dy, -down.dx)
    half_width, half_height = text_width_mm(text, size) / 2 + 0.3, size * 0.55
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1)]
    yield scene.polygon(
        [middle.plus(along.scaled(a * half_width)).plus(down.scaled(b * half_height)) for a, b in corners], tone
    )
    yield scene.text(middle.plus(down.scaled(size * CAP_HEIGHT / 2)), text, size, "middle", turned_deg)


def _ruler(start: Point, end: Point, text: str) -> Iterator[Shape]:
    run = start.to(end).unit()
    across = run.left().scaled(1.2)
    yield scene.line(start, end, BLACK, _LINE_MM)
    for place in (start, end):
        yield scene.line(place.plus(across), place.plus(across.scaled(-1)), BLACK, _LINE_MM)
    middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2).plus(run.left().scaled(1.0))
    turned = float(np.degrees(np.arctan2(run.dy, run.dx)))
    text, size = fitted([text], 0.95 * start.distance(end), _SMALL_MM, 1.0)
    yield scene.text(middle, text, size, "middle", turned)
