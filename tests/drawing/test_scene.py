"""Scenes are values: quantised when they are made, the same after a file, and another colour is another value."""

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.drawing import scene, svg
from pipeline.drawing.drawing import Drawing, Frame
from pipeline.drawing.scene import Circle, Group, Path, Run, Scene, Text
from pipeline.drawing.styles import LineStyle
from pipeline.geometry.points import Affine, Point

SHAPES = (
    scene.path([Run((Point(0, 0), Point(1, 2)), True), Run((Point(3, 3), Point(4, 3)))], LineStyle("#d55e00", 0.4)),
    scene.polygon((Point(0, 0), Point(5, 0), Point(5, 5)), "#000000"),
    scene.line(Point(0, 0), Point(9, 9), "#000000", 0.2, (4, 1)),
    scene.rectangle(1, 2, 3, 4, "#ffffff"),
    scene.circle(Point(5, 5), 2, "#000000", 0.3),
    scene.group([scene.text(Point(1, 1), "Größe ½", 3, "middle", 90, bold=True)], Affine(e=12.5)),
)


@given(x=st.floats(-1e5, 1e5), y=st.floats(-1e5, 1e5))
def test_a_place_is_what_an_svg_of_it_says(x: float, y: float) -> None:
    """To the bit, so that paper and SVG, and a scene before and after a file, are one."""
    (run,) = scene.polyline((Point(x, y), Point(0, 0)), "#000000", 0.2).runs
    assert run.points[0] == (float(f"{x:.3f}"), float(f"{y:.3f}"))
    assert svg.number(run.points[0].x) == svg.number(x)


def test_widths_dashes_sizes_and_turns_are_quantised_and_no_zero_is_negative() -> None:
    drawn = scene.line(Point(-0.0001, 0), Point(1.23456, 0), "#000000", 0.0882, (0.70049, 1 / 3))
    assert drawn == Path((Run((Point(0, 0), Point(1.235, 0))),), LineStyle("#000000", 0.088, (0.7, 0.333)))
    assert "-" not in repr(drawn.runs[0])
    assert scene.text(Point(0, 0), "a", 2.10049, turned_deg=1e-14) == Text(Point(0, 0), "a", 2.1)
    assert scene.circle(Point(0, 0), 1.45678, "#000000", 0.3).radius_mm == 1.457
    assert scene.group([], Affine(e=123.45678)).affine.e == 123.457
    assert scene.of(-0.12345, 0, 10, 10, []) == Scene(-0.123, 0, 10, 10, ())


def test_a_text_is_as_it_is_printed_and_refused_where_the_font_lacks_a_letter() -> None:
    assert scene.text(Point(0, 0), "Gro\u0308\u00dfe", 4).content == "Gr\u00f6\u00dfe"
    with pytest.raises(ValueError, match="裁"):
        scene.text(Point(0, 0), "裁", 4)


def test_a_drawing_is_the_same_after_a_file_and_its_frame_is_read_without_its_shapes() -> None:
    drawing = Drawing(
        piece="front", sizes=("34", "36"), left_mm=0.12345, top_mm=1, width_mm=9, height_mm=9, shapes=SHAPES
    )
    text = msgspec.json.encode(drawing)
    assert msgspec.json.decode(text, type=Drawing) == drawing
    frame = msgspec.json.decode(text, type=Frame)
    assert (frame.piece, frame.sizes, frame.left_mm) == ("front", ("34", "36"), 0.12345)


def test_a_file_with_a_shape_or_a_colour_that_there_is_not_is_refused() -> None:
    for wrong in (
        b'[{"type":"Ellipse"}]',
        b'[{"type":"Rectangle","left_mm":0,"top_mm":0,"width_mm":1,"height_mm":1,"fill":"red"}]',
    ):
        with pytest.raises(msgspec.ValidationError):
            msgspec.json.decode(wrong, type=tuple[scene.Shape, ...])


def test_another_colour_changes_every_stroke_fill_and_text_of_that_colour_and_no_other() -> None:
    white = scene.recoloured(SHAPES, {"#000000": "#ffffff"})
    orange, area, dashes, ground, ring, group = white
    assert (orange, ground) == (SHAPES[0], SHAPES[3])
    assert isinstance(area, Path)
    assert (area.fill, area.stroke) == ("#ffffff", None)
    assert isinstance(dashes, Path)
    assert (dashes.fill, dashes.stroke) == (None, LineStyle("#ffffff", 0.2, (4, 1)))
    assert isinstance(ring, Circle)
    assert ring.stroke.colour == "#ffffff"
    assert isinstance(group, Group)
    assert [text.fill for text in group.shapes if isinstance(text, Text)] == ["#ffffff"]
    assert scene.recoloured(white, {}) == white
