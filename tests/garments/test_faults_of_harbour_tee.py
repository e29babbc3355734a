"""What a drafter of the tee gets wrong is the first thing that she is told, with its size and its piece."""

import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.checks.causes import places_of
from pipeline.checks.telling import clusters, short_line
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import FindingsFile
from pipeline.work.files import read_json
from tests.release.test_bad_input import findings_of_pattern

TEE = Path(__file__).parent / "harbour-tee"
PLACE = re.compile(r"([\d.]+),([\d.]+)")
Edit = Callable[[Path], None]


def drawing(folder: Path, size: str) -> Path:
    return folder / f"drawing/harbour-tee {size}.svg"


def layer(text: str, title: str) -> tuple[int, int]:
    """Where a piece's layer stands in a drawing."""
    start = text.index(f'inkscape:label="{title}">')
    end = text.find('inkscape:groupmode="layer"', start)
    return start, end if end > 0 else len(text)


def in_layer(folder: Path, size: str, title: str, change: Callable[[str], str]) -> None:
    text = drawing(folder, size).read_text(encoding="utf-8")
    start, end = layer(text, title)
    made = change(text[start:end])
    assert made != text[start:end]
    drawing(folder, size).write_text(text[:start] + made + text[end:], encoding="utf-8")


def in_toml(old: str, new: str, after: str = "") -> Edit:
    def edit(folder: Path) -> None:
        text = (folder / "pattern.toml").read_text(encoding="utf-8")
        start = text.index(after)
        assert old in text[start:]
        (folder / "pattern.toml").write_text(text[:start] + text[start:].replace(old, new, 1), encoding="utf-8")

    return edit


def swapped(folder: Path) -> None:
    texts = {size: drawing(folder, size).read_text(encoding="utf-8") for size in ("40", "42")}
    for own, other in (("40", "42"), ("42", "40")):
        text = texts[other].replace(f"Size {other}", f"Size {own}")
        drawing(folder, own).write_text(text, encoding="utf-8")


def scaled(by: float) -> Edit:
    def edit(folder: Path) -> None:
        text = drawing(folder, "48").read_text(encoding="utf-8")
        size = re.compile(r'width="(\d+)mm" height="(\d+)mm"')
        smaller = size.sub(lambda of: f'width="{int(of[1]) * by}mm" height="{int(of[2]) * by}mm"', text, count=1)
        assert smaller != text
        drawing(folder, "48").write_text(smaller, encoding="utf-8")

    return edit


def pasted(folder: Path) -> None:
    text = drawing(folder, "46").read_text(encoding="utf-8")
    start, end = layer(text, "Long sleeve")
    in_layer(folder, "44", "Long sleeve", lambda _: text[start:end])


def of_outline(change: Callable[[list[tuple[float, float]]], list[tuple[float, float]]]) -> Callable[[str], str]:
    """The places of the first outline in a layer, curves' handles among them, moved."""

    def edit(text: str) -> str:
        path = re.search(r'd="(M[^"]+Z)"', text)
        assert path is not None
        moved = iter(change([(float(x), float(y)) for x, y in PLACE.findall(path[1])]))
        made = PLACE.sub(lambda _: "{:.2f},{:.2f}".format(*next(moved)), path[1])
        return text[: path.start(1)] + made + text[path.end(1) :]

    return edit


def longer(places: list[tuple[float, float]]) -> list[tuple[float, float]]:
    low = max(y for _, y in places)
    return [(x, y + 15 if y > low - 0.05 else y) for x, y in places]


def narrower(places: list[tuple[float, float]]) -> list[tuple[float, float]]:
    right = max(x for x, _ in places)
    return [(x - 5 if x > right - 0.05 else x, y) for x, y in places]


def mirrored(text: str) -> str:
    """The outline and all its marks."""
    path = re.search(r'd="(M[^"]+Z)"', text)
    assert path is not None
    across = [float(x) for x, _ in PLACE.findall(path[1])]
    return PLACE.sub(lambda of: f"{min(across) + max(across) - float(of[1]):.2f},{of[2]}", text)


def caps_exchanged(folder: Path) -> None:
    def change(text: str) -> str:
        return re.sub('label="(front|back)"', lambda of: f'label="{"back" if of[1] == "front" else "front"}"', text)

    for file in sorted((folder / "drawing").iterdir()):
        for title in ("Short sleeve", "Long sleeve"):
            in_layer(folder, file.stem.split(" ")[1], title, change)


def marks_apart(folder: Path) -> None:
    mark = re.compile(r'(label="pocket-outer" cx=")([\d.]+)')
    for file in sorted((folder / "drawing").iterdir()):
        size = file.stem.split(" ")[1]
        in_layer(folder, size, "Front", lambda text: mark.sub(lambda of: f"{of[1]}{float(of[2]) + 8:.2f}", text))


def one_layer(size: str, title: str, change: Callable[[str], str]) -> Edit:
    return lambda folder: in_layer(folder, size, title, change)


FAULTS: dict[str, tuple[Edit, str]] = {
    "two sizes swapped": (swapped, "the drawings of 40 and 42 have probably changed places"),
    "a size scaled": (scaled(0.96), "all of size 48 is about 4 % smaller than the other sizes let expect"),
    "a size in units of 72 to the inch": (scaled(0.75), "scaled, by 0.75: 72 units to the inch, read at 96?"),
    "a sleeve pasted": (pasted, "long-sleeve: size 44 is drawn as size 46"),
    "a sleeve too long": (
        one_layer("42", "Long sleeve", of_outline(longer)),
        "size 42: long-sleeve: underarm-back breaks the grading of its length by 14.9 mm",
    ),
    "a pocket mirrored": (
        one_layer("40", "Pocket", mirrored),
        "pocket: size 40 is drawn as the mirror image of the other sizes",
    ),
    "a facing narrow": (
        one_layer("38", "Pocket facing", of_outline(narrower)),
        "size 38: pocket-facing: mouth is 5.0 mm shorter than in size 34",
    ),
    "caps' notches exchanged": (
        caps_exchanged,
        "notches back and front of short-sleeve.cap have probably changed places",
    ),
    "one cuff": (
        in_toml("count = 2", "count = 1", "[strips.cuff]"),
        "cuff is not cut as often as 2 edges long-sleeve.wrist are there",
    ),
    "a pocket for the other side": (
        in_toml('side = "left"', 'side = "right"', "[pieces.pocket]"),
        "pocket is for the right alone, and its mark on front is for the left",
    ),
    "marks farther apart than the pocket": (
        marks_apart,
        "pocket-inner and pocket-outer are 8.0 mm farther apart than pocket.mouth is long",
    ),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_it_is_the_first_line(fault, tmp_path):
    edit, told = FAULTS[fault]
    shutil.copytree(TEE, tmp_path / "source/harbour-tee")
    edit(tmp_path / "source/harbour-tee")
    findings_of_pattern(tmp_path / "source", "harbour-tee", tmp_path / "work")
    found = read_json(tmp_path / "work/checked.json", FindingsFile).findings
    pattern, _ = load_pattern(tmp_path / "source/harbour-tee")
    of_garment = [each for each in found if each.check != "texts-drawable"]  # told of the sheet, whatever is drawn
    first = clusters(of_garment, (pattern.sizes,), places_of(pattern))[0]
    assert told in short_line([first], (pattern.sizes,))
