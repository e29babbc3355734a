"""A pattern of three pieces whose masters lie in folders of sizes, of a set and of all."""

from pathlib import Path

from pipeline.masters.read_size import read_size
from pipeline.masters.references import check_references
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from tests.masters.pattern_folder import RECTANGLE, pattern_folder

PIECES = """
[pieces.fusing]
title = "Fusing"
outline_of = "front"
notches.dart-a = "triple"
[pieces.front]
title = "Front"
allowance = "1 cm"
cut = [{ material = "shell", count = 2 }]
notches.dart-a = "double"
notches.dart-b = "double"
lines.level = { kind = "level" }
[pieces.tab]
title = "Tab"
sizes = ["s"]
allowance = "1 cm"
"""
MASTERS = dict.fromkeys(
    ["sizes/all/front.svg", "sizes/small/front.svg", "sizes/s/front.svg", "sizes/s/tab.svg"], RECTANGLE
)


def load(folder: Path) -> Pattern:
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    return pattern


SEAM = '[seams.side]\na = ["front.right", "front.top"]\nb = ["front.left"]\n'


def references(tmp_path: Path, masters: dict[str, str], text: str = PIECES + SEAM):
    folder = pattern_folder(tmp_path, text, masters)
    pattern = load(folder)
    return check_references(pattern, {size: read_size(pattern, folder, size)[0] for size in pattern.sizes})
