"""Layers of pieces that hardly grade: a size whose lines are almost another size's is not that other size."""

from pathlib import Path

from pipeline.bundle.built import Built
from pipeline.bundle.built_layers import built_sizes
from pipeline.masters.toml.load import load_pattern
from pipeline.steps import data
from tests.bundle.conftest import FOLDER
from tests.by_steps import cut_sizes, print_all_sizes

SMALL = {"tip": "M320 20 V60", "lower": "M320 60 H20", "end": "M20 60 V20"}
TAB = "M320 60 H120 V65 H100 V60 H20"
BOWED = {"tip": "M320 20 C317 30 317 50 320 60", "lower": TAB, "end": "M20 60 C23 50 23 30 20 20"}
MORE_BOWED = {"tip": "M320 20 C314 30 314 50 320 60", "lower": TAB, "end": "M20 60 C26 50 26 30 20 20"}


def test_a_size_whose_own_lines_are_as_large_as_another_size_is_not_that_size(tmp_path: Path):
    """A band that hardly grades: the middle size has but its two ends to itself, as far apart as the first one's."""
    source = tmp_path / "tea-apron"
    text = (FOLDER / "pattern.toml").read_text().replace('["S", "M"]', '["S", "M", "L"]')
    for size, band in (("S", SMALL), ("M", BOWED), ("L", MORE_BOWED)):
        (source / "sizes" / size).mkdir(parents=True)
        (source / f"sizes/{size}/skirt.svg").write_text((FOLDER / "sizes/S/skirt.svg").read_text())
        drawing = (FOLDER / "sizes/S/band.svg").read_text()
        for edge, path in band.items():
            drawing = drawing.replace(SMALL[edge], path)
        (source / f"sizes/{size}/band.svg").write_text(drawing)
    (source / "pattern.toml").write_text(
        text.replace('allowance = "1 cm"\nedges.end = { fold = true }\n', 'allowance = "0 mm"\n')
    )
    told = [outcome for outcome in built_sizes(printed(source, tmp_path)) if outcome.severity != "skip"]
    assert [(outcome.code, outcome.size, outcome.found) for outcome in told] == []


def printed(source: Path, work: Path) -> Built:
    """A bundle's folder with one print file and the measures of its pieces."""
    pattern, findings = load_pattern(source)
    assert pattern is not None, findings
    files = cut_sizes(source, work, pattern.sizes)
    print_all_sizes(source, work, files, ("a0",), work / "bundle/print")
    data.main(source, files, work / "bundle/data/pieces.json")
    return Built(pattern, work / "bundle")
