"""What is grown on, held against second engines and in many pieces drawn at random."""

import math

import numpy as np
import pyclipper
import pytest
import shapely
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from pipeline.cutting.cut import cut_piece
from pipeline.geometry.curves import Path, flattened, path_length_mm, point_along
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import CutPiece, Notch
from tests.cutting.grown import NOTCHES, fly, grown
from tests.cutting.shapes import (
    arc,
    array,
    codes,
    curve,
    cut,
    drawn_of,
    notch,
    pattern_of,
    polygon,
    spec_of,
    straight,
    turns_back,
)
from tests.cutting.tapering import BOX

UNITS = 2**20
"""What a millimetre is to the second engine, which counts in whole numbers."""


def clipped(kind: int, one: np.ndarray, two: np.ndarray) -> list[np.ndarray]:
    """What two areas are together, or share, by a second engine."""
    clip = pyclipper.Pyclipper()
    for ring, role in ((one, pyclipper.PT_SUBJECT), (two, pyclipper.PT_CLIP)):
        clip.AddPath(np.round(ring * UNITS).astype(np.int64).tolist(), role, True)
    return [np.array(ring) / UNITS for ring in clip.Execute(kind, pyclipper.PFT_NONZERO, pyclipper.PFT_NONZERO)]


def mirrored(points: np.ndarray, start: np.ndarray, end: np.ndarray) -> np.ndarray:
    unit = (end - start) / np.hypot(*(end - start))
    out = np.array([unit[1], -unit[0]])
    return points - 2 * ((points - start) @ out)[:, None] * out


def folded_out(bare: np.ndarray, start: np.ndarray, end: np.ndarray, stop: np.ndarray, width_mm: float) -> np.ndarray:
    """The cut piece that ends on the fold, with what lies within a width of the fold as far as `stop` turned over it:
    by the second engine."""
    unit = (end - start) / np.hypot(*(end - start))
    inward = np.array([-unit[1], unit[0]])
    far = start - unit * 500
    beneath = np.array([far, stop, stop + inward * width_mm, far + inward * width_mm])
    (strip,) = clipped(pyclipper.CT_INTERSECTION, bare, beneath)
    # Put back by 0.002 mm, so that rounding leaves no crack along the fold.
    (whole,) = clipped(pyclipper.CT_UNION, bare, mirrored(strip, start, end) + inward * 0.002)
    return whole


@settings(deadline=None, max_examples=60, phases=[Phase.generate])
@given(st.floats(-40, 40), st.floats(-35, 35), st.floats(15, 60), st.floats(0.3, 0.8), st.floats(0, 20))
def test_on_slanted_edges_a_second_engine_folds_the_same(waist_deg, lean_deg, width_mm, share, allowance_mm):
    """The edge leans, and so does the waist; everything on the page is turned with it."""
    lean = math.tan(math.radians(lean_deg)) * 300
    rise = math.tan(math.radians(waist_deg)) * 400
    assume(math.degrees(math.atan2(500 - rise, lean)) - waist_deg > 31)  # else the corner is too flat to be mirrored
    edges = polygon([(0, 0), (400, rise), (400 + lean, 500), (0, 500)])
    stop_mm = share * path_length_mm(edges["e1"])
    notches = (notch(edges, "e1", stop_mm, name="zip"),)
    start, end = (np.array(at) for at in ((400.0, rise), (400 + lean, 500.0)))
    stop = start + (end - start) * share
    own = {"e1": EdgeSpec(allowance_mm=0.0, grown_on=(grown("e0", "zip", width_mm),))}
    piece, findings = cut(edges, own, allowance_mm=allowance_mm, notches=notches)
    assert findings == ()
    bare, _ = cut(edges, {"e1": EdgeSpec(allowance_mm=0.0)}, allowance_mm=allowance_mm, notches=notches)
    expected = folded_out(array(bare.cut_outline), start, end, stop, width_mm)
    off = shapely.hausdorff_distance(shapely.LinearRing(piece.cut_outline), shapely.LinearRing(expected), densify=0.02)
    assert off < 0.05
    assert not turns_back(piece.cut_outline)


def feet_of(fold: np.ndarray, points: np.ndarray) -> np.ndarray:
    """Nearest points of a chain, found by trying every chord."""
    starts, steps = fold[:-1], np.diff(fold, axis=0)
    shares = np.einsum("pij,ij->pi", points[:, None] - starts, steps) / np.einsum("ij,ij->i", steps, steps)
    feet = starts + steps * np.clip(shares, 0, 1)[:, :, None]
    nearest = np.hypot(*(feet - points[:, None]).transpose(2, 0, 1)).argmin(axis=1)
    return feet[np.arange(len(points)), nearest]


def run_on_at_start(path: Path, by_mm: float) -> np.ndarray:
    """A chain of points of a path, run on past its start along its tangent."""
    points = array(flattened(path, 0.0005))
    step = points[0] - np.array(path[0].at(1e-5))
    return np.vstack((points[0] + step / np.hypot(*step) * by_mm, points))


CURVED = {
    "inward": curve((200, 0), (196, 60), (195, 120), (198, 240)),
    "outward": curve((200, 0), (205, 70), (206, 150), (202, 240)),
    "both": curve((200, 0), (203, 80), (197, 160), (200, 240)),
    "arc": arc((200 - 2000, 0), 2000, 0, 7),
}


@pytest.mark.parametrize("name", CURVED)
@pytest.mark.parametrize(("radius_mm", "waist"), [(None, 30), (25.0, -30), (30.0, 0)])
def test_along_a_curve_it_is_as_wide_and_folds_onto_the_piece(name, radius_mm, waist):
    """Its raw edge lies 40 mm from the edge; turned over it its end lies on the cut line of the waist."""
    path = CURVED[name]
    length_mm, end = path_length_mm(path), path[-1].end
    edges = {
        "waist": straight((0, waist), (200, 0)),
        "cf": path,
        "hem": straight((end.x, end.y), (0, 330)),
        "side": straight((0, 330), (0, waist)),
    }
    notches = (Notch("zip", "cf", 0.7 * length_mm, point_along(path, 0.7 * length_mm)[0]),)
    said = {"cf": EdgeSpec(grown_on=(grown("waist", "zip", 40, radius_mm=radius_mm),))}
    piece, findings = cut(edges, said, notches=notches)
    assert codes(findings) <= {"grown-bent"}
    bare, _ = cut(edges, {"cf": EdgeSpec(allowance_mm=0.0)}, notches=notches)
    extra = shapely.difference(shapely.Polygon(piece.cut_outline), shapely.Polygon(bare.cut_outline).buffer(1e-3))
    rim = shapely.get_coordinates(shapely.segmentize(extra.geoms[0] if extra.geom_type != "Polygon" else extra, 0.5))
    fold = run_on_at_start(path, 60)
    stop = np.array(point_along(path, 0.7 * length_mm)[0])
    feet = feet_of(fold, rim)
    above = (stop - feet) @ np.array([0, 1])
    over, out = 2 * feet - rim, np.hypot(*(rim - feet).T)
    cloth = shapely.Polygon(bare.cut_outline)
    assert shapely.distance(cloth, shapely.points(over[above > 0.01])).max() < 0.05
    assert out[above > 0].max() == pytest.approx(40, abs=0.05)
    end_of_it = (above > 150) & (out > 5) & (out < 39.9)
    assert shapely.distance(cloth.exterior, shapely.points(over[end_of_it])).max() < 0.05
    if radius_mm is not None:
        assert_round(rim, out, above, radius_mm)


def assert_round(rim: np.ndarray, out: np.ndarray, above: np.ndarray, radius_mm: float) -> None:
    """Between 10.5 and 39.5 mm out near the notch all points lie on one circle of the radius."""
    at = (above < radius_mm) & (above > 0.05) & (out > 10.5) & (out < 39.5)
    x, y = rim[at].T
    cx, cy, rest = np.linalg.lstsq(np.column_stack((2 * x, 2 * y, np.ones_like(x))), x**2 + y**2, rcond=None)[0]
    assert math.sqrt(rest + cx**2 + cy**2) == pytest.approx(radius_mm, abs=0.05)


@settings(deadline=None, max_examples=60, phases=[Phase.generate])
@given(data=st.data())
def test_in_many_pieces_it_neither_crosses_nor_jogs(data):
    """A fly or placket anywhere along an edge that may bend a little, beside lines that lean and curve, rounded or
    turned in: one simple outline, as wide as said, from the corner on to the end."""

    def draw(low: float, high: float) -> float:
        return data.draw(st.floats(low, high))

    lean, waist, bend = draw(-40, 40), draw(-60, 60), draw(-2, 2)
    edges = {
        "waist": curve((0, 0), (120, draw(-20, 20)), (240, waist + draw(-20, 20)), (350, waist)),
        "cf": curve((350, waist), (350 + lean / 3 + bend, 170), (350 + 2 * lean / 3 + bend, 340), (350 + lean, 500)),
        "hem": straight((350 + lean, 500), (0, 520)),
        "side": straight((0, 520), (0, 0)),
    }
    length_mm = path_length_mm(edges["cf"])
    first = draw(0.1, 0.75)
    last = draw(first + 0.15, 0.9)
    places = {"a": first * length_mm, "b": last * length_mm}
    notches = tuple(Notch(name, "cf", at, point_along(edges["cf"], at)[0]) for name, at in places.items())
    start, end = data.draw(st.sampled_from([("waist", "b"), ("a", "hem"), ("a", "b"), ("waist", "hem")]))
    width_mm, allowance_mm = draw(22, 60), data.draw(st.sampled_from([0.0, 6.0, 10.0, 20.0]))
    shape = data.draw(st.sampled_from(["plain", "round", "turned in"]))
    more = {"radius_mm": draw(5, width_mm)} if shape == "round" else {}
    more |= {"turn_in_mm": draw(3, width_mm)} if shape == "turned in" else {}
    said = {"cf": EdgeSpec(grown_on=(grown(start, end, width_mm, **more),)), "hem": data.draw(HEMS)}
    piece, findings = cut(edges, said, allowance_mm=allowance_mm, notches=notches)
    assert codes(findings) <= {"grown-bent", "radius-unused", "radius-no-room"}
    assert piece is not None
    assert_simple_and_as_wide(piece, edges["cf"], width_mm + more.get("turn_in_mm", 0.0), more.get("radius_mm", 0.0))


HEMS = st.sampled_from([EdgeSpec(), EdgeSpec(allowance_mm=30.0, corner="turned", hem=True)])


def assert_simple_and_as_wide(piece: CutPiece, path: Path, cut_mm: float, radius_mm: float) -> None:
    assert shapely.Polygon(piece.cut_outline).is_valid
    assert not turns_back(piece.cut_outline)
    (part,) = piece.edge("cf").grown_on
    seam = shapely.LineString(array(flattened(path, 0.0005)))
    # Beside a corner of the piece the mirrored end leans in or out, by less than the width.
    low = part.start * seam.length + (cut_mm if part.start == 0 else radius_mm) + 0.1
    high = part.end * seam.length - (cut_mm if part.end == 1 else radius_mm) - 0.1
    lines = [shapely.segmentize(shapely.LineString(line), 0.5) for line in piece.edge("cf").cut_line]
    rim = shapely.points(np.vstack([shapely.get_coordinates(line) for line in lines]))
    at, out = shapely.line_locate_point(seam, rim), shapely.distance(seam, rim)
    on = (at > low) & (at < high)
    assert np.abs(out[on] - cut_mm).max(initial=0) < 0.05
    if high - low > 1:
        assert on.any()


def test_the_lines_to_fold_on_lie_on_the_cloth():
    spec = spec_of(edges={"e1": fly(turn_in_mm=8.0)})
    piece, findings = cut_piece(pattern_of(spec), drawn_of(BOX, NOTCHES))
    assert findings == ()
    cloth = shapely.Polygon(piece.cut_outline).buffer(1e-4)
    for line in piece.turns:
        assert cloth.covers(shapely.LineString([line.path[0].start, line.path[-1].end]))
