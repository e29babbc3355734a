"""Words beside the patterns: found by the pattern's languages, copied with it, and refused where they are no words."""

import shutil
from pathlib import Path

import pytest

from pipeline.masters.copied import changed_since, copied_before, copy_folder
from pipeline.masters.toml.load import load_pattern
from pipeline.rules.depends import RULES

SMALL = Path(__file__).resolve().parents[1] / "patterns/tea-apron"
PRINTING = {
    *("findings", "drawings", "print", "by-size", "by-view", "projector", "calibration", "lay-pictures", "tables"),
    *("booklet", "listing", "changes", "correction", "reprint", "archives"),
}


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """A pattern whose languages are those of the small one and Danish, beside an empty folder of words."""
    folder = tmp_path / "source/tea-apron"
    shutil.copytree(SMALL, folder)
    file = folder / "pattern.toml"
    text = file.read_text(encoding="utf-8")
    before = next(line for line in text.splitlines() if line.startswith("languages = "))
    file.write_text(text.replace(before, before.replace("[", '["da", ')), encoding="utf-8")
    (folder.parent / "words").mkdir()
    return folder


def bring(folder: Path, text: str, language: str = "da") -> Path:
    file = folder.parent / f"words/{language}.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_words_of_the_patterns_languages_are_read_by_dotted_key(folder):
    bring(folder, '[size]\nname = "Størrelse"\nseveral = "Størrelser"\n')
    bring(folder, '[size]\nname = "Rozmiar"\n', "pl")
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern.words == {"da": {"size.name": "Størrelse", "size.several": "Størrelser"}}


@pytest.mark.parametrize(
    ("text", "code", "place"),
    [
        ("[size\n", "not-toml", "line 1, column 6"),
        ("name = 3\n", "not-a-text", "name"),
        ("[size]\nname = 3\nseveral = 4\n", "not-a-text", "size.name"),
        ('[size.name]\nlong = "Størrelse"\n', "not-a-text", "size.name"),
        ("a." * 50 + "a = 1\n", "long-key", "line 1"),
        ("#" * 200_001, "too-large", None),
    ],
)
def test_a_file_that_holds_no_words_is_refused_by_its_name(folder, text, code, place):
    bring(folder, text)
    pattern, (finding,) = load_pattern(folder)
    assert pattern is None
    assert (finding.file, finding.code, finding.object, finding.severity) == ("words/da.toml", code, place, "block")


def test_a_folder_in_its_place_is_told_and_so_is_one_of_a_run(folder, tmp_path):
    (folder.parent / "words/da.toml").mkdir()
    for found in (load_pattern(folder)[1], copy_folder(folder, tmp_path / "work/tea-apron").findings):
        assert [(finding.code, finding.file) for finding in found] == [("not-a-file", "words/da.toml")]


def test_words_are_copied_with_a_pattern_and_what_changes_of_them_is_named(folder, tmp_path):
    copy = tmp_path / "work/source/tea-apron"
    file, other = bring(folder, '[size]\nname = "Størrelse"\n'), bring(folder, "[size]\n", "pl")
    taken = copy_folder(folder, copy)
    assert taken.pattern.words == {"da": {"size.name": "Størrelse"}}
    assert copied_before(copy) == taken
    assert changed_since(folder, copy) == []
    other.unlink()
    assert changed_since(folder, copy) == [], "nobody reads it"
    bring(folder, '[size]\nname = "Str."\n')
    assert changed_since(folder, copy) == ["words/da.toml"]
    file.unlink()
    assert changed_since(folder, copy) == ["words/da.toml"]
    assert copy_folder(folder, copy).pattern.words == {}
    assert not (copy.parent / "words/da.toml").exists()


def test_only_jobs_that_print_words_depend_on_them(folder):
    bring(folder, '[size]\nname = "Størrelse"\n')
    before, _ = load_pattern(folder)
    bring(folder, '[size]\nname = "Str."\n')
    after, _ = load_pattern(folder)
    assert {name for name, rule in RULES.items() if rule.part(before) != rule.part(after)} == PRINTING


def test_no_pattern_has_the_name_of_their_folder(tmp_path):
    folder = tmp_path / "words"
    shutil.copytree(SMALL, folder)
    _, (finding,) = load_pattern(folder)
    assert (finding.code, finding.found) == ("bad-name", "words")
