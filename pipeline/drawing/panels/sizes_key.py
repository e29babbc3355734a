"""The key of sizes: a sample of each size's line, with the pages that the size needs."""

from collections.abc import Sequence

from pipeline.drawing import scene
from pipeline.drawing.fonts import ASCENT, text_width_mm
from pipeline.drawing.panels.column import LINE, Column
from pipeline.drawing.panels.words import Languages, in_all
from pipeline.drawing.size_codes import size_codes
from pipeline.drawing.styles import LEAST_TEXT_MM, nested
from pipeline.drawing.text_lines import fitted
from pipeline.drawing.wording import SEPARATOR, size_label, told_of
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import size_title
from pipeline.sheets.layout import PagePlan
from pipeline.sheets.ranges import page_ranges, pages_of_size, pages_of_view
from pipeline.words import say

_LEAST_SAMPLE_MM = 24.0
"""One repeat of the line of the twelfth size."""
_BESIDE_MM = 1.5
_NAME_MM = 11.0
_LEAST_PAGES_MM = 24.0
_ROUNDING_MM = 0.01


def sizes_key(column: Column, pattern: Pattern, plan: PagePlan, sizes: Sequence[str], languages: Languages) -> None:
    """A sample of each size's line with the pages that the size needs."""
    needed = {size: pages_of_size(plan, size) for size in sizes}
    every = tuple(page.number for page in plan.pages)
    alike = all(pages == every for pages in needed.values())
    views = {name: pages for name in pattern.views if len(pages := pages_of_view(plan, name)) > 1}
    if all(pages == every for pages in views.values()):
        views = {}
    all_pages = "start.key-all-view" if views else "start.key-all"
    for language in languages:
        column.heading(say(language, "start.key-head"))
    for language in languages:
        column.text(say(language, all_pages if alike else "start.key"))
    column.gap(0.4)
    if alike:
        samples(column, pattern, sizes)
    else:
        for size in sizes:
            _key_row(column, pattern, size, page_ranges(needed[size]))
    for language in languages if pattern.size_titles else ():
        column.text(_titles(pattern, sizes, language))
    column.gap(0.3)
    for name, pages in views.items():
        title = in_all(pattern.views[name].title, languages)
        column.text(told_of(languages[0], title, page_ranges(pages)), bold=True)
    for language in languages if views else ():
        column.text(say(language, "start.view-files"))
    for language in languages:
        own = f" {say(language, 'start.own-files')}" if pattern.print.by_size else ""
        column.text(f"{say(language, 'start.solid')} {say(language, 'start.layers')}{own}")


def _titles(pattern: Pattern, sizes: Sequence[str], language: str) -> str:
    """What the short names in lines stand for: "S: S (36/38) · M: M (40/42)"."""
    shown = {name for name, held in pattern.size_sets.items() if not set(sizes).isdisjoint(held)} | set(sizes)
    titles = ((name, size_title(pattern, name, language)) for name in pattern.size_titles if name in shown)
    return SEPARATOR.join(told_of(language, name, title) for name, title in titles)


def _key_row(column: Column, pattern: Pattern, size: str, pages: str) -> None:
    """One line: sample, size, pages; long lists of pages go on below; in a narrow column all pages stand there."""
    name_left = column.left + _LEAST_SAMPLE_MM + _BESIDE_MM
    top = column.y
    _sample(column, pattern, size, column.left, top, _LEAST_SAMPLE_MM)
    name = _name_mm(pattern, _NAME_MM, 1)
    label, label_size = fitted([size_label((size,), pattern)], name - 1, column.size_mm, LEAST_TEXT_MM, bold=True)
    column.body.append(scene.text(Point(name_left, top + column.size_mm * ASCENT), label, label_size, bold=True))
    indent = _LEAST_SAMPLE_MM + _BESIDE_MM + name
    if column.width_mm - indent < _LEAST_PAGES_MM:
        column.y += LINE * column.size_mm
        indent = _BESIDE_MM
    column.text(pages, indent_mm=indent)
    column.gap(0.1)


def _name_mm(pattern: Pattern, usual_mm: float, beside_mm: float) -> float:
    """Room for the names of sizes: the usual, or more where the longest would be cut short there."""
    least = (text_width_mm(size_label((size,), pattern), LEAST_TEXT_MM, bold=True) for size in pattern.sizes)
    return max(usual_mm, max(least) + beside_mm + _ROUNDING_MM)


def samples(column: Column, pattern: Pattern, sizes: Sequence[str]) -> None:
    """Samples alone, as many in a row as there is room for."""
    name = _name_mm(pattern, 4.6 * column.size_mm, 2 * _BESIDE_MM)
    count = max(1, int(column.width_mm // (_LEAST_SAMPLE_MM + name + 2 * column.size_mm)))
    step = column.width_mm / count
    room = name - 2 * _BESIDE_MM
    labels = [fitted([size_label((size,), pattern)], room, column.size_mm, LEAST_TEXT_MM, bold=True) for size in sizes]
    label_mm = min(size_mm for _, size_mm in labels)  # all alike: a smaller one would look as if it meant less
    for number, (size, (label, _)) in enumerate(zip(sizes, labels, strict=True)):
        left = column.left + (number % count) * step
        _sample(column, pattern, size, left, column.y, step - name)
        place = Point(left + step - name + _BESIDE_MM, column.y + column.size_mm * ASCENT)
        column.body.append(scene.text(place, label, label_mm, bold=True))
        if number % count == count - 1 or number == len(sizes) - 1:
            column.y += 1.4 * column.size_mm


def _sample(column: Column, pattern: Pattern, size: str, left: float, top: float, length: float) -> None:
    style = nested(pattern.print.black, pattern.style).cut((size,), size_codes(pattern, (size,)))
    y = top + column.size_mm * 0.45
    column.body.append(scene.line(Point(left, y), Point(left + length, y), style.colour, style.width_mm, style.dash_mm))
