"""The lays as pages for print, a lay a page or two, so that it can be read on a phone."""

from collections.abc import Iterator, Sequence

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_picture import PICTURE_HEIGHT_MM, PICTURE_WIDTH_MM, Picture, pages_of
from pipeline.drawing.scene import Scene, Shape
from pipeline.geometry.points import Affine

PAGE_WIDTH_MM, PAGE_HEIGHT_MM = 210.0, 297.0
"""A4 (ISO 216); the pictures keep to the area that A4 and Letter share."""
_MARGIN_MM = 10.0


def lay_pages(pictures: Sequence[Picture]) -> tuple[tuple[Scene, ...], ...]:
    """The pages of A4 of each picture in their order; one that is taller than a page is made smaller."""
    return tuple(tuple(_pages(picture)) for picture in pictures)


def _pages(picture: Picture) -> Iterator[Scene]:
    yield _page(picture.body, picture.height_mm)
    for number in range(pages_of(picture.below_mm)):
        top = number * PICTURE_HEIGHT_MM
        lines = [line for line in picture.below if top < line.place.y <= top + PICTURE_HEIGHT_MM]
        yield _page([scene.group(lines, Affine(1, 0, 0, 1, 0, -top))], PICTURE_HEIGHT_MM)


def _page(shapes: Sequence[Shape], height_mm: float) -> Scene:
    scale = min(1.0, PICTURE_HEIGHT_MM / height_mm)
    left = _MARGIN_MM + PICTURE_WIDTH_MM * (1 - scale) / 2
    body = [scene.group(shapes, Affine(scale, 0, 0, scale, left, _MARGIN_MM))]
    return scene.of(0, 0, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, body)
