"""A strip that the pattern wants drawn is a rectangle in every file; one that it does not want drawn is in none."""

from pathlib import Path

import pytest
from pypdf import PdfReader

from pipeline.bundle.promised import projected
from pipeline.cutting.strips import strip_cut_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pieces import SizeFile
from pipeline.model.sums import lengths_of, sum_mm
from pipeline.sheets.layout import Layout
from pipeline.steps import by_size, projector
from pipeline.work.files import read_json
from tests.by_steps import apron_with, cut_sizes, print_all_sizes

FORMATS = ("a4", "letter", "a0", "roll-36in")
STRIPS = """
[print]
formats = ["a4", "letter", "a0", "roll-36in", "projector"]

[strips.loop]
title = { en = "Loop", de = "Schlaufe" }
cut = [{ material = "shell", count = 3 }]
width = "10 mm"
make = "doubled"
length = "0.5 x skirt.waist"
drawn = LOOP

[strips.tie]
title = { en = "Tie", de = "Bindeband" }
cut = [{ material = "tape", count = 7 }]
width = "30 mm"
make = "doubled"
length = "45 cm"
allowance = "1 cm"
drawn = TIE

[materials.tape]
title = { en = "tape cloth", de = "Bandstoff" }
widths = ["110 cm"]
"""
BLOCKS = {"loop": "Cut 3 in", "tie": "Cut 7 in"}
"""What is written on a drawn strip."""
LISTED = {"loop": "3 × main cloth", "tie": "7 × tape cloth"}
"""What is told of one that is not drawn."""


def built(root: Path, loop: bool, tie: bool) -> Path:
    """All files that show pieces, by the steps themselves, with the layouts beside them."""
    strips = STRIPS.replace("LOOP", str(loop).lower()).replace("TIE", str(tie).lower())
    source, work, place = apron_with(root / "tea-apron", strips), root / "work", root / "bundle"
    pattern, findings = load_pattern(source)
    assert pattern is not None, findings
    files = cut_sizes(source, work, pattern.sizes)
    print_all_sizes(source, work, files, FORMATS, place / "print")
    for size, file in zip(pattern.sizes, files, strict=True):
        alone = place / "print/by-size", place / "project/by-size", work / f"pages-{size}.json", work / "laid.json"
        by_size.main(source, work, file, [], *alone)
    for material in projected(pattern):
        projector.main(source, work, files, [], material, place / "project", work / "laid.json")
    return root


@pytest.fixture(scope="module", params=[(True, False), (True, True), (False, False)])
def choice(request, tmp_path_factory) -> tuple[Path, dict[str, bool]]:
    loop, tie = request.param
    return built(tmp_path_factory.mktemp("strips"), loop, tie), {"loop": loop, "tie": tie}


def test_every_file_shows_those_that_are_drawn_and_no_other(choice: tuple[Path, dict[str, bool]]) -> None:
    root, drawn = choice
    material = {"loop": "shell", "tie": "tape"}
    files = sorted((root / "bundle").rglob("*.pdf"))
    names = [file.relative_to(root / "bundle").as_posix() for file in files]
    assert len([name for name in names if name.startswith("print/")]) == len(FORMATS) * 3
    assert len([name for name in names if name.startswith("project/")]) == (12 if drawn["tie"] else 6)
    for file, name in zip(files, names, strict=True):
        pages = [page.extract_text() for page in PdfReader(file).pages]
        whole = " ".join(" ".join(pages).split())
        for strip, block in BLOCKS.items():
            here = not name.startswith("project/") or material[strip] in name
            assert (block in whole) == (drawn[strip] and here), (name, strip)
            assert (LISTED[strip] in whole) == (not drawn[strip] and here), "told as a strip without a piece"


def test_a_drawn_strip_lies_in_every_layout_as_large_as_it_is_cut(choice: tuple[Path, dict[str, bool]]) -> None:
    root, drawn = choice
    for name, arranged in read_json(root / "work/layouts.json", dict[str, Layout]).items():
        placed = {place.piece for place in arranged.placements}
        assert {strip for strip in drawn if strip in placed} == {strip for strip, here in drawn.items() if here}, name
    pattern, _ = load_pattern(root / "tea-apron")
    assert pattern is not None
    for size in pattern.sizes:
        cuts = {cut.piece: cut for cut in read_json(root / f"work/{size}.json", SizeFile).pieces}
        for strip in (name for name, here in drawn.items() if here):
            length_mm = sum_mm(pattern.strips[strip].length, lengths_of(pattern, size, cuts))
            assert length_mm is not None
            wide, long = strip_cut_size(pattern.strips[strip], length_mm)
            xs, ys = zip(*cuts[strip].cut_outline, strict=True)
            assert (max(xs) - min(xs), max(ys) - min(ys)) == pytest.approx((wide, long))


def test_the_start_page_tells_the_others(choice: tuple[Path, dict[str, bool]]) -> None:
    root, drawn = choice
    for name in ("a4", "letter", "by-size/S-a4", "by-size/M-letter"):
        start = " ".join(PdfReader(root / f"bundle/print/{name}.pdf").pages[0].extract_text().split())
        assert ("Strips without a pattern piece" in start) == (not all(drawn.values()))
        for strip, listed in LISTED.items():
            assert (listed in start) == (not drawn[strip]), name
        for title in ("Loop / Schlaufe", "Tie / Bindeband"):
            assert title in start, "drawn strips stand among the pieces"
