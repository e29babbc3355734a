"""The outline of the file of lays: in words, a cloth an entry with its sizes below it."""

import io

from pypdf import PdfReader

from pipeline.drawing import scene
from pipeline.press.document import Chapter, Imprint
from pipeline.press.imprint import imprint_of
from pipeline.press.lay_chapters import lay_chapters
from pipeline.press.plain import plain_pages
from tests.lays.samples import pattern, rectangle, request
from tests.press import synthetic

PATTERN = pattern(languages=("en", "de"))


def test_cloths_have_their_sizes_below_them() -> None:
    asked = [
        request([rectangle("a", 10, 10, 1)], width, size=size, one_way=way)
        for width, way in ((1400.0, False), (1500.0, True))
        for size in ("38", "40")
    ]
    assert lay_chapters(PATTERN, asked, (4, 4, 5, 6)) == (
        Chapter("main cloth, 140 cm (55 1/4 in)", 4, (Chapter("Size 38", 4), Chapter("Size 40", 4))),
        Chapter("main cloth, 150 cm (59 1/4 in), one way", 5, (Chapter("Size 38", 5), Chapter("Size 40", 6))),
    )


def test_the_file_has_them_as_its_outline() -> None:

    pages = [scene.of(0, 0, 210, 297, [])] * 3
    imprint = Imprint(title="t", author="a", language="en", layer_word="", row_word="", start_word="")
    chapters = (Chapter("How much cloth", 0), Chapter("main cloth", 1, (Chapter("Size 38", 1), Chapter("Size 40", 2))))
    reader = PdfReader(io.BytesIO(plain_pages(pages, (210, 297), imprint, chapters)))
    first, cloth, sizes = reader.outline
    assert [first.title, cloth.title] == ["How much cloth", "main cloth"]
    shown = [(each.title, reader.get_destination_page_number(each)) for each in sizes]
    assert shown == [("Size 38", 1), ("Size 40", 2)]


def test_files_that_are_no_paper_have_their_title_in_words_of_the_first_language() -> None:
    made = synthetic.pattern()
    assert imprint_of(made, "lays").title == "Invented jacket 1.2.0 · Lays, cloth and strips"
    german = pattern(languages=("de",))
    assert imprint_of(german, "projector", "Oberstoff").title == "Made up 1.0.0 · Projektor · Oberstoff"
    assert imprint_of(german, "a4").title == "Made up 1.0.0 · A4"
