"""What a page says it is: of the whole file, or of the pages that changed, printed again by themselves."""

import msgspec
import pytest

from pipeline.drawing.pages.frame import frame_pages
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.overlays import page_overlays
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.scene import Scene
from pipeline.sheets.layout import PagePlan
from pipeline.words import languages
from tests.drawing.seen import contents
from tests.press import synthetic

TILES = synthetic.tiles(synthetic.sheet()[0])
ROLL = synthetic.large_sheet(synthetic.sheet()[0])
SHEET = msgspec.structs.replace(ROLL, format="a0")


def again(plan: PagePlan, *labels: str) -> PagePlan:
    return msgspec.structs.replace(plan, again=labels)


def of_three(plan: PagePlan) -> PagePlan:
    pages = tuple(msgspec.structs.replace(plan.pages[0], number=n, label=str(n), row=n) for n in (1, 2, 3))
    return msgspec.structs.replace(plan, rows=3, pages=pages)


def around(plan: PagePlan, spoken: tuple[str, ...] = ("en",)) -> dict[int, Scene]:
    pattern = msgspec.structs.replace(synthetic.pattern(), languages=spoken)
    return large_pages(pattern, plan, pattern.sizes, synthetic.map_pieces(), synthetic.SIGNS, "a0.pdf")


def said(page: Scene) -> str:
    return " ".join(contents(page))


def test_a_tile_printed_again_counts_those_beside_it_and_keeps_its_label() -> None:
    pages = frame_pages(synthetic.pattern(), again(TILES, "3A", "5B"))
    assert list(pages) == [3, 5]
    assert "Reprint 2 of 2 / Nachdruck 2 von 2 · 5B · Sizes / Größen 36–40" in said(pages[5])
    assert "5B + 6B" in contents(pages[5])
    assert "of 9" not in said(pages[5])


def test_a_start_page_printed_again_tells_how_many_pages_of_the_whole_there_are() -> None:
    plan = again(TILES, "1", "5B")
    head = said(start_page(synthetic.pattern(), plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS))
    assert "A4 · Reprint: 2 of 9 pages / Nachdruck: 2 von 9 Seiten" in head
    assert "· 9 pages" not in head


def test_only_what_is_printed_again_is_drawn() -> None:
    def drawn(plan: PagePlan) -> int:
        pieces, signs = synthetic.map_pieces(), synthetic.SIGNS
        return len(page_overlays(synthetic.pattern(), plan, synthetic.SIZES, pieces, signs, "a4.pdf"))

    assert (drawn(TILES), drawn(again(TILES, "5B")), drawn(again(TILES, "1", "5B"))) == (9, 1, 2)


@pytest.mark.parametrize(
    ("plan", "number", "told", "counted"),
    [
        (ROLL, 1, "The whole roll", "1 sheet, 580 "),
        (again(ROLL, "1"), 1, "Reprint 1 of 1 · The whole roll", "1 sheet, 580 "),
        (of_three(ROLL), 2, "Roll, part 2 of 3", "The whole pattern: 3 sheets"),
        (again(of_three(ROLL), "2"), 2, "Reprint 1 of 1 · Roll, part 2 of 3", "Reprint: 1 of 3 sheets"),
        (of_three(SHEET), 3, "Sheet 3 of 3", "The whole pattern: 3 sheets"),
        (again(of_three(SHEET), "1", "3"), 3, "Reprint 2 of 2 · Sheet 3 of 3", "Reprint: 2 of 3 sheets"),
        (again(of_three(SHEET), "1", "2", "3"), 3, "Reprint 3 of 3 · Sheet 3 of 3", "The whole pattern: 3 sheets"),
    ],
)
def test_a_large_page_says_whether_it_is_all_or_which_part(
    plan: PagePlan, number: int, told: str, counted: str
) -> None:
    page = around(plan)[number]
    lines = contents(page)
    assert [line for line in lines if f"a0.pdf · Sizes 34–40 · {told}" in line]
    assert [line for line in lines if line.startswith("Sizes 34–40 · ") and line.endswith(f" · {told}")]
    assert counted in said(page)


@pytest.mark.parametrize("language", languages())
def test_every_language_has_a_word_of_its_own_for_it(language: str) -> None:
    whole, part = (said(around(plan, (language,))[2]) for plan in (of_three(SHEET), again(of_three(SHEET), "2")))
    word = {"en": "Reprint", "de": "Nachdruck", "fr": "Réimpression", "es": "Reimpresión"}
    word |= {"nl": "Herdruk", "sv": "Omtryck"}
    assert word[language] not in whole
    assert part.count(word[language]) > 2
