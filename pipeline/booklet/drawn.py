"""A figure that the pipeline draws, by the words of its reference."""

from typing import TYPE_CHECKING, Protocol

from pipeline.booklet.model import Model
from pipeline.drawing.scene import Scene

if TYPE_CHECKING:
    from pipeline.booklet.figures.figure import FigureError


class Drawn(Protocol):
    """A picture in mm at the size in which it is printed, and a sentence that says what it shows."""

    @property
    def scene(self) -> Scene: ...
    @property
    def alt(self) -> str: ...


def figure_fault(words: tuple[str, ...], model: Model) -> "FigureError | None":
    """Why a figure cannot be drawn; None where it can."""
    from pipeline.booklet.figures.figure import FigureError

    try:
        drawn_figure(words, model)
    except FigureError as fault:
        return fault
    return None


def drawn_figure(words: tuple[str, ...], model: Model) -> Drawn:
    """The figure, drawn once. Raises FigureError where none can be drawn."""
    from pipeline.booklet.figures.draw import draw_figure  # loaded where a figure is asked for, and nowhere else

    key = ("figure", words)
    if key not in model.once:
        model.once[key] = draw_figure(words, model.garment, model.language)
    figure: Drawn = model.once[key]
    return figure
