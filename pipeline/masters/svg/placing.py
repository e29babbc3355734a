"""A map to mm that knows how many digits it costs: far away and back again is not where it was."""

from collections.abc import Iterable
from typing import NamedTuple

from pipeline.geometry.points import Affine, Point
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.limits import corners
from pipeline.masters.svg.path_data import Subpath

LOST_MM = 0.001
"""What rounding may cost."""
_ROUNDING = 1e-15
"""Four to five times the spacing of floating-point numbers at 1: a product of maps rounds that much a step."""


class Placing(NamedTuple):
    """An affine map, and the product of the absolute values of all maps that it was made of.

    The product bounds what rounding did: |M1| |M2| … |x| times the spacing of numbers (Higham, "Accuracy and Stability
    of Numerical Algorithms", 2nd edition, 3.5, on products of matrices).
    """

    map: Affine = Affine()
    grown: Affine = Affine()

    def after(self, first: "Placing") -> "Placing":
        """The map that applies `first`, then this one."""
        return Placing(self.map.after(first.map), self.grown.after(first.grown))


def placing(affine: Affine) -> Placing:
    """A map that was made in one step."""
    return Placing(affine, Affine(*map(abs, affine)))


def check_digits(strokes: Iterable[Subpath], place: Placing) -> None:
    """Refuses strokes, in user units, whose place in mm is only known to a thousandth of a millimetre or worse."""
    points = [
        point for stroke in strokes for point in (stroke.start, *(p for s in stroke.segments for p in corners(s)))
    ]
    if not points:
        return
    grown = place.grown.point(Point(max(abs(point.x) for point in points), max(abs(point.y) for point in points)))
    # Written so that a value that is not a number fails it too.
    if not max(grown) * _ROUNDING <= LOST_MM:
        raise SvgFault(
            "digits-lost",
            "The object is placed by numbers so large that its digits are lost on the way to the page.",
            "Move it near the page's origin, and take large numbers out of the transforms and the viewBox around it.",
            f"numbers up to {max(grown):.0e} mm",
            f"numbers that are exact to {LOST_MM} mm",
        )
