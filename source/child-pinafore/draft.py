"""Drafts the child's pinafore from a table of measures. `python source/redraw.py` writes its masters.

Pulled over the head: the neckline is scooped low enough for that. The skirt's waist is half as long again as the
bodice's, and the side of bodice and skirt is one line.
"""

from dataclasses import dataclass

from drafting import (
    Graded,
    Master,
    curve,
    end_curvature,
    heading,
    length,
    place_along,
    polyline,
    rounded_corner,
    solved,
    svg_texts,
    with_end_curvature,
)

from pipeline.geometry.curves import Cubic, Line, Path, reversed_path
from pipeline.geometry.points import Point

SIZES = ("92", "98", "104", "110", "116", "122", "128")
BAND_END = len(SIZES) - 1
MEASURES = {
    "quarter": Graded(152.5, 5, 5),  # a quarter of the finished chest
    "neck_width": Graded(74, 1.5, 1.5),
    "front_depth": Graded(110, 1.5, 1.5),
    "back_depth": Graded(88, 1.5, 1.5),
    "strap": Graded(40, 1.5, 1.5),
    "chest_level": Graded(158, 5, 5),  # below the shoulder at the neck
    "waist_level": Graded(238, 9, 9),
    "skirt": Graded(262, 22, 22),
}
GATHERS = 1.5
SLOPE, FLARE = 14.0, 3.0
TIE_ABOVE_WAIST = 25.0
LEFT, RIGHT, DOWN, UP = heading(180), heading(0), heading(90), heading(-90)


@dataclass(frozen=True)
class Cut:
    """What front and back differ in: depth of the neck, how far the armhole is hollowed, and where its level lies."""

    depth: float
    hollow: float
    cross_share: float


def masters() -> dict[str, str]:
    """Every master's text, by its path within the pattern's folder."""
    by_piece: dict[str, dict[str, Master]] = {}
    for index, size in enumerate(SIZES):
        m = {name: graded.at(index, BAND_END) for name, graded in MEASURES.items()}
        front = Cut(m["front_depth"], 0.15, 0.62)
        back = Cut(m["back_depth"], 0.14, 0.54)
        by_piece.setdefault("bodice-front", {})[size] = _bodice(m, front, front, "cf")
        by_piece.setdefault("bodice-back", {})[size] = _bodice(m, back, front, "cb")
        by_piece.setdefault("skirt-front", {})[size] = _skirt(m, "cf")
        by_piece.setdefault("skirt-back", {})[size] = _skirt(m, "cb")
    by_piece["pocket"] = {"all": _pocket()}
    return {
        f"sizes/{size}/{piece}.svg": text
        for piece, drawn in by_piece.items()
        for size, text in svg_texts(drawn).items()
    }


def _tip(m: dict[str, float]) -> Point:
    return Point(m["neck_width"], 0).plus(heading(SLOPE).scaled(m["strap"]))


def _armhole(m: dict[str, float], cut: Cut) -> tuple[Cubic, Cubic]:
    """(upper part, lower part), both walked away from the level of the narrowest place."""
    tip, underarm = _tip(m), Point(m["quarter"], m["chest_level"])
    level = cut.cross_share * m["chest_level"]
    across = Point(tip.x - cut.hollow * (level - tip.y), level)
    high = curve(across, UP, 0.5 * (across.y - tip.y), tip, heading(SLOPE - 90), 0.36 * (across.y - tip.y))
    low = curve(across, DOWN, 0.62 * (underarm.y - across.y), underarm, RIGHT, 0.58 * (underarm.x - across.x))
    return high, low


def _neck(m: dict[str, float], cut: Cut) -> Cubic:
    """The first handle leaves the same curvature to the shoulder at any depth."""
    width, shoulder = m["neck_width"], heading(SLOPE)
    run = width - (shoulder.dy * cut.depth + 8) / shoulder.dx
    return curve(Point(0, cut.depth), RIGHT, run, Point(width, 0), heading(SLOPE - 90), 0.46 * cut.depth)


def _bodice(m: dict[str, float], cut: Cut, front: Cut, centre: str) -> Master:
    """Half a bodice from its centre fold; the curves of the back run on from the front's where they meet it."""
    high, low = (
        with_end_curvature(own, end_curvature(other))
        for own, other in zip(_armhole(m, cut), _armhole(m, front), strict=True)
    )
    neck = with_end_curvature(_neck(m, cut), end_curvature(_neck(m, front)))
    tip, underarm, waist = _tip(m), Point(m["quarter"], m["chest_level"]), m["waist_level"]
    side_foot, centre_foot = Point(m["quarter"], waist), Point(0, waist)
    inside = {"chest-line": polyline(Point(0, underarm.y), underarm)}
    if centre == "cb":
        inside["elastic-line"] = polyline(Point(0, waist - 12), Point(m["quarter"], waist - 12))
    return Master(
        edges={
            "neck": (neck,),
            "shoulder": polyline(neck.end, tip),
            "armhole": (*reversed_path((high,)), low),
            "side": polyline(underarm, side_foot),
            "waist": polyline(side_foot, centre_foot),
            centre: polyline(centre_foot, neck.start),
        },
        grain=(Point(0.4 * m["quarter"], waist - 20), Point(0.4 * m["quarter"], cut.depth + 20)),
        anchor=Point(0, underarm.y),
        notches=(
            ("tie", Point(m["quarter"], waist - TIE_ABOVE_WAIST)),
            ("gather", Point(0.5 * m["quarter"], waist)),
        ),
        inside=inside,
    )


def _skirt(m: dict[str, float], centre: str) -> Master:
    """Half a skirt with a little flare, its waist and hem square to centre and side."""
    wanted = GATHERS * m["quarter"]

    def arc(side: Point, start: Point) -> Cubic:
        third = side.distance(start) / 3
        return curve(side, heading(180 - FLARE), third, start, LEFT, third)

    def side_top(width: float) -> Point:
        return Point(width, -0.026 * width)

    width = solved(lambda w: length((arc(side_top(w), Point(0, 0)),)) - wanted, 0.9 * wanted, wanted)
    top = side_top(width)
    foot = top.plus(heading(90 - FLARE).scaled(m["skirt"]))
    waist, hem = arc(top, Point(0, 0)), arc(foot, Point(0, m["skirt"]))
    points = {"pocket": Point(0.42 * width, 0.24 * m["skirt"])} if centre == "cf" else {}
    return Master(
        edges={
            "waist": reversed_path((waist,)),
            "side": polyline(top, foot),
            "hem": (hem,),
            centre: polyline(Point(0, m["skirt"]), Point(0, 0)),
        },
        grain=(Point(0.3 * width, m["skirt"] - 40), Point(0.3 * width, 40)),
        anchor=Point(0, 0),
        notches=(
            ("gather", place_along((waist,), wanted / 2)),
            ("knee", place_along(polyline(top, foot), m["skirt"] / 2)),
        ),
        points=points,
    )


def _pocket() -> Master:
    """A round-bottomed patch pocket, whole."""
    left, right, low_right, low_left = Point(0, 0), Point(105, 0), Point(105, 115), Point(0, 115)
    turn_right = rounded_corner(right, low_right, low_left, 42)
    turn_left = rounded_corner(low_right, low_left, left, 42)
    outer: Path = (
        Line(right, turn_right.start),
        turn_right,
        Line(turn_right.end, turn_left.start),
        turn_left,
        Line(turn_left.end, left),
    )
    return Master(
        edges={"top": polyline(left, right), "outer": outer},
        grain=(Point(52.5, 95), Point(52.5, 30)),
        anchor=left,
        inside={"stitch-line": polyline(Point(0, 18), Point(105, 18))},
    )
