"""The picture of an outline that could not be named shows it and the size beside it, corners numbered."""

from pipeline.drawing.scene import Text
from pipeline.masters.drawings.cut import cut_drawings
from pipeline.proof.corners_picture import corners_picture
from tests.masters.drawings.small import drawing, taken


def test_both_outlines_are_drawn_and_every_corner_is_numbered(tmp_path):
    seam = '<g data-name="seam"><path d="M120,20 L200,220 L20,230 V26 L26,20 Z"/></g>'
    found = taken(tmp_path, drawing(front_s=seam))
    (doubt,) = cut_drawings(found.pattern, tmp_path / "source/bag").doubts
    assert (doubt.piece, doubt.size, doubt.code) == ("front", "s", "corner-extra")
    texts = [shape.content for shape in corners_picture(doubt, "what is wrong").shapes if hasattr(shape, "content")]
    assert texts == ["what is wrong", "1 top", "2 side", "3 hem", "4 cf", "1", "2", "3", "4", "5"]


def test_every_number_and_name_lies_within_the_picture(tmp_path):
    seam = '<g data-name="seam"><path d="M120,20 L200,220 L20,230 V26 L26,20 Z"/></g>'
    found = taken(tmp_path, drawing(front_s=seam))
    (doubt,) = cut_drawings(found.pattern, tmp_path / "source/bag").doubts
    picture = corners_picture(doubt, "")
    for text in (shape for shape in picture.shapes if isinstance(shape, Text) and shape.content):
        away = 0.6 * text.size_mm * len(text.content) * (1 if text.anchor == "start" else -1)
        for x in (text.place.x, text.place.x + away):
            assert picture.left_mm < x < picture.left_mm + picture.width_mm
