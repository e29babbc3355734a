"""The correction sheet, page by page: what is told, pictures of old over new, and strips in true size."""

from collections.abc import Callable, Iterator, Sequence

from pipeline.correction import sentences
from pipeline.correction.differences import Difference, outline
from pipeline.correction.sentences import TAPE_MM, Correction, by_piece
from pipeline.correction.strips import AddedStrip, strips_to_add
from pipeline.drawing import scene
from pipeline.drawing.fonts import ASCENT
from pipeline.drawing.panels.words import SEPARATOR
from pipeline.drawing.scene import Run, Scene, Shape
from pipeline.drawing.styles import BLACK, LineStyle
from pipeline.drawing.text_lines import fitted, wrapped
from pipeline.drawing.wording import told_of
from pipeline.geometry.points import Point
from pipeline.ledger.packed import Line
from pipeline.model.pattern import in_language
from pipeline.sheets.papers import PAPERS
from pipeline.words import say

PICTURES = 3
"""Sizes of a piece that are drawn: those that changed most."""
_MARGIN_MM = 15.0
_TEXT_MM = 3.4
_LINE = 1.3
_PICTURE_MM = 78.0
_PICTURE_TEXT_MM = 10.0
_GAP_MM = 5.0
_HANGING_MM = 4.0
_PARTED_MM = 1.5
"""Between the page lists of one size and those of the next."""
_CHECK_MM = 100.0
_OLD = LineStyle("#707070", 0.3, (2.0, 1.2))
_NEW = LineStyle(BLACK, 0.35)
_HELD = "#e4e4e4"


class Flow:
    """Texts and pictures set one below the other, on as many pages as they need."""

    def __init__(self, width_mm: float, height_mm: float) -> None:
        self.page_mm = width_mm, height_mm
        self.width_mm = width_mm - 2 * _MARGIN_MM
        self.bodies: list[list[Shape]] = [[]]
        self.y = _MARGIN_MM

    @property
    def pages(self) -> tuple[Scene, ...]:
        """What was set, a scene a page."""
        return tuple(scene.of(0, 0, *self.page_mm, body) for body in self.bodies)

    def room(self, height_mm: float) -> None:
        """Go on to the next page where this one has no such room."""
        if self.y + height_mm > self.page_mm[1] - _MARGIN_MM and self.bodies[-1]:
            self.bodies.append([])
            self.y = _MARGIN_MM

    def text(self, content: str, size_mm: float = _TEXT_MM, bold: bool = False, indent_mm: float = 0.0) -> None:
        """A paragraph."""
        self._lines(wrapped(content, size_mm, self.width_mm - indent_mm, bold), size_mm, bold, indent_mm)

    def entry(self, content: str) -> None:
        """An entry of a list: what does not fit its first line is indented, so that entries are told apart."""
        first, *rest = wrapped(content, _TEXT_MM, self.width_mm)
        self._lines([first], _TEXT_MM, False, 0.0)
        if rest:
            self.text(" ".join(rest), indent_mm=_HANGING_MM)

    def _lines(self, lines: Sequence[str], size_mm: float, bold: bool, indent_mm: float) -> None:
        for line in lines:
            self.room(_LINE * size_mm)
            at = Point(_MARGIN_MM + indent_mm, self.y + ASCENT * size_mm)
            self.bodies[-1].append(scene.text(at, line, size_mm, bold=bold))
            self.y += _LINE * size_mm

    def heading(self, content: str) -> None:
        """A bold line, never the last of its page."""
        self.gap()
        self.room(6 * _LINE * _TEXT_MM)
        self.text(content, 1.15 * _TEXT_MM, bold=True)
        self.gap(1.0)

    def gap(self, height_mm: float = 3.5) -> None:
        """Space."""
        self.y += height_mm

    def row(self, blocks: Sequence[tuple[float, float, Callable[[float, float], list[Shape]]]]) -> None:
        """Blocks beside each other, in as many rows as they need: width, height, and what draws them at a corner."""
        x, high = 0.0, 0.0
        for width, height, drawn in blocks:
            if x and x + width > self.width_mm:
                self.y += high + _GAP_MM
                x = high = 0.0
            if not x:
                self.room(height)
            elif self.y + height > self.page_mm[1] - _MARGIN_MM:
                self.y += high + _GAP_MM
                x = high = 0.0
                self.room(height)
            self.bodies[-1] += drawn(_MARGIN_MM + x, self.y)
            x, high = x + width + _GAP_MM, max(high, height)
        self.y += high + _GAP_MM if blocks else 0.0


def correction_pages(correction: Correction, language: str, paper: str) -> tuple[Scene, ...]:
    """The pages of the sheet in a language on A4 or Letter."""
    flow = Flow(PAPERS[paper].width_mm, PAPERS[paper].height_mm)
    pattern, changes = correction.pattern, correction.changes
    flow.text(in_language(pattern.title, language), 7.0, bold=True)
    since = {"since": changes.since, "version": changes.version}
    flow.text(say(language, "correction.title", **since), 4.6, bold=True)
    flow.text(f"{in_language(pattern.maker, language)} · {in_language(pattern.contact, language)}")
    flow.heading(say(language, "correction.wrong"))
    for paragraph in sentences.what_was_wrong(correction):
        flow.text(paragraph)
        flow.gap(1.0)
    _differences(flow, correction, language)
    _pages(flow, correction, language)
    _pictures(flow, correction, language)
    _mending(flow, correction, language)
    return flow.pages


def _differences(flow: Flow, correction: Correction, language: str) -> None:
    flow.heading(say(language, "correction.different"))
    if sizes := sentences.concerned(correction):
        flow.text(sentences.concerned_said(correction, sizes, language))
    if not correction.differences:
        flow.text(say(language, "correction.shapes-same"))
    for piece, group in by_piece(correction.differences):
        told = sentences.sizes_said(correction, [one.size for one in group], language)
        moves = sentences.edge_sentences(correction, group, language)
        if moves:
            flow.text(f"{sentences.piece_name(correction, piece, language)} · {told}", bold=True)
        for line in moves:
            flow.text(line, indent_mm=4)
    for line in sentences.other_sentences(correction, language):
        flow.text(line)
    if any(change.what == "text" for change in correction.changes.changes):
        keys = {change.name.partition(",")[0] for change in correction.changes.changes if change.what == "text"}
        flow.text(told_of(language, say(language, "correction.texts"), ", ".join(sorted(keys))))


def _pages(flow: Flow, correction: Correction, language: str) -> None:
    own = sentences.print_file
    flow.heading(say(language, "correction.pages"))
    lists = sentences.pages_to_print(correction, language)
    for number, line in enumerate(sentences.page_sentences(correction, language)):
        if number and lists[number].sizes != lists[number - 1].sizes:
            flow.gap(_PARTED_MM)
        flow.entry(line)
    flow.gap(_PARTED_MM)
    whole = {each.file for each in lists}
    papers = [paper for paper in correction.pattern.print.formats if own(correction, paper, language) in whole]
    if papers:
        for told in sentences.reprint_sentences(correction, papers, language):
            flow.text(told)
    if any(change.name.startswith("project/") for change in correction.changes.changes if change.what == "page"):
        flow.text(say(language, "correction.thrown"))


def _pictures(flow: Flow, correction: Correction, language: str) -> None:
    drawn = [one for _, group in by_piece(correction.differences) for one in _most(group) if one.edges]
    if not drawn:
        return
    flow.gap()
    flow.room(_PICTURE_MM + 2 * _PICTURE_TEXT_MM)
    flow.text(say(language, "correction.legend"), bold=True)
    flow.gap(1.0)
    width = (flow.width_mm - _GAP_MM) / 2
    flow.row([(width, _PICTURE_MM + _PICTURE_TEXT_MM, _picture(correction, one, language, width)) for one in drawn])


def _most(group: list[Difference]) -> list[Difference]:
    """The sizes of a piece that changed most, in their order."""
    chosen = sorted(group, key=lambda one: -one.most_mm)[:PICTURES]
    return [one for one in group if one in chosen]


def _picture(
    correction: Correction, of: Difference, language: str, width: float
) -> Callable[[float, float], list[Shape]]:
    """Old over new, made to fit, with a line from each edge's largest distance to what is told of it."""

    def draw(left: float, top: float) -> list[Shape]:
        old, new = outline(of.old), outline(of.new)
        least_x, least_y, most_x, most_y = old.union(new).bounds
        scale = min(1.0, 0.62 * width / (most_x - least_x), _PICTURE_MM / (most_y - least_y))

        def at(place: tuple[float, float]) -> Point:
            return Point(left + (place[0] - least_x) * scale, below + (place[1] - least_y) * scale)

        name = f"{sentences.piece_name(correction, of.piece, language)} · {say(language, 'size.name')} {of.size}"
        head, size = fitted([name], width, _TEXT_MM, 2.0, bold=True)
        below = top + _PICTURE_TEXT_MM - 3.0
        drawn: list[Shape] = [scene.text(Point(left, top + 3.5), head, size, bold=True)]
        for lines, style in ((of.old.edges, _OLD), (of.new.edges, _NEW)):
            runs = [Run(tuple(map(at, line))) for each in lines.values() for line in each if len(line) > 1]
            drawn.append(scene.path(runs, style))
        y, right = below + 4.0, left + (most_x - least_x) * scale + 6.0
        for place, told in _told(correction, of, language):
            line = wrapped(told, 2.4, left + width - right)
            drawn.append(scene.line(at(place), Point(right - 1.0, y - 0.8), BLACK, 0.13))
            drawn.append(scene.circle(at(place), 1.2, BLACK, 0.2))
            for part in line:
                drawn.append(scene.text(Point(right, y), part, 2.4))
                y += 3.2
            y += 1.5
        return drawn

    return draw


def _told(correction: Correction, of: Difference, language: str) -> Iterator[tuple[tuple[float, float], str]]:
    for edge, move in of.edges.items():
        for key, mm, place in (("out", move.out_mm, move.out_at), ("in", move.in_mm, move.in_at)):
            if mm:
                told = sentences.distance(correction, mm, language)
                name = sentences.edge_name(edge, language)
                yield place, say(language, f"correction.{key}", edge=name, distance=told)


def _mending(flow: Flow, correction: Correction, language: str) -> None:
    if not correction.differences:
        return
    moves = [move for one in correction.differences for move in one.edges.values()]
    flow.heading(say(language, "correction.mend"))
    if any(move.out_mm for move in moves):
        flow.text(say(language, "correction.mend-out"))
        flow.gap(1.0)
    if any(move.in_mm for move in moves):
        flow.text(say(language, "correction.mend-in"))
        flow.gap(1.0)
    if any(change.what in ("notch", "mark") for change in correction.changes.changes):
        flow.text(say(language, "correction.mend-marks"))
        flow.gap(1.0)
    if any(move.out_mm > TAPE_MM for move in moves):
        far = sentences.distance(correction, TAPE_MM, language)
        flow.text(say(language, "correction.mend-again", distance=far))
    strips = [strip for one in correction.differences for strip in strips_to_add(one, TAPE_MM)]
    if strips:
        flow.heading(say(language, "correction.strips"))
        flow.text(say(language, "correction.strip-how"))
        flow.gap()
        flow.row([(_CHECK_MM, 7.0, lambda left, top: _check(left, top, language))])
        flow.row(
            [(max(14.0, strip.sides[0]) + 8.0, strip.sides[1], _strip(correction, strip, language)) for strip in strips]
        )


def _check(left: float, top: float, language: str) -> list[Shape]:
    """A line to measure: what is taped on must have its true size."""
    ends = Point(left, top + 2), Point(left + _CHECK_MM, top + 2)
    ticks = [(Point(end.x, end.y - 2), Point(end.x, end.y + 2)) for end in ends]
    said = scene.text(Point(left, top + 6.5), say(language, "correction.check"), 2.6)
    return [scene.strokes([ends, *ticks], BLACK, 0.1), said]


def _strip(correction: Correction, strip: AddedStrip, language: str) -> Callable[[float, float], list[Shape]]:
    def draw(left: float, top: float) -> list[Shape]:
        def run(line: Line) -> tuple[Point, ...]:
            return tuple(Point(left + x, top + y) for x, y in line)

        solid = scene.path([Run(run(tuple(strip.area.exterior.coords[:-1])), closed=True)], _NEW)
        parts = getattr(strip.old_line, "geoms", [strip.old_line])
        dashed = [Run(run(tuple(part.coords))) for part in parts if part.geom_type == "LineString"]
        held = [part for part in getattr(strip.held, "geoms", [strip.held]) if part.geom_type == "Polygon"]
        grey = [scene.polygon(run(tuple(part.exterior.coords[:-1])), _HELD) for part in held]
        name = say(
            language,
            "correction.strip",
            piece=sentences.piece_name(correction, strip.piece, language),
            edge=sentences.edge_name(strip.edge, language),
            size=f"{say(language, 'size.name')} {strip.size}",
            number=strip.number,
            count=strip.parts,
        )
        wide, high = strip.sides
        told, size = fitted([name], high, 2.6, 1.8)
        return [
            *grey,
            solid,
            scene.path(dashed, _OLD),
            scene.text(Point(left + wide + 4.5, top), told, size, turned_deg=90.0),
        ]

    return draw


def title_words(correction: Correction, language: str) -> str:
    """What the file is called by readers."""
    title = in_language(correction.pattern.title, language)
    since = {"since": correction.changes.since, "version": correction.changes.version}
    return SEPARATOR.join((title, say(language, "correction.title", **since)))
