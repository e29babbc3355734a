"""The figure of allowances: both are shown as wide as they are against each other, and told in words."""

import msgspec
import pytest

from pipeline.booklet.figures.draw import draw_figure
from pipeline.booklet.figures.figure import FigureError
from pipeline.booklet.figures.ink import FINE_MM, OUTLINE_MM, SEAM_DASH_MM
from pipeline.checks.garment import Garment
from pipeline.drawing.scene import Path, Text
from tests.booklet.figures.demo_garments import DEMOS, figure, garment

WIDTHS_MM = {"work-jacket": (10.0, 40.0), "child-pinafore": (10.0, 30.0), "half-circle-skirt": (25.4, 9.525)}


@pytest.mark.parametrize("name", DEMOS)
def test_both_are_as_wide_as_they_are_against_each_other(name):
    strokes = [s for s in figure(name, "allowances").scene.shapes if isinstance(s, Path) and s.stroke]
    arrows = [s.runs[0].points for s in strokes if s.stroke.width_mm == FINE_MM and len(s.runs[0].points) == 2]
    one, other = (start.distance(end) for start, end in arrows)
    assert one / other == pytest.approx(WIDTHS_MM[name][0] / WIDTHS_MM[name][1], rel=0.02)


def test_both_lines_and_widths_are_told_in_words():
    drawn = figure("work-jacket", "allowances")
    texts = [shape.content for shape in drawn.scene.shapes if isinstance(shape, Text)]
    for told in ("Cut line", "Seam line, stitching", "1: allowance 1 cm (3/8 in)", "2: allowance 4 cm (1 9/16 in)"):
        assert told in texts
        assert told in drawn.alt


def test_the_cut_line_is_solid_and_the_seam_line_dashed():
    strokes = [s.stroke for s in figure("work-jacket", "allowances").scene.shapes if isinstance(s, Path) and s.stroke]
    looks = {(stroke.width_mm, stroke.dash_mm) for stroke in strokes}
    assert {(OUTLINE_MM, ()), (OUTLINE_MM, SEAM_DASH_MM)} <= looks
    assert all(stroke.colour == "#000000" for stroke in strokes), "it prints in black and white"


def test_a_pattern_without_allowances_has_no_figure_of_them():
    made = garment("work-jacket")
    bare = {
        name: {size: msgspec.structs.replace(cut, edges=tuple(map(_bare, cut.edges))) for size, cut in own.items()}
        for name, own in made.cuts.items()
    }
    with pytest.raises(FigureError) as fault:
        draw_figure(("allowances",), Garment(made.pattern, bare), "en")
    assert fault.value.code == "no-allowances"


def _bare(edge):
    return msgspec.structs.replace(edge, allowance_mm=0.0)
