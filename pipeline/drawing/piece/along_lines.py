"""Texts of lines, in them or beside them: the sizes of cut lines, and what inside lines are for."""

import math
from collections.abc import Sequence

import shapely

from pipeline.drawing.ink import Ink
from pipeline.drawing.labels.line_labels import LabelStyle
from pipeline.drawing.labels.side_text import Room
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.lines import InsideLine, Line
from pipeline.drawing.nest.opened import CENTRE
from pipeline.drawing.piece.afar import beside_first
from pipeline.drawing.piece.mark_names import line_words
from pipeline.drawing.piece.texts import beside_lines, cut_requests, inside_requests, texts_in_lines
from pipeline.drawing.wording import size_label

_CUT_EVERY_MM = 210.0
_CUT_TWO_MM = 110.0
_INSIDE_EVERY_MM = 600.0
_MOST_SHARE, _STRAIGHT_MM = 0.4, 6.0
"""Of lines that are not parted for other sizes' labels: how much of one its own may take, how far off corners."""


def cut_texts(
    nest: Nest,
    lines: Sequence[Line],
    first: int,
    room: Room,
    taken: list[shapely.Geometry],
    pages: Sequence[shapely.Geometry],
) -> list[Ink]:
    """The sizes of cut lines, of which the first is number `first` of all lines; `pages` as in `LabelSearch`."""
    look, inner = nest.look, room._replace(ground=nest.cut_ground)
    style = LabelStyle(
        look.cut_label_mm,
        every_mm=_CUT_EVERY_MM * look.marks,
        two_from_mm=_CUT_TWO_MM * look.marks,
        clear_mm=look.clear_mm,
    )
    if look.ground is not None:
        style = style._replace(whole=True, most=_MOST_SHARE, straight_mm=_STRAIGHT_MM)
    requests, beside = cut_requests(nest, lines, first), list[Ink]()
    if look.terse:
        others = [line.stretch for line in lines]
        beside, requests = beside_first(nest, requests, others, look.cut_label_mm, inner, taken)
    found, _ = texts_in_lines(nest, requests, style, inner, taken, pages)
    return [*beside, *found]


def inside_texts(
    nest: Nest, lines: Sequence[InsideLine], first: int, room: Room, taken: list[shapely.Geometry]
) -> list[Ink]:
    """What inside lines are for, but for the centre of an opened piece, of which that is said last."""
    look, pattern = nest.look, nest.pattern
    style = LabelStyle(
        look.inside_label_mm,
        every_mm=_INSIDE_EVERY_MM * look.marks,
        two_from_mm=math.inf,
        clear_mm=look.clear_mm,
        whole=look.ground is not None,
    )
    inner = room._replace(ground=nest.cut_ground)
    requests = [one for one in inside_requests(nest, lines, first) if lines[one[0] - first].key != CENTRE]
    beside, told = list[Ink](), {CENTRE}
    bare = {size_label((size,), pattern) for size in nest.sizes}
    if look.terse:
        others, asked = [line.stretch for line in lines], requests
        beside, requests = beside_first(nest, asked, others, look.inside_label_mm, inner, taken)
        told |= {lines[one[0] - first].key for one in asked if one not in requests and one[1].texts[0] not in bare}
    found, named = texts_in_lines(nest, requests, style, inner, taken)
    told |= {lines[requests[k][0] - first].key for k in named if requests[k][1].texts[0] not in bare}
    untold = [line for line in lines if line.key not in told and line_words(pattern, nest.name, line.key, line.kind)]
    return [*beside, *found, *beside_lines(nest, untold, room, taken, lines if look.terse else ())]
