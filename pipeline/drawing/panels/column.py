"""A column of text that grows downward, tried in smaller and smaller text until it fits its place."""

from collections.abc import Callable

from pipeline.drawing import scene
from pipeline.drawing.fonts import ASCENT
from pipeline.drawing.free_area import Rectangle
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import LEAST_TEXT_MM
from pipeline.drawing.text_lines import wrapped
from pipeline.geometry.points import Point
from pipeline.model.findings import PatternFaultError

LINE = 1.28
"""Distance of baselines as a share of the text size."""
_SAME_MM = 1e-6
TEXT_SIZES_MM = (3.2, 3.0, 2.8, 2.6, 2.4, 2.2, LEAST_TEXT_MM)
"""Nothing that stands on paper is smaller than the last."""


class Column:
    """Text set from the top of a rectangle downward; `y` is where the next thing begins, `body` what was set."""

    def __init__(self, left: float, top: float, width_mm: float, size_mm: float) -> None:
        self.left, self.y, self.width_mm, self.size_mm = left, top, width_mm, size_mm
        self.body: list[Shape] = []

    def text(
        self, content: str, bold: bool = False, times: float = 1.0, indent_mm: float = 0.0, label: str = ""
    ) -> None:
        """A paragraph, `times` as large as the column's text; a `label` stands before its first line, in the indent."""
        size = self.size_mm * times
        if label:
            self.body.append(scene.text(Point(self.left, self.y + ASCENT * size), label, size, bold=True))
        for line in wrapped(content, size, self.width_mm - indent_mm, bold):
            self.body.append(scene.text(Point(self.left + indent_mm, self.y + ASCENT * size), line, size, bold=bold))
            self.y += LINE * size

    def heading(self, content: str) -> None:
        """A bold line."""
        self.text(content, bold=True, times=1.12)
        self.gap(0.2)

    def gap(self, lines: float = 0.5) -> None:
        """Space, in lines of text."""
        self.y += lines * LINE * self.size_mm


def fitted_column(
    left: float,
    top: float,
    width_mm: float,
    height_mm: float,
    fills: list[Callable[[Column], None]],
    sizes_mm: tuple[float, ...] = TEXT_SIZES_MM,
) -> list[Shape]:
    """What the first filling sets that fits the height, in the largest text that does; each is tried in all sizes.

    Raises PatternFaultError where even the last does not fit in the smallest text.
    """
    for fill in fills:
        for size in sizes_mm:
            column = Column(left, top, width_mm, size)
            fill(column)
            if column.y <= top + height_mm + _SAME_MM:
                return column.body
    raise too_long(Rectangle(left, top, width_mm, height_mm), sizes_mm[-1])


def too_long(place: Rectangle, size_mm: float) -> PatternFaultError:
    """What is raised where texts do not fit a place in their smallest size."""
    return PatternFaultError(
        f"the texts of a page do not fit {place.width:.0f} x {place.height:.0f} mm even in letters of {size_mm} mm: "
        "shorten the pattern's title, maker, contact or licence"
    )
