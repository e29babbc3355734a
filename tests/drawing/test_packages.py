"""The packages of drawing know each other one way: none imports a later one, and what they share imports none."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

import pipeline.drawing

ROOM = Path(__file__).resolve().parents[2] / "pipeline/drawing"
ORDER = ("nest", "labels", "piece", "panels", "pages", "cloth")


def imported(file: Path) -> Iterator[str]:
    """The packages of drawing that a file imports from."""
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.ImportFrom) and node.module:
            names = [node.module, *(f"{node.module}.{alias.name}" for alias in node.names)]
            parts = (name.removeprefix("pipeline.drawing.").split(".") for name in names if "pipeline.drawing." in name)
            yield from {first for first, *_ in parts if first in ORDER}


def test_the_order_is_told_and_is_that_of_all_folders():
    told = pipeline.drawing.__doc__ or ""
    assert ", ".join(f"`{package}`" for package in ORDER) in told
    assert {file.parent.name for file in ROOM.glob("*/*.py")} == set(ORDER)


@pytest.mark.parametrize("package", ORDER)
def test_no_package_knows_a_later_one(package):
    known = {name for file in (ROOM / package).glob("*.py") for name in imported(file)}
    assert known <= set(ORDER[: ORDER.index(package) + 1])


def test_what_all_packages_use_knows_none_of_them():
    assert [(file.name, name) for file in ROOM.glob("*.py") for name in imported(file)] == []
