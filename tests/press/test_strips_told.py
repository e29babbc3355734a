"""Strips without a pattern piece: every start page and large sheet tells how they are cut, so that none seems lost."""

from pathlib import Path

import msgspec
import pytest

from pipeline.cutting.cut import cut_pieces
from pipeline.cutting.strips import CutSize
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.labels.block_layouts import NO_BREAK
from pipeline.drawing.pages.large import large_pages
from pipeline.drawing.pages.start import start_page
from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.map import MapPiece
from pipeline.drawing.panels.strip_list import Detail, strip_list
from pipeline.drawing.scene import Scene
from pipeline.lays.demand import strip_sizes
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Material, Pattern, Strip, Sum, View
from pipeline.model.piece_specs import Cut
from pipeline.sheets.papers import PAPERS
from pipeline.words import say
from tests.drawing.seen import contents, written
from tests.press import synthetic
from tests.press.test_start_page import MANY, plan_of

ROOT = Path(__file__).resolve().parents[2]
GARMENTS = ("source/child-pinafore", "source/half-circle-skirt", "tests/garments/child-hoodie")
SIX_POINTS_MM = 6 * 25.4 / 72
CLOTH = Material(title={"en": "main cloth", "de": "Oberstoff"}, widths_mm=(1400.0,))


def strip(name: str, sizes: tuple[str, ...], **more: object) -> Strip:
    cut = Cut("shell", dict.fromkeys(sizes, 2), dict.fromkeys(sizes, 0))
    told = {"title": {"en": f"Strip {name}", "de": f"Streifen {name}"}, "cut": (cut,), **more}
    return Strip(name=name, width_mm=10.0, make="doubled", length=Sum("", ()), **told)


def made(count: int = 1, sizes: tuple[str, ...] = synthetic.SIZES, **more: object) -> Pattern:
    strips = {f"s{n}": strip(f"s{n}", sizes) for n in range(1, count + 1)}
    told = {"strips": strips, "materials": {"shell": CLOTH}, "sizes": sizes, **more}
    return msgspec.structs.replace(synthetic.pattern(), **told)


def graded(pattern: Pattern) -> dict[str, dict[str, CutSize]]:
    """200 mm in the smallest size, 10.3 mm more in each."""
    return {
        size: {name: CutSize(20, 200 + 10.3 * number) for name in pattern.strips}
        for number, size in enumerate(pattern.sizes)
    }


def told(pattern: Pattern, strips=None, sizes=None, detail: Detail = "sizes") -> list[str]:
    """The lines of the list, each with the name before it."""
    column = Column(0, 0, 1000, 2)
    strip_list(column, pattern, sizes or pattern.sizes, strips or graded(pattern), pattern.languages, detail)
    lines: dict[float, list[str]] = {}
    for shape in column.body:
        lines.setdefault(shape.place.y, []).append(shape.content)
    return [" ".join(line).replace(NO_BREAK, " ") for line in lines.values()]


def said(page: Scene) -> str:
    """All texts of a page, in the order in which they were set."""
    return " ".join(contents(page)).replace(NO_BREAK, " ")


def test_a_strip_is_told_with_its_cut_size_in_every_size_and_language():
    assert told(made()) == [
        "Strips without a pattern piece / Streifen ohne Schnittteil",
        f"{say('en', 'start.strips')} {say('de', 'start.strips')}",
        "S1 Strip s1 / Streifen s1: 2 × main cloth / Oberstoff, along the grain / im Fadenlauf, 20 mm (13/16 in) × "
        "34: 200 mm (7 7/8 in); 36: 211 mm (8 5/16 in); 38: 221 mm (8 11/16 in); 40: 231 mm (9 1/8 in)",
    ]


def test_a_file_of_one_size_tells_that_size_alone():
    assert told(made(), sizes=("38",))[-1].endswith("20 mm (13/16 in) × 221 mm (8 11/16 in)")


def test_the_range_and_the_names_are_shorter_and_send_to_where_all_is_told():
    assert told(made(), detail="range")[-1].endswith("20 mm (13/16 in) × 200–231 mm (7 7/8 in–9 1/8 in)")
    (_, line) = told(made(3), detail="names")
    assert line.startswith("No page has S1, S2, S3: how they are cut is in the file with “lays” in its name.")


def test_no_length_is_told_shorter_than_the_strip():
    strips = {size: {"s1": CutSize(20, 200.2)} for size in synthetic.SIZES}
    assert told(made(), strips)[-1].endswith("× 201 mm (7 15/16 in)"), "200.2 mm are 7.88 in, more than 7 7/8"


def test_counts_that_differ_and_views_are_told():
    few = msgspec.structs.replace(
        strip("s1", synthetic.SIZES, views=("long",)),
        cut=(Cut("shell", dict(zip(synthetic.SIZES, (1, 1, 2, 2), strict=True)), dict.fromkeys(synthetic.SIZES, 0)),),
    )
    views = {"long": View("long", {"en": "Long", "de": "Lang"})}
    lines = told(made(strips={"s1": few}, views=views))[2:]
    assert [line.split(",")[0] for line in lines] == [
        "S1 Strip s1 / Streifen s1 (Long / Lang; 34",
        "S1 Strip s1 / Streifen s1 (Long / Lang; 38",
    ]
    assert [line.split(": ")[1].split(" main")[0] for line in lines] == ["1 ×", "2 ×"]


def test_a_strip_that_is_drawn_is_a_piece_and_no_strip_without_one():
    drawn = made(2)
    drawn = msgspec.structs.replace(
        drawn, strips={**drawn.strips, "s1": msgspec.structs.replace(drawn.strips["s1"], drawn=True)}
    )
    assert [line.split(" ")[0] for line in told(drawn)[2:]] == ["S2"]
    pieces = (*synthetic.map_pieces(), MapPiece("S1", synthetic.map_pieces()[0].outline))
    whole = said(start_page(drawn, plan_of("a4", synthetic.SIZES), drawn.sizes, pieces, synthetic.SIGNS, graded(drawn)))
    assert "Strip s1 / Streifen s1: 2" in whole, "the pages that it lies on"
    assert "Strip s2 / Streifen s2: 2 × main cloth" in whole


def garment(folder: str) -> tuple[Pattern, dict[str, dict[str, CutSize]]]:
    pattern, _ = load_pattern(ROOT / folder)
    assert pattern is not None
    sizes = (pattern.sizes[0], pattern.sizes[-1])
    return pattern, {
        size: strip_sizes(pattern, size, cut_pieces(pattern, size, read_size(pattern, ROOT / folder, size)[0])[0])
        for size in sizes
    }


@pytest.mark.parametrize("folder", GARMENTS)
def test_demos_and_garments_tell_every_strip_on_every_paper(folder: str):
    pattern, strips = garment(folder)
    sizes = tuple(strips)
    for paper in ("a4", "letter"):
        page = start_page(pattern, plan_of(paper, sizes), sizes, (), synthetic.SIGNS, strips)
        assert min(text.size_mm for text in written(page)) >= SIX_POINTS_MM
        whole = said(page)
        for each in pattern.strips.values():
            for title in each.title.values():
                assert title in whole, (paper, title)
        for size, of_size in strips.items():
            for name, cut in of_size.items():
                assert f"{cut.length_mm:.0f} mm" in whole or f"{cut.length_mm + 0.5:.0f} mm" in whole, (size, name)


@pytest.mark.parametrize(("paper", "count"), [("a4", 1), ("letter", 6), ("a4", 12), ("letter", 40)])
def test_many_strips_never_run_over_the_page_and_never_go_untold(paper: str, count: int):
    pattern = made(count, MANY)
    drawn = start_page(pattern, plan_of(paper, MANY), MANY, synthetic.map_pieces(), synthetic.SIGNS, graded(pattern))
    for text in written(drawn):
        if text.anchor == "start" and not text.turned_deg:
            right = text.place.x + text_width_mm(text.content, text.size_mm, text.bold)
            assert right <= PAPERS[paper].width_mm - 6.35, text.content
            assert text.place.y <= PAPERS[paper].height_mm - 6.35, text.content
    words = said(drawn).replace(",", "").replace(":", "").split()
    assert {f"S{number}" for number in range(1, count + 1)} <= set(words)


def test_large_sheets_tell_them_too():
    pattern = made(3)
    plan = msgspec.structs.replace(
        synthetic.tiles(synthetic.sheet()[0], 914.4, 1200.0, "roll-36in"), header_mm=120.0, margin_mm=15.0
    )
    pages = large_pages(pattern, plan, pattern.sizes, (), synthetic.SIGNS, "roll-36in.pdf", graded(pattern))
    for page in pages.values():
        assert "Strip s3 / Streifen s3: 2 × main cloth / Oberstoff" in said(page)
        assert "231 mm (9 1/8 in)" in said(page)
