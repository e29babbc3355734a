"""What is asked for is drawn, in six languages; what cannot be drawn is told with the nearest name."""

import re
from itertools import pairwise

import pytest
import shapely

from pipeline.booklet.figures.figure import LARGE, USUAL, FigureError
from pipeline.booklet.figures.ink import ACCENT, text_area
from pipeline.booklet.figures.looks import Surface, filled, hatchings
from pipeline.drawing.scene import Path, Text
from pipeline.geometry.points import Point
from pipeline.words import own_languages
from tests.booklet.figures.demo_garments import DEMOS, GARMENTS, all_figures, figure, garment

PLACES = {
    "work-jacket": ["place pocket on front", "place buttonhole on front", "place stitch-line on pocket"],
    "child-pinafore": ["place pocket on skirt-front", "place elastic-line on bodice-back"],
    "half-circle-skirt": ["place pocket on panel-long", "place side-line on panel-short"],
    "winter-coat": ["place flap on front"],
    "slack-tide": ["place patch-pocket on leg-back"],
    "prep-blazer": ["place flap on front"],
}


@pytest.mark.parametrize("name", DEMOS)
@pytest.mark.parametrize("language", own_languages())
def test_every_figure_says_in_every_language_what_it_shows(name, language):
    for words in (*all_figures(name), *PLACES[name]):
        alt = figure(name, words, language).alt
        assert alt.endswith((".", ".)")), words
        assert not re.search(r"[{}]|figure\.|  ", alt), words
        if language != "en":
            assert alt != figure(name, words, "en").alt, words


@pytest.mark.parametrize("name", DEMOS + GARMENTS)
@pytest.mark.parametrize("letters", [USUAL, LARGE], ids=["usual", "large"])
def test_every_figure_fits_its_column_in_letters_that_can_be_read(name, letters):
    for words in (*all_figures(name), *PLACES[name]):
        scene = figure(name, words, "de", letters).scene
        assert scene.width_mm <= letters.width_mm, words
        assert scene.height_mm <= letters.most_mm, words
        assert all(shape.size_mm >= letters.least_mm - 1e-3 for shape in scene.shapes if isinstance(shape, Text)), words


@pytest.mark.parametrize("name", DEMOS + GARMENTS)
@pytest.mark.parametrize("letters", [USUAL, LARGE], ids=["usual", "large"])
def test_no_text_of_a_figure_stands_on_another(name, letters):
    for words in (*all_figures(name), *PLACES[name]):
        texts = [
            text_area(shape).buffer(-0.2)
            for shape in figure(name, words, "de", letters).scene.shapes
            if isinstance(shape, Text)
        ]
        assert shapely.area(shapely.union_all(texts)) == pytest.approx(sum(text.area for text in texts)), words


@pytest.mark.parametrize("name", DEMOS + GARMENTS)
@pytest.mark.parametrize("letters", [USUAL, LARGE], ids=["usual", "large"])
def test_no_line_of_a_figure_ends_between_a_number_and_its_unit(name, letters):
    for words in (*all_figures(name), *PLACES[name]):
        texts = [shape.content for shape in figure(name, words, "de", letters).scene.shapes if isinstance(shape, Text)]
        for above, below in pairwise(texts):
            parted = re.search(r"[0-9]$", above) and re.match(r"([0-9]+/[0-9]+ )?(mm|cm|m|in|yd)(?!\w)", below)
            assert not parted, (words, above, below)


def test_large_print_is_18_points():
    assert LARGE.least_mm * 72 / 25.4 >= 18


def test_a_figure_is_the_same_each_time():
    assert figure("work-jacket", "seam armhole") == figure("work-jacket", "seam armhole")


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        ("seam armhol", "unknown-seam", 'Did you mean "armhole"?'),
        ("strip hangerloop", "unknown-strip", 'Did you mean "hanger-loop"?'),
        ("hem front.hemm", "unknown-edge", 'Did you mean "hem"?'),
        ("hem frnt.hem", "unknown-piece", 'Did you mean "front"?'),
        ("hem front", "unknown-edge", "Known are"),
        ("hem back.cb", "no-hem", "neck"),
        ("place poket on front", "unknown-mark", "pocket"),
        ("place pocket on frnt", "unknown-piece", 'Did you mean "front"?'),
        ("dart front.side", "no-dart", "upper-sleeve.back"),
        ("pieces shel", "unknown-material", 'Did you mean "shell"?'),
        ("saem side", "unknown-figure", 'Did you mean "seam"?'),
        ("seam", "figure-form", "seam NAME"),
        ("place pocket at front", "figure-form", "place MARK on PIECE"),
        ("", "unknown-figure", "Known are"),
    ],
)
def test_what_cannot_be_drawn_is_told_with_what_to_do(words, code, told):
    with pytest.raises(FigureError) as fault:
        figure("work-jacket", words)
    assert fault.value.code == code
    assert told in fault.value.remedy
    assert str(fault.value) == fault.value.message


def test_cloths_are_told_apart_without_colour():
    """The first has no hatching, interfacing has dots, the others have lines."""
    assert hatchings(garment("work-jacket").pattern) == {"shell": "none", "lining": "rising", "fusing": "dots"}
    assert hatchings(garment("half-circle-skirt").pattern) == {"shell": "none", "fusing": "dots"}
    box = shapely.box(0, 0, 20, 20)
    looks = {
        surface: tuple(filled(box, surface))
        for hatching in ("none", "rising", "dots", "falling", "net")
        for surface in (Surface(hatching, True), Surface(hatching, False))
    }
    assert len(set(looks.values())) == 10


def test_a_pocket_is_shown_with_its_corners_on_its_two_points():
    made, scene = garment("work-jacket"), figure("work-jacket", "place pocket on front").scene
    paths = [shape for shape in scene.shapes if isinstance(shape, Path) and shape.stroke]
    accent = [run.points for shape in paths if shape.stroke.colour == ACCENT for run in shape.runs]
    outline = max(accent, key=len)
    crosses = [Point((a.x + b.x) / 2, a.y) for points in accent if len(points) == 2 for a, b in [points] if a.y == b.y][
        :2
    ]
    assert all(min(place.distance(cross) for place in outline) < 0.5 for cross in crosses)
    spots = [mark.place for mark in made.cuts["front"]["40"].drawn.points if mark.name.startswith("pocket")]
    assert spots[0].distance(spots[1]) == pytest.approx(made.cuts["pocket"]["40"].edge("top").length_mm, abs=3.0)


def test_a_mark_is_called_by_what_is_sewn_on_there():
    assert figure("work-jacket", "place tab on upper-sleeve", "de").alt.startswith("Ärmelriegel: ")
    assert figure("child-pinafore", "place elastic-line on bodice-back", "de").alt.startswith("Gummiband: ")
    assert figure("half-circle-skirt", "place side-line on panel-long", "de").alt.startswith("Zeichen: ")
