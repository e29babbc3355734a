"""What stands in the two squares of a start page: how to print, how to join, what marks mean.

Texts move from one square to the other so that the picture of a joint has room: what is said of joints stands above the
key of marks or below how to print, as a whole or in part. Where no way has room for all in letters that can be read,
the picture goes, then the last language.
"""

from collections.abc import Callable, Collection, Iterator, Sequence
from functools import partial

from pipeline.drawing.free_area import Rectangle
from pipeline.drawing.pages.how_to import how_to_print, join_heading, join_sketch, join_words
from pipeline.drawing.panels.column import TEXT_SIZES_MM, Column, too_long
from pipeline.drawing.panels.marks_key import marks_key
from pipeline.drawing.panels.words import Languages, fewer
from pipeline.drawing.scene import Shape
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import PagePlan

_GOOD_MM = 2.4
"""In letters of this size nothing needs to move."""

Part = Callable[[Column], None]
Squares = tuple[Sequence[Part], Sequence[Part]]


def texts_in_squares(
    pattern: Pattern, plan: PagePlan, sizes: Sequence[str], signs: Collection[str], first: Rectangle, second: Rectangle
) -> list[Shape]:
    """The texts of both squares. Raises PatternFaultError where they fit in no way."""
    for languages in fewer(pattern.languages):
        for ways in _ways(pattern, plan, sizes, signs, languages):
            best: tuple[float, list[Shape]] | None = None
            for one, two in ways:
                upper, lower = _largest(first, one), _largest(second, two)
                if upper is None or lower is None:
                    continue
                size = min(upper[0], lower[0])
                if best is None or size > best[0]:
                    best = size, [*upper[1], *lower[1]]
                if size >= _GOOD_MM:
                    break
            if best is not None:
                return best[1]
    raise too_long(second, TEXT_SIZES_MM[-1])


def _ways(
    pattern: Pattern, plan: PagePlan, sizes: Sequence[str], signs: Collection[str], languages: Languages
) -> Iterator[list[Squares]]:
    """What may stand in which square, the best way first: with the picture, then without it."""
    printing = partial(how_to_print, plan=plan, languages=languages, units=pattern.units)
    heading, sketch = partial(join_heading, languages=languages), join_sketch
    joining = partial(join_words, pattern=pattern, plan=plan, languages=languages)
    key = partial(marks_key, sizes=sizes, languages=languages, signs=signs, style=pattern.style)
    yield [
        ([printing], [heading, sketch, joining, key]),
        ([printing, heading, sketch, joining], [key]),
        ([printing, heading, sketch], [heading, joining, key]),
        ([printing, heading, joining], [sketch, key]),
    ]
    yield [([printing], [heading, joining, key]), ([printing, heading, joining], [key])]


def _largest(place: Rectangle, parts: Sequence[Part]) -> tuple[float, list[Shape]] | None:
    """The parts one below the other in the largest letters in which they fit, with their size."""
    for size in TEXT_SIZES_MM:
        column = Column(place.left, place.top, place.width, size)
        for number, part in enumerate(parts):
            if number:
                column.gap(0.3 if part is join_sketch else 0.5)
            part(column)
        if column.y <= place.top + place.height:
            return size, column.body
    return None
