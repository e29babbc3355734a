"""A fix after a sale: what is told equals what is printed otherwise, and everything else stays as it was sold."""

import io
import json
import re
import subprocess
import zipfile
from collections.abc import Iterator
from pathlib import Path

import msgspec
import pikepdf
import pytest
from PIL import Image, ImageChops, ImageFilter

from pipeline.sheets.layout import PagePlan
from tests.press.proof import Grey, poppler, stitched
from tests.release.conftest import Workroom

SIDE = "360 320 370 470"
FORMATS = 'formats = ["a4", "letter", "a0", "roll-36in"]'
_DASH_PIXELS = 15
"""At 80 dpi, 2.4 mm to each side."""
_STITCHED_DPI, _STITCHED_DASH_PIXELS = 50.8, 11
"""2 pixels to the millimetre, so that tiles are whole pixels; 2.5 mm to each side."""
_GREY = 100
CHANNEL = "\n[channels.shop]\narchives = 2\narchive_mb = 5\n"


@pytest.fixture(scope="module")
def fixed(tmp_path_factory) -> Workroom:
    """The apron sealed at 1.0.0; then a side of one size is mended and the next version built."""
    room = Workroom(tmp_path_factory.mktemp("fixed") / "Élise's patterns")
    room.edit("pattern.toml", FORMATS, 'formats = ["a4", "letter", "roll-36in", "projector"]')
    text = (room.pattern / "pattern.toml").read_text(encoding="utf-8")
    (room.pattern / "pattern.toml").write_text(text + CHANNEL, encoding="utf-8")
    (room.pattern / "layout.json").unlink(missing_ok=True)  # as of a designer who has searched no layout
    done = room.run("seal")
    assert done.returncode == 0, done.text
    room.edit("sizes/M/skirt.svg", SIDE, SIDE.replace("360", "366"))
    room.edit("pattern.toml", 'version = "1.0.0"', 'version = "1.1.0"')
    room.edit("CHANGES.md", "# 1.0.0", "# 1.1.0\n\nThe **side** of size M was too straight.\n\n# 1.0.0")
    done = room.run()
    assert done.returncode == 0, done.text
    return room


def version(room: Workroom, number: str) -> Path:
    return room.release / "tea-apron" / number


def pictures(file: Path, folder: Path) -> list[bytes]:
    """Every page without the texts that name the version: as it was drawn, in pixels."""
    folder.mkdir(parents=True)
    subprocess.run(["pdftoppm", "-r", "80", "-gray", file, folder / "page"], check=True)
    return [page.read_bytes() for page in sorted(folder.iterdir())]


def differs_only_in_dashes(one: bytes, other: bytes, pixels: int = _DASH_PIXELS) -> bool:
    """Whether every dark place of a page has a dark one near it on the other, in a dash's reach: where a line is longer
    on another page, its dashes begin elsewhere on this one."""
    pages = [Image.open(io.BytesIO(data)).convert("L") for data in (one, other)]
    for page, beside in (pages, pages[::-1]):
        lonely = ImageChops.subtract(beside.filter(ImageFilter.MinFilter(pixels)), page)
        if lonely.getextrema()[1] > _GREY:
            return False
    return True


def labels(file: Path) -> list[str]:
    with pikepdf.open(file) as pdf:
        return [str(pdf.Root.PageLabels.Nums[2 * n + 1].P) for n in range(len(pdf.pages))]


def told_pages(room: Workroom) -> dict[str, list[str]]:
    changes = json.loads((version(room, "1.1.0") / "data/changes.json").read_bytes())
    found: dict[str, list[str]] = {}
    for change in changes["changes"]:
        if change["what"] == "page":
            found.setdefault(change["name"], []).append(change["near"])
    return found


def text_of(file: Path) -> str:
    done = subprocess.run(["pdftotext", "-layout", file, "-"], capture_output=True, text=True, check=True)
    return done.stdout


def test_the_pages_that_are_told_are_those_whose_pixels_differ(fixed, tmp_path):
    """In every print file, single sizes and what is thrown included. Both versions are built with one number, since it
    stands on every page."""
    room = Workroom(tmp_path / "again")
    for name in ("pattern.toml", "ledger.json", "sizes/M/skirt.svg", "CHANGES.md"):
        (room.pattern / name).write_bytes((fixed.pattern / name).read_bytes())
    room.edit("sizes/M/skirt.svg", SIDE.replace("360", "366"), SIDE)
    room.edit("CHANGES.md", "The **side**", "No **side**")
    done = room.run()
    assert done.returncode == 0, done.text
    told = told_pages(fixed)
    before, after = version(room, "1.1.0"), version(fixed, "1.1.0")
    files = sorted(path.relative_to(after) for path in after.rglob("*.pdf") if path.parts[-2] != "lays")
    files = [file for file in files if file.parts[0] in ("print", "project") and "reprint" not in file.name]
    assert len(files) == 16
    for file in files:
        old, new = (
            pictures(place / file, tmp_path / f"{n}-{file.stem}-{file.parent.name}")
            for n, place in enumerate((before, after))
        )
        assert labels(before / file) == labels(after / file)
        named, shown = told.get(file.as_posix(), []), labels(after / file)
        for label, one, other in zip(shown, old, new, strict=True):
            if label in named:
                assert one != other, (file, label)
            else:
                assert differs_only_in_dashes(one, other), (file, label)
    assert not [name for name in told if "/S-" in name]


def test_nothing_lies_elsewhere_though_no_layout_was_kept(fixed):
    ledger = json.loads((fixed.pattern / "ledger.json").read_bytes())
    assert list(ledger["layouts"]) == [ledger["versions"][0]["layouts"]]
    for file in sorted((fixed.work / "tea-apron").rglob("pages.json")):
        assert all(not plan["moved"] for plan in json.loads(file.read_bytes()))
    for old, new in ((version(fixed, number) / "print" for number in ("1.0.0", "1.1.0")),):
        for file in old.rglob("*.pdf"):
            assert labels(file) == labels(new / file.relative_to(old))


def test_reprinted_pages_are_those_of_the_whole_file(fixed):
    place, told = version(fixed, "1.1.0"), told_pages(fixed)
    for paper in ("a4", "letter", "roll-36in"):
        with (
            pikepdf.open(place / f"print/{paper}.pdf") as whole,
            pikepdf.open(place / f"print/reprint-{paper}.pdf") as part,
        ):
            names = labels(place / f"print/{paper}.pdf")
            assert labels(place / f"print/reprint-{paper}.pdf") == told[f"print/{paper}.pdf"]
            for label, page in zip(told[f"print/{paper}.pdf"], part.pages, strict=True):
                other = whole.pages[names.index(label)]
                assert list(streams(page, but=AROUND)) == list(streams(other, but=AROUND))
            assert len(part.Root.OCProperties.OCGs) == 2


AROUND = frozenset({"/Overlay"})
"""What stands around the pattern, which says whether a page is of the whole file."""


def streams(page: pikepdf.Page, but: frozenset[str] = frozenset()) -> Iterator[bytes]:
    yield page.Contents.read_bytes()
    for name in sorted(page.Resources.XObject.keys() - but):
        yield page.Resources.XObject[name].read_bytes()


def test_a_reprint_says_so_on_every_page_and_how_many_it_has_in_all_languages(fixed):
    """Its pages keep the labels, rows and joints of the whole, by which they are taped in."""
    place, told = version(fixed, "1.1.0"), told_pages(fixed)
    for paper in ("a4", "letter"):
        whole, part = (pages_of(place / f"print/{name}{paper}.pdf") for name in ("", "reprint-"))
        names, again = labels(place / f"print/{paper}.pdf"), told[f"print/{paper}.pdf"]
        count, (start, *tiles) = len(again), zip(again, part, strict=True)
        assert (start[0], 1 < count < len(names)) == ("1", True)
        head = f"Reprint: {count} of {len(names)} pages / Nachdruck: {count} von {len(names)} Seiten"
        assert head in start[1]
        assert f"{len(names)} pages / {len(names)} Seiten" in whole[0]
        for number, (label, text) in enumerate(tiles, start=2):
            other = whole[names.index(label)]
            assert f"Reprint {number} of {count} / Nachdruck {number} von {count} · {label} · " in text
            assert not re.search(rf"(of|von) {len(names)}\b", text)
            assert "Reprint" not in other
            for kept in (rf"{label} · Row \w+ · Reihe \w+", rf"{label} · Column \d+ · Spalte \d+", r"\d+\w \+ \d+\w"):
                assert re.findall(kept, text) == re.findall(kept, other) != []


def test_a_roll_printed_again_is_the_whole_roll_again(fixed):
    place = version(fixed, "1.1.0")
    (whole,), (part,) = (pages_of(place / f"print/{name}roll-36in.pdf") for name in ("", "reprint-"))
    assert "roll-36in.pdf · Sizes / Größen S, M · The whole roll / Die ganze Rolle" in whole
    assert "Reprint" not in whole
    again = "Reprint 1 of 1 / Nachdruck 1 von 1 · The whole roll / Die ganze Rolle"
    assert f"reprint-roll-36in.pdf · Sizes / Größen S, M · {again}" in part
    assert f"36 in · {again}" in part


def pages_of(file: Path) -> list[str]:
    """What poppler reads on each page, in one line."""
    done = subprocess.run(["pdftotext", "-raw", file, "-"], capture_output=True, text=True, check=True)
    return [" ".join(page.split()) for page in done.stdout.split("\f")[:-1]]


def sold_as(file: str) -> str:
    """What a print file of the new version is called in an archive, where folders are words of the name."""
    return f"tea-apron-1.1.0-{file.removeprefix('print/').replace('by-size/', 'size-')}"


def test_the_sheet_names_what_changed_and_nothing_else(fixed):
    place = version(fixed, "1.1.0")
    for language, size, distance in (("en", "Size M", "2.7 mm (0.10 in)"), ("de", "Größe M", "2,7 mm (0,10 in)")):
        for paper in ("a4", "letter"):
            text = text_of(place / f"correction-{language}-{paper}.pdf")
            assert "The side of size M was too straight." in text
            assert size in text
            assert distance in text
            assert not re.search(r"(Size|Größe) S\b", text)
            for file, pages in told_pages(fixed).items():
                if file.startswith("print/"):
                    assert f"{size}, {sold_as(file)}: {', '.join(pages)}" in " ".join(text.split())
    letter = (place / "letter-de.txt").read_text(encoding="utf-8")
    assert "Größe M" in letter
    assert max(map(len, letter.splitlines())) <= 76


def test_the_strip_to_add_has_its_true_size(fixed):
    """The line to measure is 100 mm long, and the dashed line lies on the old cut line."""
    with pikepdf.open(version(fixed, "1.1.0") / "correction-en-a4.pdf") as pdf:
        content = b"".join(stream for page in pdf.pages for stream in streams(page))
    moves = re.findall(rb"([\d.]+) ([\d.]+) m ([\d.]+) ([\d.]+) l", content)
    lengths = [abs(float(x2) - float(x1)) * 25.4 / 72 for x1, y1, x2, y2 in moves if y1 == y2]
    assert any(abs(length - 100) < 0.02 for length in lengths)


def test_archives_hold_the_files_of_the_bundle_under_names_that_say_what_they_are(fixed):
    place = version(fixed, "1.1.0")
    (archive,) = sorted((place / "archives").iterdir())
    with zipfile.ZipFile(io.BytesIO(archive.read_bytes())) as packed:
        names = packed.namelist()
        assert all(re.fullmatch(r"tea-apron-1\.1\.0-[\w.-]+", name, re.ASCII) for name in names)
        assert names[0] == "tea-apron-1.1.0-read-me-first.txt"
        assert packed.read("tea-apron-1.1.0-a4.pdf") == (place / "print/a4.pdf").read_bytes()
        assert packed.read("tea-apron-1.1.0-size-M-a4.pdf") == (place / "print/by-size/M-a4.pdf").read_bytes()
        assert not [name for name in names if name.endswith((".json", ".csv", ".svg", ".toml"))]
        assert {entry.date_time for entry in packed.infolist()} == {(1980, 1, 1, 0, 0, 0)}
        readme = packed.read(names[0]).decode()
    assert "READ THIS FIRST" in readme
    assert "BITTE ZUERST LESEN" in readme


def test_sealing_makes_nothing_anew_and_a_fix_is_told_against_what_was_sold(fixed):
    done = fixed.run("seal")
    assert done.returncode == 0, done.text
    assert "Nothing to be done" in fixed.run().text
    before = (version(fixed, "1.1.0") / "data/changes.json").read_bytes()
    assert json.loads(before)["since"] == "1.0.0"
    archive = next((version(fixed, "1.1.0") / "archives").iterdir())
    whole = archive.read_bytes()
    archive.write_bytes(whole[:-1] + b"\1")
    assert fixed.run("verify").returncode == 1
    archive.write_bytes(whole)
    assert fixed.run("verify").returncode == 0


def test_pages_of_two_fixes_stuck_over_the_first_print_are_the_new_sheet(fixed):
    """A second fix, of the other size, is sold after the first: a buyer has the first print and twice printed some
    pages again. Cut at their windows and laid side by side, they show what the newest file shows."""
    assert fixed.run("seal").returncode == 0
    fixed.edit("sizes/S/skirt.svg", 'cx="140"', 'cx="155"')
    fixed.edit("pattern.toml", 'version = "1.1.0"', 'version = "1.2.0"')
    fixed.edit("CHANGES.md", "# 1.1.0", "# 1.2.0\n\nThe pocket of size S lay too far in.\n\n# 1.1.0")
    done = fixed.run()
    assert done.returncode == 0, done.text
    plans = msgspec.json.decode((fixed.work / "tea-apron/pages.json").read_bytes(), type=list[PagePlan])
    for plan in (plan for plan in plans if plan.format in ("a4", "letter")):
        first, newest = (version(fixed, number) / f"print/{plan.format}.pdf" for number in ("1.0.0", "1.2.0"))
        again = [version(fixed, number) / f"print/reprint-{plan.format}.pdf" for number in ("1.2.0", "1.1.0")]
        at_hand = {file: labels(file) for file in (*again, first)}
        order = labels(newest)
        assert at_hand[first] == order
        assert not set(at_hand[again[0]]) >= set(at_hand[again[1]])
        assert all(len(at_hand[file]) < len(order) for file in again)

        def stuck(_: Path, index: int, dpi: float, order=order, at_hand=at_hand) -> Grey:
            file = next(file for file, pages in at_hand.items() if order[index] in pages)
            return poppler(file, at_hand[file].index(order[index]), dpi)

        windows = [page.window for page in plan.pages if page.window]
        sides = [max(w.left_mm + w.width_mm for w in windows), max(w.top_mm + w.height_mm for w in windows)]
        sheet, old, mended = (
            stitched(file, plan, *sides, render, _STITCHED_DPI)
            for file, render in ((newest, poppler), (first, poppler), (first, stuck))
        )
        assert not differs_only_in_dashes(png(old), png(sheet), _STITCHED_DASH_PIXELS)
        assert differs_only_in_dashes(png(mended), png(sheet), _STITCHED_DASH_PIXELS)


def png(sheet: Grey) -> bytes:
    target = io.BytesIO()
    Image.fromarray(sheet).save(target, "PNG")
    return target.getvalue()
