"""The start page: complete, on every paper, with many sizes and in two languages."""

import msgspec
import pytest

from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.pages.calibration import DIAGONAL_MM, calibration_page, calibration_pages
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.panels.marks_key import ALL_SIGNS
from pipeline.drawing.scene import Run, Scene
from pipeline.drawing.styles import BLACK, WHITE
from pipeline.drawing.text_lines import fitted, wrapped
from pipeline.geometry.points import Point
from pipeline.model.outputs import StyleSpec
from pipeline.model.pattern import Material
from pipeline.sheets.layout import PagePlan
from pipeline.words import say
from tests.drawing.seen import contents, paths, written
from tests.press import synthetic

PAPERS = {"a4": (210.0, 297.0), "letter": (215.9, 279.4), "a4-letter": (210.0, 279.4)}
MANY = tuple(str(number) for number in range(32, 64, 2))
SIX_POINTS_MM = 6 / 72 * 25.4
LAYOUT = synthetic.sheet()[0]


def plan_of(paper: str, sizes: tuple[str, ...]) -> PagePlan:
    """A page each for a size more, so that every size needs other pages."""
    plan = synthetic.tiles(LAYOUT, *PAPERS[paper], paper)
    pages = tuple(
        msgspec.structs.replace(page, sizes=sizes[-2 * page.number + 2 :] if page.window else sizes)
        for page in plan.pages
    )
    return msgspec.structs.replace(plan, pages=pages)


def texts(drawn: Scene) -> list[tuple[float, float, float, bool, str]]:
    """(x, y, size, bold, content) of unturned text that begins at its place."""
    return [
        (*text.place, text.size_mm, text.bold, text.content)
        for text in written(drawn)
        if text.anchor == "start" and not text.turned_deg
    ]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("sizes", [synthetic.SIZES, MANY], ids=["4", "16"])
def test_all_of_it_fits_the_paper_in_letters_that_can_be_read(paper: str, sizes: tuple[str, ...]) -> None:
    pattern = msgspec.structs.replace(synthetic.pattern(), sizes=sizes)
    drawn = start_page(pattern, plan_of(paper, sizes), sizes, synthetic.map_pieces(), synthetic.SIGNS)
    width, height = PAPERS[paper]
    for x, y, size, bold, content in texts(drawn):
        assert x >= 6.35
        assert x + text_width_mm(content, size, bold) <= width - 6.35, content
        assert y <= height - 6.35, content
        assert size >= SIX_POINTS_MM, content
    whole = " ".join(content for *_, content in texts(drawn))
    for language in pattern.languages:
        for key in ("start.print", "start.join", "start.care", "wrong.margins"):
            assert say(language, key) in whole, f"{key} is missing in {language}"


@pytest.mark.parametrize("paper", PAPERS)
def test_with_many_signs_two_languages_and_gauges_of_two_knits_all_is_told_and_drawn_in_six_points(paper: str) -> None:
    jersey = Material(title={"en": "Jersey", "de": "Jersey"}, widths_mm=(1500.0,), stretch_width=0.3)
    rib = msgspec.structs.replace(jersey, title={"en": "Rib", "de": "Bündchen"}, stretch_width=0.8, recovery=0.95)
    made = synthetic.pattern()
    pattern = msgspec.structs.replace(made, sizes=MANY, materials={**made.materials, "jersey": jersey, "rib": rib})
    drawn = start_page(pattern, plan_of(paper, MANY), MANY, synthetic.map_pieces(), ALL_SIGNS[:18])
    assert min(text.size_mm for text in written(drawn)) >= SIX_POINTS_MM
    whole = " ".join(contents(drawn))
    for language in pattern.languages:
        for key in ("start.print", "start.join", "start.care", "start.measures"):
            assert say(language, key) in whole, f"{key} is missing in {language}"
    assert "5B" in contents(drawn), "the picture of how pages are joined"
    assert not any(text.endswith("…") for text in contents(drawn))
    ends = [point.x for path in paths(drawn) for run in path.runs for point in run.points]
    assert max(ends) <= PAPERS[paper][0] - 6.35


@pytest.mark.parametrize("paper", PAPERS)
def test_what_to_beware_of_in_what_a_child_sleeps_in_is_told_in_every_language(paper: str) -> None:
    worn = msgspec.structs.replace(synthetic.pattern(), wearer="child", sleepwear=True)
    drawn = start_page(worn, plan_of(paper, synthetic.SIZES), synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS)
    whole = " ".join(content for *_, content in texts(drawn))
    for language in worn.languages:
        assert say(language, "start.care") in whole
        assert say(language, "safety.sleepwear") in whole


@pytest.mark.parametrize("paper", PAPERS)
def test_each_size_is_told_its_pages(paper: str) -> None:
    pattern = msgspec.structs.replace(synthetic.pattern(), sizes=MANY)
    plan = plan_of(paper, MANY)
    drawn = [content for *_, content in texts(start_page(pattern, plan, MANY, synthetic.map_pieces(), synthetic.SIGNS))]
    assert "1, 8, 9" in drawn or "1, 9" in drawn
    assert "1-9" in drawn


def test_sizes_that_all_need_every_page_are_told_so_once() -> None:
    plan = synthetic.tiles(LAYOUT)
    pages = tuple(msgspec.structs.replace(page, sizes=synthetic.SIZES) for page in plan.pages)
    alike = msgspec.structs.replace(plan, pages=pages)
    said = " ".join(
        contents(start_page(synthetic.pattern(), alike, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS))
    )
    assert say("en", "start.key-all") in said
    assert say("de", "start.key-all") in said


def test_a_file_of_one_size_speaks_of_no_layers() -> None:
    plan = synthetic.tiles(LAYOUT)
    pages = tuple(msgspec.structs.replace(page, sizes=("36",)) for page in plan.pages)
    drawn = start_page(synthetic.pattern(), msgspec.structs.replace(plan, pages=pages), ("36",), (), synthetic.SIGNS)
    said = " ".join(contents(drawn))
    assert "Size / Größe 36" in said
    assert say("en", "start.layers") not in said
    assert say("en", "start.key-head") not in said, "all pages are of that size"


def test_the_map_names_every_page_and_crosses_out_blank_places() -> None:
    plan = synthetic.tiles(LAYOUT)
    drawn = start_page(synthetic.pattern(), plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS)
    said = contents(drawn)
    assert {page.label for page in plan.pages[1:]} <= set(said)
    assert say("en", "start.blank").split(":")[0] in " ".join(said)


def test_a_title_too_long_for_a_line_is_made_smaller_then_cut_off() -> None:
    assert fitted(["abc", "ab"], 100, 5, 3) == ("abc", 5)
    content, size = fitted(["a wide title"], text_width_mm("a wide title", 4), 5, 3)
    assert (content, round(size, 6)) == ("a wide title", 4)
    content, size = fitted(["a wide title"], 8, 5, 3)
    assert content.endswith("…")
    assert size == 3
    assert text_width_mm(content, 3) <= 8


def test_lines_are_broken_at_spaces_and_long_words_anywhere() -> None:
    lines = wrapped("one two Donaudampfschifffahrtsgesellschaft three", 4, 30)
    assert "".join(lines).replace(" ", "") == "onetwoDonaudampfschifffahrtsgesellschaftthree"
    assert all(text_width_mm(line, 4) <= 30 for line in lines)


def test_a_text_that_fits_nowhere_is_refused_with_what_to_do() -> None:
    long = {"en": "A licence that does not end. " * 200}
    pattern = msgspec.structs.replace(synthetic.pattern(), licence=long, languages=("en",))
    with pytest.raises(ValueError, match="shorten the pattern's title, maker, contact or licence"):
        start_page(pattern, synthetic.tiles(LAYOUT), synthetic.SIZES, (), synthetic.SIGNS)


def test_the_diagonal_of_the_calibration_square_is_written_on_it() -> None:
    drawn = calibration_page(synthetic.pattern())
    assert round(DIAGONAL_MM, 1) == 707.1
    assert contents(drawn).count("707.1 mm") == 8
    corners = (Point(40, 40), Point(540, 40), Point(540, 540), Point(40, 540))
    assert Run(corners, closed=True) in [run for path in paths(drawn) for run in path.runs]


def test_the_calibration_squares_are_told_in_inches_too_and_on_both_grounds() -> None:
    dark, light = calibration_pages(synthetic.pattern())
    inner = [run for path in paths(dark) for run in path.runs if run.closed and path.stroke and path.stroke.dash_mm]
    assert len(inner) == 4
    assert [run.points[1].x - run.points[0].x for run in inner] == [pytest.approx(18 * 25.4, abs=0.002)] * 4
    assert contents(dark).count("18 in") == 8
    assert contents(light) == contents(dark)
    assert ({text.fill for text in written(dark)}, {text.fill for text in written(light)}) == ({BLACK}, {WHITE})
    for language in ("en", "de"):
        assert say(language, "projector.how") in " ".join(contents(dark))
        assert "18 in" in say(language, "projector.how")


@pytest.mark.parametrize("paper", PAPERS)
def test_the_designers_lines_stand_there_as_many_and_as_long_as_they_may_be(paper: str) -> None:
    lines = tuple(f"{number} {'www.invented-workroom.example/' * 3}"[:80] for number in range(4))
    pattern = msgspec.structs.replace(synthetic.pattern(), sizes=MANY, style=StyleSpec(lines))
    drawn = start_page(pattern, plan_of(paper, MANY), MANY, synthetic.map_pieces(), synthetic.SIGNS)
    whole = "".join(contents(drawn)).replace(" ", "")
    assert all(line.replace(" ", "") in whole for line in lines)
    assert min(text.size_mm for text in written(drawn)) >= SIX_POINTS_MM
