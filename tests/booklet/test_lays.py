"""Which lays a booklet shows, what it says of them, and where."""

import msgspec
import pypdfium2
import pytest

from pipeline.booklet.lays import GROWN, MOST, Lays, usual_lays
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Apart, Figure, Head, Listed, Node, Pictures, Text, plain
from pipeline.booklet.read import read_booklet
from pipeline.booklet.setting.typeset import typeset
from pipeline.booklet.sewing import Sewing
from pipeline.booklet.tables import Tables
from pipeline.lays.saved import Chosen
from pipeline.model.pattern import Pattern, View
from pipeline.tables.cloth import cloth_lines
from pipeline.tables.write import TablesFile
from tests.booklet.test_setting import document_of
from tests.drawing.seen import written
from tests.lays.test_pictures import CHOSEN, PATTERN

SIZES = ("34", "36", "38", "40", "42", "44", "46")


def made(**said: object) -> Pattern:
    return msgspec.structs.replace(PATTERN, **({"sizes": SIZES, "base": "40", "bands": ("42",)} | said))


def chosen(pattern: Pattern, views: tuple[str | None, ...] = (None,), **said: object) -> list[Chosen]:
    """The sample's lay in every size, on two widths, the wider one first."""
    return [
        msgspec.structs.replace(
            CHOSEN, request=msgspec.structs.replace(CHOSEN.request, size=size, width_mm=width, view=view, **said)
        )
        for view in views
        for size in pattern.sizes
        for width in (1500.0, 1020.0)
    ]


def shown(pattern: Pattern, lays: list[Chosen]) -> list[tuple[str, float, str | None]]:
    return [(lay.request.size, lay.request.width_mm, lay.request.view) for lay in usual_lays(pattern, lays)]


def test_each_grading_band_has_one_size_on_the_width_that_is_named_first() -> None:
    assert shown(made(), chosen(made())) == [("40", 1020.0, None), ("44", 1020.0, None)]


def test_a_width_on_which_nothing_could_be_laid_gives_way_to_the_next() -> None:
    material = msgspec.structs.replace(PATTERN.materials["shell"], widths_mm=(900.0, 1500.0))
    pattern = made(materials={"shell": material}, bands=())
    assert shown(pattern, chosen(pattern)) == [("40", 1500.0, None)]


def test_views_that_lay_the_same_share_a_page_and_others_do_not() -> None:
    pattern = made(views={name: View(name, {"en": name, "de": name}) for name in ("long", "short")}, bands=())
    alike = chosen(pattern, ("long", "short"))
    assert shown(pattern, alike) == [("40", 1020.0, None)]
    fewer = [
        msgspec.structs.replace(lay, request=msgspec.structs.replace(lay.request, items=lay.request.items[:-1]))
        if lay.request.view == "short"
        else lay
        for lay in alike
    ]
    assert shown(pattern, fewer) == [("40", 1020.0, "long"), ("40", 1020.0, "short")]


def test_more_pages_than_a_buyer_turns_are_left_to_the_file_of_lays() -> None:
    pattern = made(sizes=tuple(map(str, range(MOST + 2))), base="0", bands=tuple(map(str, range(MOST + 1))))
    assert shown(pattern, chosen(pattern)) == [("0", 1020.0, None)]


def of(language: str, large: bool = False) -> Lays:
    pattern = made(bands=())
    lays = usual_lays(pattern, chosen(pattern))
    rows = [line.row for line in cloth_lines(pattern, lays)]
    return Lays(Model(pattern, {}, language), lays, rows, Pictures(large))


def pages(language: str, large: bool = False) -> tuple[Node, ...]:
    (page,) = of(language, large).pages(2)
    assert isinstance(page, Apart)
    return page.nodes


def test_a_page_says_what_is_bought_and_how_often_each_number_is_cut() -> None:
    head, facts, about, _, tones, listed = pages("en")
    assert isinstance(head, Head)
    assert head.runs[0].text.startswith("Lay: main cloth, size")
    assert facts.runs[0].text.replace("\N{NO-BREAK SPACE}", " ").startswith("Buy 90 cm (1 yd)")
    assert about.runs[0].text.startswith("Folded lengthwise, right sides together")
    assert tones.runs[0].text.startswith("Grey: cut from both layers")
    told = [run.text for (text,) in listed.items for run in text.runs]
    assert [line.partition(":")[0].split()[-1] for line in told] == ["Back", "Front", "Tab", "Loop"]


def test_a_picture_is_told_in_words_from_the_left() -> None:
    figure = next(node for node in pages("en") if isinstance(node, Figure))
    assert figure.alt.startswith("Lay of main cloth, size")
    assert [figure.alt.index(name) for name in ("Back", "Front", "Tab", "Loop")] == sorted(
        figure.alt.index(name) for name in ("Back", "Front", "Tab", "Loop")
    )


@pytest.mark.parametrize("language", ["en", "de"])
def test_letters_of_a_picture_are_12_pt_on_paper_in_every_edition(language: str) -> None:
    lays = of(language)
    lays.pages(2)
    (scene,) = [value for key, value in lays.model.once.items() if isinstance(key, tuple) and key[0] == "lay"]
    sizes_pt = [text.size_mm * GROWN / 25.4 * 72 for text in written(scene)]
    assert min(sizes_pt) >= 12.0


def test_pieces_are_drawn_once_for_all_languages() -> None:
    first = of("en")
    first.pages(2)
    german = Lays(first.model.told_in("de"), first.lays, first.rows, Pictures())
    german.pages(2)
    mine, theirs = (
        next(value for key, value in lays.model.once.items() if isinstance(key, tuple) and key[0] == "lay")
        for lays in (first, german)
    )
    shared = {id(shape) for shape in mine.shapes} & {id(shape) for shape in theirs.shapes}
    assert len(shared) > 10


def test_the_text_places_them_on_pages_of_their_own_or_within_a_step() -> None:
    lays = of("en")
    text, faults = read_booklet(
        "en", "booklet/en.md", b"# Cut\n\n{{ table lays }}\n\n1. Lay it.\n\n   {{ table lays }}\n"
    )
    assert faults == ()
    rows = TablesFile(pattern="p", version="1.0.0")
    nodes = Sewing(lays.model, Tables(lays.model, rows, 10), lays.pictures, {}, text, 1, lays).nodes()
    assert [type(node) for node in nodes] == [Head, Apart, Listed]
    (step,) = nodes[2].items
    assert not [node for node in step if isinstance(node, Apart)]
    assert [node for node in step if isinstance(node, Figure)]


def set_lay(lines: int, edition: str = "a4", wide: bool = True) -> tuple[int, float]:
    """On how many pages a lay with so many lines of legend is set, and how high its picture is there, in mm."""
    shown = Pictures(large=edition == "large-print")
    width_mm, height_mm = (200, 90) if wide else (120, 150)
    black = f'<rect width="{width_mm}" height="{height_mm}"/>'
    drawing = f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width_mm} {height_mm}">{black}</svg>'
    figure = shown.add(drawing.encode(), width_mm, height_mm, "A lay")
    legend = Listed(tuple((Text(plain(f"{at} Piece: cut 2")),) for at in range(lines)), columns=2 if wide else 1)
    page = Apart((Head(1, plain("Lay")), Text(plain("Buy 90 cm")), figure, Text(plain("Grey")), legend), wide)
    document, _ = document_of("", edition)
    alone = msgspec.structs.replace(document, nodes=(page,), cover=msgspec.structs.replace(document.cover, figure=None))
    _, _, *of_lay = pypdfium2.PdfDocument(typeset(alone, shown))  # behind the cover and the contents
    return len(of_lay), max(map(_black_mm, of_lay))


def _black_mm(page: pypdfium2.PdfPage) -> float:
    """How much of a page's height is black across a third of it: a picture that is all black."""
    scale = 2.0
    dark = page.render(scale=scale, grayscale=True).to_numpy() < 64
    return float((dark.mean(axis=1) > 1 / 3).sum()) / scale / 72 * 25.4


@pytest.mark.parametrize("edition", ["a4", "letter"])
@pytest.mark.parametrize(("wide", "height_mm", "lines"), [(True, 90, 16), (True, 90, 24), (False, 150, 18)])
def test_a_legend_that_a_column_more_makes_room_for_leaves_the_picture_as_it_is(
    edition: str, wide: bool, height_mm: float, lines: int
) -> None:
    assert set_lay(lines, edition, wide) == (1, pytest.approx(height_mm, abs=0.5))


@pytest.mark.parametrize("edition", ["a4", "letter"])
@pytest.mark.parametrize(("wide", "height_mm"), [(True, 90), (False, 150)])
def test_a_longer_legend_makes_the_picture_smaller_and_stays_on_its_page(
    edition: str, wide: bool, height_mm: float
) -> None:
    pages, shown_mm = set_lay(40, edition, wide)
    assert pages == 1
    assert 0.6 * height_mm <= shown_mm < 0.9 * height_mm


@pytest.mark.parametrize(("wide", "height_mm"), [(True, 90), (False, 150)])
def test_a_legend_that_would_leave_less_than_60_percent_goes_on_and_the_picture_keeps_its_size(
    wide: bool, height_mm: float
) -> None:
    assert set_lay(64, "a4", wide) == (2, pytest.approx(height_mm, abs=0.5))


def test_no_picture_of_large_print_becomes_less_than_it_is_drawn_for() -> None:
    """There it is shown larger than that where it has room: 170 mm high of 150."""
    assert set_lay(4, "large-print", wide=False) == (1, pytest.approx(170, abs=0.5))
    pages, shown_mm = set_lay(6, "large-print", wide=False)
    assert (pages, 150 <= shown_mm < 165) == (1, True)
    assert set_lay(8, "large-print", wide=False) == (2, pytest.approx(170, abs=0.5))
