"""A side of a box with something grown on, for tests."""

from pipeline.model.piece_specs import EdgePart, EdgeSpec, GrownOn
from tests.cutting.shapes import (
    notch,
)
from tests.cutting.tapering import BOX

NOTCHES = (notch(BOX, "e1", 180, name="zip"), notch(BOX, "e1", 260, name="low"))
"""On the right side, which is walked down from e0 to e2: 300 mm, with two notches."""


def grown(start: str, end: str, width_mm: float, **more) -> GrownOn:
    return GrownOn(of=EdgePart(start, end), width_mm=width_mm, **more)


def fly(width_mm: float = 40.0, **more) -> EdgeSpec:
    return EdgeSpec(grown_on=(grown("e0", "zip", width_mm, **more),))
