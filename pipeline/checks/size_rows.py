"""A piece over its sizes: what the checks of grading compare."""

from collections import Counter
from collections.abc import Mapping, Sequence

import msgspec

from pipeline.checks.garment import Garment
from pipeline.checks.smooth import Triple, triples
from pipeline.model.pieces import CutPiece
from pipeline.model.sizes import designer_sets


class Rungs(msgspec.Struct, frozen=True):
    """What stands on one ladder: positions in a row, smallest size first, and the size met there.

    `ends` are the last sizes of bands; `along` ends a sentence with the ladder's name where there are several.
    """

    at: tuple[int, ...]
    sizes: tuple[str, ...]
    ends: tuple[str, ...]
    along: str = ""


class Row(msgspec.Struct, frozen=True):
    """The drawings of one piece, smallest size first; sizes that share a file stand for themselves once.

    `rungs` are the ladders on which at least two of them stand: what grades does so along these.
    """

    piece: str
    cuts: tuple[CutPiece, ...]
    rungs: tuple[Rungs, ...]

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
            files = {cut.drawn.file: place for place, cut in enumerate(drawn)}
            at = {size: files[cut.drawn.file] for size, cut in garment.cuts[name].items()}
            found.append(Row(name, drawn, rungs_of(garment, at)))
    return tuple(found)


def rungs_of(garment: Garment, at: Mapping[str, int]) -> tuple[Rungs, ...]:
    """The ladders of a row, by where each size stands in it; sizes of one place stand for themselves once."""
    found: dict[tuple[str, tuple[int, ...]], Rungs] = {}
    for ladder in garment.ladders:
        met: dict[int, str] = {}
        for size in ladder.sizes:
            if size in at:
                met.setdefault(at[size], size)
        if len(met) > 1:
            rungs = Rungs(tuple(met), tuple(met.values()), ladder.ends, ladder.along)
            found.setdefault((rungs.along, rungs.at), rungs)
    return tuple(found.values())


def triples_of(rungs: Sequence[Rungs]) -> tuple[Triple, ...]:
    """Every three neighbours of a ladder that lie in one band."""
    return tuple(
        Triple(each.at[k - 1], each.at[k], each.at[k + 1], number, each.along)
        for number, each in enumerate(rungs)
        for k in triples(each.sizes, each.ends)
    )


def masters_of(garment: Garment, piece: str) -> tuple[CutPiece, ...]:
    """The drawings of a piece, each in the smallest of the sizes that share its file."""
    by_size = garment.cuts.get(piece, {})
    ordered = [by_size[size] for size in garment.pattern.sizes if size in by_size]
    return tuple(reversed({cut.drawn.file: cut for cut in reversed(ordered)}.values()))


def outline_mm(cut: CutPiece) -> tuple[float, ...]:
    """Lengths of the edges and distances of their corners from the first: the same wherever the piece lies."""
    corners = [edge.path[0].start for edge in cut.drawn.edges]
    return (*(edge.gross_length_mm for edge in cut.edges), *map(corners[0].distance, corners[1:]))


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


def within_sets(garment: Garment, row: Row, found: Sequence[Triple]) -> tuple[Triple, ...]:
    """Of these neighbours in a row, those between which no size set of the designer's ends."""
    ends = garment.once("ends of sets", lambda: _ends_of_sets(garment))
    sizes = [dict(zip(rungs.at, rungs.sizes, strict=True)) for rungs in row.rungs]
    return tuple(t for t in found if ends.isdisjoint(sizes[t.ladder][place] for place in (t.before, t.at)))


def _ends_of_sets(garment: Garment) -> set[str]:
    """The last size of each set on every ladder that goes on after it."""
    sets = designer_sets(garment.pattern).values()
    inside = ([size for size in ladder.sizes if size in members] for ladder in garment.ladders for members in sets)
    return {sizes[-1] for sizes in inside if sizes} - {ladder.sizes[-1] for ladder in garment.ladders}
