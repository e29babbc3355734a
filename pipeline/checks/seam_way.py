"""Which way every seam is walked, and the walk of all seams in all sizes."""

from collections.abc import Iterator

from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import notch_outcomes
from pipeline.checks.seam_ends import end_miss_deg
from pipeline.checks.seam_walk import Direction, WalkedSide, directions, is_complete, walk_side
from pipeline.model.pattern import Seam, SideEdge


def settled(garment: Garment, seam: Seam) -> Direction | None:
    """The way to walk a seam: where several are open, the first of those with the fewest faults."""
    return garment.once(("settled", seam.name), lambda: _settled(garment, seam))


def _settled(garment: Garment, seam: Seam) -> Direction | None:
    ways = directions(garment, seam)
    if len(ways) < 2:
        return ways[0] if ways else None
    counts = faults(garment, seam)
    return min(ways, key=lambda way: counts[way])


def faults(garment: Garment, seam: Seam) -> dict[Direction, int]:
    """How many faults of notches and corners all sizes together have, by the ways that are open."""
    return garment.once(
        ("faults", seam.name), lambda: {way: _faults(garment, seam, way) for way in directions(garment, seam)}
    )


def _faults(garment: Garment, seam: Seam, way: Direction) -> int:
    count = 0
    for size in garment.pattern.sizes:
        if seam.kind != "sewn" or not is_complete(garment, seam, size):
            continue
        a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
        count += len(list(notch_outcomes(seam, a, b))) if seam.notches else 0
        if seam.angles:
            count += sum(end_miss_deg(garment, seam, way, size, at_end) > 0 for at_end in (False, True))
    return count


def walks(garment: Garment) -> Iterator[tuple[Seam, str, WalkedSide, WalkedSide]]:
    """Every seam in every size that has all its pieces: the seam, the size, both sides as walked."""
    for seam, way, size in walked_seams(garment):
        a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
        yield seam, size, a, b


def walked_seams(garment: Garment) -> Iterator[tuple[Seam, Direction, str]]:
    """Every seam with its way, in every size that has all its pieces."""
    for seam in garment.pattern.seams.values():
        way = settled(garment, seam)
        if way is not None:
            yield from ((seam, way, size) for size in garment.pattern.sizes if is_complete(garment, seam, size))


def side_text(side: tuple[SideEdge, ...]) -> str:
    """A side in the words of `pattern.toml`."""
    return " + ".join(f"{step.piece}.{step.edge}" for step in side)
