"""What is written on a nest beside its block: along grain and fold, in lines, beside places."""

import itertools
import math
from collections.abc import Sequence

import numpy as np
import shapely

from pipeline.drawing.ink import Ink, text_ink
from pipeline.drawing.labels.line_labels import (
    LabelRequest,
    LabelSearch,
    LabelStyle,
    LineLabel,
)
from pipeline.drawing.labels.line_rows import line_rows
from pipeline.drawing.labels.side_text import ANYWHERE, ON_LINES, ON_MARKS, Room, text_beside, text_near
from pipeline.drawing.nest.all_sizes import Nest
from pipeline.drawing.nest.lines import InsideLine, Line
from pipeline.drawing.nest.stretches import Stretch, length_mm
from pipeline.drawing.piece.mark_names import line_words
from pipeline.drawing.styles import ALIKE_MM, Look
from pipeline.drawing.wording import SEPARATOR, size_label
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import LineKind
from pipeline.model.questions import nap_of
from pipeline.words import say

_LEAST_LABELLED_MM = 25.0
"""Shorter stretches that sizes share, where their lines part, are not labelled."""
_CROWD_SHARE = 2.5
"""Nor are those beside which another line runs within so many widths of a line."""
BESIDE_OFF_MM = (1.2, 3.0, 6.0, 10.0)
"""How far from an inside line a text beside it stands."""
_NEARLY = 0.95
CLEAR_OF_LINES = 1.0
"""What a place costs less than that no line passes."""


def side_texts(
    nest: Nest,
    folds: Sequence[tuple[Ink, tuple[Point, Point]]],
    grains: Sequence[tuple[Ink, tuple[Point, Point]]],
    room: Room,
    taken: list[shapely.Geometry],
) -> list[Ink]:
    """What is written along the grain and along the fold sign; rather not on the joints of pages.

    Along the grain always, but from afar only where it can be read: there the arrow speaks for itself.
    """
    texts: list[Ink] = []
    pattern, look = nest.pattern, nest.look
    grain_words = [_grain_words(pattern, nest.name, language) for language in pattern.languages]
    fold_words = [say(language, "piece.fold") for language in pattern.languages]
    middle = nest.ground.centroid
    for marks, words in ((folds, fold_words), (grains, grain_words)):
        for ink, line in marks:
            outer = 1 if line[0].to(line[1]).cross(line[0].to(Point(middle.x, middle.y))) < 0 else -1
            sides = (outer, -outer) if marks is grains else (1,)
            own = list(dict.fromkeys(words))
            if ink.sizes != nest.sizes:
                own[-1] += f" {size_label(ink.sizes, pattern)}"
            wordings = in_every(own, look.terse) if marks is grains else wordings_of(own, look.terse)
            off_mm = 1.0 + look.mark_mm
            needed = marks is grains
            below = ON_LINES if look.terse else ANYWHERE if needed else ON_MARKS
            if look.terse and needed and len(own) > 1:
                below = CLEAR_OF_LINES  # none is better than several languages on lines
            heads_mm = line[1].distance(ink.strokes[0][1]) if needed else 0.0
            found = text_beside(line, wordings, look.side_text_mm, sides, off_mm, room, needed, below, heads_mm)
            texts += text_inks(nest, ink.sizes, found, taken, bold=False)
    return texts


def _grain_words(pattern: Pattern, name: str, language: str) -> str:
    grain = pattern.pieces[name].grain if name in pattern.pieces else "warp"
    nap = nap_of(pattern, name)
    words = [say(language, f"piece.grain-{grain}")]
    words += [say(language, f"piece.grain-{nap}")] if nap != "none" else []
    return ", ".join(words)


def cut_requests(nest: Nest, lines: Sequence[Line], first: int) -> list[tuple[int, LabelRequest]]:
    """Sizes along cut lines: shared stretches first, then size by size, each starting where the last one left off.

    From afar one size is shown: what all have in common is not named by all of them.
    """
    requests = []
    by_length = sorted(range(len(lines)), key=lambda index: length_mm(lines[index].stretch))
    longest = {
        lines[index].stretch.sizes: index for index in by_length if len(lines[index].stretch.sizes) == 1
    }.values()
    crowded = _crowded(lines, nest.look.cut_mm * _CROWD_SHARE)
    for index, (stretch, *_) in enumerate(lines):
        short = length_mm(stretch) < _LEAST_LABELLED_MM * nest.look.marks
        if (crowded[index] and index not in longest) or (short and len(stretch.sizes) > 1):
            continue
        if nest.look.terse and stretch.sizes == nest.sizes != stretch.sizes[:1]:
            continue
        text = size_label(stretch.sizes, nest.pattern)
        marks_mm = () if nest.look.terse else _notches_mm(nest, stretch)
        requests.append((first + index, LabelRequest(stretch, (text,), _phase(nest, stretch), marks_mm)))
    return sorted(requests, key=lambda request: -len(request[1].stretch.sizes))


def _notches_mm(nest: Nest, stretch: Stretch) -> tuple[float, ...]:
    """Where along a line that one of several sizes has alone its notches begin."""
    if len(stretch.sizes) > 1 or len(nest.sizes) == 1:
        return ()
    line = shapely.LineString(stretch.ring)
    feet = shapely.points([stroke.outer for stroke in nest.pieces[stretch.sizes[0]].notches] or np.empty((0, 2)))
    own = feet[shapely.distance(feet, line) <= ALIKE_MM]
    return tuple(sorted(shapely.line_locate_point(line, own).tolist()))


def _crowded(lines: Sequence[Line] | Sequence[InsideLine], near_mm: float) -> list[bool]:
    """Of each stretch, whether another one runs so near to its middle that a label would seem to speak of both."""
    runs = [shapely.LineString(line.stretch.ring) for line in lines]
    middles = [run.interpolate(0.5, normalized=True) for run in runs]
    at_middle, at_run = shapely.STRtree(runs).query(middles, predicate="dwithin", distance=near_mm)
    return (np.bincount(at_middle[at_middle != at_run], minlength=len(runs)) > 0).tolist()


def _phase(nest: Nest, stretch: Stretch) -> float:
    """Sizes start one after the other along their lines, so that their labels form a staircase."""
    if len(stretch.sizes) > 1:
        return 0.5
    return (nest.sizes.index(stretch.sizes[0]) + 0.5) / len(nest.sizes)


def inside_requests(nest: Nest, lines: Sequence[InsideLine], first: int) -> list[tuple[int, LabelRequest]]:
    """What an inside line is for, once on what most sizes share, else on every size's own; and whose an own one is.

    What only goes on, in one size, from a line that all have needs no label; nor, from afar, do lines so near to each
    other that sizes would not stand clear of them: the cut lines tell whose they are.
    """
    most: dict[str, int] = {}
    having: dict[str, set[str]] = {}
    for index, line in enumerate(lines):
        having.setdefault(line.key, set()).update(line.stretch.sizes)
        if line.key not in most or _weight(line) > _weight(lines[most[line.key]]):
            most[line.key] = index
    requests = []
    crowded = _crowded(lines, nest.look.inside_label_mm[-1]) if nest.look.terse and lines else [False] * len(lines)
    for index, line in enumerate(lines):
        if crowded[index] and line.stretch.sizes != nest.sizes:
            continue
        common = having[line.key] == set(lines[most[line.key]].stretch.sizes)
        alone = len(line.stretch.sizes) == 1 < len(nest.sizes) and not (common and most[line.key] != index)
        own = (size_label(line.stretch.sizes, nest.pattern),) if alone else ()
        texts, words = own, line_words(nest.pattern, nest.name, line.key, line.kind)
        if words and (most[line.key] == index or len(lines[most[line.key]].stretch.sizes) == 1):
            texts = (" ".join((SEPARATOR.join(words), *own)), *own)
        if texts:
            requests.append((first + index, LabelRequest(line.stretch, texts, _phase(nest, line.stretch))))
    return requests


def beside_lines(
    nest: Nest,
    lines: Sequence[InsideLine],
    room: Room,
    taken: list[shapely.Geometry],
    among: Sequence[InsideLine] = (),
) -> list[Ink]:
    """What inside lines are for, beside them: for those that have no room in themselves; never nearer to another line
    `among` these."""
    groups: dict[tuple[str, LineKind], list[InsideLine]] = {}
    for line in lines:
        groups.setdefault((line.key, line.kind), []).append(line)
    texts = []
    for (key, kind), group in groups.items():
        own = line_words(nest.pattern, nest.name, key, kind)
        wordings, below = wordings_of(own, nest.look.terse), ON_LINES if nest.look.terse else ON_MARKS
        longest_mm = max(length_mm(line.stretch) for line in group)
        whole = [line for line in group if length_mm(line.stretch) > longest_mm / 2]  # others only go on from one
        marks = [straight_part(line.stretch) for line in (whole[0], whole[-1])]
        shown = {size for line in group for size in line.stretch.sizes}
        sizes = tuple(size for size in nest.sizes if size in shown)
        others = shapely.MultiLineString([shapely.LineString(line.stretch.ring) for line in among if line.key != key])
        found = text_near(marks, wordings, nest.look.inside_label_mm, offs_mm(nest.look), room, below, others)
        texts += text_inks(nest, sizes, found, taken)
    return texts


def wordings_of(own: Sequence[str], terse: bool) -> list[tuple[str, ...]]:
    """What is tried: a text in several languages in a line, and a line a language; a terse one also halved, and in
    the first alone."""
    alone = [(own[0],), _halves(own[0])] if terse else []
    return list(dict.fromkeys((*in_every(own, terse), *alone)))


def in_every(own: Sequence[str], terse: bool) -> list[tuple[str, ...]]:
    """The same, but never in the first alone."""
    halved = [tuple(itertools.chain.from_iterable(map(_halves, own)))] if terse else []
    return list(dict.fromkeys(((" · ".join(own),), tuple(own), *halved)))


def offs_mm(look: Look) -> list[float]:
    """How far texts stand from the lines beside which they are, nearest first."""
    return [off * look.marks**0.5 for off in BESIDE_OFF_MM]


def _halves(text: str) -> tuple[str, ...]:
    """A long text in two lines."""
    words = text.split(" ")
    half = len(words) // 2
    return (" ".join(words[:half]), " ".join(words[half:])) if half > 1 else (text,)


def straight_part(stretch: Stretch) -> tuple[Point, Point]:
    """A stretch's chord where it is nearly straight, else its longest part."""
    start, end = stretch.ring[0], stretch.ring[-1]
    if start.distance(end) > _NEARLY * length_mm(stretch):
        return start, end
    return max(itertools.pairwise(stretch.ring), key=lambda part: part[0].distance(part[1]))


def _weight(line: InsideLine) -> tuple[int, float]:
    return len(line.stretch.sizes), length_mm(line.stretch)


def texts_in_lines(
    nest: Nest,
    requests: Sequence[tuple[int, LabelRequest]],
    style: LabelStyle,
    room: Room,
    taken: list[shapely.Geometry],
    pages: Sequence[shapely.Geometry] = (),
) -> tuple[list[Ink], set[int]]:
    """Labels in lines, and rows of sizes where lines of several sizes nearly touch.

    Also the requests whose first text stands in its line. `pages` as in `LabelSearch`.
    """
    labels = LabelSearch(room.obstacles, style, taken, room.joints, pages).place(requests)
    texts = _label_inks(nest, labels, requests, taken)
    first = {k for k, label in labels if label.text == requests[k][1].texts[0]}
    left = sorted(set(range(len(requests))) - {k for k, _ in labels})
    alone = [k for k in left if len(requests[k][1].stretch.sizes) == 1 < len(nest.sizes)]
    if nest.look.coloured:  # all in one colour, leaders would be strokes among strokes
        rows, without = line_rows(nest, [requests[k][1].stretch for k in alone], room, taken)
        texts += rows
        left = sorted(set(left) - set(alone) | {alone[k] for k in without})
        style = style._replace(two_from_mm=math.inf)
    crossed = [requests[k] for k in left]
    labels = LabelSearch(room.obstacles, style, taken, room.joints).place_crossed(crossed)
    first |= {left[k] for k, label in labels if label.text == requests[left[k]][1].texts[0]}
    return texts + _label_inks(nest, labels, crossed, taken), first


def _label_inks(
    nest: Nest,
    labels: Sequence[tuple[int, LineLabel]],
    requests: Sequence[tuple[int, LabelRequest]],
    taken: list[shapely.Geometry],
) -> list[Ink]:
    """Labels in lines, as found for the requests; their boxes are taken from now on."""
    texts = []
    for index, label in labels:
        texts += text_inks(nest, requests[index][1].stretch.sizes, (label,), taken)
    return texts


def text_inks(
    nest: Nest,
    sizes: tuple[str, ...],
    labels: Sequence[LineLabel],
    taken: list[shapely.Geometry],
    bold: bool = True,
) -> list[Ink]:
    """The lines of one text, whose box they share and which is taken from now on."""
    if not labels:
        return []
    box = shapely.Polygon(labels[0].box)
    taken.append(box)
    return [
        text_ink(sizes, at.baseline, at.text, at.size_mm, at.turned_deg, bold, nest.look.ink, (box,) if not n else ())
        for n, at in enumerate(labels)
    ]
