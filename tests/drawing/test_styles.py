"""Line styles: every size's code can be read back from a black and white print, every colour stands out."""

import io
import itertools

import numpy as np
import pytest

from pipeline.drawing import scene, svg
from pipeline.drawing.styles import (
    BLACK,
    CUT_MM,
    HAIRLINE_MM,
    LEAST_TEXT_MM,
    NESTED,
    OKABE_ITO,
    PLAIN,
    PROJECTED,
    SIZE_COLOURS,
    WHITE,
    contrast,
    nested,
    plain,
    size_colour,
    size_dash_mm,
)
from pipeline.geometry.points import Point, Vector
from pipeline.model.outputs import LINE_WIDTHS_MM, TEXT_SHARES, StyleSpec

cairosvg = pytest.importorskip("cairosvg")
Image = pytest.importorskip("PIL.Image")


def test_contrast_of_black_on_white_is_twenty_one_to_one():
    assert contrast(BLACK, WHITE) == pytest.approx(21)  # WCAG 2.2, definition of contrast ratio
    assert contrast("#767676") == pytest.approx(4.54, abs=0.01)  # the lightest grey that passes 4.5:1 on white (mem)


def test_lines_stand_out_from_paper_by_three_to_one():
    assert all(contrast(colour) >= 3 for colour in SIZE_COLOURS)  # WCAG 2.2, 1.4.11


def test_colours_stay_black_where_a_printer_cuts_greys_at_the_middle():
    def luma(colour):  # ITU-R BT.601: 0.299 R + 0.587 G + 0.114 B of the gamma-coded values
        red, green, blue = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
        return 0.299 * red + 0.587 * green + 0.114 * blue

    dark = {name for name, colour in OKABE_ITO.items() if luma(colour) < 0.5}
    assert dark == {"black", "blue", "vermillion", "bluish green"}
    assert {OKABE_ITO[name] for name in dark} == set(SIZE_COLOURS)


def test_green_and_vermillion_which_some_cannot_tell_apart_are_never_neighbours():
    pair = {OKABE_ITO["vermillion"], OKABE_ITO["bluish green"]}
    assert all({size_colour(number), size_colour(number + 1)} != pair for number in range(1, 30))


def test_text_stands_out_by_four_and_a_half_to_one():
    assert contrast(NESTED.ink) >= 4.5  # WCAG 2.2, 1.4.3
    assert contrast(WHITE, BLACK) >= 4.5


def test_colours_are_the_published_ones():
    # Okabe and Ito, "Color Universal Design", RGB 0-255 as published (mem)
    published = {
        "black": (0, 0, 0),
        "orange": (230, 159, 0),
        "sky blue": (86, 180, 233),
        "bluish green": (0, 158, 115),
        "yellow": (240, 228, 66),
        "blue": (0, 114, 178),
        "vermillion": (213, 94, 0),
        "reddish purple": (204, 121, 167),
    }
    assert {name: "#{:02x}{:02x}{:02x}".format(*rgb) for name, rgb in published.items()} == OKABE_ITO
    assert set(SIZE_COLOURS) <= set(OKABE_ITO.values())


def test_neighbouring_sizes_have_different_colours():
    assert all(size_colour(number) != size_colour(number + 1) for number in range(1, 30))


def test_no_line_is_thinner_than_a_hairline():
    for look in (NESTED, PLAIN, PROJECTED):
        widths = (look.cut_mm, look.seam_mm, look.fold_mm, look.inside_mm, look.mark_mm, look.clip_mm)
        assert all(width is None or width >= HAIRLINE_MM for width in widths)


def test_projected_lines_are_two_to_three_pixels_wide():
    # 1200 mm over 1920 pixels = 0.625 mm; a line needs 2 to 3 pixels: 1.25 to 2.5 mm (calc)
    widths = (PROJECTED.cut_mm, PROJECTED.fold_mm, PROJECTED.inside_mm, PROJECTED.mark_mm, PROJECTED.clip_mm)
    assert all(1.5 <= width <= 2.5 for width in widths)


def test_a_projected_code_has_no_fine_dash():
    shortest = min(part for number in range(1, 12) for part in size_dash_mm(number)) * PROJECTED.marks
    assert shortest >= 1.5 * PROJECTED.cut_mm


def test_sizes_are_counted_from_one():
    with pytest.raises(ValueError, match="counted from 1"):
        size_dash_mm(0)


@pytest.mark.parametrize("width_mm", LINE_WIDTHS_MM)
def test_a_cut_line_as_wide_as_it_may_be_is_no_finer_than_others_and_narrower_than_its_codes_parts(width_mm):
    for look in (nested(False, StyleSpec(line_width_mm=width_mm)), plain(StyleSpec(line_width_mm=width_mm))):
        others = (look.seam_mm, look.fold_mm, look.inside_mm, look.mark_mm, look.clip_mm)
        assert look.cut_mm == width_mm >= max(others)
    assert max(LINE_WIDTHS_MM) < min(part for number in range(1, 101) for part in size_dash_mm(number))


def test_beside_a_wider_line_texts_keep_as_far_from_its_edge():
    wide, usual = nested(False, StyleSpec(line_width_mm=0.6)), NESTED
    assert wide.clear_mm - wide.cut_mm / 2 == pytest.approx(usual.clear_mm - usual.cut_mm / 2)
    assert nested(False, StyleSpec(line_width_mm=0.3)).clear_mm == usual.clear_mm


@pytest.mark.parametrize("share", [*TEXT_SHARES, 1.0, 1.2])
def test_texts_of_any_size_are_six_points_or_more_and_fall_back_on_the_usual(share):
    look = nested(False, StyleSpec(text_size=share))
    for name in ("cut_label_mm", "inside_label_mm", "side_text_mm"):
        sizes, usual = getattr(look, name), getattr(NESTED, name)
        assert sizes == tuple(sorted(sizes, reverse=True))
        assert sizes[0] == pytest.approx(max(LEAST_TEXT_MM, usual[0] * share))
        assert LEAST_TEXT_MM <= sizes[-1] <= max(LEAST_TEXT_MM, usual[-1])
    assert min(look.tag_mm, look.block_mm) >= LEAST_TEXT_MM


def test_without_a_word_of_the_designer_all_looks_as_it_did():
    assert nested(False, StyleSpec(("shop.example",))) is NESTED
    assert plain(StyleSpec()) is PLAIN


def printed(number: int, angle_deg: float, width_mm: float = CUT_MM) -> list[float]:
    """Lengths in mm of the strokes of a size's line, printed at 600 dpi in one bit and scanned along its middle."""
    per_mm = 600 / 25.4
    height = 10 + 110 * np.sin(np.radians(angle_deg))
    angle = np.radians(angle_deg)
    way = Vector(float(np.cos(angle)), float(np.sin(angle)))
    start = Point(4.0, 4.0)
    drawn = scene.line(start, start.plus(way.scaled(110)), BLACK, width_mm, size_dash_mm(number))
    picture = svg.document(scene.of(0, 0, 120, height, [drawn]))
    png = cairosvg.svg2png(picture.encode(), output_width=round(120 * per_mm), background_color="white")
    pixels = np.asarray(Image.open(io.BytesIO(png)).convert("1"))
    along = np.arange(0, 110, 0.02)
    columns = ((start.x + along * way.dx) * per_mm).astype(int)
    rows = ((start.y + along * way.dy) * per_mm).astype(int)
    return [0.02 * len(list(run)) for ink, run in itertools.groupby(~pixels[rows, columns]) if ink]


def read_code(strokes: list[float]) -> int:
    """The size's number as a person reads it: three for every dash, one for every point after a long run."""
    runs = [k for k, length in enumerate(strokes) if length > 5]
    group = strokes[runs[1] + 1 : runs[2]]
    return sum(3 if length > 1.6 else 1 for length in group)


@pytest.mark.parametrize("number", range(1, 15))
@pytest.mark.parametrize("angle_deg", [0, 17])
def test_the_code_of_a_size_is_read_back_from_one_bit_at_600_dpi(number, angle_deg):
    assert read_code(printed(number, angle_deg)) == number


@pytest.mark.parametrize("width_mm", LINE_WIDTHS_MM)
def test_the_code_is_read_back_from_lines_as_fine_and_as_wide_as_they_may_be(width_mm):
    assert [read_code(printed(number, 17, width_mm)) for number in range(1, 12)] == list(range(1, 12))
