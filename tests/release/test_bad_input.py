"""What a designer gets wrong is refused: each fault of bad_input/cases.toml, and files made to exhaust the reader.

Every fault goes through the real steps (read, cut, check) in this process; three also through the real command.
"""

import json
import shutil
import subprocess
import sys
import time
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from pipeline.rules.sources import found_file, pattern_names, read_source, refused
from pipeline.steps import findings as findings_step
from pipeline.steps import pieces as pieces_step
from tests.release.conftest import ROOT, SMALL, Workroom

DATA = Path(__file__).parent / "bad_input"
CASES: dict[str, dict[str, Any]] = tomllib.loads((DATA / "cases.toml").read_text(encoding="utf-8"))


def spoil(folder: Path, case: dict[str, Any]) -> None:
    """Put a fault into a copy of the small pattern."""
    target = folder / case["file"]
    if case.get("gone"):
        target.unlink()
    elif "whole" in case:
        shutil.copyfile(DATA / case["whole"], target)
    elif "old" in case:
        text = target.read_text(encoding="utf-8")
        assert text.count(case["old"]) == 1, "the text to replace must stand there once"
        target.write_text(text.replace(case["old"], case["new"]), encoding="utf-8")
    else:
        target.write_text(case["new"], encoding="utf-8")


def findings_of(source: Path, work: Path) -> list[dict[str, Any]]:
    """Read, cut and check as a run does, with the steps' own functions; what findings.json then says."""
    (name,) = pattern_names(source, None)
    return findings_of_pattern(source, name, work)


def findings_of_pattern(source: Path, name: str, work: Path) -> list[dict[str, Any]]:
    """The same of one of several patterns."""
    pattern = read_source(source / name, work)
    read, pieces = [], []
    if not refused(pattern):
        for size in pattern.pattern.sizes:
            read.append(work / f"read/{size}.json")
            pieces.append(work / f"pieces/{size}.json")
            pieces_step.main(pattern.folder, size, pieces[-1], read[-1])
    findings_step.main(pattern.folder, found_file(pattern), work / "checked.json", read, pieces, work / "proof")
    return json.loads((work / "checked.json").read_text(encoding="utf-8"))["findings"]


def blocking(findings: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [finding for finding in findings if finding["severity"] == "block"]


def place_of(finding: dict[str, Any]) -> str:
    """What a finding names in the file: an object or key, a place, a piece; the file itself where that is too much."""
    return finding["object"] or finding["where"] or finding["piece"] or finding["file"]


def copied(tmp_path: Path) -> Path:
    source = tmp_path / "source"
    shutil.copytree(SMALL, source / "tea-apron")
    return source


def test_there_are_at_least_forty_faults():
    assert len(CASES) >= 40


def test_the_pattern_without_a_fault_has_nothing_that_blocks(tmp_path):
    assert blocking(findings_of(copied(tmp_path), tmp_path / "work")) == []


@pytest.mark.parametrize("name", CASES)
def test_a_fault_is_refused_with_file_object_found_and_expected(name, tmp_path):
    case, source = CASES[name], copied(tmp_path)
    spoil(source / "tea-apron", case)
    began = time.process_time()
    told = blocking(findings_of(source, tmp_path / "work"))
    assert time.process_time() - began < 5
    named = [(finding["check"], finding["code"], finding["file"], place_of(finding)) for finding in told]
    assert (case["check"], case["code"], case.get("told_in", case["file"]), case["object"]) in named
    for finding in told:
        lacking = [key for key in ("file", "found", "allowed", "message", "remedy") if not finding[key]]
        assert not lacking, finding


BOMBS: dict[str, tuple[str, Callable[[], str]]] = {
    "lists in lists": ("pattern.toml", lambda: "a = " + "[" * 200_000),
    "a number of a million digits": ("pattern.toml", lambda: "format = " + "1" * 900_000),
    "ten million bytes of text": ("pattern.toml", lambda: "# " + "x" * 10_000_000),
    "a hundred million bytes of drawing": ("sizes/M/band.svg", lambda: drawing("<!--" + "x" * 100_000_000 + "-->")),
    "entities of entities": ("sizes/M/band.svg", lambda: (DATA / "entities.svg").read_text()),
    "groups in groups": ("sizes/M/band.svg", lambda: drawing("<g>" * 300_000)),
    "uses of uses": (
        "sizes/M/band.svg",
        lambda: drawing(
            '<g id="a0"><path d="M0 0h1"/></g>'
            + "".join(f'<g id="a{n + 1}">' + f'<use href="#a{n}"/>' * 10 + "</g>" for n in range(12))
        ),
    ),
    "a path of a million points": ("sizes/M/band.svg", lambda: drawing(f'<path id="a" d="M0 0{"h1" * 1_000_000}"/>')),
    "a hundred thousand transforms": (
        "sizes/M/band.svg",
        lambda: drawing(f'<g transform="{"scale(1.1)" * 100_000}"><path d="M0 0h1"/></g>'),
    ),
    "forty thousand notches": (
        "sizes/M/band.svg",
        lambda: drawing('<g id="notches">' + '<circle r="1"/>' * 40_000 + "</g>"),
    ),
    "nineteen thousand points": (
        "sizes/M/band.svg",
        lambda: drawing('<g id="points">' + '<circle cx="20" cy="20" r="1"/>' * 19_000 + "</g>"),
    ),
    "nineteen thousand inside lines": (
        "sizes/M/band.svg",
        lambda: drawing('<g id="inside">' + '<path d="M9 9h9"/>' * 19_000 + "</g>"),
    ),
    "an inside line of forty thousand points": (
        "sizes/M/band.svg",
        lambda: drawing(f'<g id="inside"><path d="M9 9{"l1 1-1-1" * 20_000}"/></g>'),
    ),
    "an outline of nine thousand zigzags": (
        "sizes/M/band.svg",
        lambda: drawing("").replace(
            '<rect width="300" height="40"/>', f'<path d="M0 0{"l.05 1 .05-1" * 4_500}V40H0z"/>'
        ),
    ),
    "transforms of a repeated object": (
        "sizes/M/band.svg",
        lambda: drawing(f'<g id="a" transform="{"scale(1)" * 1000}"/>' + '<use href="#a"/>' * 9_000),
    ),
    "a path of spaces, repeated": (
        "sizes/M/band.svg",
        lambda: drawing(f'<path id="a" d="M0 0h1{" " * 1_000_000}"/>' + '<use href="#a"/>' * 9_000),
    ),
}


def drawing(inside: str) -> str:
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="380mm" height="80mm" viewBox="0 0 380 80">'
        f'<g id="seam"><rect width="300" height="40"/></g>{inside}</svg>'
    )


MEASURED = """
import json, resource, sys
from pathlib import Path
resource.setrlimit(resource.RLIMIT_CPU, (5, 5))  # 5 s: a reader that takes longer is killed, and the test fails
from tests.release.test_bad_input import blocking, findings_of
told = blocking(findings_of(Path(sys.argv[1]), Path(sys.argv[2])))
peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM:"))
print(json.dumps([int(peak.split()[1]) * 1024, told]))
"""
"""The peak is read from /proc: what getrusage tells begins with the peak of the process that started this one."""


@pytest.mark.parametrize("name", BOMBS)
def test_a_file_made_to_exhaust_the_reader_is_refused_in_5_s_and_1_gb(name, tmp_path):
    """Processor time and memory of a process of its own, imports and all."""
    source = copied(tmp_path)
    file, text = BOMBS[name]
    (source / "tea-apron" / file).write_text(text(), encoding="utf-8")
    command = [sys.executable, "-c", MEASURED, str(source), str(tmp_path / "work")]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    used_bytes, told = json.loads(done.stdout)
    assert used_bytes < 1e9
    assert file in {finding["file"] for finding in told}
    assert all(finding["found"] and finding["allowed"] for finding in told)


REAL = ("toml-cut-off", "svg-with-entities", "seam-too-long-in-one-size")


def test_the_real_command_refuses_and_leaves_the_last_good_bundle(tmp_path):
    """One of each kind: refused before any rule, on reading, by a check."""
    room = Workroom(tmp_path / "Élise's patterns")
    assert room.run().returncode == 0
    good = room.files()
    for name in REAL:
        case = CASES[name]
        before = (room.pattern / case["file"]).read_bytes()
        spoil(room.pattern, case)
        done = room.run()
        assert done.returncode == 1, name
        assert "Traceback" not in done.text, name
        assert case["file"] in done.text, name
        assert case["object"] in done.text, name
        assert room.files() == good, name
        (room.pattern / case["file"]).write_bytes(before)
    assert room.run().returncode == 0
    assert room.files() == good
