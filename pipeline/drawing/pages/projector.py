"""What stands around the pieces of a projector file: corner brackets, a numbered tick at each side's middle, a panel.

Brackets and ticks tell where the thrown picture ends and how far the cloth has been moved on. There is no frame.
"""

from collections.abc import Sequence

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT
from pipeline.drawing.pages.projector_panel import LEAST_WIDTH_MM, Panel
from pipeline.drawing.piece.pieces import Ground
from pipeline.drawing.scene import Anchor, Scene, Shape
from pipeline.drawing.styles import BLACK, WHITE, Colour
from pipeline.geometry.points import Affine, Point
from pipeline.sheets.layout import Layout, Page, PagePlan, Window
from pipeline.sheets.projector import BORDER_MM

_BRACKET_MM = 60.0
_LINE_MM = 2.5
_TICK_MM = 24.0
_NUMBER_MM = 16.0
_EDGE_MM = 6.0


def panel_width_mm(layout: Layout) -> float:
    """How wide the panel of a layout's file is: as the pieces, but wide enough for its squares."""
    return max(layout.width_mm, LEAST_WIDTH_MM)


def projector_plan(layout: Layout, sizes: Sequence[str], views: Sequence[str] = (), panel_mm: float = 0.0) -> PagePlan:
    """The one page of a projector file: the whole layout inside a border, and a panel of some height below it."""
    page = Page(
        number=1,
        label="1",
        row=1,
        column=1,
        window=Window(0.0, 0.0, layout.width_mm, layout.height_mm),
        sizes=tuple(sizes),
        views=tuple(views),
    )
    return PagePlan(
        format="projector",
        page_width_mm=(panel_width_mm(layout) if panel_mm else layout.width_mm) + 2 * BORDER_MM,
        page_height_mm=layout.height_mm + 2 * BORDER_MM + (panel_mm and panel_mm + BORDER_MM),
        margin_mm=BORDER_MM,
        overlap_mm=0.0,
        rows=1,
        columns=1,
        pages=(page,),
    )


def projector_page(plan: PagePlan, panel: Panel, ground: Ground, names: Sequence[Shape] = ()) -> Scene:
    """What lies under the pieces of a projector file: the ground, and everything that is not a piece.

    `names` are those that stand beside pieces, in the coordinates of the layout and, as the panel, in black.
    """
    ink, paper = (BLACK, WHITE) if ground == "black-on-white" else (WHITE, BLACK)
    width, height = plan.page_width_mm, plan.page_height_mm
    body: list[Shape] = [scene.rectangle(0, 0, width, height, paper), _brackets(width, height, ink)]
    middles = (
        (Point(width / 2, 0), (0, 1)),
        (Point(width, height / 2), (-1, 0)),
        (Point(width / 2, height), (0, -1)),
        (Point(0, height / 2), (1, 0)),
    )
    for number, (place, (dx, dy)) in enumerate(middles, start=1):
        end = Point(place.x + dx * _TICK_MM, place.y + dy * _TICK_MM)
        body.append(scene.line(place, end, ink, _LINE_MM))
        beside = Point(place.x + dx * _TICK_MM / 2 + abs(dy) * 5, place.y + dy * _TICK_MM / 2 - abs(dx) * 5)
        lower = beside.y + (CAP_HEIGHT * _NUMBER_MM / 2 if dy else 0.0)
        anchor: Anchor = "start" if dy else "middle"
        body.append(scene.text(Point(beside.x, lower), str(number), _NUMBER_MM, anchor=anchor, bold=True, fill=ink))
    beside_pieces = scene.recoloured(names, {BLACK: ink})
    body.append(scene.group(beside_pieces, Affine(e=BORDER_MM, f=BORDER_MM)))
    recoloured = scene.recoloured(panel.shapes, {BLACK: ink})
    corner = Affine(e=BORDER_MM, f=height - BORDER_MM - panel.height_mm)
    body.append(scene.group(recoloured, corner))
    return scene.of(0, 0, width, height, body)


def _brackets(width: float, height: float, ink: Colour) -> Shape:
    """An angle in each corner, a little inside the page."""
    drawn = []
    for x, inward in ((_EDGE_MM, 1), (width - _EDGE_MM, -1)):
        for y, downward in ((_EDGE_MM, 1), (height - _EDGE_MM, -1)):
            leg = _BRACKET_MM - 2 * _EDGE_MM
            drawn.append((Point(x + inward * leg, y), Point(x, y), Point(x, y + downward * leg)))
    return scene.strokes(drawn, ink, _LINE_MM)
