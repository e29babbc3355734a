"""Three pieces on cloth that is laid in two zones."""

from pipeline.lays.lay import Lay, Placed
from tests.lays.samples import rectangle, request, triangle


def lay(placed, length_mm, folded, **more):
    return Lay(folded=folded, length_mm=length_mm, placed=tuple(placed), seed=1, seconds=1, **more)


def at(item, x, y, angle=0.0, **more):
    return Placed(item=item, x_mm=x, y_mm=y, angle_deg=angle, **more)


FRONT, BACK = rectangle("front", 600, 400, 1, on_fold=True), rectangle("back", 600, 400, 1, on_fold=True)
SLEEVES = triangle("sleeve", 300, 200, 2, 1)
TWO = request([FRONT, BACK, SLEEVES], 980, way="two-folds", selvedge_mm=10.0, width_mm=1000.0)
"""1 m of cloth: its folds 50 cm apart, 24 cm between each and the selvedges in the middle."""
ON_TWO = (
    at("front", 0, 0, layers="fold"),
    at("back", 600, 500, 180, layers="fold", mirrored=True),
    at("sleeve", 650, 0, layers="pair"),
)
