"""Texts that are read from afar beside their lines, which they leave whole: what is cut is followed by eye."""

from collections.abc import Sequence

import numpy as np
import shapely

from pipeline.drawing.fonts import CAP_HEIGHT, DESCENT, text_width_mm
from pipeline.drawing.ink import Ink
from pipeline.drawing.labels.courses import Course
from pipeline.drawing.labels.line_labels import LabelRequest
from pipeline.drawing.labels.side_text import NEARER, Room, text_near
from pipeline.drawing.labels.text_block import LEAST_READ_AFAR_MM
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.lines import InsideLine
from pipeline.drawing.nest.opened import CENTRE
from pipeline.drawing.nest.stretches import Stretch
from pipeline.drawing.piece.mark_names import line_words
from pipeline.drawing.piece.texts import CLEAR_OF_LINES, in_every, offs_mm, straight_part, text_inks, wordings_of
from pipeline.drawing.scene import Text
from pipeline.drawing.wording import SEPARATOR
from pipeline.geometry.points import Point

_HIDDEN_MM = 1.2
"""How far from a text a line is hidden that passes it."""
_PART_STEP_MM = 20.0
_MOST_PARTS = 4
"""How many parts of a line are tried, a text size and side."""
Request = tuple[int, LabelRequest]


def beside_first(
    nest: Nest,
    requests: Sequence[Request],
    lines: Sequence[Stretch],
    text_sizes_mm: Sequence[float],
    room: Room,
    taken: list[shapely.Geometry],
) -> tuple[list[Ink], list[Request]]:
    """The texts that find free ground beside their lines, nearer to these than to any other of the `lines`; and the
    requests of the others."""
    texts, left = list[Ink](), list[Request]()
    drawn = [(line, shapely.LineString(line.ring)) for line in lines]
    for index, request in requests:
        others = _lines_but(drawn, request.stretch)
        wordings = in_every(request.texts[0].split(SEPARATOR), terse=True)
        offs = offs_mm(nest.look)
        marks = [straight_part(request.stretch), *_roomy_parts(request, text_sizes_mm, offs[0], others)]
        own = room._replace(ground=_ground(nest, request.stretch))
        found = text_near(marks, wordings, text_sizes_mm, offs, own, CLEAR_OF_LINES, others, smaller=False)
        texts += text_inks(nest, request.stretch.sizes, found, taken)
        left += [] if found else [(index, request)]
    return texts, left


def _ground(nest: Nest, line: Stretch) -> shapely.Geometry:
    """What lies inside the cut lines of a line's own sizes."""
    return shapely.intersection_all([shapely.Polygon(nest.pieces[size].cut_ground) for size in line.sizes])


def _roomy_parts(
    request: LabelRequest, text_sizes_mm: Sequence[float], off_mm: float, others: shapely.Geometry
) -> list[tuple[Point, Point]]:
    """Straight parts of a line beside which no other one passes, each as long as its text in one of the sizes: the
    largest first, of those the nearest to where the line's labels begin.
    """
    run, parts = Course(request.stretch), list[tuple[Point, Point]]()
    shapely.prepare(others)
    for size_mm in text_sizes_mm:
        half = text_width_mm(request.texts[-1], size_mm, bold=True) / 2 + 0.5
        along = np.arange(half, run.length - half, _PART_STEP_MM)
        along = along[np.argsort(np.abs(along - request.phase * run.length), kind="stable")]
        centres, units, straight = run.chords(along, np.full(len(along), half), 0.0)
        high = (CAP_HEIGHT + DESCENT) * size_mm / 2
        for side in (1, -1):
            normals = np.stack((-units[:, 1], units[:, 0]), axis=1) * side
            ends = np.stack((centres - units * half, centres + units * half), axis=1)
            middles = shapely.linestrings(ends + (off_mm + high) * normals[:, None])
            free = straight & ~shapely.dwithin(middles, others, NEARER * off_mm + high)
            parts += [(Point(*start), Point(*end)) for start, end in ends[free][:_MOST_PARTS].tolist()]
    return parts


def _lines_but(drawn: Sequence[tuple[Stretch, shapely.LineString]], own: Stretch) -> shapely.MultiLineString:
    """All lines but one."""
    return shapely.MultiLineString([line for stretch, line in drawn if stretch is not own])


def centre_texts(nest: Nest, inside: Sequence[InsideLine], room: Room, taken: list[shapely.Geometry]) -> list[Ink]:
    """What the centre of an opened piece is called, where there is room beside it."""
    texts = list[Ink]()
    for line in inside:
        if line.key == CENTRE:
            wordings = wordings_of(line_words(nest.pattern, nest.name, CENTRE, line.kind), terse=True)
            marks, sizes_mm = [straight_part(line.stretch)], nest.look.inside_label_mm
            found = text_near(marks, wordings, sizes_mm, offs_mm(nest.look), room, CLEAR_OF_LINES)
            texts += text_inks(nest, line.stretch.sizes, found, taken)
    return texts


def off_centre(block: Sequence[Ink], inside: Sequence[InsideLine]) -> tuple[Ink, ...]:
    """A block whose texts hide the centre line where they stand on it: a small piece has room for them nowhere else."""
    lines = shapely.union_all([shapely.LineString(line.stretch.ring) for line in inside if line.key == CENTRE])
    return tuple(
        ink._replace(gaps=tuple(box.buffer(_HIDDEN_MM, join_style="mitre") for box in ink.boxes))
        if any(shapely.dwithin(box, lines, _HIDDEN_MM) for box in ink.boxes)
        else ink
        for ink in block
    )


def clearer(off: tuple[Ink, ...], across: tuple[Ink, ...]) -> tuple[Ink, ...]:
    """Of a block off the centre line and one that may stand on it: the first, where it says as much and reads well."""
    said_off, said = _said(off), _said(across)
    well = min(said_off.values()) >= min(LEAST_READ_AFAR_MM, *said.values())
    return off if well and set(said_off) >= set(said) else across


def _said(block: Sequence[Ink]) -> dict[str, float]:
    """Its words with the sizes of their letters."""
    texts = [shape for ink in block for shape in ink.shapes if isinstance(shape, Text)]
    return {word: text.size_mm for text in texts for word in text.content.split()}
