"""Names become files of a bundle and folders of a run: they stay apart on every computer."""

from pathlib import Path

import pytest

from pipeline.drawing.lay_names import lay_file_name
from pipeline.drawing.names import SHEET, picture_name
from pipeline.lays.items import LayRequest
from pipeline.masters.toml.load import load_pattern
from pipeline.masters.toml.names import folder_fault
from pipeline.rules.sources import RefusalError, pattern_names

HEAD = """
format = 1
[pattern]
title = "Bag"
version = "1.0.0"
maker = "Invented Workroom"
contact = "help@workroom.example"
sizes = {sizes}
base = {base}
languages = ["en"]
[materials.shell]
title = "cloth"
widths = ["140 cm"]
"""
PIECE = '[pieces.{0}]\ntitle = "Part"\nallowance = "1 cm"\n'
MATERIAL = '[materials.{0}]\ntitle = "cloth"\nwidths = {1}\n'

WIDTHS = [f"{width} cm" for width in range(20, 40)]


def told(folder: Path, text: str = "", sizes: str = '["s", "m"]', base: str = '"s"') -> list[tuple[str, str | None]]:
    folder.mkdir(exist_ok=True)
    (folder / "pattern.toml").write_text(HEAD.format(sizes=sizes, base=base) + text, encoding="utf-8")
    return [(finding.code, finding.object) for finding in load_pattern(folder)[1]]


def pieces(*names: str) -> str:
    return "".join(PIECE.format(name) for name in names)


@pytest.mark.parametrize(
    ("text", "code", "key"),
    [
        (pieces("front", "Front"), "alike-but-capitals", "pieces.Front"),
        (pieces("belt") + '[strips.Belt]\ntitle = "Belt"\ncut = [{ material = "shell", count = 1 }]\nwidth = "3 cm"\n'
         'make = "flat"\nlength = "9 cm"\n', "alike-but-capitals", "strips.Belt"),
        (MATERIAL.format("Shell", '["9 cm"]'), "alike-but-capitals", "materials.Shell"),
        ('[views.a]\ntitle = "a"\n[views.A]\ntitle = "A"\n', "alike-but-capitals", "views.A"),
        ('[size-sets]\nS = ["s"]\n', "alike-but-capitals", "size-sets.S"),
        (pieces("con"), "file-name", "pieces.con"),
        (pieces("NUL"), "file-name", "pieces.NUL"),
        (pieces("lpt9"), "file-name", "pieces.lpt9"),
        (pieces("--log"), "file-name", "pieces.--log"),
        (MATERIAL.format("-x", '["9 cm"]'), "file-name", "materials.-x"),
        (MATERIAL.format("shell-1400", '["15 cm"]') , None, None),
        (MATERIAL.format("x", '["90 cm", "900.2 mm"]'), "same-file", "materials.x"),
        (MATERIAL.format("shell-1400", '["15 cm"]') + MATERIAL.format("x", '["9 cm"]'), None, None),
        ("".join(MATERIAL.format(f"m{n}", WIDTHS) for n in range(60)), "too-many", "materials"),
        (pieces("sheet", "auxiliary", "com10", "front-", "s"), None, None),
    ],
)  # fmt: skip
def test_names_in_a_pattern(text: str, code: str | None, key: str | None, tmp_path: Path) -> None:
    assert told(tmp_path / "bag", text) == ([(code, key)] if code else [])


@pytest.mark.parametrize(
    ("sizes", "code", "key"),
    [
        ('["S", "s"]', "alike-but-capitals", "pattern.sizes[2]"),
        ('["S", "--log"]', "file-name", "pattern.sizes[2]"),
        ('["S", "Con"]', "file-name", "pattern.sizes[2]"),
    ],
)
def test_sizes(sizes: str, code: str, key: str, tmp_path: Path) -> None:
    assert told(tmp_path / "bag", sizes=sizes, base='"S"') == [(code, key)]


def test_two_lays_never_share_a_file(tmp_path: Path) -> None:
    """A size "150-s" of the cloth "shell" in 1400 mm, and a size "s" of the cloth "shell-1400" in 150 mm."""
    text = MATERIAL.format("shell-1400", '["15 cm"]')
    assert told(tmp_path / "bag", text, '["s", "150-s"]') == [("same-file", "materials.shell-1400")]
    wide, narrow = (
        LayRequest(
            size=size, material=material, width_mm=width, usable_mm=width, way="open", one_way=False,
            free_turn=False, gap_mm=0, items=(),
        )
        for size, material, width in (("150-s", "shell", 1400), ("s", "shell-1400", 150))
    )  # fmt: skip
    assert lay_file_name(wide) == lay_file_name(narrow)


@pytest.mark.parametrize("name", ["-x", "aux", "NUL"])
def test_a_folder_that_a_run_cannot_keep_apart_is_refused_before_it(name: str, tmp_path: Path) -> None:
    assert folder_fault(name)
    assert "bad-name" in [code for code, _ in told(tmp_path / name)]
    with pytest.raises(RefusalError, match="Rename it"):
        pattern_names(tmp_path, None)


def test_a_piece_called_sheet_has_a_picture_of_its_own() -> None:
    assert [picture_name(piece) for piece in ("front", "sheet", "Sheet")] == [
        "front.png",
        "sheet.piece.png",
        "Sheet.piece.png",
    ]
    assert SHEET == "sheet.png"
