"""A picture at scale for a finding that blocks: the two sides of a seam on each other, or the place on its piece."""

from collections.abc import Iterable

from pipeline.checks.garment import Garment
from pipeline.drawing import scene
from pipeline.drawing.fonts import missing_glyphs
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.text_lines import wrapped
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Point, bounds
from pipeline.model.findings import Finding
from pipeline.model.pieces import CutPiece
from pipeline.proof.laid_sides import LaidSide, laid_sides

ROOM_MM = 15.0
SIDE_COLOURS = ("#000000", "#d55e00")
"""Black and Okabe and Ito's vermillion ("Color Universal Design", 2008)."""
PALE = "#888888"
_LINE_MM = 0.4
_TICK_MM = 4.0
_TEXT_MM = 3.0


def finding_picture(garment: Garment, finding: Finding) -> Scene | None:
    """A picture in mm at 1:1; None where there is nothing of the finding to be drawn."""
    if finding.where and finding.where.startswith("seams.") and finding.size:
        seam = garment.pattern.seams.get(finding.where.removeprefix("seams."))
        sides = laid_sides(garment, seam, finding.size) if seam is not None else None
        return _scene(finding, *_seam(sides)) if sides is not None else None
    sizes = garment.cuts.get(finding.piece or "", {})
    cut = sizes.get(finding.size or "") or next(iter(sizes.values()), None)
    return _scene(finding, *_piece(cut, finding)) if cut is not None else None


def _seam(sides: tuple[LaidSide, LaidSide]) -> tuple[list[Shape], list[Point]]:
    body: list[Shape] = []
    for side, colour, name, below in zip(sides, SIDE_COLOURS, "ab", (-1, 1), strict=True):
        body.append(
            scene.polyline(side.line, colour, _LINE_MM * (3 if name == "a" else 1))
        )  # b shows on a where they agree
        for notch, place in side.notches:
            tip = Point(place.x, place.y + below * _TICK_MM)
            body += [scene.line(place, tip, colour, _LINE_MM), *_text(tip, notch, colour, below)]
        label = f"{name}: {side.length_mm:.1f} mm"
        body += _text(Point(side.line[-1].x + 3, side.line[-1].y + below * 3), label, colour, below)
    return body, [place for side in sides for place in side.line]


def _piece(cut: CutPiece, finding: Finding) -> tuple[list[Shape], list[Point]]:
    body: list[Shape] = [scene.polyline(cut.cut_drawn, PALE, _LINE_MM / 2, closed=True)]
    for edge in cut.drawn.edges:
        named = edge.name in (finding.where, finding.object)
        body.append(scene.polyline(flattened(edge.path, 0.1), SIDE_COLOURS[named], _LINE_MM * (3 if named else 1)))
    for notch in cut.drawn.notches:
        body.append(
            scene.circle(notch.place, 1.0, SIDE_COLOURS[notch.name in (finding.where, finding.object)], _LINE_MM)
        )
    body.append(scene.line(cut.drawn.grain.bottom, cut.drawn.grain.top, PALE, _LINE_MM))
    return body, list(cut.cut_drawn)


def _scene(finding: Finding, body: list[Shape], places: Iterable[Point]) -> Scene:
    head = f"{finding.check}: {finding.message}" + (f" (size {finding.size})" if finding.size else "")
    return captioned(head, body, places)


def captioned(head: str, body: list[Shape], places: Iterable[Point]) -> Scene:
    """The shapes with a text above them, on a page that holds all places."""
    left, top, right, bottom = bounds(places)
    width = max(right - left, 120.0) + 2 * ROOM_MM
    lines = wrapped(_printable(head), _TEXT_MM, width - ROOM_MM)
    first = top - ROOM_MM - len(lines) * _TEXT_MM * 1.5
    title = [scene.text(Point(left, first + (i + 1) * _TEXT_MM * 1.5), line, _TEXT_MM) for i, line in enumerate(lines)]
    return scene.of(left - ROOM_MM / 2, first, width, bottom + ROOM_MM - first, [*title, *body])


def _text(place: Point, content: str, colour: str, below: int) -> list[Shape]:
    return [scene.text(Point(place.x, place.y + max(0, below) * _TEXT_MM), _printable(content), _TEXT_MM, fill=colour)]


def _printable(content: str) -> str:
    return "".join(letter for letter in content if not missing_glyphs(letter))
