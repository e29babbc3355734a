"""The lines that a print file shows, put together from its pages: one plane for all pages that share a drawing."""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from pipeline.bundle.built_pdf import BuiltForm, BuiltPage, Shown
from pipeline.model.lengths import MM_PER_POINT

Floats = NDArray[np.float64]


class Drawn(NamedTuple):
    """A drawing on a plane, and where its top left corner lies there: in mm rightward and downward."""

    form: BuiltForm
    left_mm: float
    top_mm: float

    @property
    def lines(self) -> list[Floats]:
        """Its lines on the plane, rows of x and y in mm."""
        return [line * MM_PER_POINT + (self.left_mm, self.top_mm) for line in self.form.lines]


def planes(pages: Sequence[BuiltPage]) -> list[tuple[Drawn, ...]]:
    """What pages show in layers or around none of them, by planes: pages of one plane share drawings with each other.

    The places are relative to each other: where a plane begins means nothing.
    """
    waiting = [shown for page in pages if (shown := [each for each in page.shown if each.name != "/Overlay"])]
    found = []
    while waiting:
        plane = {shown.form: _corner(shown) for shown in waiting.pop(0)}
        while (near := next((k for k, page in enumerate(waiting) if _shared(plane, page)), None)) is not None:
            page = waiting.pop(near)
            known = _shared(plane, page)
            assert known is not None
            by = np.subtract(plane[known.form], _corner(known))
            plane.update({shown.form: _moved(_corner(shown), by) for shown in page if shown.form not in plane})
        found.append(tuple(Drawn(form, *corner) for form, corner in plane.items()))
    return found


def _shared(plane: Mapping[BuiltForm, tuple[float, float]], page: Sequence[Shown]) -> Shown | None:
    return next((shown for shown in page if shown.form in plane), None)


def _corner(shown: Shown) -> tuple[float, float]:
    """The top left corner of a drawing on its page, downward from the page's lower edge."""
    return shown.left_pt * MM_PER_POINT, -(shown.bottom_pt + shown.form.height_pt) * MM_PER_POINT


def _moved(corner: tuple[float, float], by: Floats) -> tuple[float, float]:
    return corner[0] + float(by[0]), corner[1] + float(by[1])
