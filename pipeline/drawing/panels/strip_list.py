"""Strips that have no pattern piece: what is cut of each, so that nobody looks for them among the pages."""

from collections.abc import Mapping, Sequence
from typing import Literal, NamedTuple

from pipeline.cutting.strips import CutSize
from pipeline.drawing.labels.block_layouts import NO_BREAK
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.words import SEPARATOR, Languages, in_all
from pipeline.drawing.wording import size_range, told_apart, told_of
from pipeline.model.lengths import MM_PER_INCH, imperial_text, next_mm
from pipeline.model.pattern import Pattern, Strip
from pipeline.model.questions import copies_of
from pipeline.words import say_all

StripSizes = Mapping[str, Mapping[str, CutSize]]
"""What each strip measures as cut, in one piece, by size and name."""
Detail = Literal["sizes", "range", "names"]
"""How much is told: every size's length, the least and the greatest, or only which strips there are."""
NO_STRIPS: StripSizes = {}
_INDENT = 2.2
"""Where titles begin, in text sizes."""
_METRIC_STEP_MM, _IMPERIAL_STEP_MM = 1.0, MM_PER_INCH / 16


class _Row(NamedTuple):
    """One strip in sizes that are cut alike but for their lengths."""

    strip: Strip
    cuts: tuple[tuple[str, int], ...]
    width_mm: float
    lengths_mm: dict[str, float]


def any_strips(pattern: Pattern, sizes: Sequence[str], strips: StripSizes) -> bool:
    """Whether `strip_list` has something to tell."""
    return any(_rows(strip, sizes, strips) for strip in pattern.strips.values())


def strip_list(
    column: Column, pattern: Pattern, sizes: Sequence[str], strips: StripSizes, languages: Languages, detail: Detail
) -> None:
    """The strips of a file of `sizes` that are not drawn, each once in all languages; nothing where there are none.

    Lengths are in whole mm and 1/16 in, rounded up so that no strip becomes too short, widths to the nearest.
    """
    rows = [row for strip in pattern.strips.values() for row in _rows(strip, sizes, strips)]
    if not rows:
        return
    names = laid_names(pattern, languages[0])
    short = [names[f"strips.{row.strip.name}"].short for row in rows]
    column.heading(say_all(languages, "start.strips-head", SEPARATOR))
    if detail == "names":
        column.text(say_all(languages, "start.strips-names", " ", names=", ".join(dict.fromkeys(short))))
        return
    column.text(say_all(languages, "start.strips", " "))
    for label, row in zip(short, rows, strict=True):
        several = len([other for other in rows if other.strip is row.strip]) > 1
        told = _told(pattern, languages, row, several, detail)
        column.text(told, indent_mm=_INDENT * column.size_mm, label=label)


def _rows(strip: Strip, sizes: Sequence[str], strips: StripSizes) -> list[_Row]:
    rows: dict[object, _Row] = {}
    for size in () if strip.drawn else sizes:
        cuts = tuple((cut.material, count) for cut in strip.cut if (count := copies_of(cut, size).copies))
        measured = strips.get(size, {}).get(strip.name)
        if measured is not None and cuts:
            row = rows.setdefault((cuts, measured.width_mm), _Row(strip, cuts, measured.width_mm, {}))
            row.lengths_mm[size] = measured.length_mm
    return list(rows.values())


def _told(pattern: Pattern, languages: Languages, row: _Row, several: bool, detail: Detail) -> str:
    """How often of what, along which grain, how wide and how long."""
    views = (in_all(pattern.views[view].title, languages) for view in row.strip.views)
    limits = [*views, *([size_range(list(row.lengths_mm), pattern)] if several else [])]
    title = in_all(row.strip.title, languages) + (f" ({told_apart(languages[0], limits)})" if limits else "")
    cuts = (f"{count} × {in_all(pattern.materials[material].title, languages)}" for material, count in row.cuts)
    grain = say_all(languages, f"strips.{row.strip.grain}", SEPARATOR)
    width = _both(pattern, f"{row.width_mm:.0f}", imperial_text(row.width_mm))
    size = f"{width}{NO_BREAK}× {_lengths(pattern, row, detail)}"
    return told_of(languages[0], title, f"{', '.join(cuts)}, {grain}, {size}")


def _lengths(pattern: Pattern, row: _Row, detail: Detail) -> str:
    by_length: dict[str, list[str]] = {}
    for size, length_mm in row.lengths_mm.items():
        by_length.setdefault(_both(pattern, *_rounded(length_mm)), []).append(size)
    if len(by_length) == 1:
        return next(iter(by_length))
    if detail == "range":
        least, most = (_rounded(end) for end in (min(row.lengths_mm.values()), max(row.lengths_mm.values())))
        metric, imperial = (f"{one}–{other}" for one, other in zip(least, most, strict=True))
        return _both(pattern, metric, imperial)
    language = pattern.languages[0]
    told = (told_of(language, size_range(sizes, pattern, language), length) for length, sizes in by_length.items())
    return told_apart(language, (each.replace(" ", NO_BREAK) for each in told))


def _rounded(length_mm: float) -> tuple[str, str]:
    return f"{next_mm(length_mm, _METRIC_STEP_MM):.0f}", imperial_text(next_mm(length_mm, _IMPERIAL_STEP_MM))


def _both(pattern: Pattern, metric: str, imperial: str) -> str:
    both = f"{metric} mm ({imperial})" if pattern.units == "metric" else f"{imperial} ({metric} mm)"
    return both.replace(" ", NO_BREAK)
