"""A gauge to try a knit on: so much of its folded edge is held, and so far it must let itself be pulled.

Common practice; how a knit is tried differs from maker to maker, so all that counts is said beside the gauge.
"""

import math
from collections.abc import Iterator

from pipeline.drawing import scene
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.words import SEPARATOR, Languages
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import in_decimals, length_words
from pipeline.geometry.points import Point
from pipeline.model.lengths import whole_steps
from pipeline.model.pattern import Material, Pattern, in_language
from pipeline.words import say

_HELD_MM = (100.0, 80.0, 60.0, 50.0, 40.0, 30.0, 25.0)
_BAR_MM = 2.6
_LINE_MM = 0.25
_HEAD_MM = 2.4


def stretch_gauges(column: Column, pattern: Pattern, languages: Languages) -> None:
    """A gauge for each way in which materials must give, one for those that give alike; nothing where none is said.

    A column that is too narrow for the shortest one has no end: what stands there fits nowhere.
    """
    asked: dict[tuple[str, float, float | None], list[Material]] = {}
    for way, share, material in stretches(pattern):
        asked.setdefault((way, share, material.recovery), []).append(material)
    for (way, share, recovery), materials in asked.items():
        _gauge(column, pattern, materials, way, share, recovery, languages)


def stretches(pattern: Pattern) -> Iterator[tuple[str, float, Material]]:
    """In which way, and by which share, materials must give."""
    for material in pattern.materials.values():
        for way, share in (("across", material.stretch_width), ("along", material.stretch_length)):
            if share:
                yield way, share, material


def _gauge(
    column: Column,
    pattern: Pattern,
    materials: list[Material],
    way: str,
    share: float,
    recovery: float | None,
    languages: Languages,
) -> None:
    held_mm = next((held for held in _HELD_MM if held * (1 + share) <= column.width_mm), None)
    if held_mm is None:
        column.y = math.inf
        return
    heads = [
        say(language, "knit.head", material=", ".join(in_language(each.title, language) for each in materials))
        for language in languages
    ]
    column.text(SEPARATOR.join(dict.fromkeys(heads)), bold=True)
    for language in languages:
        held = length_words(language, held_mm, pattern.units)
        text = say(language, f"knit.{way}", held=held, share=in_decimals(language, f"{100 * share:g}"))
        if recovery is not None:
            # to a mm, so that both systems tell the same, and the length that is held as it is told above
            back_mm = whole_steps(held_mm * (1 + share * (1 - recovery)), 1.0)
            text += " " + say(language, "knit.back", back=length_words(language, back_mm, pattern.units))
        column.text(text)
    column.gap(0.3)
    column.body += gauge(column.left, column.y, held_mm, share)
    column.y += _BAR_MM
    column.gap()


def gauge(left: float, top: float, held_mm: float, share: float) -> list[scene.Shape]:
    """Two bars `held_mm` apart, and an arrow whose point lies by `share` of that beyond the second. 2.6 mm high."""
    y = top + _BAR_MM / 2
    end = left + held_mm * (1 + share)
    bars = [(Point(x, top), Point(x, top + _BAR_MM)) for x in (left, left + held_mm)]
    return [
        scene.strokes([*bars, (Point(left, y), Point(end - _HEAD_MM / 2, y))], BLACK, _LINE_MM),
        scene.polygon([Point(end, y), Point(end - _HEAD_MM, y - 0.9), Point(end - _HEAD_MM, y + 0.9)], BLACK),
    ]
