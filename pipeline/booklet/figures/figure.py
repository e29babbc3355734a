"""What a figure is, and what is told where none can be drawn."""

import msgspec

from pipeline.drawing.scene import Scene

WIDTH_MM = 160.0
"""The column that figures are drawn for: none is wider."""
HEIGHT_MM, COMPACT_HEIGHT_MM = 70.0, 76.0
"""No figure of a seam is higher, so that several steps with their figures find room on one page; the second is for
those that are about as high as wide."""
TEXT_MM, SMALL_MM = 2.8, 2.3
"""Sizes of text; the smaller one is 6.5 pt, and nothing is smaller than `LEAST_TEXT_MM`, which is 6 pt."""
LEAST_TEXT_MM = 2.117


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
