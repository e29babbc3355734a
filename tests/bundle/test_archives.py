"""What is sold goes into few archives, use by use, and the same files make the same bytes."""

import io
import re
import zipfile
from pathlib import Path

import msgspec
import pytest

from pipeline.booklet.file_names import lays_file, shop_files, size_in_name, view_in_name
from pipeline.bundle.archives import MB, README, inner_name, shared_out, sold_file, zipped
from pipeline.bundle.readme import readme
from pipeline.masters.toml.load import load_pattern
from pipeline.model.outputs import Channel, PrintSpec
from pipeline.model.pattern import Pattern, View
from pipeline.words import own_catalogue, own_languages
from tests.by_steps import APRON

FIRST = (README, "CHANGES.md", "lays/lays.pdf", "booklet/en-a4.pdf", "correction-en-a4.pdf")
HOME = ("print/a4.pdf", "print/letter.pdf", "print/reprint-a4.pdf")
SHOP = ("print/a0.pdf", "print/roll-36in.pdf")
THROWN = ("project/calibration.pdf", "project/shell-black-on-white.pdf")
SIZES = tuple(f"print/by-size/{size}-{paper}.pdf" for size in "SM" for paper in ("a4", "letter"))
OWN = ("data/findings.json", "data/pieces.json", "data/changes.json", "manifest.json", "SHA256SUMS", "proof/index.html")
OWN += ("letter-en.txt", "tables/tables.json", "preview/sheet.png", "preview/en/listing.md", "preview/en/listing.txt")


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    found, findings = load_pattern(APRON)
    assert found is not None, findings
    return found


def shared(pattern: Pattern, archives: int, mb: float, **bytes_of: int) -> tuple[list[list[str]], list[str]]:
    """What is in each archive where every file has 100 kB but those that are told, and what is found."""
    paths = [*SIZES, *THROWN, *SHOP, *HOME, *FIRST, *OWN]
    lengths = {path: bytes_of.get(Path(path).stem.replace("-", "_"), 100_000) for path in paths}
    archives_, findings = shared_out(pattern, Channel("shop", archives, mb), lengths)
    for archive in archives_:
        data = [(path, b"x" * lengths[path]) for path in archive.paths]
        assert len(zipped(pattern, data)) <= mb * MB
    return [sorted(archive.paths) for archive in archives_], [finding.found for finding in findings]


def test_all_in_one_where_it_fits(pattern):
    (only,), found = shared(pattern, 5, 20)
    assert only == sorted((*FIRST, *HOME, *SHOP, *THROWN, *SIZES))
    assert found == []


def test_nothing_of_the_designer_is_sold(pattern):
    assert [path for path in OWN if sold_file(pattern, path)] == []


def test_a_use_goes_on_in_the_next_archive_and_is_not_torn(pattern):
    archives, found = shared(pattern, 5, 0.55)
    assert archives == [sorted(FIRST), sorted((*HOME, *SHOP)), sorted(THROWN), sorted(SIZES)]
    assert found == []


def test_sizes_stay_together_where_all_of_them_are_too_many(pattern):
    archives, found = shared(pattern, 9, 0.35, a4=10, letter=10, reprint_a4=10)
    of_sizes = [[path for path in paths if "by-size" in path] for paths in archives]
    assert all(len({Path(path).name[0] for path in paths}) <= 1 for paths in of_sizes if len(paths) < 4)
    assert found == []


def test_what_finds_no_room_is_told_and_the_last_use_goes_first(pattern):
    archives, (found,) = shared(pattern, 2, 0.7)
    assert found.startswith("0.4 MB too much: print/by-size/S-a4.pdf")
    assert not [path for paths in archives for path in paths if "by-size" in path]
    assert {path for paths in archives for path in paths} == {*FIRST, *HOME, *SHOP, *THROWN}


def test_a_file_that_is_larger_than_an_archive_is_told(pattern):
    archives, (found,) = shared(pattern, 5, 1.5, a0=2_000_000)
    assert found == "2.0 MB too much: print/a0.pdf"
    assert "print/roll-36in.pdf" in {path for paths in archives for path in paths}


def test_names_say_what_files_are(pattern):
    names = {path: inner_name(pattern, path) for path in (*FIRST, *HOME[:1], *THROWN[:1], *SIZES[:1])}
    assert list(names.values()) == [
        "tea-apron-1.0.0-read-me-first.txt",
        "tea-apron-1.0.0-changes.txt",
        "tea-apron-1.0.0-cloth-and-lays.pdf",
        "tea-apron-1.0.0-instructions-en-a4.pdf",
        "tea-apron-1.0.0-correction-en-a4.pdf",
        "tea-apron-1.0.0-a4.pdf",
        "tea-apron-1.0.0-projector-calibration.pdf",
        "tea-apron-1.0.0-size-S-a4.pdf",
    ]


@pytest.mark.parametrize("language", own_languages())
def test_what_is_printed_names_files_as_they_are_called_in_archives_and_in_the_bundle(pattern, language):
    """Whoever buys an archive has no folder lays/; whose pattern has no archives, no file "cloth-and-lays"."""
    told = own_catalogue(language)
    assert not [key for key, text in told.items() if re.search(r"\b(print|lays|project|booklet)/", text)]
    named = re.compile(r"[“„«‘”]\s?(lays|\{file\})\s?[”“»’]")
    said = {key: named.search(told[key]) for key in ("start.strips", "start.strips-names", "booklet.lays")}
    assert [found[1] for found in said.values()] == ["lays", "lays", "{file}"]
    assert "lays" in inner_name(pattern, "lays/lays.pdf").removeprefix("tea-apron-1.0.0-")
    assert not [key for key, text in told.items() if re.search(r"size-|view-|cloth-and-lays", text)]


def test_a_booklet_calls_files_as_archives_do_and_as_the_bundle_where_there_are_none(pattern):
    views = {"long": View("long", {"en": "Long"})}
    for channels in ({}, {"shop": Channel("shop", 5, 20.0)}):
        made = msgspec.structs.replace(pattern, channels=channels, views=views)

        def called(path, made=made):
            return inner_name(made, path).removeprefix("tea-apron-1.0.0-") if made.channels else Path(path).name

        assert called("lays/lays.pdf") == f"{lays_file(made)}.pdf"
        assert called("print/by-size/S-a4.pdf") == f"{size_in_name(made, 'S')}-a4.pdf"
        assert called("print/by-view/long-a4.pdf") == f"{view_in_name(made, 'long')}-a4.pdf"


def test_the_same_files_make_the_same_bytes(pattern):
    files = [(README, b"one"), ("print/a4.pdf", b"two")]
    assert zipped(pattern, files) == zipped(pattern, files)
    with zipfile.ZipFile(io.BytesIO(zipped(pattern, files))) as archive:
        assert archive.testzip() is None
        assert {(each.date_time, each.external_attr >> 16, each.create_system) for each in archive.infolist()} == {
            ((1980, 1, 1, 0, 0, 0), 0o100644, 3)
        }


def test_a_size_that_begins_like_another_is_not_taken_for_it(pattern):
    sizes = msgspec.structs.replace(pattern, sizes=("4", "4-long"))
    file = sold_file(sizes, "print/by-size/4-long-a4.pdf")
    assert file is not None
    assert (file.alone, file.name) == ("4-long", "size-4-long-a4.pdf")
    thrown = sold_file(sizes, "project/by-size/4-long-shell-white-on-black.pdf")
    assert thrown is not None
    assert thrown.name == "size-4-long-projector-shell-white-on-black.pdf"


def test_the_text_names_every_file_and_speaks_every_language(pattern):
    text = readme(pattern, [*FIRST, *HOME, *SIZES], 3)
    for path in (*FIRST[1:], *HOME):
        assert inner_name(pattern, path) in text
    assert "tea-apron-1.0.0-size-S-*" in text
    assert "There are 3 archives." in text
    assert "Es sind 3 Archive." in text
    assert "archives" not in readme(pattern, FIRST, 1)


def test_a_booklet_names_the_files_for_a_copy_shop(pattern):
    made = msgspec.structs.replace(pattern, print=PrintSpec(formats=("a4", "a0", "roll-36in", "projector")))
    named = re.findall(r"([\w-]+) \(", shop_files(made))
    assert [sold_file(made, f"print/{name}.pdf").use for name in named] == ["shop", "shop"]
    assert shop_files(msgspec.structs.replace(made, print=PrintSpec(formats=("a4",)))) == ""
