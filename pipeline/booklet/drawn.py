"""A figure that the pipeline draws, by the words of its reference."""

from typing import Protocol

from pipeline.booklet.model import Model
from pipeline.drawing.scene import Scene


class Drawn(Protocol):
    """A picture in mm at the size in which it is printed, and a sentence that says what it shows."""

    @property
    def scene(self) -> Scene: ...
    @property
    def alt(self) -> str: ...


def drawn_figure(words: tuple[str, ...], model: Model) -> Drawn:
    """The figure. Raises FigureError where none can be drawn."""
    from pipeline.booklet.figures.draw import draw_figure

    return draw_figure(words, model.garment, model.language)
