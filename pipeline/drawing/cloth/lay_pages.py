"""The lays as pages for print, a lay a page, so that it can be read on a phone."""

from collections.abc import Sequence

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_picture import PICTURE_HEIGHT_MM, PICTURE_WIDTH_MM, Picture
from pipeline.drawing.scene import Scene
from pipeline.geometry.points import Affine

PAGE_WIDTH_MM, PAGE_HEIGHT_MM = 210.0, 297.0
"""A4 (ISO 216); the pictures keep to the area that A4 and Letter share."""
_MARGIN_MM = 10.0


def lay_pages(pictures: Sequence[Picture]) -> tuple[Scene, ...]:
    """Pages of A4 with the pictures in their order; one that is taller than a page is made smaller."""
    return tuple(_page(picture) for picture in pictures)


def _page(picture: Picture) -> Scene:
    scale = min(1.0, PICTURE_HEIGHT_MM / picture.height_mm)
    left = _MARGIN_MM + PICTURE_WIDTH_MM * (1 - scale) / 2
    body = [scene.group(picture.body, Affine(scale, 0, 0, scale, left, _MARGIN_MM))]
    return scene.of(0, 0, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, body)
