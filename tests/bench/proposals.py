"""What `start` proposes of garments whose `pattern.toml` is thrown away, held against what their drafters wrote.

A seam of one whole edge to another of another piece is what can be proposed. A proposed pair is right where a seam has
these edges on its two sides. Edges are matched by where they lie, so that garments whose edges have no names count too.
"""

import argparse
import re
import shutil
import tempfile
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import NamedTuple

from pipeline.geometry.curves import path_length_mm, point_along
from pipeline.masters.copied import copy_folder
from pipeline.masters.read_size import read_size
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import DrawnPiece, Edge
from pipeline.starting.first import start

ROOT = Path(__file__).resolve().parents[2]
GARMENTS = (ROOT / "tests/garments", ROOT / "source")
NEAR_MM = 1.0
_SEAM = re.compile(r'^# a = \["(.+)"\]\n# b = \["(.+)"\]$', re.MULTILINE)
_FOLD = re.compile(r"^# edges\.(\S+) = \{ fold = true \}", re.MULTILINE)
_PIECE = re.compile(r"^\[pieces\.(\S+)\]$", re.MULTILINE)
Pair = frozenset[str]


class Counts(NamedTuple):
    """Of one garment: pairs and folds, by whether they are right, wrong or missing; and those that are not right."""

    seams: Counter[str]
    folds: Counter[str]
    names: Counter[str]
    told: list[str]


def garments() -> Iterator[Path]:
    """The folders of all patterns whose masters may be drawings."""
    for place in GARMENTS:
        yield from (folder for folder in sorted(place.iterdir()) if (folder / "pattern.toml").is_file())


def counted(folder: Path) -> Counts:
    """What is proposed of a garment, against what its pattern says."""
    with tempfile.TemporaryDirectory() as place:
        own, again = Path(place) / "own" / folder.name, Path(place) / "again" / folder.name
        drafted = _masters(folder, own)
        again.mkdir(parents=True)
        for drawings in ("sizes", "drawing"):
            if (folder / drawings).is_dir():
                shutil.copytree(folder / drawings, again / drawings)
        start(again, [])
        said = (again / "pattern.toml").read_text(encoding="utf-8")
        begun = _masters(again, Path(place) / "work" / folder.name, drafted[0].base)
    names = _renamed(begun[1], drafted[1])
    return _held(said, names, drafted[0])


def _masters(folder: Path, copy: Path, size: str = "") -> tuple[Pattern, dict[str, DrawnPiece]]:
    found = copy_folder(folder, copy)
    if found.pattern is None:
        raise SystemExit(f"{folder}: no pattern")
    pieces, _ = read_size(found.pattern, copy, size or found.pattern.base)
    return found.pattern, {piece.piece: piece for piece in pieces}


def _renamed(begun: Mapping[str, DrawnPiece], drafted: Mapping[str, DrawnPiece]) -> dict[str, str]:
    """Edges as the first pattern calls them, by how their drafter does."""
    return {
        f"{piece}.{edge.name}": f"{piece}.{of.name}"
        for piece, drawn in begun.items()
        for edge in drawn.edges
        if piece in drafted
        for of in drafted[piece].edges
        if _same(edge, of)
    }


def _same(one: Edge, other: Edge) -> bool:
    lengths = path_length_mm(one.path), path_length_mm(other.path)
    middles = [point_along(edge.path, length / 2)[0] for edge, length in zip((one, other), lengths, strict=True)]
    return abs(lengths[0] - lengths[1]) < NEAR_MM and middles[0].distance(middles[1]) < NEAR_MM


def _held(said: str, names: Mapping[str, str], pattern: Pattern) -> Counts:
    facing: set[Pair] = set()
    whole: dict[Pair, str] = {}
    for seam in pattern.seams.values():
        a, b = ([f"{side.piece}.{side.edge}" for side in sides] for sides in (seam.a, seam.b))
        facing |= {frozenset((one, two)) for one in a for two in b}
        parts = any(side.part for side in (*seam.a, *seam.b))
        if len(a) == len(b) == 1 and seam.a[0].piece != seam.b[0].piece and not parts:
            whole[frozenset((a[0], b[0]))] = seam.name
    pairs = [frozenset((names.get(a, a), names.get(b, b))) for a, b in _SEAM.findall(said)]
    seams = Counter("right" if pair in facing else "wrong" for pair in pairs)
    seams["missing"] = len(whole.keys() - set(pairs))
    told = [f"seam {' – '.join(sorted(pair))}" for pair in pairs if pair not in facing]
    told += [f"no seam {' – '.join(sorted(pair))}" for pair in whole if pair not in pairs]
    folds, told_folds = _folds(said, names, pattern)
    return Counts(seams, folds, _names(said, names), [*told, *told_folds])


def _folds(said: str, names: Mapping[str, str], pattern: Pattern) -> tuple[Counter[str], list[str]]:
    blocks = _PIECE.split(said)
    proposed = [
        f"{piece}.{fold[1]}"
        for piece, text in zip(blocks[1::2], blocks[2::2], strict=True)
        if (fold := _FOLD.search(text))
    ]
    found = {names.get(fold, fold) for fold in proposed}
    drafted = {
        f"{piece.name}.{edge}"
        for piece in pattern.pieces.values()
        if piece.source is None
        for edge, spec in piece.edges.items()
        if spec.fold
    }
    counts = Counter(right=len(found & drafted), wrong=len(found - drafted), missing=len(drafted - found))
    return counts, [f"fold {fold}" for fold in sorted(found - drafted)] + [
        f"no fold {f}" for f in sorted(drafted - found)
    ]


def _names(said: str, names: Mapping[str, str]) -> Counter[str]:
    """Names that `start` gave to edges, by whether their drafter calls them so."""
    pieces = tomllib.loads(said)["pieces"]
    counts: Counter[str] = Counter()
    for piece, spec in pieces.items():
        for edge in spec.get("around", ()):
            if edge.startswith("edge-"):
                counts["open"] += 1
            else:
                own = names.get(f"{piece}.{edge}", "").partition(".")[2]
                counts["right" if own == edge else f"{piece}.{edge} is {own}"] += 1
    return counts


def main() -> None:
    """Prints a row a garment."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--told", action="store_true", help="tell every pair that is wrong or missing")
    told = parser.parse_args().told
    total: Counter[str] = Counter()
    print("| garment | seams right | wrong | missing | folds right | wrong | missing | names |")
    print("| --- | --: | --: | --: | --: | --: | --: | --- |")
    for folder in garments():
        seams, folds, names, lines = counted(folder)
        row = [
            *(seams[key] for key in ("right", "wrong", "missing")),
            *(folds[key] for key in ("right", "wrong", "missing")),
        ]
        total.update({str(i): value for i, value in enumerate(row)})
        print(f"| `{folder.name}` | {' | '.join(map(str, row))} | {dict(names)} |", flush=True)
        print(*lines if told else [], sep="\n", end="")
    print(f"| all | {' | '.join(str(total[str(i)]) for i in range(6))} | |")


if __name__ == "__main__":
    main()
