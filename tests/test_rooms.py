"""The rooms in the order in which `DEVELOPERS.md` tells them: none imports a later one."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
ROOMS = tuple(re.findall(r"^\| `(\w+)/` \|", (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8"), re.MULTILINE))
ENTRY_POINTS = ("checks/__main__.py",)
"""What is started by itself, like a step, and is imported by nobody."""


def imported(file: Path) -> Iterator[str]:
    """The rooms that a file imports from, wherever in it that stands."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        modules = [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        modules += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        yield from (module.split(".")[1] for module in modules if module.startswith("pipeline."))


def test_every_room_is_told_and_no_other():
    assert sorted(ROOMS) == sorted({file.parent.name for file in ROOT.glob("pipeline/*/__init__.py")})


@pytest.mark.parametrize("room", ROOMS)
def test_no_room_knows_a_later_one(room):
    before = {*ROOMS[: ROOMS.index(room) + 1]}
    later = {
        (file.relative_to(ROOT / "pipeline").as_posix(), name)
        for file in (ROOT / "pipeline" / room).rglob("*.py")
        for name in imported(file)
        if name not in before
    }
    assert {(file, name) for file, name in later if file not in ENTRY_POINTS} == set()


@pytest.mark.parametrize(("package", "known"), [("svg", {"svg"}), ("toml", {"toml"})])
def test_a_package_of_masters_knows_no_other(package, known):
    base = {"source_file", "stages"}
    files = (ROOT / "pipeline/masters" / package).glob("*.py")
    text = "\n".join(file.read_text(encoding="utf-8") for file in files)
    assert set(re.findall(r"^\s*from pipeline\.masters\.(\w+)", text, re.MULTILINE)) <= known | base
