"""Booklets are held apart from what draws their figures, which has tests of its own."""

from collections.abc import Iterator

import pytest

from pipeline.booklet import check_text, sewing
from pipeline.booklet.model import Model
from pipeline.drawing import scene
from pipeline.drawing.scene import Scene
from pipeline.drawing.styles import BLACK
from pipeline.geometry.points import Point
from pipeline.words import use_words


class Stroke:
    """Stands for a figure: a stroke, and what was asked for."""

    def __init__(self, words: tuple[str, ...]) -> None:
        self.scene: Scene = scene.of(0, 0, 40, 10, [scene.line(Point(1, 5), Point(39, 5), BLACK, 0.5)])
        self.alt = f"drawn: {' '.join(words)}"


@pytest.fixture(autouse=True)
def figures(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    def drawn(words: tuple[str, ...], model: Model, large: bool) -> Stroke:
        return Stroke(words)

    monkeypatch.setattr(sewing, "drawn_figure", drawn)
    monkeypatch.setattr(check_text, "figure_fault", lambda words, model: None)
    yield
    use_words({})
