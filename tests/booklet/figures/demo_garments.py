"""The demos as their base size alone, which is what figures are drawn of."""

import functools
from pathlib import Path

from pipeline.booklet.figures.draw import draw_figure
from pipeline.booklet.figures.figure import USUAL, Figure, Letters
from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern

_ROOT = Path(__file__).resolve().parents[3]
DEMOS = ("work-jacket", "child-pinafore", "half-circle-skirt")
GARMENTS = ("winter-coat", "slack-tide", "prep-blazer")


@functools.cache
def garment(name: str) -> Garment:
    folder = _ROOT / ("source" if name in DEMOS else "tests/garments") / name
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    drawn, _ = read_size(pattern, folder, pattern.base)
    cut, _ = cut_pieces(pattern, pattern.base, drawn)
    return Garment(pattern, {piece.piece: {pattern.base: piece} for piece in cut})


def seams_of(*names: str) -> list[tuple[str, str]]:
    return [(name, seam) for name in names for seam in _pattern(name).seams]


def _pattern(name: str):
    return garment(name).pattern


def figure(name: str, words: str, language: str = "en", letters: Letters = USUAL) -> Figure:
    return draw_figure(tuple(words.split()), garment(name), language, letters)


def all_figures(name: str) -> list[str]:
    """Every figure of a seam, strip, hem, dart and material that a pattern has, and the key."""
    pattern = _pattern(name)
    edges = {f"{p}.{e}": spec for p, piece in pattern.pieces.items() for e, spec in piece.edges.items()}
    cut = {c.material for piece in pattern.pieces.values() for c in piece.cut}
    return [
        *(f"seam {seam}" for seam in pattern.seams),
        *(f"strip {strip}" for strip in pattern.strips),
        *(f"hem {edge}" for edge, spec in edges.items() if spec.hem),
        *(f"dart {edge}" for edge, spec in edges.items() if spec.takes),
        *(f"pieces {material}" for material in pattern.materials if material in cut),
        "allowances",
        "key",
    ]
