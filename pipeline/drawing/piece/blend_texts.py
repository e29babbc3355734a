"""What is written in guides between sizes: from which size to which, as it is read along the guide."""

import math
from collections.abc import Sequence

import shapely

from pipeline.drawing.ink import Ink, text_ink
from pipeline.drawing.labels.line_labels import LabelRequest, LabelSearch, LabelStyle, LineLabel
from pipeline.drawing.labels.side_text import Room
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.blends import Guide
from pipeline.drawing.wording import SEPARATOR, size_label
from pipeline.geometry.points import Vector
from pipeline.words import say

_EVERY_MM = 600.0
_PHASES = (0.36, 0.64)
"""Where the two guides of a pair, which cross at their middle, are far from each other and from the sizes' lines."""


def blend_texts(
    nest: Nest, guides: Sequence[Guide], first: int, room: Room, taken: list[shapely.Geometry]
) -> list[Ink]:
    """ "from 38 to 40" in guides, in all languages, else in the first, where no other line passes.

    `first` is the number of the first guide among the obstacles' lines. Nothing else gives way for it: a guide without
    room for it touches the lines of its two sizes, and shows with these alone.
    """
    style = LabelStyle(nest.look.inside_label_mm, _EVERY_MM, math.inf, nest.look.clear_mm)
    search = LabelSearch(room.obstacles, style, taken, room.joints)
    requests = []
    for number, guide in enumerate(guides):
        texts = tuple(dict.fromkeys((_said(nest, guide.start, guide.end), _said(nest, guide.start, guide.end, 1))))
        phase = _PHASES[number % 2]
        requests.append((first + number, LabelRequest(guide.line.stretch, texts, phase)))
    inks = []
    for number, label in search.place(requests):
        guide = guides[number]
        box = shapely.Polygon(label.box)
        taken.append(box)
        text = _along(nest, guide, label, label.text == requests[number][1].texts[0])
        ink = text_ink(
            guide.line.stretch.sizes, label.baseline, text, label.size_mm, label.turned_deg, True, nest.look.ink, (box,)
        )
        inks.append(ink._replace(together=True))
    return inks


def _along(nest: Nest, guide: Guide, label: LineLabel, whole: bool) -> str:
    """The text in the order in which it is read: the size that is named first lies at the end where reading begins."""
    start, end = guide.line.stretch.points[0], guide.line.stretch.points[-1]
    turned = math.radians(label.turned_deg)
    forward = start.to(end).dot(Vector(math.cos(turned), math.sin(turned))) >= 0
    sizes = (guide.start, guide.end) if forward else (guide.end, guide.start)
    return _said(nest, *sizes, None if whole else 1)


def _said(nest: Nest, start: str, end: str, languages: int | None = None) -> str:
    labels = {"first": size_label((start,), nest.pattern), "second": size_label((end,), nest.pattern)}
    told = (say(language, "piece.blend", **labels) for language in nest.pattern.languages[:languages])
    return SEPARATOR.join(dict.fromkeys(told))
