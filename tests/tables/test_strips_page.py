"""Strips as pages that people cut from: their figures, their words, and where they stand."""

import re
from collections import defaultdict

import pytest
from hypothesis import given
from hypothesis import strategies as st

from pipeline.cutting.strips import CutSize
from pipeline.drawing.fonts import text_width_mm
from pipeline.model.lengths import MM_PER_INCH
from pipeline.model.pattern import View
from pipeline.model.piece_specs import Cut
from pipeline.tables.strip_blocks import strip_blocks
from pipeline.tables.strips import strip_rows
from pipeline.tables.strips_page import strips_pages
from tests.drawing.seen import written
from tests.lays.samples import SIZES, cut, pattern, strip


def rows_of(made, **cut_mm):
    """Rows of a pattern; a strip's cut size is (width, length) in every size, or a length by size."""
    sizes = {
        size: {
            name: CutSize(width, length[size] if isinstance(length, dict) else length)
            for name, (width, length) in cut_mm.items()
        }
        for size in made.sizes
    }
    return strip_rows(made, sizes)


def told(page):
    """The lines of a page from top to bottom, each with its texts from left to right."""
    lines = defaultdict(list)
    for text in written(page):
        lines[text.place.y].append((text.place.x, text.content))
    return [" | ".join(text for _, text in sorted(lines[y])) for y in sorted(lines)]


LOOPS = pattern(strips=[strip("loop", 135, cut=(cut(7),))])
BINDING = pattern(strips=[strip("binding", 2500, grain="bias", join_mm=10.0)])


def test_seven_belt_loops_make_945_mm():
    """Common practice: a loop for an 80 mm belt is cut 135 mm long, seven of them 945 mm."""
    (page,) = strips_pages(LOOPS, rows_of(LOOPS, loop=(30, 135)), "en")
    lines = told(page)
    assert lines[:4] == [
        "Strips to cut: Made up",
        "Strip | Sizes | How many × how long | Each strip from | Length in all",
        "Main cloth, along the grain, 3 cm (1 3/16 in) wide",
        "S1 Loop | 38, 40 | 7 × 13.5 cm (5 5/16 in) | one piece | 94.5 cm (37 3/16 in)",
    ]
    assert lines[4].startswith("Widths and lengths are as cut")


def test_the_square_for_625_cm_of_4_cm_is_one_that_yields_them():
    """Common practice tells 50 cm: 8 rounds of √2 x 47.6 cm, 539 cm. 52 cm have 9 of √2 x 49.6 cm, 631 cm."""
    made = pattern(strips=[strip("binding", 1250, grain="bias", join_mm=6.0, cut=(cut(5),))])
    (page,) = strips_pages(made, rows_of(made, binding=(40, 1250)), "en")
    assert "S1 Binding | 38, 40 | 5 × 125 cm (49 1/4 in) | one piece | 625 cm (246 1/4 in)" in told(page)
    (block,) = strip_blocks(made, rows_of(made, binding=(40, 1250)))
    ((square, sizes),) = block.squares.items()
    assert (square.side.metric_mm, square.yields.metric_mm, sizes) == (520, 6273, SIZES)
    assert "52 cm (20 1/2 in)" in " ".join(told(page)), "20.47 in, rounded up"


def test_inches_have_squares_in_whole_inches():
    """Common practice tells 10 in for 50 in of 2 in; 12 in have 4 rounds of √2 x 11.06 in, and 2 in for ends."""
    made = pattern(units="imperial", strips=[strip("binding", 50 * MM_PER_INCH, grain="bias", join_mm=6.0)])
    made_rows = rows_of(made, binding=(2 * MM_PER_INCH, 50 * MM_PER_INCH))
    (block,) = strip_blocks(made, made_rows)
    assert [square.side.imperial_mm / MM_PER_INCH for square in block.squares] == [pytest.approx(12)]
    assert [square.yields.imperial_mm / MM_PER_INCH for square in block.squares] == [pytest.approx(60.5)]
    (page,) = strips_pages(made, made_rows, "en")
    assert "S1 Binding | 38, 40 | 1 × 50 in (127 cm) | one piece | 50 in (127 cm)" in told(page)


def test_joins_are_counted_and_told_with_their_allowance():
    """Two pieces of p make 2 p - 2 joins' allowances: (2500 + 20) / 2 = 1260."""
    (page,) = strips_pages(BINDING, rows_of(BINDING, binding=(40, 2500)), "en")
    lines = told(page)
    at = lines.index(
        "S1 Binding | 38, 40 | 1 × 250 cm (98 7/16 in) | 2 pieces of 126 cm (49 5/8 in) | 252 cm (99 1/4 in)"
    )
    assert lines[at + 1] == "1 join, allowance 1 cm (3/8 in)"
    assert any(line.startswith("Strips are parted") for line in lines)


def test_a_strip_that_may_not_be_joined_is_no_part_of_a_continuous_one():
    made = pattern(strips=[strip("binding", 500, grain="bias", join_mm=6.0), strip("facing", 500, grain="bias")])
    (block,) = strip_blocks(made, rows_of(made, binding=(40, 500), facing=(40, 500)))
    assert not block.squares


def test_off_the_bias_there_is_no_square():
    (block,) = strip_blocks(LOOPS, rows_of(LOOPS, loop=(30, 135)))
    assert not block.squares
    assert not block.together  # one strip is its own total


def test_what_is_cut_as_one_stands_together_and_adds_up():
    made = pattern(strips=[strip("loop", 100, cut=(cut(3),)), strip("tab", 50), strip("tie", 90)])
    (first, second) = strip_blocks(made, rows_of(made, loop=(20, 100.4), tab=(20, 50.3), tie=(40, 90)))
    assert [figures.total.metric_mm for figures in first.strips] == [3 * 101, 51]
    assert {total.metric_mm: sizes for total, sizes in first.together.items()} == {3 * 101 + 51: SIZES}
    assert (second.cut_width_mm, len(second.strips), second.together) == (40, 1, {})


def test_inches_add_up_in_sixteenths():
    made = pattern(strips=[strip("loop", 100, cut=(cut(3),)), strip("tab", 50)])
    (block,) = strip_blocks(made, rows_of(made, loop=(20, 100.4), tab=(20, 50.3)))
    (total,) = block.together
    assert total.imperial_mm / MM_PER_INCH == pytest.approx(3 * 64 / 16 + 32 / 16, abs=0.001)


@given(st.floats(1, 5000), st.integers(1, 9))
def test_nothing_is_told_too_short_or_a_step_too_long(length_mm, count):
    made = pattern(strips=[strip("loop", 100, cut=(cut(count),))])
    (block,) = strip_blocks(made, rows_of(made, loop=(20, length_mm)))
    (figures,) = block.strips
    for length, step_mm in ((figures.cut.metric_mm, 1.0), (figures.cut.imperial_mm, MM_PER_INCH / 16)):
        assert -0.11 <= length - length_mm < step_mm
        assert length / step_mm == pytest.approx(round(length / step_mm))
    assert figures.total.metric_mm == pytest.approx(count * figures.cut.metric_mm)
    assert figures.total.imperial_mm == pytest.approx(count * figures.cut.imperial_mm)


@given(st.floats(100, 1900), st.floats(10, 80), st.sampled_from(["metric", "imperial"]))
def test_a_square_yields_what_is_told_for_it(length_mm, width_mm, units):
    made = pattern(units=units, strips=[strip("binding", 100, grain="bias", join_mm=6.0, cut=(cut(4),))])
    (block,) = strip_blocks(made, rows_of(made, binding=(round(width_mm, 2), length_mm)))
    (figures,) = block.strips
    ((square, _),) = block.squares.items()
    assert square.yields.metric_mm >= 4 * length_mm - 1
    assert square.yields.metric_mm <= square.side.metric_mm**2 / round(width_mm, 2)
    own = 0 if units == "metric" else 1
    assert square.yields[own] >= figures.total[own] - (1.0, MM_PER_INCH / 16)[own]
    steps = square.side[own] / (10.0, MM_PER_INCH)[own]
    assert steps == pytest.approx(round(steps))


def test_sizes_with_like_figures_share_a_row():
    sizes = ("34", "36", "38", "40", "42")
    counted = Cut("shell", dict.fromkeys(sizes, 2), dict.fromkeys(sizes, 0))
    made = pattern(sizes=sizes, strips=[strip("tie", 100, cut=(counted,))])
    lengths = {"34": 300.0, "36": 300.2, "38": 300.9, "40": 310.0, "42": 301.0}
    (page,) = strips_pages(made, rows_of(made, tie=(30, lengths)), "en")
    rows = [line for line in told(page) if re.search(r"\d × \d", line)]
    assert [row.split(" | ")[:3] for row in rows] == [
        ["S1 Tie", "34", "2 × 30 cm (11 13/16 in)"],
        ["36, 38, 42", "2 × 30.1 cm (11 7/8 in)", "one piece"],
        ["40", "2 × 31 cm (12 1/4 in)", "one piece"],
    ]


def test_several_entries_of_one_material_add_up():
    made = pattern(strips=[strip("loop", 135, cut=(cut(3), cut(4)))])
    (block,) = strip_blocks(made, rows_of(made, loop=(30, 135)))
    assert [(figures.count, figures.total.metric_mm, sizes) for figures, sizes in block.strips.items()] == [
        (7, 945, SIZES)
    ]


def test_german_pages_have_german_words_and_commas():
    made = pattern(
        languages=("en", "de"),
        strips=[strip("binding", 2500, grain="bias", join_mm=6.0, title={"en": "Binding", "de": "Schrägband"})],
    )
    (page,) = strips_pages(made, rows_of(made, binding=(32, 2500.5)), "de")
    lines = told(page)
    assert lines[0] == "Streifen zum Zuschneiden: Made up"
    assert "Main cloth, im schrägen Fadenlauf, 3,2 cm (1 1/4 in) breit" in lines
    assert any("S1 Schrägband | 38, 40 | 1 × 250,1 cm (98 1/2 in) | 2 Stücken von 125,7 cm" in line for line in lines)
    assert not re.search(r"allowance|\d\.\d", " ".join(lines))


def many_strips(views=()):
    """Sixty strips, each of one view where there are some, in turn, so that no views have the same."""
    names = [f"strip-{number}" for number in range(60)]
    made = pattern(
        views={name: View(name, {"en": name.title()}) for name in views},
        strips=[
            strip(
                name,
                100,
                title={"en": f"Number {n}, a title that takes two lines"},
                views=(views[n * len(views) // len(names)],) if views else (),
            )
            for n, name in enumerate(names)
        ],
    )
    return made, rows_of(made, **{name: (20, 100.0 + n) for n, name in enumerate(names)})


def test_rows_flow_onto_further_pages_under_their_heading():
    made, rows = many_strips()
    pages = [told(page) for page in strips_pages(made, rows, "en")]
    assert len(pages) > 1
    assert [page[0] for page in pages] == [
        f"Strips to cut: Made up ({number}/{len(pages)})" for number in range(1, len(pages) + 1)
    ]
    assert all(page[2] == "Main cloth, along the grain, 2 cm (13/16 in) wide" for page in pages)
    rows = [line for page in pages for line in page if re.search(r"\d × \d", line)]
    assert [row.split(" ")[0] for row in rows] == [f"S{number}" for number in range(1, 61)]
    assert sum("Together" in line for page in pages for line in page) == 1


def test_a_strip_that_goes_on_is_named_again_on_the_next_page():
    sizes = tuple(str(size) for size in range(1, 61))
    counted = Cut("shell", dict.fromkeys(sizes, 1), dict.fromkeys(sizes, 0))
    made = pattern(
        sizes=sizes,
        strips=[strip("tie", 100, title={"en": "Tie with a title of two lines in a table"}, cut=(counted,))],
    )
    rows = rows_of(made, tie=(30, {size: 300.0 + int(size) for size in sizes}))
    first, second = (told(page) for page in strips_pages(made, rows, "en"))
    assert first[3].startswith("S1 Tie with a title of two lines | 1 | 1 × 30.1 cm")
    assert first[4] == "in a table"  # beside the row of the next size, between the lines of its text
    assert first[5].startswith("2 | 1 × 30.2 cm")
    assert second[3].startswith("S1 Tie with a title of two lines | ")
    assert sum(bool(re.search(r"\d × \d", line)) for line in first + second) == 60


def test_a_view_has_blocks_of_its_own_under_its_title():
    made, rows = many_strips(views=("long", "short"))
    pages = [told(page) for page in strips_pages(made, rows, "en")]
    titles = [line for page in pages for line in page if line in ("Long", "Short")]
    assert titles == sorted(titles)
    assert all(page[2] in ("Long", "Short") for page in pages[:-1])  # the last has the notes alone
    assert sum(bool(re.search(r"\d × \d", line)) for page in pages for line in page) == 60


def in_views(**views_of):
    """Strips by name, each with the views that have it: of two, or of all."""
    made = pattern(
        views={name: View(name, {"en": name.title()}) for name in ("long", "short")},
        strips=[strip(name, 100, views=views) for name, views in views_of.items()],
    )
    return made, rows_of(made, **{name: (20 + 5 * at, 100) for at, name in enumerate(views_of)})


def test_what_all_views_have_alike_is_told_once_and_names_no_view():
    (page,) = strips_pages(*in_views(loop=(), tie=()), "en")
    lines = told(page)
    assert [line.split(" | ")[0] for line in lines if re.search(r"\d × \d", line)] == ["S1 Loop", "S2 Tie"]
    assert not {"Long", "Short", "Views: all"} & set(lines)


def test_what_all_views_have_stands_before_what_one_has_alone():
    (page,) = strips_pages(*in_views(tie=("short",), loop=()), "en")
    lines = [line.split(" | ")[0] for line in told(page)]
    shown = [line for line in lines if line in ("Long", "Short", "Views: all") or re.match(r"S\d ", line)]
    assert shown == ["Views: all", "S2 Loop", "Short", "S1 Tie"]


def test_a_strip_that_is_cut_together_with_others_in_one_view_is_told_in_each():
    made, _ = in_views(loop=(), tie=("short",))
    blocks = strip_blocks(made, rows_of(made, loop=(20, 100), tie=(20, 100)))
    assert [(block.view, len(block.strips)) for block in blocks] == [("long", 1), ("short", 2)]


def test_the_only_view_is_named():
    made = pattern(views={"long": View("long", {"en": "Long"})}, strips=[strip("loop", 100)])
    (block,) = strip_blocks(made, rows_of(made, loop=(20, 100)))
    assert block.view == "long"


@pytest.mark.parametrize("language", ["en", "de"])
def test_nothing_stands_outside_what_a4_and_letter_share(language):
    long_title = {"en": "A strip whose title is far too long for one line, or for two of them, or three " * 3}
    made = pattern(
        languages=("en", "de"),
        strips=[
            strip(f"binding-{number}", 100, grain="bias", join_mm=6.0, title=long_title, cut=(cut(12),))
            for number in range(30)
        ],
    )
    pages = strips_pages(made, rows_of(made, **dict.fromkeys(made.strips, (33.3, 3456.7))), language)
    assert len(pages) > 1
    for page in pages:
        assert (page.left_mm, page.top_mm, page.width_mm, page.height_mm) == (-10, -10, 210, 297)  # A4 (ISO 216)
        for text in written(page):
            right = text.place.x + text_width_mm(text.content, text.size_mm, text.bold)
            assert text.place.x >= 0
            assert right <= 190 + 1e-3  # 210 mm and two margins of 10
            assert 0 < text.place.y < 259.4  # 279.4 mm and two margins of 10


def test_without_strips_there_is_no_page():
    assert strips_pages(pattern(), (), "en") == ()


def test_sizes_and_what_is_cut_are_bold_and_how_it_is_joined_is_not():
    (page,) = strips_pages(LOOPS, rows_of(LOOPS, loop=(30, 135)), "en")
    bold = {text.content: text.bold for text in written(page)}
    assert (bold["38, 40"], bold["one piece"], bold["7 × 13.5 cm (5 5/16 in)"]) == (True, False, True)
