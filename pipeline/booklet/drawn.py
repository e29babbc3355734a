"""Figures: those that the pipeline draws, by the words of a reference, and the guard of those that a designer brings.

What draws and guards is loaded where there is a figure, and nowhere else.
"""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from pipeline.booklet.model import Model
from pipeline.drawing.scene import Scene
from pipeline.model.findings import Finding, PatternFaultError

if TYPE_CHECKING:
    from pipeline.booklet.figures.figure import FigureError


class Drawn(Protocol):
    """A picture in mm at the size in which it is printed, and a sentence that says what it shows."""

    @property
    def scene(self) -> Scene: ...
    @property
    def alt(self) -> str: ...


def own_figure_findings(pattern: str, folder: Path, names: Iterable[str]) -> tuple[Finding, ...]:
    """What is wrong with the SVGs that a designer brings; `names` are their places in the pattern's folder."""
    from pipeline.booklet.figures.own import read_own_figure

    return tuple(finding for name in names for finding in read_own_figure(folder / name, name, pattern)[1])


def figure_fault(words: tuple[str, ...], model: Model) -> "FigureError | None":
    """Why a figure cannot be drawn; None where it can."""
    from pipeline.booklet.figures.figure import FigureError

    try:
        drawn_figure(words, model, large=False)
    except FigureError as fault:
        return fault
    except PatternFaultError:
        return None  # a letter that the font lacks, which is told of the title that has it
    return None


def drawn_figure(words: tuple[str, ...], model: Model, large: bool) -> Drawn:
    """The figure, drawn once for large print and once for the others. Raises FigureError where none can be drawn."""
    from pipeline.booklet.figures.draw import draw_figure
    from pipeline.booklet.figures.figure import LARGE, USUAL

    key = ("figure", words, large)
    if key not in model.once:
        model.once[key] = draw_figure(words, model.garment, model.language, LARGE if large else USUAL)
    figure: Drawn = model.once[key]
    return figure
