"""One view alone: its pieces and no other, in every size, on fewer pages than the whole pattern."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from pipeline.bundle.promised import print_files, promised_files
from pipeline.masters.toml.load import load_pattern
from pipeline.sheets.layout import Layout, PagePlan
from pipeline.steps import by_view, layout
from pipeline.work.files import read_json
from tests.by_steps import apron_with, cut_sizes

FOLDER = Path(__file__).resolve().parents[2] / "source/half-circle-skirt"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The skirt's views and the pages of the whole skirt."""
    place = tmp_path_factory.mktemp("views")
    pattern, _ = load_pattern(FOLDER)
    assert pattern is not None
    files = cut_sizes(FOLDER, place, pattern.sizes)
    known = [FOLDER / "layout.json"]
    layout.main(FOLDER, files, known, *(place / f"{name}.json" for name in ("layout", "layouts", "pages", "places")))
    (place / "work").mkdir()
    for view in pattern.views:
        by_view.main(
            FOLDER, place / "work", files, known, view, place / view, place / f"{view}.json", place / "laid.json"
        )
    return place


@pytest.mark.parametrize(("view", "own", "others"), [("long", "1", "2"), ("short", "2", "1")])
def test_a_view_alone_shows_its_pieces_in_every_size_and_none_of_the_other_view(made, view, own, others):
    reader = PdfReader(made / view / f"{view}-letter.pdf")
    text = "".join(page.extract_text() for page in reader.pages)
    assert f"Piece {own} of" in text
    assert f"Piece {others} of" not in text
    layers = reader.trailer["/Root"]["/OCProperties"]["/OCGs"]
    assert [layer.get_object()["/Name"] for layer in layers] == [f"Size {size}" for size in (6, 8, 10, 12, 14, 16)]


@pytest.mark.parametrize("view", ["long", "short"])
def test_a_view_alone_says_which_it_is_and_takes_fewer_pages(made, view):
    whole = {plan.format: len(plan.pages) for plan in read_json(made / "pages.json", list[PagePlan])}
    alone = read_json(made / f"{view}.json", list[PagePlan])
    for plan in alone:
        name = plan.format.removeprefix(f"by-view/{view}-")
        assert {page.views for page in plan.pages} == {(view,)}
        assert len(plan.pages) <= whole[name]
        first = PdfReader(made / view / f"{view}-{name}.pdf").pages[0].extract_text()
        assert view.capitalize() in first
    assert sum(len(plan.pages) for plan in alone if "letter" in plan.format) < 0.75 * whole["letter"]


def test_a_bundle_promises_a_file_of_each_view_and_paper(made):
    pattern, _ = load_pattern(FOLDER)
    promised = promised_files(pattern, read_json(made / "layout.json", Layout), ())
    assert {name for name in promised if name.startswith("print/by-view/")} == {
        f"print/by-view/{view}-{paper}.pdf" for view in ("long", "short") for paper in print_files(pattern)
    }


def test_a_view_of_a_pattern_of_one_size_has_that_size_in_a_layer(tmp_path):
    source = apron_with(tmp_path / "apron", '[views.long]\ntitle = "Long"\n\n[print]\nformats = ["a4"]\n')
    text = (source / "pattern.toml").read_text(encoding="utf-8").replace('sizes = ["S", "M"]', 'sizes = ["S"]')
    (source / "pattern.toml").write_text(text, encoding="utf-8")
    files = cut_sizes(source, tmp_path, ["S"])
    by_view.main(source, tmp_path, files, [], "long", *(tmp_path / name for name in ("long", "long.json", "laid.json")))
    properties = PdfReader(tmp_path / "long/long-a4.pdf").trailer["/Root"]["/OCProperties"]
    assert [layer.get_object()["/Name"] for layer in properties["/OCGs"]] == ["Size S"]
