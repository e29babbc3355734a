"""One fix of each kind after a sale: what is told is what was changed, and nothing else.

All are made on one pattern that was sold: the small one with a bag of another cloth beside it, and a booklet.
"""

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pikepdf
import pytest

from tests.release.conftest import ROOT, Workroom
from tests.release.test_correction import differs_only_in_dashes

FORMATS = 'formats = ["a4", "letter", "a0", "roll-36in"]'
BAG = """
[materials.ticking]
title = { en = "ticking", de = "Inlett" }
widths = ["90 cm"]
selvedge = "1 cm"

[pieces.bag]
title = { en = "Bag", de = "Beutel" }
cut = [{ material = "ticking", count = 1 }]
allowance = "1 cm"

[seams.waist]"""
BAG_DRAWN = """<svg xmlns="http://www.w3.org/2000/svg" width="160mm" height="200mm" viewBox="0 0 160 200">
  <g id="seam"><path id="top" d="M20 20 H120"/><path id="side" d="M120 20 V160"/>
    <path id="bottom" d="M120 160 H20"/><path id="other" d="M20 160 V20"/></g>
  <g id="grain"><path d="M60 140 V40"/></g>
</svg>
"""
STEPS = {
    "en": "# Sew\n\nPress first.\n\n1. Sew {{ seam waist }}.\n\n2. Turn the hem up.\n\n3. Sew {{ piece bag }}.\n",
    "de": "# Nähen\n\nErst bügeln.\n\n1. {{ seam waist }} nähen.\n\n2. Den Saum umschlagen.\n\n"
    "3. {{ piece bag }} nähen.\n",
}
Told = set[tuple[str, str | None, str, str | None]]


@pytest.fixture(scope="module")
def sold(tmp_path_factory) -> Workroom:
    room = Workroom(tmp_path_factory.mktemp("sold") / "Élise's patterns")
    room.edit("pattern.toml", FORMATS, 'formats = ["a4"]\nby_size = false')
    room.edit("pattern.toml", "\n[seams.waist]", BAG)
    (room.pattern / "sizes/all").mkdir()
    (room.pattern / "sizes/all/bag.svg").write_text(BAG_DRAWN, encoding="utf-8")
    (room.pattern / "booklet").mkdir()
    for language, text in STEPS.items():
        (room.pattern / f"booklet/{language}.md").write_text(text, encoding="utf-8")
    done = room.run("seal")
    assert done.returncode == 0, done.text
    return room


def in_toml(old: str, new: str) -> Callable[[Workroom], None]:
    return lambda room: room.edit("pattern.toml", old, new)


def in_master(old: str, new: str) -> Callable[[Workroom], None]:
    return lambda room: room.edit("sizes/M/skirt.svg", old, new)


def in_booklet(room: Workroom) -> None:
    room.edit("booklet/en.md", "Turn the hem up.", "Turn the hem up twice.")
    room.edit("booklet/de.md", "Den Saum", "Den Saum zweimal")


def one_step_more(room: Workroom) -> None:
    """Those after it have other numbers, and say what they said."""
    room.edit("booklet/en.md", "2. Turn", "2. Press.\n\n3. Turn")
    room.edit("booklet/de.md", "2. Den", "2. Bügeln.\n\n3. Den")


def one_size_less(room: Workroom) -> None:
    shutil.rmtree(room.pattern / "sizes/S")
    room.edit("pattern.toml", 'sizes = ["S", "M"]', 'sizes = ["M"]')
    room.edit("pattern.toml", 'base = "S"', 'base = "M"')


def one_size_more(room: Workroom) -> None:
    """L is wider than M by as much as M is than S."""
    for piece in ("skirt", "band"):
        text = (room.pattern / f"sizes/M/{piece}.svg").read_text(encoding="utf-8")
        for old, new in (("340", "360"), ("370", "390"), ("280 488", "300 488"), ("C360 170 360", "C360 170 380")):
            text = text.replace(old, new)
        text = text.replace("180.0", "190.0")
        (room.pattern / "sizes/L").mkdir(exist_ok=True)
        (room.pattern / f"sizes/L/{piece}.svg").write_text(text, encoding="utf-8")
    room.edit("pattern.toml", 'sizes = ["S", "M"]', 'sizes = ["S", "M", "L"]')


def one_piece_less(room: Workroom) -> None:
    (room.pattern / "sizes/all/bag.svg").unlink()
    room.edit("pattern.toml", BAG, "\n[seams.waist]")
    for language, text in STEPS.items():
        room.edit(f"booklet/{language}.md", text[text.index("\n3.") :], "")


def longer_lays(room: Workroom) -> None:
    """As a designer may who lays by hand: every lay takes 10 cm more."""
    file = room.pattern / "lays.json"
    kept = json.loads(file.read_bytes())
    for lay in kept["lays"].values():
        lay["length_mm"] += 100.0
        max(lay["placed"], key=lambda placed: placed["x_mm"])["x_mm"] += 100.0
    file.write_text(json.dumps(kept), encoding="utf-8")


def both(what: str, piece: str | None, name: str) -> Told:
    return {(what, piece, name, size) for size in ("S", "M")}


FIXES: dict[str, tuple[Callable[[Workroom], None], Told, str]] = {
    "edge": (
        in_master("360 320 370 470", "366 320 370 470"),
        {("edge", "skirt", "side", "M"), ("edge", "skirt", "hem", "M")},  # which is turned up along the side
        "1.1.0",
    ),
    "notch": (in_master('cx="180.0"', 'cx="180.8"'), {("notch", "skirt", "mid-waist on waist", "M")}, "1.1.0"),
    "mark": (in_master('cx="140"', 'cx="150"'), {("mark", "skirt", "pocket", "M")}, "1.1.0"),
    "label": (in_toml('en = "Skirt"', 'en = "Skirt panel"'), {("text", None, "pieces.skirt.title, en", None)}, "1.0.1"),
    "text": (
        in_toml("For your own sewing.", "For your own sewing only."),
        {("text", None, "pattern.licence, en", None)},
        "1.0.1",
    ),
    "allowance": (
        in_toml('edges.hem = { allowance = "4 cm"', 'edges.hem = { allowance = "39 mm"'),
        both("said", "skirt", "allowance of hem") | both("edge", "skirt", "hem"),
        "1.1.0",
    ),
    "count": (
        in_toml('"ticking", count = 1', '"ticking", count = 2'),
        both("said", "bag", "count in ticking"),
        "1.1.0",
    ),
    "cloth width": (
        in_toml('widths = ["110 cm", "140 cm"]', 'widths = ["110 cm", "140 cm", "150 cm"]'),
        both("cloth", None, "shell 1500 mm wide"),
        "1.1.0",
    ),
    "saved lay": (
        longer_lays,
        both("cloth", None, "shell 1100 mm wide") | both("cloth", None, "shell 1400 mm wide"),
        "1.1.0",
    ),
    "booklet step": (
        in_booklet,
        {("text", None, "booklet step 2, en", None), ("text", None, "booklet step 2, de", None)},
        "1.0.1",
    ),
    "booklet step added": (
        one_step_more,
        {("text", None, "booklet step 2, en", None), ("text", None, "booklet step 2, de", None)},
        "1.0.1",
    ),
    "size added": (one_size_more, {("size", None, "L", None)}, "2.0.0"),
    "size taken away": (one_size_less, {("size", None, "S", None)}, "2.0.0"),
    "piece taken away": (
        one_piece_less,
        {
            ("piece", None, "bag", None),
            *both("cloth", None, "ticking 900 mm wide"),
            ("text", None, "materials.ticking.title, en", None),
            ("text", None, "materials.ticking.title, de", None),
            ("text", None, "booklet step 3, en", None),
            ("text", None, "booklet step 3, de", None),
        },
        "2.0.0",
    ),
    "what customers are told": (
        lambda room: room.edit("CHANGES.md", "# 1.0.0", "# 1.0.0\n\nMore."),
        set(),
        "1.0.1",
    ),
}


@pytest.mark.parametrize("kind", FIXES)
def test_what_is_told_is_what_was_changed(sold, kind, tmp_path):
    fix, expected, number = FIXES[kind]
    aside = shutil.copytree(sold.pattern, tmp_path / "aside")
    try:
        fix(sold)
        done = sold.run("compare")
        assert done.returncode == 0, done.text
        found = json.loads((sold.work / "tea-apron/changes.json").read_bytes())
        told = {(each["what"], each["piece"], each["name"], each["size"]) for each in found["changes"]}
        assert {each for each in told if each[0] != "page"} == expected
        assert found["next_version"] == number
        hold_pages(sold, found)
    finally:
        shutil.rmtree(sold.pattern)
        shutil.move(aside, sold.pattern)


def test_another_font_is_told_of_every_page_that_has_text_and_of_nothing_else(sold, tmp_path):
    """A fix of the program: it is run from a copy in which the regular letters are the bold ones."""
    shutil.copytree(ROOT / "pipeline", tmp_path / "program/pipeline", ignore=shutil.ignore_patterns("__pycache__"))
    shutil.copy(ROOT / "Snakefile", tmp_path / "program")
    fonts = tmp_path / "program/pipeline/drawing/font"
    (regular,), (bold,) = fonts.glob("*Regular.ttf"), fonts.glob("*Bold.ttf")
    shutil.copy(bold, regular)
    places = [f"{name}={getattr(sold, name)}" for name in ("source", "release", "work")]
    command = [sys.executable, "-m", "snakemake", "-s", str(tmp_path / "program/Snakefile"), "--cores", "2", "compare"]
    environment = {**os.environ, "PYTHONPATH": ""}
    done = subprocess.run([*command, "--config", *places], cwd=sold.folder, env=environment, check=False)
    assert done.returncode == 0
    found = json.loads((sold.work / "tea-apron/changes.json").read_bytes())
    assert {each["what"] for each in found["changes"]} == {"page"}
    assert found["next_version"] == "1.0.1"
    hold_pages(sold, found)
    sold.run()


def hold_pages(room: Workroom, found: dict) -> None:
    """Pages that are named are other pages; of the others every stream is the same, byte for byte.

    But where a piece changed, its drawing is another one wherever it is shown: a page that shows a part of it which is
    as it was has the same around the pattern, byte for byte, and looks the same.
    """
    told = {each["near"] for each in found["changes"] if each["name"] == "print/a4.pdf"}
    assert {each["name"] for each in found["changes"] if each["what"] == "page"} <= {"print/a4.pdf"}
    files = room.bundle / "print/a4.pdf", room.work / "tea-apron/out/print/a4.pdf"
    before, after = map(streams, files)
    for label in {*before, *after}:
        one, other = before.get(label), after.get(label)
        if label in told:
            assert one != other, label
        elif one != other:
            assert one[1] == other[1], label
            assert differs_only_in_dashes(*(picture(file, [*before].index(label)) for file in files)), label


def picture(file: Path, number: int) -> bytes:
    """A page in pixels, by its place in the file."""
    page = str(number + 1)
    command = ["pdftoppm", "-r", "80", "-gray", "-f", page, "-l", page, str(file)]
    return subprocess.run(command, capture_output=True, check=True).stdout


def streams(file: Path) -> dict[str, tuple[bytes, ...]]:
    """By a page's label its own content, then every form that it paints, in their order: what stands around the pattern
    comes first."""
    with pikepdf.open(file) as pdf:
        labels = [str(pdf.Root.PageLabels.Nums[2 * n + 1].P) for n in range(len(pdf.pages))]
        found = {}
        for label, page in zip(labels, pdf.pages, strict=True):
            content, forms = page.Contents.read_bytes(), page.Resources.XObject
            painted = re.findall(rb"(/[\w.-]+) Do\b", content)
            found[label] = (content, *(forms[name.decode()].read_bytes() for name in painted))
    return found
