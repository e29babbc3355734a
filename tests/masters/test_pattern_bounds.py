"""Work on a `pattern.toml` is bounded by limits and not by the file."""

import time
from pathlib import Path

import pytest

from pipeline.masters.toml.faults import MOST_FINDINGS
from pipeline.masters.toml.load import load_pattern
from tests.masters.pattern_files import GOOD, write

BOMBS = {
    "many keys": lambda: ("more-findings", "\n".join(f"k{i} = 1" for i in range(80_000))),
    "many tables": lambda: ("more-findings", "\n".join(f"[t{i}]" for i in range(80_000))),
    "many pieces": lambda: ("too-many", GOOD + "\n".join(f"[pieces.p{i}]" for i in range(50_000))),
    "many sizes": lambda: ("too-many", GOOD.replace("sizes ", f"sizes = {[str(i) for i in range(90_000)]} #", 1)),
    "many widths": lambda: ("too-many", GOOD.replace("widths", f"widths = {[f'{i} cm' for i in range(1, 202)]} #", 1)),
    "many edges in a seam": lambda: ("too-many", GOOD + "[seams.long]\na = ['x']\nb = " + str(["back.hem"] * 1000)),
    "many parts of a key": lambda: ("long-key", "a." * 400_000 + "a = 1"),
    "many parts of a table": lambda: ("long-key", "[" + "'a' . " * 150_000 + "a]"),
    "many parts in an inline table": lambda: ("long-key", 'x = { "a".' + "a." * 400_000 + "a = 1 }"),
    "many waivers": lambda: ("too-many", GOOD + "\n[[waivers]]" * 60_000),
    "many unknown names": lambda: (
        "more-findings",
        GOOD + "".join(f"[seams.s{i}]\na = {[f'p{j}.x' for j in range(30)]}\nb = ['x.y']\n" for i in range(450)),
    ),
}


@pytest.mark.parametrize("name", BOMBS)
def test_work_is_bounded_by_limits_and_not_by_the_file(name: str, tmp_path: Path) -> None:
    code, text = BOMBS[name]()
    folder = write(tmp_path, text)
    began = time.process_time()
    pattern, findings = load_pattern(folder)
    assert time.process_time() - began < 5
    assert pattern is None
    assert code in [finding.code for finding in findings]
    assert len(findings) <= MOST_FINDINGS + 1
