"""A designer's own width of cut lines and size of texts: all of it still read, and nothing that is measured moved."""

import msgspec
import pytest
import shapely

from pipeline.drawing.piece.pieces import draw_nest, draw_projector_nest
from pipeline.drawing.styles import LEAST_TEXT_MM, NESTED
from pipeline.model.outputs import LINE_WIDTHS_MM, TEXT_SHARES, StyleSpec
from tests.drawing.demo_nests import demo
from tests.drawing.legibility import lines_through_texts, texts_on_texts
from tests.drawing.seen import lines, texts

GAP_OF_A_LABEL_MM = 10.0
"""Lines differ by where texts stand in them."""
PATTERN, CUTS = demo("child-pinafore")


def styled(line_width_mm: float | None, text_size: float | None):
    return msgspec.structs.replace(PATTERN, style=StyleSpec((), line_width_mm, text_size))


@pytest.mark.parametrize("style", ["nested", "plain"])
@pytest.mark.parametrize("wide", [(LINE_WIDTHS_MM[1], TEXT_SHARES[1]), (LINE_WIDTHS_MM[0], TEXT_SHARES[0])])
def test_texts_are_crossed_by_no_line_and_lie_on_no_other(wide, style):
    for piece, every in CUTS.items():
        cuts = every if style == "nested" else dict(list(every.items())[:1])
        drawn = draw_nest(styled(*wide), cuts, 0, style)
        assert list(lines_through_texts(drawn)) == [], piece
        assert list(texts_on_texts(drawn)) == [], piece
        assert min(text.size_mm for text in texts(drawn)) >= LEAST_TEXT_MM - 1e-3


def test_cut_lines_have_the_width_and_lie_where_they_lay():
    cuts = CUTS["skirt-front"]
    usual, wider = (lines(draw_nest(pattern, cuts, 0)) for pattern in (PATTERN, styled(0.5, None)))
    assert not any(line.width_mm == NESTED.cut_mm for line in wider)
    was, own = (
        [line.shape for line in drawn if line.width_mm == width]
        for drawn, width in ((usual, NESTED.cut_mm), (wider, 0.5))
    )
    assert len(own) > len(cuts)
    assert shapely.union_all(own).hausdorff_distance(shapely.union_all(was)) < GAP_OF_A_LABEL_MM
    assert shapely.total_bounds(own).tolist() == shapely.total_bounds(was).tolist()


def test_words_are_larger_where_they_have_room():
    cuts = CUTS["skirt-front"]
    usual, larger = (texts(draw_nest(pattern, cuts, 0)) for pattern in (PATTERN, styled(None, 1.5)))
    assert max(text.size_mm for text in larger) == pytest.approx(1.5 * max(text.size_mm for text in usual), abs=0.02)


def test_projector_files_are_as_they_were():
    cuts = CUTS["skirt-front"]
    assert draw_projector_nest(styled(0.6, 1.5), cuts, 0) == draw_projector_nest(PATTERN, cuts, 0)
