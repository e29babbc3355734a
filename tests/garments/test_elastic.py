"""The knit set and the hoodie again, elastic drawn into a strip and a folded band; and the drawstring of the shorts."""

import shutil
from pathlib import Path

import pytest

from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pieces import SizeFile, by_piece
from pipeline.tables.notions import notion_rows, notion_words
from pipeline.words import say
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.garments.test_topstitched import told
from tests.release.test_bad_input import findings_of_pattern

SAID = {
    "slack-tide": (
        'length = "body.waist - 4 cm"\n',
        'width = "35 mm"\ncasing = "strips.waistband"\ngoes_round = "2 x leg-front.waist + 2 x leg-back.waist"\n'
        'stretched = "60 % .. 95 %"\nopens_to = "body.hip"\n',
    ),
    "lido-set": (
        'length = "body.waist + 50 cm"\n',
        'casing = ["shorts-front.waist", "shorts-back.waist"]\n',
    ),
    "child-hoodie": ('length = "body.waist"\n', 'width = "30 mm"\ncasing = "waistband.fold"\n'),
}


def elastic(folder: Path, name: str, *changes: tuple[str, str]) -> Path:
    shutil.copytree(GARMENTS / name, folder / name)
    file = folder / name / "pattern.toml"
    text = file.read_text(encoding="utf-8")
    old, more = SAID[name]
    assert text.count(old) == 1
    text = text.replace(old, old + more)
    for before, after in changes:
        assert before in text
        text = text.replace(before, after)
    file.write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("name", SAID)
def test_nothing_more_is_found(name, tmp_path):
    assert told(findings_of_pattern(elastic(tmp_path, name), name, tmp_path / "work")) == KNOWN[name]


@pytest.mark.parametrize(
    ("name", "old", "new", "code"),
    [
        # as its drafter had it: 38 mm in a casing of 40 mm
        ("slack-tide", '"35 mm"', '"38 mm"', ("casing-fits", "casing-too-narrow")),
        ("slack-tide", "60 % .. 95 %", "40 % .. 50 %", ("elastic-lengths", "other-share")),
        ("child-hoodie", 'width = "30 mm"', 'width = "35 mm"', ("casing-fits", "casing-too-narrow")),
    ],
)
def test_what_cannot_be_sewn_is_found(name, old, new, code, tmp_path):
    found = told(findings_of_pattern(elastic(tmp_path, name, (old, new)), name, tmp_path / "work"))
    assert found - KNOWN[name] == {(*code, "notions.elastic", "block")}


def test_a_drawstring_wider_than_its_casing_is_found(tmp_path):
    folder = elastic(tmp_path, "lido-set", ('width = "1 cm"\nmake = "quarters"', 'width = "42 mm"\nmake = "quarters"'))
    found = told(findings_of_pattern(folder, "lido-set", tmp_path / "work")) - KNOWN["lido-set"]
    assert ("casing-fits", "casing-too-narrow", "strips.drawstring", "block") in found


def test_a_table_tells_its_width_where_it_is_bought(tmp_path):
    folder = elastic(tmp_path, "child-hoodie") / "child-hoodie"
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    drawn, _ = read_size(pattern, folder, "104")
    cuts = by_piece([SizeFile(pattern=pattern.name, size="104", pieces=cut_pieces(pattern, "104", drawn)[0])])
    row = next(row for row in notion_rows(pattern, cuts) if row.notion == "elastic")
    assert row.width_mm == 30
    assert notion_words(pattern, row, "en").endswith(", 3 cm (1 3/16 in) wide")
    assert notion_words(pattern, row, "de").endswith(", 3 cm (1 3/16 in) breit")


def test_its_width_is_none_of_cloth_in_any_language():
    """ "Laize" and "brett" are said of cloth alone."""
    assert say("fr", "notion.width", width="3 cm") == "3 cm de large"
    assert say("sv", "notion.width", width="3 cm") == "bredd 3 cm"
