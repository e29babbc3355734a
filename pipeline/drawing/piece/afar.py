"""Texts that are read from afar beside their lines, which they leave whole: what is cut is followed by eye."""

from collections.abc import Sequence

import shapely

from pipeline.drawing.ink import Ink
from pipeline.drawing.labels.line_labels import LabelRequest
from pipeline.drawing.labels.side_text import Room, text_near
from pipeline.drawing.labels.text_block import LEAST_READ_AFAR_MM
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.lines import InsideLine
from pipeline.drawing.nest.opened import CENTRE
from pipeline.drawing.nest.stretches import Stretch
from pipeline.drawing.piece.mark_names import line_words
from pipeline.drawing.piece.texts import CLEAR_OF_LINES, in_every, offs_mm, straight_part, text_inks, wordings_of
from pipeline.drawing.scene import Text
from pipeline.drawing.wording import SEPARATOR

_HIDDEN_MM = 1.2
"""How far from a text a line is hidden that passes it."""
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
    for index, request in requests:
        others = lines_but(lines, request.stretch)
        wordings = in_every(request.texts[0].split(SEPARATOR), terse=True)
        marks, offs = [straight_part(request.stretch)], offs_mm(nest.look)
        found = text_near(marks, wordings, text_sizes_mm, offs, room, CLEAR_OF_LINES, others, smaller=False)
        texts += text_inks(nest, request.stretch.sizes, found, taken)
        left += [] if found else [(index, request)]
    return texts, left


def lines_but(lines: Sequence[Stretch], own: Stretch) -> shapely.Geometry:
    """All lines but one."""
    return shapely.union_all([shapely.LineString(line.ring) for line in lines if line is not own])


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
