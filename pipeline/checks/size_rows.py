"""A piece over its sizes: what the checks of grading compare."""

from collections import Counter
from collections.abc import Sequence

import msgspec

from pipeline.checks.garment import Garment
from pipeline.model.pieces import CutPiece


class Row(msgspec.Struct, frozen=True):
    """The drawings of one piece, smallest size first; sizes that share a file stand for themselves once."""

    piece: str
    cuts: tuple[CutPiece, ...]

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes drawn, one for each file."""
        return tuple(cut.size for cut in self.cuts)


def rows(garment: Garment) -> tuple[Row, ...]:
    """Every piece that is drawn (a derived piece is its source) in two files or more."""
    return garment.once("rows", lambda: _rows(garment))


def _rows(garment: Garment) -> tuple[Row, ...]:
    found = []
    for name in garment.cuts:
        spec = garment.pattern.pieces.get(name)
        if spec is None or spec.source is not None:
            continue
        drawn = masters_of(garment, name)
        if len(drawn) > 1:
            found.append(Row(name, drawn))
    return tuple(found)


def masters_of(garment: Garment, piece: str) -> tuple[CutPiece, ...]:
    """The drawings of a piece, each in the smallest of the sizes that share its file."""
    by_size = garment.cuts.get(piece, {})
    ordered = [by_size[size] for size in garment.pattern.sizes if size in by_size]
    return tuple(reversed({cut.drawn.file: cut for cut in reversed(ordered)}.values()))


def edge_order(cut: CutPiece) -> tuple[str, ...]:
    """Names of the edges in walking order, from the first of the alphabet on."""
    names = tuple(edge.name for edge in cut.drawn.edges)
    first = names.index(min(names))
    return names[first:] + names[:first]


def usual(sizes: Sequence[str], values: Sequence[tuple[str, ...]], base: str) -> tuple[str, ...]:
    """What most sizes have; where two are as many, what the base size (or the first) has."""
    counts = Counter(values)
    most = max(counts.values())
    in_base = next((value for size, value in zip(sizes, values, strict=True) if size == base), values[0])
    return in_base if counts[in_base] == most else next(value for value in values if counts[value] == most)


def within_sets(garment: Garment, sizes: Sequence[str], middles: Sequence[int]) -> tuple[int, ...]:
    """Of these places in a row of sizes, those that do not lie where a size set ends."""
    ends = {members[-1] for members in garment.pattern.size_sets.values()}
    return tuple(k for k in middles if not ends & {sizes[k - 1], sizes[k]})
