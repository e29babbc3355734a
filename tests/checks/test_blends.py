"""Edges along which sizes are blended: what is sewn to them blends alike and comes out as long."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.checks.garment import Garment
from pipeline.geometry.points import Vector
from pipeline.model.findings import Finding
from pipeline.model.piece_specs import EdgePart, EdgeSpec
from pipeline.model.pieces import DrawnPiece
from tests.checks.skirt import NO_FAULTS, SIZES, garment, pattern_with, replace
from tests.checks.skirt_faults import laid_elsewhere, longer

BLENDED = EdgeSpec(blend=True)
CHECK = "blended-seams"


def found(made: Garment) -> list[Finding]:
    return [finding for finding in check_garment(made) if finding.check == CHECK]


def skirt(front: EdgeSpec, back: EdgeSpec, faults=NO_FAULTS) -> Garment:
    return garment(faults, pattern_with({("front", "side"): front, ("back", "side"): back}))


def test_a_seam_whose_sides_are_both_blended_and_alike_is_told_nothing():
    assert found(skirt(BLENDED, BLENDED)) == []
    assert found(skirt(EdgeSpec(), EdgeSpec())) == []


@pytest.mark.parametrize(("front", "back", "alone"), [(BLENDED, EdgeSpec(), "front"), (EdgeSpec(), BLENDED, "back")])
def test_a_side_that_is_blended_alone_is_told(front, back, alone):
    (told,) = found(skirt(front, back))
    assert (told.code, told.severity, told.where, told.object) == ("one-side", "warn", "seams.side", f"{alone}.side")
    other = {"front": "back", "back": "front"}[alone]
    assert told.message.endswith(f"and not along {other}.side, which is sewn to it")


def test_sides_that_are_blended_come_out_as_long_within_a_millimetre():
    """Where the hem of one size is too low, guides that end on that size's line there are too long; others leave it."""
    short = found(skirt(BLENDED, BLENDED, {("back", "L"): longer(0.8)}))
    assert short == []
    told = found(skirt(BLENDED, BLENDED, {("back", "L"): longer(6.0)}))
    assert {finding.code for finding in told} == {"lengths"}
    pairs = {tuple(finding.message.split(",")[0].split("from size ")[1].split(" to ")) for finding in told}
    assert pairs == {("M", "L"), ("XL", "L")}


def test_a_seam_that_goes_round_several_edges_is_asked_for_its_partner_alone():
    pattern = pattern_with({("front", "waist"): BLENDED})
    (told,) = found(garment(pattern=pattern))
    assert (told.code, told.where) == ("one-side", "seams.waist")


def test_parts_between_other_notches_are_measured_by_their_own_lengths():
    front = replace(BLENDED, blend=EdgePart("waist", "hem"))
    assert found(skirt(front, BLENDED)) == [], "both name the whole edge"


def test_where_a_size_lies_on_its_page_is_no_matter_since_guides_are_laid_as_the_nest_is():
    """As in a drawing a size, in which the back stands beside a front that is wider than that of the size before."""
    moved = {("back", size): laid_elsewhere(Vector(300.0 + 10.0 * place, 31)) for place, size in enumerate(SIZES)}
    slip = {("back", "L"): longer(6.0)}
    assert found(skirt(BLENDED, BLENDED, moved)) == []
    assert len(found(skirt(BLENDED, BLENDED, {**moved, **slip}))) == len(found(skirt(BLENDED, BLENDED, slip))) == 2


def test_sides_that_are_drawn_alike_are_never_told_though_their_pieces_are_nested_on_other_places():
    def lower(piece: DrawnPiece) -> DrawnPiece:
        return replace(piece, anchor=piece.anchor.plus(Vector(6.0 * SIZES.index(piece.size), 0)))

    assert found(skirt(BLENDED, BLENDED, {("back", size): lower for size in SIZES})) == []
