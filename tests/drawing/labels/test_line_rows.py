"""Lines of several sizes that nearly touch: each size in a row beside them, with a leader that ends in its line."""

import pytest
import shapely

from pipeline.drawing.piece.pieces import draw_nest
from pipeline.drawing.styles import INSIDE_DASH_MM, NESTED
from pipeline.geometry.curves import Line
from pipeline.model.pieces import CutPiece
from tests.drawing.seen import fills, lines, texts
from tests.drawing.stack_factory import SIZES, P, chain, cut_piece, pattern_of, stack

STEP_MM = 0.8


def sleeve(size: str, step: int) -> CutPiece:
    """A straight sleeve whose line to lengthen it moves by less than a letter's height from size to size."""
    half, at = 100 + 4 * step, 200 + STEP_MM * step
    outline = chain(P(-half, 0), P(half, 0), P(half, 400), P(-half, 400))
    inside = [("longer", "adjust", (Line(P(-half, at), P(half, at)),))]
    return cut_piece("front", size, outline, anchor=P(0, 0), grain=(P(-60, 380), P(-60, 20)), inside=inside)


@pytest.fixture(scope="module", params=[0, 1], ids=["level", "upright"])
def turns(request: pytest.FixtureRequest) -> int:
    return request.param


@pytest.fixture(scope="module")
def drawings(turns: int):
    return draw_nest(pattern_of("front"), stack(sleeve), turns)


def at_line(size: str, turns: int) -> shapely.LineString:
    at = 200 + STEP_MM * SIZES.index(size)
    return shapely.LineString([(-200, at), (200, at)] if turns == 0 else [(-at, -200), (-at, 200)])


def test_every_size_has_a_dot_on_its_own_line_and_a_leader_from_there_to_its_name(drawings, turns):
    tags = {text.content: text.box for text in texts(drawings) if text.size_mm == NESTED.tag_mm and text.bold}
    assert set(tags) == set(SIZES)
    for size in SIZES:
        own = at_line(size, turns)
        dots = [fill.shape for fill in fills(drawings) if fill.sizes == (size,)]
        (dot,) = (shape for shape in dots if own.distance(shape.centroid) < 0.01)
        leaders = [line.shape for line in lines(drawings) if line.sizes == (size,) and line.width_mm == NESTED.clip_mm]
        (leader,) = (shape for shape in leaders if shape.distance(dot) < 0.01)
        assert leader.distance(tags[size]) < 1


def test_names_stand_in_the_order_of_the_sizes_and_dots_apart(drawings, turns):
    tags = [text for text in texts(drawings) if text.size_mm == NESTED.tag_mm and text.bold]
    along = {text.content: (text.box.centroid.x, text.box.centroid.y)[turns] for text in tags}
    places = [along[size] for size in SIZES]
    assert places in (sorted(places), sorted(places, reverse=True))
    dots = [fill.shape for fill in fills(drawings) if len(fill.sizes) == 1]
    assert len(dots) == len(SIZES)
    assert all(a.distance(b) > 0.5 for k, a in enumerate(dots) for b in dots[:k])


def test_the_lines_themselves_stay_whole(drawings):
    adjust = [line for line in lines(drawings) if line.dash_mm == INSIDE_DASH_MM["adjust"]]
    assert sorted(line.sizes for line in adjust) == [(size,) for size in SIZES]
    for line in adjust:
        assert line.shape.length == pytest.approx(200 + 8 * SIZES.index(line.sizes[0]))


def test_what_the_lines_are_for_is_told_beside_them(drawings):
    words = " ".join(text.content for text in texts(drawings))
    assert "lengthen or shorten here" in words
    assert "hier verlängern oder kürzen" in words


def test_lines_that_stand_apart_are_named_in_their_own_gaps():
    drawings = draw_nest(pattern_of("front"), stack(sleeve, ["34", "54"]), 0)  # 8 mm apart
    assert not [fill for fill in fills(drawings) if len(fill.sizes) == 1]
