"""Pictures for a listing: a page each, as wide as a shop shows them, that shows its subject and nothing else."""

import io

import pytest
from PIL import Image

from pipeline.booklet.compose import Material, listing_documents
from pipeline.booklet.folder import read_folder
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import Head
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.setting.typeset import WIDTH_PX, picture
from pipeline.bundle.promised import listed_pictures
from pipeline.model.pattern import Pattern
from pipeline.tables.sizes import size_rows
from pipeline.tables.write import TablesFile
from tests.booklet.sample import SVG, pattern
from tests.checks import apron


def listing(made: Pattern):
    model = Model(made, apron.cuts(), "de")
    rows = TablesFile(pattern=made.name, version=made.version, sizes=size_rows(made, model.cuts))
    folder = read_folder(made, {"booklet/cover.svg": SVG})
    drawn = PiecePictures(made, apron.cuts())
    return listing_documents(model, Material(rows, folder, frozenset(), None, drawn))


def test_there_is_each_picture_that_a_bundle_promises() -> None:
    made = pattern()
    assert set(listing(made)) == set(listed_pictures(made))


@pytest.mark.parametrize("name", ["cover", "cloth", "pieces"])
def test_a_picture_is_one_page_2000_pixels_wide(name: str) -> None:
    data = picture(*listing(pattern())[name])
    with Image.open(io.BytesIO(data)) as shown:
        assert (shown.format, shown.width) == ("PNG", WIDTH_PX)
        assert shown.convert("L").getextrema()[0] < 100
    assert data == picture(*listing(pattern())[name])


def test_each_says_what_it_shows_in_its_language() -> None:
    heads = {
        name: [node for node in document.nodes if isinstance(node, Head)]
        for name, (document, _) in listing(pattern()).items()
    }
    assert next(head.runs[0].text for head in heads["cloth"]) == "Was gebraucht wird"
    assert [head.runs[0].text for head in heads["pieces"]] == ["Die Teile"]
    assert heads["cover"] == []
