"""`[print] black = true`: no colour in any print file, and the sizes still told apart."""

from pathlib import Path

import pikepdf
import pytest

from pipeline.drawing.styles import NESTED, SizeCodes, nested
from pipeline.masters.toml.load import load_pattern
from pipeline.steps import by_size
from tests.by_steps import apron_with, cut_sizes, print_all_sizes

FORMATS = ("a4", "a0")
LOGO = '<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="20mm"><path fill="#1f5a57" d="M0,0h9v9z"/></svg>'
SETS_COLOUR = {"rg": 3, "RG": 3, "k": 4, "K": 4, "sc": None, "SC": None, "scn": None, "SCN": None}


def built(root: Path, black: bool) -> list[Path]:
    work, place = root / "work", root / "print"
    more = f"[print]\nformats = {list(FORMATS)}\nblack = {str(black).lower()}\n".replace("'", '"')
    source = apron_with(root / "tea-apron", more)
    (source / "booklet").mkdir()
    (source / "booklet/logo.svg").write_text(LOGO, encoding="utf-8")
    pattern, findings = load_pattern(source)
    assert pattern is not None, findings
    files = cut_sizes(source, work, pattern.sizes)
    print_all_sizes(source, work, files, FORMATS, place)
    by_size.main(source, work, files[0], [], place, work / "projected", work / "alone.json", work / "laid.json")
    return sorted(place.glob("*.pdf"))


def coloured(file: Path) -> set[tuple[float, ...]]:
    """Every colour that any content stream of the file sets and that is no grey."""
    found = set()
    with pikepdf.open(file) as document:
        streams = [entry for entry in document.objects if isinstance(entry, pikepdf.Stream)]
        drawn = [each for each in streams if each.get("/Type") != "/Metadata" and "/Length1" not in each]
        for stream in [*document.pages, *(each for each in drawn if each.get("/Subtype") == "/Form")]:
            for operands, operator in pikepdf.parse_content_stream(stream):
                if str(operator) in SETS_COLOUR:
                    values = tuple(round(float(one), 3) for one in operands if not isinstance(one, pikepdf.Name))
                    if len(set(values)) > 1:
                        found.add(values)
    return found


@pytest.mark.parametrize("black", [True, False])
def test_a_black_file_has_no_colour(tmp_path: Path, black: bool) -> None:
    files = built(tmp_path, black)
    assert [file.name for file in files] == ["S-a0.pdf", "S-a4.pdf", "a0.pdf", "a4.pdf"]
    for file in files:
        found, logo = coloured(file), {(0.122, 0.353, 0.341)}
        expected = logo if file.name.startswith("S-") else found | logo
        assert found == (set() if black else expected), "one size has the logo's colour and no other"
        assert black or file.name.startswith("S-") or len(found) > 1


def test_sizes_differ_by_their_dashes_alone() -> None:
    numbers = {str(number): number for number in range(1, 101)}
    codes = SizeCodes(numbers, {(size,): number for size, number in numbers.items()})
    looks = [nested(True).cut((size,), codes) for size in numbers]
    assert {look.colour for look in looks} == {"#000000"}
    assert len({look.dash_mm for look in looks}) == len(numbers)
    assert nested(False) is NESTED
