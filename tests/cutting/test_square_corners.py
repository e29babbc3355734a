"""A square corner between two widths, by its definition: where its lines stand, whichever edge owns it."""

import math

import numpy as np
import pytest
import shapely

from pipeline.cutting.corners import REACH, growth_mm, squared
from pipeline.cutting.cut import cut_piece
from tests.cutting.shapes import drawn_of, pattern_of, polygon, spec_of
from tests.cutting.test_corners import sides


@pytest.mark.parametrize("owner", [0, 1])
@pytest.mark.parametrize(("own_mm", "other_mm"), [(10, 15), (15, 10), (10, 10)])
@pytest.mark.parametrize("turn_deg", [110, 120, 130])
def test_past_a_right_angle_the_owner_runs_on_to_where_its_seam_line_meets_the_others_cut_line(
    turn_deg, own_mm, other_mm, owner
):
    widths = (own_mm, other_mm) if owner == 0 else (other_mm, own_mm)
    both = sides(turn_deg, *widths)
    own, other = both[owner], both[1 - owner]
    corner = squared(np.zeros(2), *both, owner)
    turn = math.radians(turn_deg)
    run_on = other_mm / math.sin(turn)
    assert run_on < growth_mm(own_mm, other_mm, turn)
    assert run_on < math.sqrt((REACH * max(own_mm, other_mm)) ** 2 - own_mm**2)
    tail = corner.tails[owner]
    head, foot = tail if owner == 0 else tail[::-1]
    assert head @ own.past == pytest.approx(run_on)
    assert head @ own.normal == pytest.approx(own_mm)
    assert foot @ own.past == pytest.approx(run_on)
    assert foot @ own.normal == pytest.approx(0)
    assert foot @ other.normal == pytest.approx(other_mm)
    assert corner.tails[1 - owner] == pytest.approx(np.array([foot]))
    assert corner.fills[1 - owner][-1] == pytest.approx(other.normal * other_mm)
    assert corner.fills[owner][1] == pytest.approx(own.normal * own_mm)


@pytest.mark.parametrize("owner", [0, 1])
def test_a_narrow_edge_beside_a_wide_owner_meets_the_square_line_on_the_owners_last_point(owner):
    """The outline turns by 45 degrees, the owner has 40 mm and the other 10: the foot is 10 / cos 45 out."""
    both = sides(45, *((40, 10) if owner == 0 else (10, 40)))
    own, other = both[owner], both[1 - owner]
    corner = squared(np.zeros(2), *both, owner)
    (foot,) = corner.tails[1 - owner]
    assert foot == pytest.approx(own.normal * 10 / math.cos(math.radians(45)))
    assert foot @ other.normal == pytest.approx(10)
    assert corner.fills[owner] is None
    assert corner.fills[1 - owner][-1] == pytest.approx(other.normal * 10)


@pytest.mark.parametrize(("opening_deg", "blunted"), [(50, True), (70, False)])
def test_the_inner_corner_of_a_trim_reaches_at_most_twice_its_width(opening_deg, blunted):
    """At the tip of a slit in the piece the trimmed line would stand trim / sin(half the opening) off; 2 at 60."""
    half = math.radians(opening_deg) / 2
    edges = polygon(
        [
            (0, 0),
            (200 - 60 * math.tan(half), 0),
            (200, 60),
            (200 + 60 * math.tan(half), 0),
            (400, 0),
            (400, 300),
            (0, 300),
        ]
    )
    pattern = pattern_of(
        spec_of("source", allowance_mm=0.0), spec_of("derived", allowance_mm=None, source="source", trim_mm=5.0)
    )
    piece, findings = cut_piece(pattern, drawn_of(edges, name="derived"))
    assert findings == ()
    assert piece is not None
    reach = max(y - 60 for x, y in piece.cut_outline if abs(x - 200) < 20 and y < 100)
    plain = 5 / math.sin(half)
    assert (plain > 10) == blunted
    assert reach == pytest.approx(10 if blunted else plain, abs=0.01)
    assert shapely.Polygon(piece.cut_outline).is_valid
