"""What a figure is, the letters it is written in, and what is told where none can be drawn."""

from typing import NamedTuple

import msgspec

from pipeline.drawing.scene import Scene


class Letters(NamedTuple):
    """Sizes of text in mm, of which nothing is smaller than `least_mm`, and the room that figures in them have.

    None is wider than `width_mm`, the column, or higher than `most_mm`, what a page keeps with its step. A figure of a
    seam is no higher than `height_mm`, so that several steps with their figures find room on one page, or than
    `compact_mm` where it is about as high as wide.
    """

    text_mm: float
    small_mm: float
    least_mm: float
    width_mm: float
    height_mm: float
    compact_mm: float
    most_mm: float

    @property
    def grown(self) -> float:
        """Against the usual letters."""
        return self.text_mm / USUAL.text_mm


USUAL = Letters(2.8, 2.3, 2.117, width_mm=160.0, height_mm=70.0, compact_mm=76.0, most_mm=190.0)
"""The smaller text is 6.5 pt, the least 6 pt."""
LARGE = Letters(6.36, 6.36, 6.36, width_mm=144.0, height_mm=120.0, compact_mm=130.0, most_mm=165.0)
"""18 pt, as the text of large print, in the column within one of its steps and a box."""


class Figure(msgspec.Struct, frozen=True):
    """A picture in mm at the size in which it is printed, and a sentence that says what it shows."""

    scene: Scene
    alt: str


class FigureError(ValueError):
    """A figure that was asked for and cannot be drawn: what was found, what there is, and what to do, for a finding."""

    def __init__(self, code: str, message: str, remedy: str, found: str = "", allowed: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.remedy = code, message, remedy
        self.found, self.allowed = found, allowed
