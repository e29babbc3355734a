"""What stands around a projector's pages: brackets, squares, and every sentence in each language."""

from pathlib import Path

import msgspec
import pytest

from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.pages.projector import panel_width_mm, projector_page, projector_plan
from pipeline.drawing.pages.projector_panel import LEAST_WIDTH_MM, projector_panel
from pipeline.drawing.panels.squares import sides_told
from pipeline.drawing.piece.pieces import Ground
from pipeline.model.pattern import Material, Nap, Pattern
from pipeline.model.questions import may_have_nap
from pipeline.press.forms import render_pages
from pipeline.words import say
from tests.drawing.seen import contents, paths, written
from tests.drawing.stack_factory import back, pattern_of
from tests.press import proof, synthetic

LAYOUT = synthetic.sheet()[0]
DPI = 254.0
PIXELS = 10


@pytest.mark.parametrize("ground", ["black-on-white", "white-on-black"])
def test_a_projector_page_has_brackets_and_numbered_ticks_on_its_own_ground(ground: Ground, tmp_path: Path) -> None:
    panel = projector_panel(projected_pattern(), "shell", {}, panel_width_mm(LAYOUT), projected_pattern().sizes)
    plan = projector_plan(LAYOUT, synthetic.SIZES, (), panel.height_mm)
    drawn = projector_page(plan, panel, ground)
    file = tmp_path / "page.pdf"
    file.write_bytes(render_pages([drawn]))
    grey = proof.pdfium(file, 0, DPI).astype(int)
    if ground == "white-on-black":
        grey = 255 - grey
    tall, wide = (round(side * PIXELS) for side in (plan.page_height_mm, plan.page_width_mm))
    assert grey[400 : round((40 + LAYOUT.height_mm) * PIXELS), 400:-400].min() > 250, "the pieces' ground is clean"
    for y, x in ((100, wide // 2), (tall - 100, wide // 2), (tall // 2, 100), (tall // 2, wide - 100)):
        assert grey[y, x] < 5, "a tick at the middle of each side"
    for y, x in ((60, 300), (300, 60), (tall - 60, wide - 300), (tall - 300, wide - 60)):
        assert grey[y, x] < 5, "a bracket in each corner"
    assert {"1", "2", "3", "4"} <= set(contents(drawn))


@pytest.mark.parametrize("width_mm", [LEAST_WIDTH_MM, 560.0, 1400.0])
def test_the_panel_has_two_squares_and_every_sentence_in_each_language(width_mm: float) -> None:
    """What a sheet says in part sends people to paper that they do not have."""
    pattern, cuts = projected_pattern(), {"back": {size: back(size, n) for n, size in enumerate(synthetic.SIZES)}}
    panel = projector_panel(pattern, "shell", cuts, width_mm, pattern.sizes)
    squares = [run.points for path in paths(panel.shapes) for run in path.runs if run.closed]
    assert [points[1].x - points[0].x for points in squares] == [pytest.approx(100), pytest.approx(101.6)]
    assert {"100 mm × 100 mm", "4 in × 4 in"} <= set(contents(panel.shapes))
    said = " ".join(contents(panel.shapes))
    for language in pattern.languages:
        for key in ("squares", "layers", "cloth", "one-way", "edges", "pieces"):
            told = sides_told(language, "metric") if key == "squares" else {}
            assert say(language, f"projector.{key}", **told) in said, (language, key)
    assert "Back: Cut 2 in main cloth" in said
    assert "Included: seam allowance" in said
    assert "Vorderteil: " in said
    assert "…" not in said
    assert "paper" not in said
    for text in written(panel.shapes):
        assert text.size_mm >= 9
        width = text_width_mm(text.content, text.size_mm, text.bold) if text.anchor == "start" else 0.0
        assert text.place.x + width <= width_mm + 0.001
        assert text.place.y <= panel.height_mm


@pytest.mark.parametrize(("nap", "one_way"), [("none", False), ("either", True), ("one-way", True)])
def test_cloth_that_may_have_a_nap_is_thrown_with_all_tops_one_way(nap: Nap, one_way: bool) -> None:
    """A sheet shows one arrangement: laid once under it, corduroy had its pocket upside down."""
    pattern = projected_pattern(nap)
    said = " ".join(contents(projector_panel(pattern, "shell", {}, 1400.0, pattern.sizes).shapes))
    assert (say("en", "projector.one-way") in said) is one_way
    assert may_have_nap(pattern, "shell") is one_way


def projected_pattern(nap: Nap = "one-way") -> Pattern:
    """One piece of one cloth, with a nap where nothing else is asked."""
    cloth = Material(title={"en": "main cloth", "de": "Oberstoff"}, widths_mm=(1400.0,), nap=nap)
    pieces = pattern_of("back").pieces
    return msgspec.structs.replace(synthetic.pattern(), materials={"shell": cloth}, pieces=pieces)
