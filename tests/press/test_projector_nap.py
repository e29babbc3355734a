"""Cloth that may have a nap is laid once under a projected sheet, so all its pieces point one way there."""

from shapely.geometry import LineString

from pipeline.sheets.projector import projector_cuts, projector_stacks
from pipeline.sheets.stacks import moved
from pipeline.steps.projected import thrown_layout
from tests.drawing.demo_nests import SOURCE, cut_of


def test_the_tops_of_all_pieces_lie_on_the_left() -> None:
    pattern, every = cut_of(SOURCE / "half-circle-skirt")
    assert pattern.materials["shell"].nap == "either"
    stacks = projector_stacks(pattern, projector_cuts(pattern, every, "shell"))
    layout, _ = thrown_layout(pattern, "shell", stacks, None, "shell")
    grains = {stack.piece: LineString(stack.grain) for stack in stacks}
    for place in layout.placements:
        (bottom, _), (top, _) = moved(grains[place.piece], place).coords
        assert top < bottom, place.piece
