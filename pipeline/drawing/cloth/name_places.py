"""Where the name of a laid piece stands: in the piece, where it can be read, else on the cloth beside it."""

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.drawing.cloth.lay_marks import SMALL_MM, broadest, reading_angle, text_ground, width_at
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.text_lines import fitted
from pipeline.geometry.points import Point

_SHARE = 1.3
"""A name's size against half of what the piece is broad."""
_ROOM = 0.92
_EDGE_MM = 0.3
_WAYS = 24
_AWAY_MM = (1.0, 2.0, 3.5, 5.0, 7.0, 10.0, 14.0, 20.0)


class NamePlace(NamedTuple):
    """A name, centred on a point; `to` is where its leader ends, of one that stands outside its piece."""

    text: str
    size_mm: float
    middle: Point
    turned_deg: float
    to: Point | None = None

    @property
    def ground(self) -> shapely.Polygon:
        """What it covers."""
        return text_ground(self.middle, self.text, self.size_mm, self.turned_deg)


def name_inside(polygon: shapely.Polygon, texts: Sequence[str], least_mm: float) -> NamePlace | None:
    """The first of a piece's names that fits, level or along the piece; None where not even the last does.

    No text is smaller than `least_mm`.
    """
    centre, radius = broadest(polygon)
    size = min(SMALL_MM, _SHARE * radius)
    for text in texts if size >= least_mm else ():
        for turned in dict.fromkeys((0.0, reading_angle(polygon))):
            room = _ROOM * width_at(polygon, centre, turned)
            if text_width_mm(text, least_mm) <= room:
                return NamePlace(*fitted([text], room, size, least_mm), centre, turned)
    inner = polygon.buffer(_EDGE_MM)
    for turned in (0.0, reading_angle(polygon)):
        place = NamePlace(texts[-1], least_mm, centre, turned)
        if inner.contains(place.ground):
            return place
    return None


def name_beside(
    polygon: shapely.Polygon, short: str, least_mm: float, cloth: shapely.Polygon, taken: Sequence[shapely.Geometry]
) -> NamePlace:
    """A short name on free cloth near a piece; over the piece where there is none."""
    centre, _ = broadest(polygon)
    tree = shapely.STRtree(taken)
    for away in _AWAY_MM:
        ring = polygon.buffer(away + least_mm / 2).exterior
        for share in np.arange(_WAYS) / _WAYS:
            spot = ring.interpolate(float(share), normalized=True)
            place = NamePlace(short, least_mm, Point(spot.x, spot.y), 0.0)
            ground = place.ground
            if cloth.contains(ground) and not len(tree.query(ground, predicate="dwithin", distance=_EDGE_MM)):
                _, end = shapely.get_coordinates(shapely.shortest_line(ground, polygon)).tolist()
                return place._replace(to=Point(*end))
    return NamePlace(short, least_mm, centre, reading_angle(polygon))
