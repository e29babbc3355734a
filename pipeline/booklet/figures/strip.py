"""The figures of a strip, folded in steps, and of a hem, turned up."""

from collections.abc import Sequence

from pipeline.booklet.figures.figure import Figure, Letters
from pipeline.booklet.figures.folding import (
    LAYER_MM,
    State,
    hem_states,
    seen_from_above,
    seen_from_end,
    strip_states,
)
from pipeline.booklet.figures.ink import lines_at, measured, whole_scene
from pipeline.booklet.figures.looks import Surface, surface_of
from pipeline.booklet.figures.naming import allowance_told, numbered, topstitch_told
from pipeline.checks.garment import Garment
from pipeline.cutting.strips import SEAMED
from pipeline.drawing import scene
from pipeline.drawing.scene import Shape
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import length_words, told_apart
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern, StripMake, in_language
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import edge_spec
from pipeline.model.turns import highest_mm, turns_of
from pipeline.words import say

_STEPS: dict[StripMake, tuple[str, ...]] = {
    "flat": (),
    "doubled": ("half",),
    "edges-to-centre": ("edges",),
    "quarters": ("edges", "again"),
    "thirds": ("third", "other-third"),
}
"""What is done in each step after the first: `figure.fold-…`."""
_HIGHEST_MM, _LARGEST_SCALE = 27.0, 1.4
_GAP_MM, _MEASURE_MM, _END_GAP_MM = 5.0, 3.0, 3.5
_LONG_MM = 36.0
_BODY_SHARE = 1.5
"""How much of the piece is seen above a hem, in allowances."""


def strip_figure(garment: Garment, name: str, language: str, letters: Letters) -> Figure:
    """The steps in which a strip that the pattern declares is folded, each from above and from its end."""
    pattern, strip = garment.pattern, garment.pattern.strips[name]
    allowance_mm = strip.allowance_mm if strip.make in SEAMED else 0.0
    states = strip_states(strip.make, strip.width_mm, allowance_mm)
    done = [say(language, f"figure.fold-{step}") for step in _STEPS[strip.make]]
    told = [say(language, "figure.as-cut"), *done]
    cut = say(language, "figure.cut-width", length=_length(pattern, states[0].high, language))
    finished = say(language, "figure.finished-width", length=_length(pattern, strip.width_mm, language))
    measures = [cut, *("" for _ in done)]
    measures[-1] = finished if done else f"{cut}, {finished}" if allowance_mm else cut
    heights = _measured_heights(states, allowance_mm)
    shapes = _steps(states, surface_of(pattern, name), told, measures, heights, letters)
    title = in_language(strip.title, language)
    alt = say(language, "figure.alt-strip", strip=title, steps=told_apart(language, map(_lower, told)))
    widths = told_apart(language, (cut, finished)) if done or allowance_mm else cut
    return Figure(whole_scene(shapes), f"{alt} {widths}.")


def hem_figure(garment: Garment, cut: CutPiece, edge: str, language: str, letters: Letters) -> Figure:
    """A hem before and after each time that its allowance is folded, from above and from its end."""
    pattern, found = garment.pattern, cut.edge(edge)
    allowance_mm, spec = found.widest_mm, edge_spec(pattern, cut.piece, edge)
    folds_mm = tuple(fold for fold in spec.folds_mm if fold < allowance_mm)
    body = _BODY_SHARE * allowance_mm
    states = hem_states(body, allowance_mm, folds_mm, spec.turn_up)
    told = _hem_told(pattern, folds_mm, spec.turn_up, language)
    stitched = ""
    if spec.topstitch_mm:
        states = (*states[:-1], states[-1]._replace(seams=tuple(body - row_mm for row_mm in spec.topstitch_mm)))
        where = topstitch_told(pattern, f"{cut.piece}.{edge}", language, str)
        stitched = f" {say(language, 'figure.topstitch', where=where)}"
        told[-1] += f".{stitched.rstrip('.')}"
    length = allowance_told(pattern, found, language)
    measure = say(language, "figure.allowance", length=length)
    up = (body - highest_mm(turns_of(folds_mm, allowance_mm)), body)
    heights = ((body, body + allowance_mm), *(None for _ in states[1:-1]), up)
    measures = [measure, *("" for _ in states[1:])]
    surface = surface_of(pattern, cut.piece)
    shapes = _steps(states, surface, told, measures, heights, letters, open_top=True)
    named = {"piece": numbered(pattern, cut.piece, language), "length": length}
    if folds_mm:
        steps = told_apart(language, map(_lower, told))
        return Figure(whole_scene(shapes), say(language, "figure.alt-hem-folds", steps=steps, **named))
    return Figure(whole_scene(shapes), f"{say(language, 'figure.alt-hem', **named)}{stitched}")


def _hem_told(pattern: Pattern, folds_mm: tuple[float, ...], turn_up: bool, language: str) -> list[str]:
    """What is done in each step of a hem, from the flat cloth on."""
    if not folds_mm:
        return [say(language, "figure.hem-flat"), say(language, "figure.hem-up")]
    folded = folds_mm[:1] if turn_up else folds_mm[::-1]
    return [
        say(language, "figure.hem-flat-folds"),
        *(say(language, "figure.hem-fold", length=_length(pattern, fold, language)) for fold in folded),
        say(language, "figure.hem-turn-up" if turn_up else "figure.hem-up"),
    ]


def _length(pattern: Pattern, length_mm: float, language: str) -> str:
    return length_words(language, length_mm, pattern.units)


def _lower(sentence: str) -> str:
    return sentence.rstrip(".")


def _measured_heights(states: Sequence[State], allowance_mm: float) -> tuple[tuple[float, float] | None, ...]:
    """From where to where a step is measured: the first as cut, the last as finished."""
    last = states[-1]
    first = (states[0].low, states[0].high)
    if len(states) == 1:
        return (first,)
    return (first, *(None for _ in states[1:-1]), (last.low + allowance_mm, last.high))


def _steps(
    states: Sequence[State],
    surface: Surface,
    told: Sequence[str],
    measures: Sequence[str],
    heights: Sequence[tuple[float, float] | None],
    letters: Letters,
    open_top: bool = False,
) -> list[Shape]:
    scale = min(_LARGEST_SCALE, _HIGHEST_MM / max(state.high - state.low for state in states))
    column = min((letters.width_mm - 2) / len(states), 64.0 * letters.grown)
    shapes: list[Shape] = []
    size = letters.small_mm
    top = size * 2.4
    lowest = top + max(state.high - state.low for state in states) * scale
    for k, (state, text, measure, span) in enumerate(zip(states, told, measures, heights, strict=True)):
        left = k * column
        number = scene.text(Point(left, size * 1.2), str(k + 1), size * 1.3, bold=True)
        lines, under = lines_at(Point(left, lowest + 2.0), text, column - 4, size)
        shapes += [number, *lines]
        if measure:
            shapes += lines_at(Point(left, under + 0.4), measure, column - 4, size, bold=True)[0]
        levels = max(layer.level for layer in state.layers)
        x = left + _MEASURE_MM
        long_mm = column - _MEASURE_MM - _END_GAP_MM - _GAP_MM - levels * LAYER_MM - 2
        y = top + (lowest - top - (state.high - state.low) * scale) / 2
        shapes += seen_from_above(state, surface, x, y, scale, min(long_mm, _LONG_MM), open_top)
        end = x + min(long_mm, _LONG_MM) + _END_GAP_MM
        shapes += seen_from_end(state, surface, end, y, scale)
        if span is not None:
            low, high = (y + (height - state.low) * scale for height in span)
            shapes += measured(Point(left + 1.2, low), Point(left + 1.2, high))
            shapes += [scene.line(Point(left + 0.4, at), Point(x - 0.5, at), BLACK, 0.13) for at in (low, high)]
    return shapes
