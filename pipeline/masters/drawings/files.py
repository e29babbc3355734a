"""Which files of a pattern's folder are drawings, and which SVGs lie there that nothing claims. No file is opened."""

import os
from collections.abc import Iterable
from fnmatch import fnmatchcase
from pathlib import Path

from pipeline.masters.lookup import MASTERS
from pipeline.masters.source_file import plain_name
from pipeline.model.pattern import Pattern

MOST_DRAWINGS = 2_000
"""SVG files that are looked at: a drawing a size and piece of a large pattern are fewer."""
_DEEPEST = 5
_OTHERS = ("booklet",)
"""Folders of a pattern that hold no drawings."""


def drawing_files(pattern: Pattern, folder: Path) -> tuple[dict[str, list[str]], list[str]]:
    """The files of each entry of `[masters] drawings`, sorted; and the other SVGs outside `sizes/`.

    A piece that says `around` may have masters under `sizes/`, which are then drawings too: the last entry.
    """
    there = _svgs(folder)
    found = {glob: [name for name in there if _matches(name, glob)] for glob in pattern.drawings}
    closed = {f"{name}.svg" for name, piece in pattern.pieces.items() if piece.around}
    masters = [name for name in there if name.startswith(f"{MASTERS}/") and name.rpartition("/")[2] in closed]
    if masters:
        found[f"{MASTERS}/"] = masters
    claimed = {name for names in found.values() for name in names}
    strays = [name for name in there if name not in claimed and not name.startswith(f"{MASTERS}/")]
    return found, strays


def drawings_of(pattern: Pattern, folder: Path) -> list[str]:
    """All drawings, each once."""
    return sorted({name for names in drawing_files(pattern, folder)[0].values() for name in names})[:MOST_DRAWINGS]


def _matches(name: str, glob: str) -> bool:
    parts, wanted = name.split("/"), glob.split("/")
    return len(parts) == len(wanted) and all(map(fnmatchcase, parts, wanted))


def _svgs(folder: Path) -> list[str]:
    names: list[str] = []
    for place, folders, files in os.walk(folder, followlinks=True):
        inside = Path(place).relative_to(folder)
        deep = len(inside.parts) >= _DEEPEST
        folders[:] = [] if deep else [name for name in sorted(folders) if _looked_into(inside, name)]
        names += [(inside / name).as_posix() for name in sorted(files) if _is_drawing(name)]
        if len(names) > MOST_DRAWINGS + 1:
            break
    return sorted(names)


def _looked_into(inside: Path, name: str) -> bool:
    return not name.startswith(".") and not (inside == Path() and name in _OTHERS)


def _is_drawing(name: str) -> bool:
    return name.endswith((".svg", ".dxf")) and not name.startswith(".") and plain_name(name) == name


def listed(names: Iterable[str], most: int = 6) -> str:
    """Names in a row, the first ones and how many more."""
    told = list(names)
    return ", ".join(told[:most]) + (f" and {len(told) - most} more" if len(told) > most else "")
