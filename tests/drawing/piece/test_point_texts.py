"""What places are called stands beside them, and beside no other."""

import pytest
import shapely

from pipeline.drawing.piece.pieces import draw_nest, draw_projector_nest
from pipeline.model.pieces import MarkPoint
from tests.drawing.piece.hand_built import in_nest
from tests.drawing.seen import texts
from tests.drawing.stack_factory import P, chain, cut_piece, pattern_of


@pytest.mark.parametrize(("far", "apart_mm"), [(True, 17.0), (True, 24.0), (False, 8.0)])
def test_of_two_marks_side_by_side_each_name_is_nearer_to_its_own(far: bool, apart_mm: float) -> None:
    pattern = pattern_of("front", "pocket", "flap", sizes=("38",), languages=("en",))
    places = {"pocket-inner": P(225, 160), "flap-inner": P(225 + apart_mm, 162)}
    marks = [MarkPoint(key, place) for key, place in places.items()]
    cut = cut_piece("front", "38", chain(P(0, 0), P(300, 0), P(300, 500), P(0, 500)), points=marks)
    drawn = draw_projector_nest(pattern, {"38": cut}, 0) if far else draw_nest(pattern, {"38": cut}, 0, "plain")
    spots = {key: shapely.Point(in_nest((place,) * 3, cut).exterior.coords[0]) for key, place in places.items()}
    for key, word in (("pocket-inner", "Pocket"), ("flap-inner", "Flap")):
        (named,) = [text for text in texts(drawn) if text.content == word and text.anchor == "middle"]
        other = next(spot for name, spot in spots.items() if name != key)
        assert 1.2 * named.box.distance(spots[key]) < named.box.distance(other), key
