"""What each page of a print file shows, as a digest: lines, texts and layers, but not the version's number.

A drawing goes over many pages, and a page shows what lies in its window: only that counts.
"""

import hashlib
import re
from collections.abc import Iterable
from functools import cached_property
from itertools import accumulate, pairwise
from pathlib import Path
from typing import Any, NamedTuple

import msgspec
import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray

from pipeline.bundle.built_pdf import BuiltForm, BuiltPage, BuiltPdf, Shown
from pipeline.bundle.pdf_content import Box, Run, polylines, text_blocks, text_runs, without_texts

_PAINTED = re.compile(rb"(?<=\s)(?:S|s|f\*?|F|B\*?|b\*?|n|Do)(?=\s|$)")
_PATH = re.compile(rb"(?:[-.\d]++\s++)++(?:re|[mlcvy])(?=\s|$)|(?<=\s)h(?=\s)")
_CURVE = re.compile(rb"(?<![-.\d])((?:[-.\d]++\s++){6})c(?=\s|$)|(?<![-.\d])((?:[-.\d]++\s++){4})re(?=\s|$)")
_IS_CURVED = re.compile(rb"\s(?:c|re)(?=\s|$)")
"""Whether there is a curve or a rectangle at all: most strokes are lines alone, and looking for this is cheap."""
_FLIP = re.compile(rb"\b1 0 0 -1 0 [-.\d]++ cm\b")
"""How every form begins: it says nothing but how high the form is."""
_CODES = re.compile(rb"<[0-9A-Fa-f]++>")
"""Letters of a text that has no Latin ones."""
_DIGITS = 16
_FINE = 1
"""Decimals of a point, 0.04 mm: lines are cut off at a window's edge by arithmetic."""


class _Stroke(NamedTuple):
    """What is painted in one go: how, along which lines, and the places of its curves and rectangles."""

    how: bytes
    lines: list[NDArray[np.float64]]
    others: list[NDArray[np.float64]]
    box: Box


class _Form:
    """A form, taken apart once for all pages that show it; in points, y down from its top."""

    def __init__(self, form: BuiltForm, version: str) -> None:
        self.form, self.version = form, version

    @cached_property
    def strokes(self) -> list[_Stroke]:
        """In the order in which they are painted."""
        data, start, found = without_texts(self.form.content), 0, []
        for painted in _PAINTED.finditer(data):
            found.append(_stroke(data[start : painted.end()]))
            start = painted.end()
        return found

    @cached_property
    def runs(self) -> list[Run]:
        """Texts as they read, since the codes and names of fonts are of the whole file."""
        return list(text_runs(self.form.content, {}))

    @cached_property
    def rest(self) -> Any:
        """What counts wherever the form is shown."""
        codes = [code.decode() for block in text_blocks(self.form.content) for code in _CODES.findall(block)]
        return [self.form.matrix, codes]

    def seen(self, window: Box | None) -> Any:
        """What of the form lies in a window, measured from its corner; all of it where there is none."""
        strokes = [part for stroke in self.strokes if (part := _in_window(stroke, window)) is not None]
        texts = [self._text(run, window) for run in self.runs if window is None or _meet(run.box, window)]
        return [self.rest, strokes, texts] if strokes or texts else None

    def _text(self, run: Run, window: Box | None) -> Any:
        if self.version in run.text:  # what stands in its place may be wider
            return run.text.replace(self.version, "")
        return [run.text, _from(window, [run.box])]


def page_digests(file: Path, version: str) -> tuple[tuple[str, str], ...]:
    """Label and digest of every page. A page on which only the version's number is another has the same digest.

    Raises pikepdf.PdfError where the file is damaged.
    """
    forms: dict[int, _Form] = {}
    pdf = BuiltPdf(file.parent, file.name)  # its pages live no longer than it does
    return tuple((page.label, _digest(_page(page, version, forms))) for page in pdf.pages)


def _page(page: BuiltPage, version: str, forms: dict[int, _Form]) -> Any:
    shown = []
    for each in page.shown:
        form = forms.setdefault(id(each.form), _Form(each.form, version))
        seen = form.seen(_window(page, each))
        if seen is not None:
            shown.append([each.layers, seen])
    return [page.width_pt, page.height_pt, page.turned_deg, page.clip, shown]


def _window(page: BuiltPage, shown: Shown) -> Box | None:
    """A page's window in a form's own points; None for what stands around the pattern, which nothing cuts off."""
    if page.clip is None or shown.form is page.around:
        return None
    left, bottom, width, height = page.clip
    top = shown.bottom_pt + shown.form.height_pt - bottom - height
    left -= shown.left_pt
    return Box(left, top, left + width, top + height)


def _stroke(data: bytes) -> _Stroke:
    lines = polylines(data)
    curves = _CURVE.findall(data) if _IS_CURVED.search(data) else []
    others = [_places([float(part) for part in (curve or box).split()]) for curve, box in curves]
    places = [*lines, *others]
    if not places:
        return _Stroke(_PATH.sub(b"", data), [], [], Box(-np.inf, -np.inf, np.inf, np.inf))
    (left, top), (right, bottom) = np.concatenate(places).min(axis=0), np.concatenate(places).max(axis=0)
    return _Stroke(_PATH.sub(b"", data), lines, others, Box(left, top, right, bottom))


def _places(numbers: list[float]) -> NDArray[np.float64]:
    """The places of a curve, or two opposite corners of a rectangle."""
    if len(numbers) == 4:
        left, top, width, height = numbers
        numbers = [left, top, left + width, top + height]
    return np.array(numbers).reshape(-1, 2)


def _in_window(stroke: _Stroke, window: Box | None) -> Any:
    how = b" ".join(_FLIP.sub(b"", stroke.how).split()).decode("latin-1")
    if window is None:
        return [how, _from(None, stroke.lines), _from(None, stroke.others)]
    if not _meet(stroke.box, window):
        return None
    lines = stroke.lines if _lies_in(stroke.box, window) else _clipped(stroke.lines, window)
    if not lines and stroke.lines and not stroke.others:
        return None
    return [how, _from(window, lines), _from(window, stroke.others)]


def _clipped(lines: list[NDArray[np.float64]], window: Box) -> list[NDArray[np.float64]]:
    cut = [shapely.clip_by_rect(shapely.LineString(line), *window) for line in lines]
    return [shapely.get_coordinates(line) for line in cut if not line.is_empty]


def _from(window: Box | None, places: Iterable[ArrayLike]) -> list[list[float]]:
    """Places from a window's corner; from the form's where there is none."""
    corner = (0.0, 0.0) if window is None else (window.left, window.top)
    apart = [np.reshape(each, (-1, 2)) for each in places]
    if not apart:
        return []
    numbers = (np.round(np.concatenate(apart) - corner, _FINE) + 0.0).ravel().tolist()  # no minus before zero
    ends = list(accumulate(each.size for each in apart))
    return [numbers[start:end] for start, end in pairwise((0, *ends))]


def _lies_in(inner: Box, outer: Box) -> bool:
    """Well within, so that nothing of it could be cut off."""
    return (
        outer.left < inner.left and inner.right < outer.right and outer.top < inner.top and inner.bottom < outer.bottom
    )


def _meet(one: Box, other: Box) -> bool:
    return one.left <= other.right and other.left <= one.right and one.top <= other.bottom and other.top <= one.bottom


def _digest(value: Any) -> str:
    return hashlib.sha256(msgspec.json.encode(value)).hexdigest()[:_DIGITS]
