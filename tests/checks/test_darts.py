"""Legs of darts."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.model.pieces import InsideLine
from tests.checks.skirt import garment, lines, one, replace, told


def dart(*paths):
    def change(piece):
        others = tuple(line for line in piece.inside if line.name != "dart")
        drawn = tuple(InsideLine("dart" if not i else f"dart-{i}", path, False) for i, path in enumerate(paths))
        return replace(piece, inside=(*others, *drawn))

    return change


@pytest.mark.parametrize(
    "paths",
    [
        [lines((80, 0), (90, 110), (100, 0))],
        [lines((100, 0), (90, 110), (80, 0))],
        [lines((80, 0), (85, 60), (90, 110), (95, 60), (100, 0))],
        [lines((80, 0), (90, 110)), lines((90, 110), (100, 0))],
        [lines((80, 0), (94, 110), (100, 0))],
    ],
)
def test_legs_that_are_equal_within_1_mm_pass_however_they_are_drawn(paths):
    """A tip 4 mm beside the middle makes legs of 110.89 and 110.16 mm."""
    assert not [f for f in told({("back", "M"): dart(*paths)}) if f.check == "dart-legs"]


@pytest.mark.parametrize(
    "paths", [[lines((80, 0), (100, 110), (100, 0))], [lines((100, 110), (80, 0)), lines((100, 0), (100, 110))]]
)
def test_unequal_legs_block(paths):
    finding = one("dart-legs", {("back", "M"): dart(*paths)})
    assert (finding.code, finding.severity, finding.piece, finding.where) == ("unequal", "block", "back", "waist")
    assert finding.found == "111.80 and 110.00 mm"
    assert "the leg at dart-a is 1.8 mm longer" in finding.message


def test_a_dart_without_drawn_legs_is_skipped_not_passed():
    found = [f for f in check_garment(garment({("back", "M"): dart()})) if f.check == "dart-legs"]
    assert [(f.code, f.severity, f.size) for f in found] == [("no-legs", "skip", "M")]
