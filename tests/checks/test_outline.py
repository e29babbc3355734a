"""Spikes and crumbs of the seam line."""

import pytest

from tests.checks.skirt import codes, lines, one, told
from tests.checks.skirt_faults import with_edges


def hem_with(*places):
    """The hem's line runs from right to left through more places."""

    def change(piece):
        hem = piece.edge("hem").path[0]
        return with_edges(piece, {"hem": lines(hem.start, *places, hem.end)})

    return change


def test_a_point_pulled_far_out_is_a_spike():
    finding = one("outline-spikes", {("front", "M"): hem_with((101, 500), (100, 520), (99, 500))})
    assert (finding.code, finding.severity, finding.piece, finding.size) == ("spike", "block", "front", "M")
    assert finding.where == "hem"
    assert "x 100.0, y 520.0" in finding.found


@pytest.mark.parametrize(("half", "found"), [(1.7, {("outline-spikes", "spike")}), (1.8, set())])
def test_up_to_10_degrees_a_corner_is_a_spike(half, found):
    """A point 20 mm out with a foot of 2 x 1.7 mm has 9.7 degrees, of 2 x 1.8 mm 10.3 degrees."""
    faults = {("front", "M"): hem_with((100 + half, 500), (100, 520), (100 - half, 500))}
    assert codes(told(faults)) & {("outline-spikes", "spike")} == found


def test_a_narrow_slot_inward_is_no_spike_where_it_is_long_enough_for_a_dart():
    slot = {("front", "M"): hem_with((103, 500), (100, 400), (97, 500))}
    assert not [f for f in told(slot) if f.check == "outline-spikes"]
    nick = {("front", "M"): hem_with((100.2, 500), (100, 496), (99.8, 500))}
    assert one("outline-spikes", nick).where == "hem"


def test_a_crumb_between_long_segments_warns():
    finding = one("outline-crumbs", {("front", "M"): hem_with((100, 500), (99.7, 500))})
    assert (finding.code, finding.severity, finding.found[:7]) == ("crumb", "warn", "0.30 mm")


def test_chords_of_a_fine_curve_are_no_crumbs():
    fine = [(100 - 0.4 * i, 500) for i in range(60)]
    assert not [f for f in told({("front", "M"): hem_with(*fine)}) if f.check == "outline-crumbs"]
    assert not [f for f in told({("front", "M"): hem_with((100, 500), (99.4, 500))}) if f.check == "outline-crumbs"]
