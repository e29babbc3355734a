"""The designer's logo on a page: where it has room, in what colours, and what of it would not be seen."""

from collections.abc import Iterator, Sequence

import shapely

from pipeline.drawing import scene
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.free_area import Rectangle
from pipeline.drawing.scene import Run, Shape, Text
from pipeline.drawing.styles import BLACK, HAIRLINE_MM, WHITE, contrast
from pipeline.geometry.points import Affine
from pipeline.geometry.windings import filled_area
from pipeline.model.logo import Logo

GAP_MM = 5.0
"""Between a logo and what stands beside it."""
LEAST_CONTRAST = 3.0
"""Of a part of it against what it lies on (WCAG 2.2, 1.4.11)."""
_SMALLER = (1.0, 0.8, 0.6)
"""What is tried where room is scarce: not smaller than 18 x 9 mm."""
_COVERED = 0.99
"""Of an area, so much lies on another that is its ground."""


def sizes_of(logo: Logo) -> list[tuple[float, float]]:
    """Width and height in mm that are tried, the largest first."""
    return [(logo.width_mm * share, logo.height_mm * share) for share in _SMALLER]


def logo_shapes(logo: Logo, place: Rectangle, black: bool) -> list[Shape]:
    """The logo in a place of its own proportions; where `black`, without colour."""
    share = place.width / logo.width_mm
    to_page = Affine(a=share, d=share, e=place.left, f=place.top)
    return [
        scene.path([Run(tuple(map(to_page.point, ring)), closed=True) for ring in area.rings], None, colour)
        for area, colour in zip(logo.areas, _colours(logo, black), strict=True)
    ]


def corner_of(logo: Logo, room: Rectangle, drawn: Sequence[Shape]) -> Rectangle | None:
    """The upper or lower right corner of a room that the logo has to itself; None where none is free."""
    taken = [box for shape in drawn for box in _boxes(shape)]
    for width, height in sizes_of(logo):
        left = room.left + room.width - width
        for top in (room.top, room.top + room.height - height):
            place = shapely.box(left - GAP_MM, top - GAP_MM, left + width, top + height + GAP_MM)
            if not any(place.intersects(box) for box in taken):
                return Rectangle(left, top, width, height)
    return None


def unseen_parts(logo: Logo, black: bool) -> Iterator[tuple[str, str, float]]:
    """(colour, its ground, their contrast) of parts that do not stand out from what they lie on, each pair once.

    What is as dark as its ground in the drawing itself is meant so, and what is white on paper shows the paper.
    """
    areas = [filled_area(area.rings, even_odd=True) for area in logo.areas]
    shown, told = _colours(logo, black), set()
    for number, area in enumerate(areas):
        below = (n for n in reversed(range(number)) if area.intersection(areas[n]).area >= _COVERED * area.area)
        ground = next(below, None)
        own, under = logo.areas[number].colour, WHITE if ground is None else logo.areas[ground].colour
        printed = shown[number], WHITE if ground is None else shown[ground]
        if own != under and contrast(*printed) < LEAST_CONTRAST and (own, under) not in told:
            told.add((own, under))
            yield own, under, contrast(*printed)


def too_fine(logo: Logo) -> bool:
    """Whether a stroke would be thinner than anything else on paper, in the smallest size that is tried."""
    return logo.finest_mm is not None and logo.finest_mm * _SMALLER[-1] < HAIRLINE_MM


def _colours(logo: Logo, black: bool) -> list[str]:
    """What each area is printed in; without colour black, or white where it is as light as the paper."""
    own = [area.colour for area in logo.areas]
    return [BLACK if contrast(colour) >= LEAST_CONTRAST else WHITE for colour in own] if black else own


def _boxes(shape: Shape) -> Iterator[shapely.Geometry]:
    """What shapes of a column of text occupy: texts, and the lines of samples."""
    if isinstance(shape, Text):
        width = text_width_mm(shape.content, shape.size_mm, shape.bold)
        yield shapely.box(shape.place.x, shape.place.y - shape.size_mm, shape.place.x + width, shape.place.y)
    elif isinstance(shape, scene.Path):
        yield from (shapely.box(*shapely.LineString(run.points).bounds) for run in shape.runs if len(run.points) > 1)
