"""Counts against what measures and marks use: the small skirt is drawn half, on the fold, and cut once."""

import pytest

from pipeline.geometry.points import Point
from pipeline.model.pattern import FinishedMeasure
from pipeline.model.pieces import MarkPoint
from tests.checks.apron import SIZES, TITLE, codes, counted, cuts, found, garment, pattern, replace, strip, total


def measured(text: str) -> dict[str, FinishedMeasure]:
    return {"waist": FinishedMeasure(name="waist", title=TITLE, sum=total(text))}


@pytest.mark.parametrize("text", ["2 x skirt.waist", "skirt.middle", "1.5 x skirt.waist", "2 x body.waist - 4 cm"])
def test_halves_on_the_fold_count_twice_and_other_factors_say_nothing(text):
    assert found("cut-uses", garment(finished=measured(text))) == []


def test_a_measure_that_takes_more_pieces_than_are_cut_warns_in_every_size():
    (small, large) = found("cut-uses", garment(finished=measured("4 x skirt.waist")))
    assert (small.code, small.severity, small.piece, small.size) == ("used-otherwise", "warn", "skirt", "S")
    assert (small.found, small.allowed) == ("2 halves", "4 halves")
    assert "finished.waist takes it: 4 x skirt.waist" in small.message
    assert large.size == "M"


def test_what_a_strip_goes_round_counts_too():
    binding = strip("4 x skirt.hem", goes_round=total("4 x skirt.hem"))
    assert codes("cut-uses", garment(strips=binding)) == [("used-otherwise", "warn", size) for size in SIZES]


def patched(count: int | dict[str, int], mark: str = "pocket-inner", material: str = "shell"):
    """The apron with a pocket that is sewn into no seam, and a mark on each half of the skirt."""
    drawn = cuts()
    skirt = {
        size: replace(cut, drawn=replace(cut.drawn, points=(MarkPoint(mark, Point(0, 0)),)))
        for size, cut in drawn["skirt"].items()
    }
    pocket = {
        size: replace(cut, drawn=replace(cut.drawn, piece="pocket"), fold=None) for size, cut in drawn["band"].items()
    }
    spec = replace(pattern().pieces["band"], name="pocket", cut=counted(material, count))
    pieces = {**pattern().pieces, "pocket": spec}
    return garment(drawn={**drawn, "skirt": skirt, "pocket": pocket}, pieces=pieces)


def test_a_patch_for_each_mark_passes_and_one_of_two_layers_is_asked_for():
    assert found("cut-uses", patched(2)) == []
    assert codes("cut-uses", patched(4)) == [("another-layer", "warn", size) for size in SIZES]


@pytest.mark.parametrize("mark", ["pocket-inner", "pocket"])
def test_a_patch_that_is_missing_for_a_mark_warns(mark):
    (only,) = found("cut-uses", patched({"S": 2, "M": 1}, mark))
    assert (only.piece, only.size, only.found, only.allowed) == ("pocket", "M", "1", "2")
    assert "marks for it: on skirt" in only.message


def test_marks_of_other_names_and_on_other_materials_say_nothing():
    assert found("cut-uses", patched(1, "pocketbook")) == []
    assert found("cut-uses", patched(1, material="lining")) == []


def test_a_pocket_at_the_chest_may_be_on_one_half_only():
    def on_a_front(y: float, edge: str):
        """The skirt as a front: its upper edge called otherwise, the mark at a height of it."""
        garment = patched(1)
        for size, cut in garment.cuts["skirt"].items():
            edges = tuple(replace(each, name=edge if each.name == "side" else each.name) for each in cut.drawn.edges)
            marked = replace(cut.drawn, edges=edges, points=(MarkPoint("pocket", Point(140, y)),))
            garment.cuts["skirt"][size] = replace(cut, drawn=marked)
        return [finding.code for finding in found("cut-uses", garment)]

    assert on_a_front(160, "armhole-front") == []
    assert on_a_front(400, "armhole-front") == ["used-otherwise"] * 2
    assert on_a_front(160, "flank") == ["used-otherwise"] * 2
