"""Every language, alone and beside any other, finds room wherever pages have little of it."""

import itertools

import msgspec
import pytest

from pipeline.drawing.pages.calibration import calibration_page
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.panels.marks_key import ALL_SIGNS
from pipeline.drawing.text_lines import ELLIPSIS
from pipeline.words import languages, say
from tests.drawing.seen import contents
from tests.press import synthetic
from tests.press.test_start_page import PAPERS, plan_of, texts

_IN_SQUARES = ("start.print", "start.join", "start.measures", "wrong.margins", "wrong.dots")
_BESIDE = ("start.map-head", "start.solid", "start.layers", "start.own-files", "start.care")
_ON_LARGE = ("large.measure", "large.print", "large.colour", "start.join", "start.care")
_LEAST_MM = 1.8
SIGNS = ("cut", "seam", "notch", "clip", "fold", "grain-one", "point", "buttonhole", "dart-tip", "line-stitch")
"""A trouser or a blouse has no more."""
TOGETHER = [(language,) for language in languages()] + list(itertools.combinations(languages(), 2))


@pytest.mark.parametrize("together", TOGETHER, ids="+".join)
def test_a_start_page_tells_all_of_it_in_one_language_or_two(together: tuple[str, ...]) -> None:
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=together)
    for paper in PAPERS:
        drawn = texts(start_page(pattern, plan_of(paper, pattern.sizes), pattern.sizes, synthetic.map_pieces(), SIGNS))
        whole = " ".join(content for *_, content in drawn)
        for language in together:
            lost = [key for key in (*_IN_SQUARES, *_BESIDE) if say(language, key) not in whole]
            assert not lost, (paper, language)
        assert min(size for _, _, size, _, _ in drawn) >= _LEAST_MM
        assert ELLIPSIS not in whole


@pytest.mark.parametrize("together", [("en", "de"), ("de", "fr"), ("nl", "sv")], ids="+".join)
def test_how_to_join_is_told_in_both_languages_beside_a_key_of_all_signs(together: tuple[str, ...]) -> None:
    """The picture of a joint goes, before a language does."""
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=together)
    for paper in PAPERS:
        drawn = start_page(pattern, plan_of(paper, pattern.sizes), pattern.sizes, (), ALL_SIGNS)
        whole = " ".join(content for *_, content in texts(drawn))
        assert all(say(language, "start.join") in whole for language in together)


@pytest.mark.parametrize("together", TOGETHER, ids="+".join)
def test_a_strip_across_large_sheets_tells_all_of_it_in_one_language_or_two(together: tuple[str, ...]) -> None:
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=together)
    plan = synthetic.large_sheet(synthetic.sheet()[0])
    second = msgspec.structs.replace(plan.pages[0], number=2, label="2", row=2)
    plan = msgspec.structs.replace(plan, rows=2, pages=(plan.pages[0], second))
    for page in large_pages(pattern, plan, pattern.sizes, synthetic.map_pieces(), SIGNS, "a0.pdf").values():
        whole = " ".join(contents(page))
        for language in together:
            lost = [key for key in _ON_LARGE if say(language, key) not in whole]
            assert not lost, language


@pytest.mark.parametrize("together", TOGETHER, ids="+".join)
def test_the_calibration_squares_hold_how_to_check_them(together: tuple[str, ...]) -> None:
    whole = " ".join(contents(calibration_page(msgspec.structs.replace(synthetic.pattern(), languages=together))))
    assert all(say(language, "projector.how") in whole for language in together)
