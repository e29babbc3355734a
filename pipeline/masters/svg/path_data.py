"""Path data to exact curves, by the strict grammar of SVG 1.1 (8.3.9): what does not parse to its end is refused."""

import math
import re

import msgspec

from pipeline.geometry.curves import Cubic, Line, Path, Segment, mapped_path
from pipeline.geometry.points import Affine, Point
from pipeline.masters.svg.arcs import arc_between
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.numbers import COMMA, LIST, MOST_SEGMENTS, NUMBER, SPACE, too_many_segments


class Subpath(msgspec.Struct, frozen=True):
    """One stroke of a path. A lone point has no segments; `closed` says that it was closed, not only that it meets."""

    start: Point
    segments: Path
    closed: bool

    def mapped(self, affine: Affine) -> "Subpath":
        """The stroke under an affine map, exactly."""
        return Subpath(affine.point(self.start), mapped_path(self.segments, affine), self.closed)


_COMMAND = re.compile(rf"{SPACE}*+([MmZzLlHhVvCcSsQqTtAa])")
_NUMBERS = re.compile(LIST)
_NUMBER = re.compile(NUMBER)
_ARC = re.compile(
    rf"({NUMBER}){COMMA}({NUMBER}){COMMA}({NUMBER})(?:{SPACE}++,?+{SPACE}*+|,{SPACE}*+)([01]){COMMA}([01]){COMMA}"
    rf"({NUMBER}){COMMA}({NUMBER})"
)
_BETWEEN = re.compile(COMMA)
_SPACE = re.compile(f"{SPACE}*+")
_TAKES = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}


def parse_path(data: str) -> tuple[Subpath, ...]:
    """The strokes of path data, in user units; none for empty data. Raises SvgFault."""
    pen = _Pen()
    position = 0
    end = len(data.rstrip(" \t\r\n\f"))
    while position < end:
        match = _COMMAND.match(data, position)
        if match is None:
            raise _cut_off(data, position, "no path command stands here")
        letter = match[1]
        if position == 0 and letter not in "Mm":
            raise _cut_off(data, 0, "path data begins with M or m")
        numbers, position = _arguments(letter.upper(), data, match.end())
        pen.count += max(1, len(numbers) // max(1, _TAKES[letter.upper()]))
        if pen.count > MOST_SEGMENTS:
            raise too_many_segments(pen.count)
        pen.draw(letter, numbers)
    return pen.finished()


def _arguments(command: str, data: str, position: int) -> tuple[list[float], int]:
    """The numbers after a command, and where the next command stands."""
    takes = _TAKES[command]
    if takes == 0:
        return [], position
    if command == "A":
        texts, position = _arc_arguments(data, position)
    else:
        match = _NUMBERS.match(data, position)
        assert match is not None, "a list may be empty"
        texts, position = _NUMBER.findall(match[0]), match.end()
    if len(texts) % takes or not texts:
        wanted = f"{takes} or a multiple" if takes > 1 else "1 or more"
        raise _cut_off(data, position, f"{command} has {len(texts)} readable numbers instead of {wanted}")
    numbers = [float(text) for text in texts]
    if not all(map(math.isfinite, numbers)):
        raise SvgFault(
            "not-finite",
            "The path data holds a number that is not finite.",
            "Draw the path again.",
            next(text for text, number in zip(texts, numbers, strict=True) if not math.isfinite(number)),
            "finite numbers",
        )
    return numbers, position


def _arc_arguments(data: str, position: int) -> tuple[list[str], int]:
    texts: list[str] = []
    space = _SPACE.match(data, position)
    match = _ARC.match(data, space.end() if space else position)
    while match is not None:
        texts.extend(match.groups())
        position = match.end()
        between = _BETWEEN.match(data, position)
        match = _ARC.match(data, between.end() if between else position)
    return texts, position


def _cut_off(data: str, position: int, why: str) -> SvgFault:
    rest = data[position:].lstrip(" \t\r\n\f,")
    if re.match(r"(?i)[+-]?(nan|inf)", rest):
        return SvgFault(
            "not-finite",
            f"The path data holds {excerpt(rest, 20)!r} at character {position + 1}, which is not a finite number.",
            "Draw the path again.",
            rest,
            "finite numbers",
        )
    found = excerpt(data[max(0, position - 20) : position + 40], 60)
    return SvgFault(
        "bad-path-data",
        f"The path data cannot be read from character {position + 1} of {len(data)} on: {why}.",
        "Draw the path again: it may have been cut off when the file was written or copied.",
        found,
        "path data that parses to its end",
    )


class _Pen:
    """Where the pen stands while path data is drawn, and what it has drawn."""

    def __init__(self) -> None:
        self.count = 0
        self._done: list[Subpath] = []
        self._segments: list[Segment] = []
        self._start: Point | None = None
        self._at = Point(0.0, 0.0)
        self._control: tuple[str, Point] = ("", self._at)

    def draw(self, letter: str, numbers: list[float]) -> None:
        """One command with all its numbers."""
        command, relative = letter.upper(), letter.islower()
        if command == "Z":
            self._close()
        elif command == "M":
            self._move(self._points(numbers[:2], relative)[0])
            for i in range(2, len(numbers), 2):
                self._line(self._points(numbers[i : i + 2], relative)[0])
        else:
            takes, draw = _TAKES[command], getattr(self, f"_draw_{command.lower()}")
            for i in range(0, len(numbers), takes):
                draw(numbers[i : i + takes], relative)

    def finished(self) -> tuple[Subpath, ...]:
        """All strokes, the last one included."""
        if self._start is not None:
            self._done.append(Subpath(self._start, tuple(self._segments), False))
        return tuple(self._done)

    def _points(self, numbers: list[float], relative: bool) -> list[Point]:
        x, y = self._at if relative else (0.0, 0.0)
        return [Point(x + numbers[i], y + numbers[i + 1]) for i in range(0, len(numbers), 2)]

    def _move(self, to: Point) -> None:
        if self._start is not None:
            self._done.append(Subpath(self._start, tuple(self._segments), False))
        self._start, self._segments, self._at = to, [], to
        self._control = ("", to)

    def _close(self) -> None:
        start = self._start if self._start is not None else self._at
        if self._at != start:
            self._segments.append(Line(self._at, start))
        self._done.append(Subpath(start, tuple(self._segments), True))
        self._start, self._segments, self._at = None, [], start
        self._control = ("", start)

    def _add(self, segment: Segment | None, end: Point, control: tuple[str, Point] | None = None) -> None:
        if self._start is None:  # after Z a new stroke begins where the last one did
            self._start = self._at
        if segment is not None:
            self._segments.append(segment)
        self._at = end
        self._control = control or ("", end)

    def _line(self, to: Point) -> None:
        self._add(Line(self._at, to) if to != self._at else None, to)

    def _draw_l(self, numbers: list[float], relative: bool) -> None:
        self._line(self._points(numbers, relative)[0])

    def _draw_h(self, numbers: list[float], relative: bool) -> None:
        self._line(Point(numbers[0] + (self._at.x if relative else 0.0), self._at.y))

    def _draw_v(self, numbers: list[float], relative: bool) -> None:
        self._line(Point(self._at.x, numbers[0] + (self._at.y if relative else 0.0)))

    def _draw_c(self, numbers: list[float], relative: bool) -> None:
        first, second, end = self._points(numbers, relative)
        self._cubic(first, second, end)

    def _draw_s(self, numbers: list[float], relative: bool) -> None:
        second, end = self._points(numbers, relative)
        self._cubic(self._mirrored("C"), second, end)

    def _draw_q(self, numbers: list[float], relative: bool) -> None:
        control, end = self._points(numbers, relative)
        self._quadratic(control, end)

    def _draw_t(self, numbers: list[float], relative: bool) -> None:
        self._quadratic(self._mirrored("Q"), self._points(numbers, relative)[0])

    def _draw_a(self, numbers: list[float], relative: bool) -> None:
        end = self._points(numbers[5:], relative)[0]
        rx, ry, turned, large, clockwise = numbers[:5]
        self._add(arc_between(self._at, end, (rx, ry), turned, bool(large), bool(clockwise)), end)

    def _mirrored(self, kind: str) -> Point:
        """The last control point mirrored at the pen, or the pen after a command of another kind."""
        drawn, control = self._control
        return Point(2 * self._at.x - control.x, 2 * self._at.y - control.y) if drawn == kind else self._at

    def _cubic(self, first: Point, second: Point, end: Point) -> None:
        cubic = Cubic(self._at, first, second, end)
        self._add(None if first == second == end == self._at else cubic, end, ("C", second))

    def _quadratic(self, control: Point, end: Point) -> None:
        """A quadratic curve raised to a cubic, exactly."""
        first = Point(self._at.x + (control.x - self._at.x) * 2 / 3, self._at.y + (control.y - self._at.y) * 2 / 3)
        second = Point(end.x + (control.x - end.x) * 2 / 3, end.y + (control.y - end.y) * 2 / 3)
        self._add(None if control == end == self._at else Cubic(self._at, first, second, end), end, ("Q", control))
