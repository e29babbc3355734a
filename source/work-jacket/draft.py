"""Draws every master of the work jacket from its block. `python source/redraw.py` writes them."""

from drafting import (
    Master,
    curve,
    heading,
    length,
    place_along,
    polyline,
    solved,
    split_at_x,
    svg_texts,
)
from jacket_block import (
    BACK_SLOPE,
    DOWN,
    EXTENSION,
    FRONT_SLOPE,
    LEFT,
    SIZES,
    Panel,
    Sleeve,
    cap_notch_mm,
    measures_of,
    panels,
    sleeve,
)
from jacket_sleeves import under_sleeve, upper_sleeve
from jacket_small import collar, inside_pocket, inside_pocket_lining, pocket

from pipeline.geometry.curves import Cubic, Line, Path, reversed_path
from pipeline.geometry.points import Point, Vector

POCKETS = {"regular": (150.0, 170.0), "large": (165.0, 185.0)}
LARGE = SIZES[SIZES.index("46") + 1 :]
BUTTONS = {size: 7 if size in LARGE else 6 for size in SIZES}
FACING_SHOULDER, FACING_FRONT, FACING_BACK = 50.0, 70.0, 75.0
PLEAT, LINING_RAISE = 25.0, 10.0
CAP_EASE, LINING_CAP_EASE = (11.0, 13.0), (7.0, 9.0)
UPPER_COLLAR_MORE = 2.0

Notches = tuple[tuple[str, Point], ...]


def masters() -> dict[str, str]:
    """Every master's text, by its path within the pattern's folder."""
    by_piece: dict[str, dict[str, Master]] = {}
    for size in SIZES:
        for piece, master in _size(size).items():
            by_piece.setdefault(piece, {})[size] = master
    by_piece["pocket"] = {name: pocket(*extent) for name, extent in POCKETS.items()}
    by_piece["inside-pocket"] = {"all": inside_pocket()}
    by_piece["inside-pocket-lining"] = {"all": inside_pocket_lining()}
    return {
        f"sizes/{size}/{piece}.svg": text
        for piece, drawn in by_piece.items()
        for size, text in svg_texts(drawn).items()
    }


def _size(size: str) -> dict[str, Master]:
    m = measures_of(size)
    front, back = panels(m)
    lining_front, lining_back = panels(m, LINING_RAISE)
    arm = sleeve(front, back, m, CAP_EASE)
    lining_arm = sleeve(lining_front, lining_back, m, LINING_CAP_EASE)
    neck = length(front.neck) + length(back.neck)
    return {
        "front": _front(front, arm, m, size),
        "back": _back(back, arm, m),
        "front-facing": _front_facing(front, m),
        "back-neck-facing": _back_neck_facing(back),
        "collar": collar(neck, length(back.neck), UPPER_COLLAR_MORE),
        "under-collar": collar(neck, length(back.neck), 0.0),
        "upper-sleeve": upper_sleeve(arm, front, back, dart=True),
        "under-sleeve": under_sleeve(arm),
        "lining-front": _lining_front(lining_front, lining_arm, m),
        "lining-back": _lining_back(lining_back, lining_arm, m),
        "lining-upper-sleeve": upper_sleeve(lining_arm, lining_front, lining_back, dart=False),
        "lining-under-sleeve": under_sleeve(lining_arm),
    }


def _armhole_notches(panel: Panel, cap: str, joint: str, joint_mm: float) -> Notches:
    """The notch of the cap and the place where the sleeve's seam meets, both measured from the underarm."""
    from_underarm = reversed_path(panel.armhole)
    return (cap, place_along(from_underarm, cap_notch_mm(panel))), (joint, place_along(from_underarm, joint_mm))


def _side_notches(panel: Panel) -> Notches:
    return ("waist", panel.levels["waist-line"][-1].end), ("hip", panel.levels["hip-line"][-1].end)


def _front(panel: Panel, arm: Sleeve, m: dict[str, float], size: str) -> Master:
    waist, bust, hem_y = m["waist_level"], m["bust_level"], panel.hem_y
    centre = Point(0, panel.centre_top.y)
    corner = Point(0.26 * m["quarter"], waist + 18)
    width = POCKETS["large" if size in LARGE else "regular"][0]
    points: dict[str, Point | tuple[Point, Point]] = {
        "pocket-inner": corner,
        "pocket-outer": corner.plus(Vector(width, 0)),
    }
    first, last = centre.y + 22, hem_y - 95
    for number in range(BUTTONS[size]):
        y = first + (last - first) * number / (BUTTONS[size] - 1)
        points[f"buttonhole-{number + 1}"] = (Point(-3, y), Point(20, y))
    grain_x = 0.46 * m["quarter"]
    return Master(
        edges={
            "neck": panel.neck,
            "shoulder": panel.shoulder,
            "armhole": panel.armhole,
            "side": panel.side,
            "hem": panel.hem,
            "front": polyline(Point(-EXTENSION, hem_y), panel.centre_top),
        },
        grain=(Point(grain_x, waist - 40), Point(grain_x, bust - 110)),
        anchor=Point(0, bust),
        notches=(
            *_armhole_notches(panel, "cap-front", "forearm", length(arm.under["underarm-front"])),
            *_side_notches(panel),
            ("cf", centre),
            ("break", Point(-EXTENSION, waist)),
        ),
        inside={
            **panel.levels,
            "centre-front": polyline(centre, Point(0, hem_y)),
            "adjust-line": _adjust(panel, m, -EXTENSION),
        },
        points=points,
    )


def _back(panel: Panel, arm: Sleeve, m: dict[str, float]) -> Master:
    hem_y, x = panel.hem_y, 0.4 * m["quarter"]
    return Master(
        edges={
            "neck": panel.neck,
            "shoulder": panel.shoulder,
            "armhole": panel.armhole,
            "side": panel.side,
            "hem": panel.hem,
            "cb": polyline(Point(0, hem_y), panel.centre_top),
        },
        grain=(Point(x, m["waist_level"] + 170), Point(x, m["bust_level"] - 90)),
        anchor=Point(0, m["bust_level"]),
        notches=(
            *_armhole_notches(panel, "cap-back", "hindarm", length(arm.under["underarm-back"])),
            *_side_notches(panel),
        ),
        inside={**panel.levels, "adjust-line": _adjust(panel, m, 0)},
    )


def _adjust(panel: Panel, m: dict[str, float], left: float) -> Path:
    """Where the body is lengthened or shortened: across the panel, halfway from bust to waist."""
    y = (m["bust_level"] + m["waist_level"]) / 2
    upper = next(part for part in panel.side if isinstance(part, Cubic))
    return polyline(Point(left, y), upper.at(solved(lambda t: upper.at(t).y - y, 0, 1)))


def _facing_line(panel: Panel, m: dict[str, float]) -> tuple[Path, Path, Path]:
    """(the facing's inner edge from shoulder to hem, the hem before it, the hem behind it), walked clockwise."""
    top = panel.shoulder[0].start.plus(heading(FRONT_SLOPE).scaled(FACING_SHOULDER))
    waist = Point(FACING_FRONT, m["waist_level"])
    run = waist.y - top.y
    hem_curve, extension = panel.hem
    assert isinstance(hem_curve, Cubic)
    behind, before = split_at_x(hem_curve, FACING_FRONT)
    inner: Path = (curve(top, heading(FRONT_SLOPE + 90), 0.36 * run, waist, DOWN, 0.4 * run), Line(waist, before.start))
    return inner, (before, extension), (behind,)


def _front_facing(panel: Panel, m: dict[str, float]) -> Master:
    inner, hem, _ = _facing_line(panel, m)
    waist, bust, hem_y = m["waist_level"], m["bust_level"], panel.hem_y
    centre = Point(0, panel.centre_top.y)
    return Master(
        edges={
            "neck": panel.neck,
            "shoulder": polyline(panel.shoulder[0].start, inner[0].start),
            "inner": inner,
            "hem": hem,
            "front": polyline(Point(-EXTENSION, hem_y), panel.centre_top),
        },
        grain=(Point(30, waist + 200), Point(30, bust - 10)),
        anchor=Point(0, bust),
        notches=(("cf", centre), ("break", Point(-EXTENSION, waist)), ("lining-waist", inner[0].end)),
        inside={"centre-front": polyline(centre, Point(0, hem_y))},
    )


def _lining_front(panel: Panel, arm: Sleeve, m: dict[str, float]) -> Master:
    inner, _, hem = _facing_line(panel, m)
    x = 0.64 * m["quarter"]
    return Master(
        edges={
            "shoulder": polyline(inner[0].start, panel.shoulder[0].end),
            "armhole": panel.armhole,
            "side": panel.side,
            "hem": hem,
            "inner": reversed_path(inner),
        },
        grain=(Point(x, m["waist_level"] + 180), Point(x, m["bust_level"] - 20)),
        anchor=Point(FACING_FRONT, m["bust_level"]),
        notches=(
            *_armhole_notches(panel, "cap-front", "forearm", length(arm.under["underarm-front"])),
            *_side_notches(panel),
            ("lining-waist", inner[0].end),
        ),
    )


def _back_facing_line(panel: Panel) -> Path:
    """The lower edge of the back neck facing, from its shoulder to the centre back."""
    start = panel.shoulder[0].start.plus(heading(BACK_SLOPE).scaled(FACING_SHOULDER))
    end = Point(0, FACING_BACK)
    return (curve(start, heading(BACK_SLOPE + 90), 0.52 * (end.y - start.y), end, LEFT, 0.62 * start.x),)


def _back_neck_facing(panel: Panel) -> Master:
    outer = _back_facing_line(panel)
    return Master(
        edges={
            "neck": panel.neck,
            "shoulder": polyline(panel.shoulder[0].start, outer[0].start),
            "outer": outer,
            "cb": polyline(outer[-1].end, panel.centre_top),
        },
        grain=(Point(30, FACING_BACK - 12), Point(30, 8)),
        anchor=Point(0, 0),
        notches=(("mid", place_along(outer, length(outer) / 2)),),
    )


def _lining_back(panel: Panel, arm: Sleeve, m: dict[str, float]) -> Master:
    outer = _back_facing_line(panel)
    pleat_top, fold_top = outer[-1].end, Point(-PLEAT, FACING_BACK)
    foot, fold_foot = panel.hem[-1].end, Point(-PLEAT, panel.hem_y)
    x = 0.38 * m["quarter"]
    return Master(
        edges={
            "neck": (Line(fold_top, pleat_top), *reversed_path(outer)),
            "shoulder": polyline(outer[0].start, panel.shoulder[0].end),
            "armhole": panel.armhole,
            "side": panel.side,
            "hem": (*panel.hem, Line(foot, fold_foot)),
            "cb": polyline(fold_foot, fold_top),
        },
        grain=(Point(x, m["waist_level"] + 180), Point(x, m["bust_level"] - 60)),
        anchor=Point(0, m["bust_level"]),
        notches=(
            *_armhole_notches(panel, "cap-back", "hindarm", length(arm.under["underarm-back"])),
            *_side_notches(panel),
            ("mid", place_along(outer, length(outer) / 2)),
            ("pleat-fold", fold_top),
            ("pleat", pleat_top),
        ),
        inside={"pleat-line": polyline(pleat_top, foot)},
    )
