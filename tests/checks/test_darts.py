"""Legs of darts."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.model.pieces import InsideLine
from tests.checks.skirt import SIZES, garment, lines, one, replace, told
from tests.checks.skirt_faults import in_all


def ends(faults):
    return [f for f in check_garment(garment(faults)) if f.check == "dart-ends"]


def dart(*paths, kind="place"):
    def change(piece):
        others = tuple(line for line in piece.inside if line.name != "dart")
        drawn = tuple(InsideLine("dart" if not i else f"dart-{i}", path, False, kind) for i, path in enumerate(paths))
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
    found = [f for f in check_garment(garment(in_all("back", dart()))) if f.check in ("dart-legs", "dart-ends")]
    assert [(f.check, f.code, f.severity, f.size) for f in found] == [
        ("dart-legs", "no-legs", "skip", size) for size in SIZES
    ]


@pytest.mark.parametrize(
    "paths",
    [
        [],  # lost
        [lines((84, 0), (94, 110), (104, 0))],
        [lines((80, 0), (90, 110), (104, 0))],
    ],
)
def test_a_stitching_line_that_one_size_has_beside_its_notches_or_lost_blocks(paths):
    (finding,) = ends({("back", "M"): dart(*paths, kind="stitch")})
    assert (finding.severity, finding.piece, finding.size, finding.where) == ("block", "back", "M", "waist")
    assert finding.code == ("off-notch" if paths else "lost")


@pytest.mark.parametrize(
    ("path", "off"),
    [
        (lines((84, 0), (94, 110), (104, 0)), "4.0 mm beside it"),
        (lines((80.5, 5.5), (90, 110), (99.5, 5.5)), None),  # stops short of the edge, and points at the notches
        (lines((79.1, -10), (90, 110), (100.9, -10)), None),  # runs on to the cut edge
        (lines((60, 20), (90, 200)), None),  # another line: it ends farther away
    ],
)
def test_in_all_sizes_a_stitching_line_must_lead_to_the_notches(path, off):
    change = dart(path, kind="stitch")
    assert [(f.size, f.found) for f in ends(in_all("back", change))] == ([(size, off) for size in SIZES] if off else [])
