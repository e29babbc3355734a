"""What questions of folds and matching lines are answered."""

import pytest

from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.questions import Turn, edge_spec, match_lines, turn_of
from pipeline.model.turns import highest_mm, turn_names, turns_of
from tests.cutting.shapes import pattern_of, spec_of

HEM = EdgeSpec(allowance_mm=100, corner="turned", folds_mm=(40.0, 80.0), turn_up=True)
PATTERN = pattern_of(
    spec_of("leg", edges={"hem": HEM}, lines={"knee": "match", "hip": "level"}),
    spec_of("stay", source="leg", lines={"hip": "match"}),
)


@pytest.mark.parametrize("piece", ["leg", "stay"])
def test_a_fold_line_is_known_by_its_name_on_its_piece_and_on_those_derived_from_it(piece):
    assert turn_names("hem", 2) == ("hem-fold-1", "hem-fold-2")
    assert turn_of(PATTERN, piece, "hem-fold-2") == Turn("hem", 2, True)
    assert turn_of(PATTERN, piece, "hem-fold-3") is None
    assert edge_spec(PATTERN, piece, "hem") == HEM
    assert edge_spec(PATTERN, piece, "side") == EdgeSpec()


def test_a_derived_piece_has_the_matching_lines_of_its_source_and_its_own():
    assert match_lines(PATTERN, "leg") == ("knee",)
    assert match_lines(PATTERN, "stay") == ("knee", "hip")
    assert match_lines(PATTERN, "strips.tie") == ()


@pytest.mark.parametrize(
    ("folds_mm", "depth_mm", "high_mm"), [((), 40, 40), ((30,), 40, 30), ((40, 80), 100, 40), ((30, 40), 100, 80)]
)
def test_the_piece_must_be_as_deep_as_the_highest_band_lies(folds_mm, depth_mm, high_mm):
    assert highest_mm(turns_of(folds_mm, depth_mm)) == high_mm
