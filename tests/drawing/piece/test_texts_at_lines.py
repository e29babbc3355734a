"""What is written at lines and notches of pieces: on every page that a line crosses, and whose a notch is."""

import itertools

import msgspec
import pytest

from pipeline.drawing.nest.page_joints import Joints
from pipeline.drawing.piece.pieces import draw_nest, draw_projector_nest
from pipeline.drawing.styles import NESTED
from pipeline.model.pieces import CutPiece
from tests.drawing import stack_factory as factory
from tests.drawing.piece.hand_built import in_nest
from tests.drawing.seen import texts
from tests.drawing.stack_factory import SIZES, P, cut_piece, front, pattern_of, stack


def panel(size: str, step: int) -> CutPiece:
    """A wide panel graded by its allowance: each size’s seam line runs beside the cut line of the one before it."""
    grow = 10.3 * step
    return cut_piece("panel", size, factory.chain(P(0, -grow), P(900, -grow), P(900, 400), P(0, 400)), anchor=P(0, 0))


def test_every_size_is_written_on_every_page_that_its_line_crosses():
    lefts, sizes = (185.0, 375.0, 565.0, 755.0), SIZES[:6]
    cuts = stack(panel, sizes)
    seen = texts(draw_nest(pattern_of("panel"), cuts, 0, joints=[Joints(lefts, ()), Joints((100.0, 700.0), ())]))
    for size, cut in cuts.items():
        labels = [text for text in seen if text.content == size and text.size_mm in NESTED.cut_label_mm]
        outline = in_nest(cut.cut_drawn, cut).exterior
        own = [text for text in labels if outline.distance(text.box.centroid) < 0.7]
        for columns in ((-10.0, *lefts, 910.0), (-10.0, 100.0, 700.0, 910.0)):
            for left, right in itertools.pairwise(columns):
                told = [text for text in own if left < text.box.bounds[0] and text.box.bounds[2] < right]
                assert any(text.box.centroid.y < 10 for text in told), (size, left, right)


@pytest.mark.parametrize("projected", [False, True])
def test_a_size_whose_name_reads_as_a_stroke_stands_in_brackets_at_its_lines_and_marks(projected):
    sizes, names = ("34", "36", "38"), {"34": "m", "36": "l", "38": "1"}
    cuts = {
        names[size]: msgspec.structs.replace(cut, drawn=msgspec.structs.replace(cut.drawn, size=names[size]))
        for size, cut in stack(front, sizes).items()
    }
    pattern = pattern_of("front", sizes=tuple(names.values()))
    drawn = draw_projector_nest(pattern, cuts, 0) if projected else draw_nest(pattern, cuts, 0)
    told = {text.content for text in texts(drawn) if text.anchor == "middle" and text.bold}
    assert {"m", "(l)", "(1)"} <= told
    assert not told & {"l", "1"}


def notched(size: str, step: int) -> CutPiece:
    """A wide panel that grows upward, with a notch in its upper edge and one in each side."""
    grow = 6.0 * step
    outline = factory.chain(P(0, -grow), P(900, -grow), P(900, 400), P(0, 400))
    return cut_piece("panel", size, outline, anchor=P(0, 400), notch_edges=(0, 1, 3))


def test_by_every_notch_of_one_size_alone_its_line_says_whose_it_is():
    cuts = stack(notched)
    seen = texts(draw_nest(pattern_of("panel"), cuts, 0))
    for size, cut in cuts.items():
        upper = in_nest([slit.outer for slit in cut.slits], cut)
        feet = [P(*place) for place in upper.exterior.coords[:-1]]
        (notch,) = [foot for foot in feet if foot.y == min(other.y for other in feet)]
        own = [text.box.centroid for text in seen if text.content == size and text.size_mm in NESTED.cut_label_mm]
        near = [spot for spot in own if abs(spot.y - notch.y) < 1.0 and abs(spot.x - notch.x) <= 30.0]
        assert near, size
