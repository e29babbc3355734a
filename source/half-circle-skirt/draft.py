"""Draws the half-circle skirt: each panel is a quarter of a ring, with true arcs. `python source/redraw.py` writes it.

Radius of the waist = finished waist / pi, so the two quarter arcs make up the waist; the hem lies `LENGTHS`
further out.
"""

import math

from drafting import Master, polyline, svg_texts

from pipeline.geometry.curves import Arc
from pipeline.geometry.points import Point, Vector
from pipeline.model.lengths import MM_PER_INCH

SIZES = ("6", "8", "10", "12", "14", "16")
SMALLEST_WAIST, WAIST_STEP, WAIST_EASE = 24.0, 2.0, 0.5
"""Inches."""
LENGTHS = {"panel-long": 30.0, "panel-short": 22.0}
ZIP_OPENING = 7.0
POCKET_WIDTH, POCKET_DEPTH, POCKET_ROUND = 6.0, 6.5, 1.0


def masters() -> dict[str, str]:
    """Every master's text, by its path within the pattern's folder."""
    texts: dict[str, str] = {}
    for piece, length_in in LENGTHS.items():
        drawn = svg_texts({size: _panel(waist_radius_mm(size), length_in * MM_PER_INCH) for size in SIZES}, decimals=4)
        texts |= {f"sizes/{size}/{piece}.svg": text for size, text in drawn.items()}
    return texts | {"sizes/all/pocket.svg": svg_texts({"all": _pocket()}, decimals=4)["all"]}


def waist_radius_mm(size: str) -> float:
    """Radius of the waist arc: finished waist / pi."""
    waist_in = SMALLEST_WAIST + WAIST_STEP * SIZES.index(size) + WAIST_EASE
    return waist_in * MM_PER_INCH / math.pi


def _panel(radius: float, length_mm: float) -> Master:
    """A quarter of a ring about (0, 0): the centre front hangs straight down, the centre back lies across."""
    outer = radius + length_mm
    waist = Arc(Point(0, 0), Vector(radius, 0), Vector(0, radius), math.pi / 2, -math.pi / 2)
    hem = Arc(Point(0, 0), Vector(outer, 0), Vector(0, outer), 0.0, math.pi / 2)
    middle = radius + length_mm / 2
    on_diagonal = math.sqrt(0.5)
    side = Point(radius * on_diagonal, radius * on_diagonal)
    pocket = Point(0.36 * middle, 0.84 * middle)
    return Master(
        edges={
            "waist": (waist,),
            "cb": polyline(Point(radius, 0), Point(outer, 0)),
            "hem": (hem,),
            "cf": polyline(Point(0, outer), Point(0, radius)),
        },
        grain=(Point(60, outer - 120), Point(60, radius + 80)),
        anchor=Point(0, radius),
        notches=(
            ("side", side),
            ("zip", Point(radius + ZIP_OPENING * MM_PER_INCH, 0)),
            ("front-middle", Point(0, middle)),
        ),
        inside={"side-line": polyline(side, Point(outer * on_diagonal, outer * on_diagonal))},
        points={"pocket": pocket},
    )


def _pocket() -> Master:
    """Half a patch pocket on the fold, its lower corner a quarter of a circle."""
    half, depth, turn = POCKET_WIDTH / 2 * MM_PER_INCH, POCKET_DEPTH * MM_PER_INCH, POCKET_ROUND * MM_PER_INCH
    corner = Arc(Point(half - turn, depth - turn), Vector(turn, 0), Vector(0, turn), 0.0, math.pi / 2)
    return Master(
        edges={
            "top": polyline(Point(0, 0), Point(half, 0)),
            "outer": (
                *polyline(Point(half, 0), Point(half, depth - turn)),
                corner,
                *polyline(Point(half - turn, depth), Point(0, depth)),
            ),
            "middle": polyline(Point(0, depth), Point(0, 0)),
        },
        grain=(Point(half / 2, depth - 30), Point(half / 2, 30)),
        anchor=Point(0, 0),
    )
