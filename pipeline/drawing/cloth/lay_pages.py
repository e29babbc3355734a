"""The lays as pages for print: as many pictures under each other as a page holds."""

from collections.abc import Iterator, Sequence

from pipeline.drawing import scene
from pipeline.drawing.cloth.lay_picture import PICTURE_HEIGHT_MM, PICTURE_WIDTH_MM, Picture
from pipeline.drawing.scene import Scene, Shape
from pipeline.model.points import Affine

PAGE_WIDTH_MM, PAGE_HEIGHT_MM = 210.0, 297.0
"""A4 (ISO 216); the pictures keep to the area that A4 and Letter share."""
_MARGIN_MM = 10.0
_APART_MM = 7.0


def lay_pages(pictures: Sequence[Picture]) -> tuple[Scene, ...]:
    """Pages of A4 with the pictures in their order; one that is taller than a page is made smaller."""
    pages: list[list[Shape]] = []
    for picture, (page, y) in zip(pictures, _places(pictures), strict=True):
        if page == len(pages):
            pages.append([])
        scale = _scale(picture)
        left = _MARGIN_MM + PICTURE_WIDTH_MM * (1 - scale) / 2
        pages[-1].append(scene.group(picture.body, Affine(scale, 0, 0, scale, left, _MARGIN_MM + y)))
    return tuple(scene.of(0, 0, PAGE_WIDTH_MM, PAGE_HEIGHT_MM, body) for body in pages)


def pages_of_pictures(pictures: Sequence[Picture]) -> tuple[int, ...]:
    """The index of the page, among those of `lay_pages`, on which each picture stands."""
    return tuple(page for page, _ in _places(pictures))


def _places(pictures: Sequence[Picture]) -> Iterator[tuple[int, float]]:
    """The page of each picture, and how far below its margin it begins."""
    page, y = -1, PICTURE_HEIGHT_MM
    for picture in pictures:
        height = picture.height_mm * _scale(picture)
        if y + height > PICTURE_HEIGHT_MM:
            page, y = page + 1, 0.0
        yield page, y
        y += height + _APART_MM


def _scale(picture: Picture) -> float:
    return min(1.0, PICTURE_HEIGHT_MM / picture.height_mm)
