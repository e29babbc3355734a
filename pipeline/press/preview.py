"""Pictures for a shop's listing: the whole sheet, and each piece in all its sizes."""

import io
from collections.abc import Iterable, Sequence

import cairocffi

from pipeline.drawing import scene
from pipeline.drawing.drawing import Drawing
from pipeline.drawing.scene import Scene, Shape
from pipeline.geometry.points import Affine
from pipeline.press.painter import paint
from pipeline.sheets.layout import Layout

LONG_SIDE_PX = 1600
_ROOM_MM = 12.0


def preview_sheet(drawings: Sequence[Drawing], layout: Layout) -> bytes:
    """A PNG of everything on its place on the sheet, on white."""
    places = {placement.piece: placement for placement in layout.placements}
    body = [
        _moved(drawing, places[drawing.piece].x_mm, places[drawing.piece].y_mm)
        for drawing in drawings
        if drawing.piece in places
    ]
    return _picture(-_ROOM_MM, -_ROOM_MM, layout.width_mm + 2 * _ROOM_MM, layout.height_mm + 2 * _ROOM_MM, body)


def preview_piece(drawings: Iterable[Drawing]) -> bytes:
    """A PNG of one piece's drawings, of which there is at least one, on white."""
    mine = list(drawings)
    left = min(drawing.left_mm for drawing in mine) - _ROOM_MM
    top = min(drawing.top_mm for drawing in mine) - _ROOM_MM
    right = max(drawing.left_mm + drawing.width_mm for drawing in mine) + _ROOM_MM
    bottom = max(drawing.top_mm + drawing.height_mm for drawing in mine) + _ROOM_MM
    return _picture(left, top, right - left, bottom - top, [_moved(drawing, 0.0, 0.0) for drawing in mine])


def _moved(drawing: Drawing, x_mm: float, y_mm: float) -> Shape:
    """A drawing's shapes, whose coordinates are mm of the nest, moved to a place on the sheet."""
    return scene.group(drawing.shapes, Affine(e=x_mm, f=y_mm))


def _picture(left: float, top: float, width_mm: float, height_mm: float, shapes: Iterable[Shape]) -> bytes:
    return png(scene.of(left, top, width_mm, height_mm, shapes))


def png(drawn: Scene) -> bytes:
    """A scene as a PNG, on white."""
    scale = LONG_SIDE_PX / max(drawn.width_mm, drawn.height_mm)
    size = round(drawn.width_mm * scale), round(drawn.height_mm * scale)
    surface = cairocffi.ImageSurface(cairocffi.FORMAT_RGB24, *size)
    context = cairocffi.Context(surface)
    context.set_source_rgb(1.0, 1.0, 1.0)
    context.paint()
    paint(context, drawn, scale)
    target = io.BytesIO()
    surface.write_to_png(target)
    return target.getvalue()
