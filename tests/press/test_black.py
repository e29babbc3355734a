"""`[print] black = true`: no colour in any print file, and the sizes still told apart."""

from pathlib import Path

import pikepdf
import pytest

from pipeline.drawing.styles import NESTED, nested
from pipeline.masters.load import load_pattern
from pipeline.steps import by_size, drawings, layout, pieces, print_file

APRON = Path(__file__).resolve().parents[1] / "patterns/tea-apron"
FORMATS = ("a4", "a0")
SETS_COLOUR = {"rg": 3, "RG": 3, "k": 4, "K": 4, "sc": None, "SC": None, "scn": None, "SCN": None}


def built(root: Path, black: bool) -> list[Path]:
    source, work, place = root / "tea-apron", root / "work", root / "print"
    source.mkdir()
    (source / "sizes").symlink_to(APRON / "sizes")
    text = (APRON / "pattern.toml").read_text(encoding="utf-8")
    more = f"[print]\nformats = {list(FORMATS)}\nblack = {str(black).lower()}\n".replace("'", '"')
    (source / "pattern.toml").write_text(text[: text.index("[print]")] + more, encoding="utf-8")
    pattern, findings = load_pattern(source)
    assert pattern is not None, findings
    files = [work / f"{size}.json" for size in pattern.sizes]
    for size, file in zip(pattern.sizes, files, strict=True):
        pieces.main(source, size, file, work / f"read-{size}.json")
    layout.main(source, files, [], work / "layout.json", work / "layouts.json", work / "pages.json")
    drawn = work / "drawings.json", work / "drawings.pdf", work / "map.json"
    drawings.main(source, work, files, work / "layouts.json", work / "pages.json", *drawn)
    for name in FORMATS:
        target = place / f"{name}.pdf"
        print_file.main(source, work, name, *drawn, work / "layouts.json", work / "pages.json", target)
    by_size.main(source, work, files[0], [], place, work / "projected", work / "alone.json")
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
        assert bool(coloured(file)) == (not black and not file.name.startswith("S-")), file.name


def test_sizes_differ_by_their_dashes_alone() -> None:
    numbers = {str(number): number for number in range(1, 101)}
    looks = [nested(True).cut((size,), numbers) for size in numbers]
    assert {look.colour for look in looks} == {"#000000"}
    assert len({look.dash_mm for look in looks}) == len(numbers)
    assert nested(False) is NESTED
