"""A sheet of invented pieces, drawn without the rooms that draw real ones: the press must not care what it prints."""

import math

from pipeline.drawing import scene
from pipeline.drawing.drawing import Drawing
from pipeline.drawing.panels.map import MapPiece
from pipeline.drawing.scene import Scene
from pipeline.drawing.styles import size_colour, size_dash_mm
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.press.document import Imprint
from pipeline.sheets.layout import Layout, Page, PagePlan, Placement, Window
from pipeline.sheets.windows import page_label

SIZES = ("34", "36", "38", "40")
SIGNS = ("cut", "seam", "notch", "fold", "point", "grain-two", "clip")
IMPRINT = Imprint(
    title="Invented jacket 1.2.0, A4",
    author="Invented Workroom",
    language="en",
    layer_word="Size",
    row_word="Row",
    start_word="Start",
)


def blob(piece: str, width_mm: float, height_mm: float, sizes: tuple[str, ...] = SIZES) -> list[Drawing]:
    """A rounded piece, one drawing a size, and a grain line that all sizes share. Its anchor is its middle."""
    return [_outline(piece, width_mm + 6 * n, height_mm + 4 * n, n, size) for n, size in enumerate(sizes)] + [
        _grain(piece, height_mm, sizes)
    ]


def _outline(piece: str, width_mm: float, height_mm: float, number: int, size: str) -> Drawing:
    points = [
        Point(
            width_mm / 2 * math.copysign(abs(math.cos(t)) ** 0.6, math.cos(t)),
            height_mm / 2 * math.copysign(abs(math.sin(t)) ** 0.7, math.sin(t)),
        )
        for t in (2 * math.pi * i / 120 for i in range(120))
    ]
    room = 2.0
    left, top = -width_mm / 2 - room, -height_mm / 2 - room
    shapes = (
        scene.polyline(points, size_colour(number + 1), 0.4, size_dash_mm(number + 1), closed=True),
        scene.text(Point(0.11, 10.23 * number - 12.04), f"{piece} Größe {size} ½", 4.3, anchor="middle"),
    )
    return Drawing(
        piece=piece,
        sizes=(size,),
        left_mm=left,
        top_mm=top,
        width_mm=width_mm + 2 * room,
        height_mm=height_mm + 2 * room,
        shapes=shapes,
    )


def _grain(piece: str, height_mm: float, sizes: tuple[str, ...]) -> Drawing:
    half = height_mm * 0.3
    return Drawing(
        piece=piece,
        sizes=sizes,
        left_mm=18,
        top_mm=-half - 1,
        width_mm=4,
        height_mm=2 * half + 2,
        shapes=(scene.line(Point(20, -half), Point(20, half), "#000000", 0.3),),
    )


def sheet() -> tuple[Layout, list[Drawing]]:
    """Four pieces on 560 x 760 mm."""
    shapes = {"front": (150, 420), "back": (240, 330), "sleeve": (230, 250), "pocket": (90, 80)}
    places = {
        "front": (100.137, 230.241),
        "back": (370.419, 180.083),
        "sleeve": (380.283, 560.337),
        "pocket": (90.071, 640.163),
    }
    layout = Layout(560, 760, tuple(Placement(piece, *places[piece]) for piece in shapes))
    return layout, [drawing for piece, shape in shapes.items() for drawing in blob(piece, *shape)]


def tiles(
    layout: Layout, width_mm: float = 210.0, height_mm: float = 297.0, format: str = "a4", overlap_mm: float = 0.0
) -> PagePlan:
    """Tiles with margins of 10 mm; the last but one place of the grid is left blank."""
    margin = 10.0
    wide, high = width_mm - 2 * margin, height_mm - 2 * margin
    along, down = wide - overlap_mm, high - overlap_mm
    columns, rows = math.ceil(layout.width_mm / along), math.ceil(layout.height_mm / down)
    pages = [Page(number=1, label="1", row=0, column=0, window=None, sizes=SIZES, views=())]
    for row in range(rows):
        for column in range(columns):
            if (row, column) == (rows - 1, 1):
                continue
            pages.append(
                Page(
                    number=len(pages) + 1,
                    label=page_label(len(pages) + 1, row + 1),
                    row=row + 1,
                    column=column + 1,
                    window=Window(column * along, row * down, wide, high),
                    sizes=SIZES if column else SIZES[1:],
                    views=(),
                )
            )
    return PagePlan(
        format=format,
        page_width_mm=width_mm,
        page_height_mm=height_mm,
        margin_mm=margin,
        overlap_mm=overlap_mm,
        rows=rows,
        columns=columns,
        pages=tuple(pages),
    )


def large_sheet(layout: Layout, header_mm: float = 130.0) -> PagePlan:
    """The whole layout on one page with a margin of 10 mm."""
    window = Window(0, 0, layout.width_mm, layout.height_mm)
    page = Page(number=1, label="1", row=1, column=1, window=window, sizes=SIZES, views=())
    return PagePlan(
        format="roll-36in",
        page_width_mm=layout.width_mm + 20,
        page_height_mm=layout.height_mm + 20 + header_mm,
        margin_mm=10.0,
        overlap_mm=0.0,
        rows=1,
        columns=1,
        pages=(page,),
        header_mm=header_mm,
    )


def bare(plan: PagePlan) -> tuple[Scene, ...]:
    """Overlays without anything."""
    return tuple(scene.of(0, 0, plan.page_width_mm, plan.page_height_mm, []) for _ in plan.pages)


def pattern() -> Pattern:
    """An invented pattern in two languages."""
    return Pattern(
        name="invented-jacket",
        title={"en": "Invented jacket", "de": "Erfundene Jacke"},
        version="1.2.0",
        maker={"en": "Invented Workroom", "de": "Erfundene Werkstatt"},
        contact={"en": "at the shop where you bought it", "de": "im Laden, in dem Sie gekauft haben"},
        sizes=SIZES,
        base="36",
        bands=(),
        languages=("en", "de"),
        units="metric",
        wearer="adult",
        sleepwear=False,
        licence={"en": "For private sewing.", "de": "Für privates Nähen."},
    )


def map_pieces() -> tuple[MapPiece, ...]:
    """The boxes of the largest size of each piece."""
    layout, drawings = sheet()
    found = []
    for number, place in enumerate(layout.placements, start=1):
        box = next(d for d in drawings if d.piece == place.piece and d.sizes == SIZES[-1:])
        left, top = place.x_mm + box.left_mm, place.y_mm + box.top_mm
        right, bottom = left + box.width_mm, top + box.height_mm
        corners = ((left, top), (right, top), (right, bottom), (left, bottom))
        found.append(MapPiece(str(number), tuple(Point(x, y) for x, y in corners)))
    return tuple(found)
