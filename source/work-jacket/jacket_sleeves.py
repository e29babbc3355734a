"""The sleeves of jacket and lining as masters: what is marked on the block's two parts."""

from drafting import Master, length, place_along, polyline, solved
from jacket_block import Panel, Sleeve, cap_notch_mm

from pipeline.geometry.curves import Path
from pipeline.geometry.points import Point


def upper_sleeve(arm: Sleeve, front: Panel, back: Panel, dart: bool) -> Master:
    """The cap's notches lie as far from the underarm as the armhole's: all ease lies between them and the shoulder."""
    edges = arm.upper
    cap, hind = edges["cap"], edges["back"]
    from_front = cap_notch_mm(front) - length(arm.under["underarm-front"])
    from_back = cap_notch_mm(back) - length(arm.under["underarm-back"])
    dart_a, tip, dart_b = arm.dart
    foot = edges["hem"][0].start
    shoulder = place_along(cap, arm.front_cap)
    wrist = edges["hem"][0].end
    adjust_y = 0.55 * arm.elbow_y
    notches: tuple[tuple[str, Point], ...] = (
        ("cap-front", place_along(cap, from_front)),
        ("shoulder", shoulder),
        ("cap-back", place_along(cap, length(cap) - from_back)),
        ("hind-top", place_along(hind, 90)),
        ("hind-foot", place_along(hind, length(hind) - 110)),
        ("elbow", edges["front"][0].end),
    )
    inside = {
        "elbow-line": polyline(edges["front"][0].end, Point(tip.x - 12, arm.elbow_y)),
        "adjust-line": _across(edges, adjust_y),
    }
    points: dict[str, Point | tuple[Point, Point]] = {}
    if dart:
        notches = (*notches, ("dart-a", dart_a), ("dart-b", dart_b))
        inside["elbow-dart"] = polyline(dart_a, tip, dart_b)
        points["dart-tip"] = tip
        points["tab"] = Point(foot.x - 45, foot.y - 32)
    return Master(
        edges=edges,
        grain=(Point(0, wrist.y - 70), Point(0, 0.12 * shoulder.y)),
        anchor=Point(0, 0),
        notches=notches,
        inside=inside,
        points=points,
    )


def _across(edges: dict[str, Path], y: float) -> Path:
    """A level line from the fore seam to the hind seam, both of which run one way in y there."""
    fore, hind = edges["front"][-1], edges["back"][0]
    return polyline(
        fore.at(solved(lambda t: fore.at(t).y - y, 0, 1)), hind.at(solved(lambda t: hind.at(t).y - y, 0, 1))
    )


def under_sleeve(arm: Sleeve) -> Master:
    edges = arm.under
    hind = edges["back"]
    wrist = edges["hem"][0].end
    x = (edges["back"][0].start.x + edges["front"][-1].end.x) / 2
    return Master(
        edges=edges,
        grain=(Point(x, wrist.y - 70), Point(x, 40)),
        anchor=Point(0, 0),
        notches=(
            ("hind-top", place_along(hind, 90)),
            ("hind-foot", place_along(hind, length(hind) - 110)),
            ("elbow", edges["front"][0].end),
        ),
        inside={
            "elbow-line": polyline(edges["front"][0].end, hind[0].end),
            "adjust-line": _across(edges, 0.55 * arm.elbow_y),
        },
    )
