"""Languages in files of their own, where `languages_together = false`: each file speaks one, and all print the same."""

import csv
import json
import zipfile
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.release.conftest import Workroom

LANGUAGES = {"en": ("Tea apron", "Skirt", "Size"), "de": ("Servierschürze", "Rock", "Größe")}
"""The title, a piece and a layer's word in each."""
PAPERS = ("a4", "a0")
TOGETHER = '[print]\nformats = ["a4", "letter", "a0", "roll-36in"]'
APART = """[views.long]
title = { en = "Long", de = "Lang" }

[print]
formats = ["a4", "a0", "projector"]
languages_together = false

[channels.shop]
archives = 5
archive_mb = 20
"""


@pytest.fixture(scope="module")
def room(tmp_path_factory: pytest.TempPathFactory) -> Workroom:
    """The apron sealed at 1.0.0; then a side of one size is mended and the next version built."""
    made = Workroom(tmp_path_factory.mktemp("apart") / "aprons")
    made.edit("pattern.toml", TOGETHER, APART)
    done = made.run("seal")
    assert done.returncode == 0, done.text
    return made


@pytest.fixture(scope="module")
def fixed(room: Workroom) -> Workroom:
    room.edit("pattern.toml", 'version = "1.0.0"', 'version = "1.1.0"')
    room.edit("CHANGES.md", "# 1.0.0", "# 1.1.0\n\nThe side of size M.\n\n# 1.0.0")
    (room.pattern / "CHANGES.de.md").write_text("# 1.1.0\n\nDie Seite der Größe M.\n\n# 1.0.0\n", encoding="utf-8")
    room.edit("sizes/M/skirt.svg", "C340 170 360 320 370 470", "C340 170 364 320 370 470")
    done = room.run()
    assert done.returncode == 0, done.text
    return room


def spoken(room: Workroom, folder: str, version: str = "1.0.0") -> dict[str, set[str]]:
    """The files of a folder without what says their language, by language."""
    names = [file.name for file in (room.bundle.parent / version / folder).glob("*.pdf")]
    return {
        language: {name.removesuffix(f"-{language}.pdf") for name in names if name.endswith(f"-{language}.pdf")}
        for language in LANGUAGES
    } | {"all": {name for name in names if not any(name.endswith(f"-{language}.pdf") for language in LANGUAGES)}}


def test_each_language_has_every_file_on_paper_and_for_projectors(room: Workroom) -> None:
    grounds = {"black-on-white", "white-on-black"}
    thrown = {f"shell-{ground}" for ground in grounds}
    for folder, files, of_all in (
        ("print", set(PAPERS), set()),
        ("print/by-size", {f"{size}-{paper}" for size in "SM" for paper in PAPERS}, set()),
        ("print/by-view", {f"long-{paper}" for paper in PAPERS}, set()),
        ("project", thrown, {"calibration.pdf"}),
        ("project/by-size", {f"{size}-{name}" for size in "SM" for name in thrown}, set()),
    ):
        assert spoken(room, folder) == {"en": files, "de": files, "all": of_all}, folder


@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize(
    "name", ["print/a4", "print/a0", "print/by-size/S-a4", "print/by-view/long-a4", "project/shell-black-on-white"]
)
def test_a_file_speaks_its_language_and_no_other(room: Workroom, name: str, language: str) -> None:
    reader = PdfReader(room.bundle / f"{name}-{language}.pdf")
    text = "".join(page.extract_text() for page in reader.pages)
    (other,) = LANGUAGES.keys() - {language}
    title, piece, word = LANGUAGES[language]
    assert piece in text
    assert not [foreign for foreign in LANGUAGES[other] if foreign in text]
    assert reader.metadata is not None
    assert reader.metadata.title is not None
    assert reader.metadata.title.startswith(title)
    if "by-size" not in name:
        layers = reader.trailer["/Root"]["/OCProperties"]["/OCGs"]
        assert [layer.get_object()["/Name"] for layer in layers] == [f"{word} S", f"{word} M"]


def test_all_languages_have_the_same_pages(room: Workroom) -> None:
    for file in room.bundle.glob("print/*-en.pdf"):
        pages = [PdfReader(file.with_name(file.name.replace("-en.", f"-{each}."))).pages for each in LANGUAGES]
        sides = [[tuple(page.mediabox) for page in every] for every in pages]
        assert sides[0] == sides[1]


def rows(file: Path, language: str) -> list[list[str]]:
    with file.open(encoding="utf-8-sig", newline="") as lines:
        return list(csv.reader(lines, delimiter=";" if language == "de" else ","))


@pytest.mark.parametrize(("language", "table"), [("en", "tables/pages.csv"), ("de", "tables/de/pages.csv")])
def test_the_table_of_pages_names_the_readers_files(room: Workroom, language: str, table: str) -> None:
    named = {row[0] for row in rows(room.bundle / table, language)[1:]}
    assert named == {
        path.relative_to(room.bundle).as_posix() for path in room.bundle.rglob(f"print/**/*-{language}.pdf")
    }


def test_archives_tell_a_buyer_which_file_speaks_what(room: Workroom) -> None:
    inside = [zipfile.ZipFile(file).namelist() for file in sorted(room.bundle.glob("archives/*.zip"))]
    names = {name.removeprefix("tea-apron-1.0.0-") for every in inside for name in every}
    assert {"a4-en.pdf", "a4-de.pdf", "size-S-a4-en.pdf", "projector-shell-white-on-black-de.pdf"} <= names


def test_each_language_is_told_of_versions_in_its_own_words(fixed: Workroom) -> None:
    new = fixed.bundle.parent / "1.1.0"
    said = {"en": "The side of size M.", "de": "Die Seite der Größe M."}
    for language in LANGUAGES:
        (other,) = LANGUAGES.keys() - {language}
        read = {
            file: "".join(page.extract_text() for page in PdfReader(new / file).pages)
            for file in (f"correction-{language}-a4.pdf", f"booklet/{language}-a4.pdf")
        } | {"letter": (new / f"letter-{language}.txt").read_text(encoding="utf-8")}
        for file, text in read.items():
            assert said[language] in " ".join(text.split()), file
            assert said[other] not in " ".join(text.split()), file


def test_a_bundle_and_its_archives_hold_what_each_language_is_told(fixed: Workroom) -> None:
    new = fixed.bundle.parent / "1.1.0"
    assert (new / "CHANGES.de.md").read_bytes() == (fixed.pattern / "CHANGES.de.md").read_bytes()
    assert sorted(path.name for path in new.glob("CHANGES*")) == ["CHANGES.de.md", "CHANGES.md"]
    listed = {entry["path"] for entry in json.loads((new / "manifest.json").read_bytes())["files"]}
    assert {"CHANGES.md", "CHANGES.de.md"} <= listed
    inside = [name for file in new.glob("archives/*.zip") for name in zipfile.ZipFile(file).namelist()]
    assert {"tea-apron-1.1.0-changes.txt", "tea-apron-1.1.0-changes-de.txt"} <= set(inside)


def test_a_correction_names_the_pages_of_the_readers_files(fixed: Workroom) -> None:
    new = fixed.bundle.parent / "1.1.0"
    assert spoken(fixed, "print", "1.1.0") == {
        language: {*PAPERS, *(f"reprint-{paper}" for paper in PAPERS)} for language in LANGUAGES
    } | {"all": set()}
    for language in LANGUAGES:
        (other,) = LANGUAGES.keys() - {language}
        sheet = "".join(page.extract_text() for page in PdfReader(new / f"correction-{language}-a4.pdf").pages)
        assert f"a4-{language}.pdf" in sheet
        assert f"a4-{other}.pdf" not in sheet
        title = LANGUAGES[language][0]
        changed = PdfReader(new / f"print/reprint-a4-{language}.pdf")
        assert changed.metadata is not None
        assert str(changed.metadata.title).startswith(title)
