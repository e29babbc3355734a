"""What is written on a stack beside its block: along grain and fold, in lines, beside places."""

from collections.abc import Sequence

import shapely

from pipeline.drawing.ink import Ink, text_ink
from pipeline.drawing.line_labels import LabelRequest, LineLabel, Obstacles
from pipeline.drawing.marks import POINT_RADIUS_MM
from pipeline.drawing.piece_words import piece_cuts, size_range
from pipeline.drawing.side_text import text_beside
from pipeline.drawing.stack import Stack
from pipeline.drawing.stack_lines import InsideLine, Line
from pipeline.drawing.stretches import Stretch, length_mm
from pipeline.model.pattern import Pattern
from pipeline.model.points import Point
from pipeline.words import say, say_all

_LEAST_LABELLED_MM = 25.0
"""Shorter stretches that sizes share, where their lines part, are not labelled."""


def side_texts(
    stack: Stack,
    folds: Sequence[tuple[Ink, tuple[Point, Point]]],
    grains: Sequence[tuple[Ink, tuple[Point, Point]]],
    obstacles: Obstacles,
    taken: list[shapely.Polygon],
) -> list[Ink]:
    """What is written along the grain and the fold sign."""
    texts: list[Ink] = []
    pattern, look = stack.pattern, stack.look
    grain_words = [_grain_words(pattern, stack.name, language) for language in pattern.languages]
    fold_words = [say(language, "piece.fold") for language in pattern.languages]
    for marks, words, sides in ((folds, fold_words, (1,)), (grains, grain_words, (1, -1))):
        for ink, line in marks:
            own = list(dict.fromkeys(words))
            if ink.sizes != stack.sizes:
                own[-1] += f" {size_range(ink.sizes, pattern.sizes)}"
            wordings = [(" · ".join(own),), tuple(own)]
            found = text_beside(
                line, wordings, look.side_text_mm, sides, 1.0 + look.mark_mm, obstacles, stack.ground, taken
            )
            for label in found:
                texts.append(
                    text_ink(ink.sizes, label.baseline, label.text, label.size_mm, label.turned_deg, fill=look.ink)
                )
            if found:
                taken.append(shapely.Polygon(found[0].box))
    return texts


def _grain_words(pattern: Pattern, name: str, language: str) -> str:
    grain = pattern.pieces[name].grain if name in pattern.pieces else "warp"
    ways = [pattern.materials[cut.material].one_way for cut in piece_cuts(pattern, name)]
    words = [say(language, f"piece.grain-{grain}")]
    if True in ways:
        words.append(say(language, "piece.grain-one-way"))
    elif "either" in ways:
        words.append(say(language, "piece.grain-either"))
    return ", ".join(words)


def cut_requests(stack: Stack, lines: Sequence[Line], first: int) -> list[tuple[int, LabelRequest]]:
    """Sizes along cut lines: shared stretches first, then size by size, each starting where the last one left off."""
    requests = []
    for index, (stretch, _) in enumerate(lines):
        if len(stretch.sizes) > 1 and length_mm(stretch) < _LEAST_LABELLED_MM * stack.look.marks:
            continue
        text = size_range(stretch.sizes, stack.pattern.sizes)
        requests.append((first + index, LabelRequest(stretch, (text,), _phase(stack, stretch))))
    return sorted(requests, key=lambda request: -len(request[1].stretch.sizes))


def _phase(stack: Stack, stretch: Stretch) -> float:
    """Sizes start one after the other along their lines, so that their labels form a staircase."""
    if len(stretch.sizes) > 1:
        return 0.5
    return (stack.sizes.index(stretch.sizes[0]) + 0.5) / len(stack.sizes)


def inside_requests(stack: Stack, lines: Sequence[InsideLine], first: int) -> list[tuple[int, LabelRequest]]:
    """What an inside line is for, once on what most sizes share, else on every size's own; and whose an own one is."""
    most: dict[str, int] = {}
    for index, line in enumerate(lines):
        if line.key not in most or _weight(line) > _weight(lines[most[line.key]]):
            most[line.key] = index
    requests = []
    for index, line in enumerate(lines):
        alone = len(line.stretch.sizes) == 1 < len(stack.sizes)
        own = line.stretch.sizes[:1] if alone else ()
        texts = own
        if line.kind != "place" and (most[line.key] == index or len(lines[most[line.key]].stretch.sizes) == 1):
            texts = (" ".join((say_all(stack.pattern.languages, f"line.{line.kind}"), *own)), *own)
        if texts:
            requests.append((first + index, LabelRequest(line.stretch, texts, _phase(stack, line.stretch))))
    return requests


def _weight(line: InsideLine) -> tuple[int, float]:
    return len(line.stretch.sizes), length_mm(line.stretch)


def label_inks(
    stack: Stack,
    labels: Sequence[tuple[int, LineLabel]],
    requests: Sequence[tuple[int, LabelRequest]],
    taken: list[shapely.Polygon],
) -> list[Ink]:
    """Labels in lines, as found for the requests; their boxes are taken from now on."""
    texts = []
    for index, label in labels:
        sizes = requests[index][1].stretch.sizes
        texts.append(text_ink(sizes, label.baseline, label.text, label.size_mm, label.turned_deg, True, stack.look.ink))
        taken.append(shapely.Polygon(label.box))
    return texts


def point_tags(
    stack: Stack, points: Sequence[tuple[Ink, Point]], obstacles: Obstacles, taken: list[shapely.Polygon]
) -> list[Ink]:
    """The size beside a place that not all sizes share, where there is room for it."""
    look, texts = stack.look, list[Ink]()
    for ink, place in points:
        if ink.sizes == stack.sizes:
            continue
        label = size_range(ink.sizes, stack.pattern.sizes)
        for dx, dy in ((1.0, -0.5), (1.0, 1.3), (-1.0, -0.5), (-1.0, 1.3), (0.0, -1.6), (0.0, 2.6)):
            spot = Point(place.x + dx * 2 * look.tag_mm, place.y + dy * POINT_RADIUS_MM * look.marks)
            text = text_ink(ink.sizes, spot, label, look.tag_mm, bold=True, fill=look.ink)
            box = text.boxes[0]
            if not len(obstacles.tree.query(box, predicate="intersects")) and not any(box.intersects(b) for b in taken):
                texts.append(text)
                taken.append(box)
                break
    return texts
