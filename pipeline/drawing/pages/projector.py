"""What stands around the pieces of a projector file: corner brackets, and a numbered tick at the middle of each side.

Brackets and ticks tell where the thrown picture ends and how far the cloth has been moved on. There is no frame.
"""

from collections.abc import Sequence

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT
from pipeline.drawing.panels.words import SEPARATOR, in_all, size_words, version_words
from pipeline.drawing.piece.pieces import Ground
from pipeline.drawing.scene import Anchor, Scene, Shape
from pipeline.drawing.styles import BLACK, WHITE, Colour
from pipeline.drawing.text_lines import fitted
from pipeline.drawing.wording import length_words
from pipeline.model.pattern import Pattern
from pipeline.model.points import Point
from pipeline.sheets.layout import Layout, Page, PagePlan, Window
from pipeline.sheets.projector import BORDER_MM
from pipeline.words import say, say_all

_BRACKET_MM = 60.0
_LINE_MM = 2.5
_TICK_MM = 24.0
_NUMBER_MM = 16.0
_TEXT_MM = 12.0
_LEAST_TEXT_MM = 5.0
_EDGE_MM = 6.0


def projector_plan(layout: Layout, sizes: Sequence[str], views: Sequence[str] = ()) -> PagePlan:
    """The one page of a projector file: the whole layout inside a border."""
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
        page_width_mm=layout.width_mm + 2 * BORDER_MM,
        page_height_mm=layout.height_mm + 2 * BORDER_MM,
        margin_mm=BORDER_MM,
        overlap_mm=0.0,
        rows=1,
        columns=1,
        pages=(page,),
    )


def projector_page(pattern: Pattern, plan: PagePlan, material: str, ground: Ground) -> Scene:
    """What lies under the pieces of a projector file: the ground, and everything that is not a piece.

    `material` is the key of the material; its title stands in the upper border with the pattern's, version and sizes.
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
    room = width / 2 - _BRACKET_MM - 2 * _EDGE_MM
    content, size = fitted(_title(pattern, material), room, _TEXT_MM, _LEAST_TEXT_MM)
    baseline = _EDGE_MM + 2 * _LINE_MM + CAP_HEIGHT * size
    body.append(scene.text(Point(_BRACKET_MM, baseline), content, size, fill=ink))
    if len(pattern.sizes) > 1:
        wanted = (pattern.languages, pattern.languages[:1])
        notes = [say_all(languages, "projector.layers", SEPARATOR) for languages in wanted]
        note, size = fitted(notes, room - _TICK_MM, _TEXT_MM, _LEAST_TEXT_MM)
        body.append(scene.text(Point(width - _BRACKET_MM, baseline), note, size, anchor="end", fill=ink))
    note, size = fitted(_allowances(pattern, material), room, _TEXT_MM, _LEAST_TEXT_MM)
    body.append(scene.text(Point(_BRACKET_MM, height - _EDGE_MM - 2 * _LINE_MM), note, size, fill=ink))
    return scene.of(0, 0, width, height, body)


def _allowances(pattern: Pattern, material: str) -> list[str]:
    """That allowances are included, with the one that most pieces have; in all languages or in the first."""
    drawn = [piece for piece in pattern.pieces.values() if piece.source is None]
    mine = [piece.allowance_mm for piece in drawn if any(cut.material == material for cut in piece.cut)]
    usual = max(dict.fromkeys(mine), key=mine.count, default=None)

    def told(language: str) -> str:
        if mine and all(allowance == 0 for allowance in mine):
            return say(language, "piece.allowance-none")
        if not usual:
            return say(language, "projector.allowances")
        return say(language, "projector.allowance", allowance=length_words(language, usual, pattern.units))

    return [SEPARATOR.join(map(told, languages)) for languages in (pattern.languages, pattern.languages[:1])]


def _brackets(width: float, height: float, ink: Colour) -> Shape:
    """An angle in each corner, a little inside the page."""
    drawn = []
    for x, inward in ((_EDGE_MM, 1), (width - _EDGE_MM, -1)):
        for y, downward in ((_EDGE_MM, 1), (height - _EDGE_MM, -1)):
            leg = _BRACKET_MM - 2 * _EDGE_MM
            drawn.append((Point(x + inward * leg, y), Point(x, y), Point(x, y + downward * leg)))
    return scene.strokes(drawn, ink, _LINE_MM)


def _title(pattern: Pattern, material: str) -> list[str]:
    """What the file is, in all languages or, where that is too long, in the first."""
    cloth = pattern.materials[material].title
    return [
        f"{in_all(pattern.title, languages)} · {version_words(pattern, languages)} · {in_all(cloth, languages)}"
        f" · {size_words(pattern.sizes, pattern.sizes, languages)}"
        for languages in (pattern.languages, pattern.languages[:1])
    ]
