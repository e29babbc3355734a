"""Pages that are put together of several texts set French signs as French does, and other languages as they do."""

import re

import msgspec
import pytest

from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.piece_list import piece_list
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.panels.column import Column
from pipeline.drawing.piece.words import by_sizes
from pipeline.drawing.scene import Text
from pipeline.drawing.wording import told_apart, view_titles
from pipeline.model.pattern import View
from tests.drawing.seen import contents
from tests.drawing.stack_factory import pattern_of
from tests.press import synthetic
from tests.press.test_start_page import plan_of

WRONG = re.compile(r"(?<!\u00a0)[:;!?](?=\s|$)")
"""A sign that stands right after a letter, or after a space at which a line may end."""


@pytest.mark.parametrize(("language", "between"), [("fr", "\u00a0; "), ("de", "; "), ("en", "; "), ("sv", "; ")])
def test_a_semicolon_is_set_as_a_language_sets_its_colon(language: str, between: str) -> None:
    assert told_apart(language, ("a", "b")) == f"a{between}b"


def test_start_pages_and_large_sheets_in_french() -> None:
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=("fr",))
    plan, pieces = plan_of("a4", pattern.sizes), synthetic.map_pieces()
    sheet = synthetic.large_sheet(synthetic.sheet()[0])
    pages = (
        start_page(pattern, plan, pattern.sizes, pieces, synthetic.SIGNS),
        *large_pages(pattern, sheet, pattern.sizes, pieces, synthetic.SIGNS, "a0.pdf").values(),
    )
    said = [text for page in pages for text in contents(page)]
    assert any("\u00a0:" in text for text in said)
    assert [text for text in said if WRONG.search(text)] == []


def test_pages_of_each_piece_in_french() -> None:
    pattern = pattern_of("front")
    front = msgspec.structs.replace(pattern.pieces["front"], title={"fr": "Devant"})
    pattern = msgspec.structs.replace(pattern, languages=("fr",), pieces={"front": front})
    column = Column(0, 0, 80, 3)
    piece_list(column, pattern, {str(front.number): "2–3"}, ("fr",))
    assert "Devant\u00a0: 2–3" in [shape.content for shape in column.body if isinstance(shape, Text)]


def test_sentences_of_some_sizes_in_french() -> None:
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=("fr",))
    one, other = pattern.sizes[:2]
    words = by_sizes(pattern, {one: ("Couper",), other: ("Fendre",)})
    assert [word.text for word in words] == [f"{one}\u00a0: Couper", f"{other}\u00a0: Fendre"]


def test_views_by_their_titles_in_french() -> None:
    views = {name: View(name=name, title={"fr": name}) for name in ("longue", "courte")}
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=("fr",), views=views)
    assert view_titles(views, pattern, "fr") == "longue\u00a0; courte"
