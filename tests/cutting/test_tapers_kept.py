"""Tapers of pieces made of others, and of many pieces drawn at random."""

import math

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from pipeline.geometry.curves import path_length_mm
from pipeline.model.findings import blocks
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import CutPiece
from tests.cutting.shapes import (
    clean,
    codes,
    curve,
    cut,
    spec_of,
    straight,
    turns_back,
)
from tests.cutting.tapering import BOX, derived_of, off_mm, taper


def derived(**how) -> CutPiece:
    """A piece made of the box whose right side tapers from 25 to 10 mm."""
    return derived_of(spec_of(edges={"e1": taper(25, 10)}), BOX, **how)


def test_a_trimmed_piece_tapers_as_its_source_does():
    edge = derived(trim_mm=3.0).edge("e1")
    assert (edge.allowance_mm, edge.allowance_end_mm) == (22, 7)
    (line,) = edge.cut_line
    slant = math.hypot(1, 15 / 300)
    assert _right_of(line, 150) == pytest.approx(217.5 - 3 * slant, abs=1e-4)


def _right_of(line, y: float) -> float:
    return shapely.LineString(line).intersection(shapely.LineString([(100, y), (400, y)])).x


def test_a_piece_that_ends_past_the_seam_line_has_one_width():
    edge = derived(past_seam_mm=2.0).edge("e1")
    assert (edge.allowance_mm, edge.allowance_end_mm) == (2, None)
    assert _right_of(edge.cut_line[0], 150) == pytest.approx(202)


def test_lengths_of_the_seam_line_stay():
    plain, tapered = clean(BOX), clean(BOX, {"e1": taper(25, 10)})
    assert tapered.edge("e1").length_mm == plain.edge("e1").length_mm == path_length_mm(BOX["e1"])
    assert tapered.seam_outline == plain.seam_outline


@st.composite
def tapered_shapes(draw):
    """A star of straight edges and mild curves, each with an allowance at either end."""
    count = draw(st.integers(4, 7))
    radii = draw(st.lists(st.floats(200, 320), min_size=count, max_size=count))
    places = [
        (radius * math.cos(2 * math.pi * i / count), radius * math.sin(2 * math.pi * i / count))
        for i, radius in enumerate(radii)
    ]
    edges, specs = {}, {}
    for i, (x0, y0) in enumerate(places):
        x1, y1 = places[(i + 1) % count]
        bulge = draw(st.one_of(st.just(0.0), st.floats(-0.08, 0.08)))
        if bulge:
            across = (bulge * (y1 - y0), -bulge * (x1 - x0))
            inner = [(x0 + (x1 - x0) * t + across[0], y0 + (y1 - y0) * t + across[1]) for t in (1 / 3, 2 / 3)]
            edges[f"e{i}"] = curve((x0, y0), *inner, (x1, y1))
        else:
            edges[f"e{i}"] = straight((x0, y0), (x1, y1))
        widths = draw(st.tuples(st.one_of(st.just(0.0), st.floats(3, 30)), st.floats(3, 30)).map(st.permutations))
        specs[f"e{i}"] = taper(*draw(widths), corner=draw(st.sampled_from(["mitre", "square"])))
    for i in range(count):
        if specs[f"e{i}"].corner == "square" == specs[f"e{(i + 1) % count}"].corner:
            specs[f"e{i}"] = taper(specs[f"e{i}"].allowance_mm, specs[f"e{i}"].allowance_end_mm)
    return edges, specs


@settings(deadline=None, max_examples=80)
@given(tapered_shapes())
def test_any_tapers_give_one_simple_cut_line_at_its_widths(shape):
    edges, specs = shape
    piece, findings = cut(edges, specs)
    assert "not-computed" not in codes(findings)
    assume(piece is not None and not any(blocks(finding) for finding in findings))
    ring = shapely.Polygon(piece.cut_outline)
    seam = shapely.Polygon(piece.seam_outline)
    assert ring.is_valid
    assert not turns_back(piece.cut_outline)
    assert ring.buffer(1e-3).contains(seam)
    reach = math.sqrt(5) * max(max(spec.allowance_mm, spec.allowance_end_mm) for spec in specs.values())
    assert seam.buffer(reach + 0.1).contains(ring)
    for name, path in edges.items():
        spec = specs[name]
        off = off_mm(piece, name, path, spec.allowance_mm, spec.allowance_end_mm, ends_mm=60)
        assert off.size == 0 or off.max() < 0.05, name


@settings(deadline=None, max_examples=40)
@given(tapered_shapes())
def test_a_taper_between_two_allowances_lies_between_their_cut_lines(shape):
    edges, specs = shape
    least = {name: EdgeSpec(allowance_mm=min(s.allowance_mm, s.allowance_end_mm)) for name, s in specs.items()}
    most = {name: EdgeSpec(allowance_mm=max(s.allowance_mm, s.allowance_end_mm)) for name, s in specs.items()}
    tapered = {name: taper(s.allowance_mm, s.allowance_end_mm) for name, s in specs.items()}
    made = [cut(edges, one) for one in (least, tapered, most)]
    assume(all(piece is not None and findings == () for piece, findings in made))
    small, middle, large = (shapely.Polygon(piece.cut_outline) for piece, _ in made)
    near = shapely.unary_union([shapely.Point(path[0].start).buffer(70) for path in edges.values()])
    assert small.difference(near).difference(middle.buffer(1e-3)).area < 0.01
    assert middle.difference(near).difference(large.buffer(1e-3)).area < 0.01
