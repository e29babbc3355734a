"""Which way every seam is walked, and the walk of all seams in all sizes."""

from collections.abc import Callable, Iterator

from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import notch_outcomes
from pipeline.checks.seam_ends import end_miss_deg
from pipeline.checks.seam_kin import joints_off_deg, told_by_names, told_by_neighbours
from pipeline.checks.seam_parts import step_text
from pipeline.checks.seam_walk import Direction, WalkedSide, is_complete, open_ways, walk_side
from pipeline.model.pattern import Seam, SideEdge

_EQUAL = 1e-6


def directions(garment: Garment, seam: Seam) -> tuple[Direction, ...]:
    """How each edge of a seam runs: one choice over all sizes together; several where nothing decides between them.

    The edges beside the seam and at its joints tell it, then the names of shared notches, then those of the neighbours,
    then joints at which a side must be one line. An edge with `!` runs against its outline's walking order: where a
    seam has one, the names of notches come first, and the edges without one run along their outlines.
    """
    return garment.once(("ways", seam.name), lambda: _directions(garment, seam))


def _directions(garment: Garment, seam: Seam) -> tuple[Direction, ...]:
    costs = open_ways(garment, seam)
    if len(costs) < 2:
        return tuple(costs)
    size = next(size for size in garment.pattern.sizes if is_complete(garment, seam, size))
    steps = (*seam.a, *seam.b)

    def neighbours(way: Direction) -> float:
        return -told_by_neighbours(garment, seam, way, size)

    ranks: list[Callable[[Direction], float]] = [neighbours, costs.__getitem__]
    if any(step.turned for step in steps):
        ranks = [costs.__getitem__, lambda way: _unasked(steps, way), neighbours]
    ranks.append(lambda way: -told_by_names(garment, seam, way, size))
    ranks.append(lambda way: joints_off_deg(garment, seam, way, size))
    best = list(costs)
    for rank in ranks:
        ranked = {way: rank(way) for way in best}
        best = [way for way in best if ranked[way] <= min(ranked.values()) + _EQUAL]
    return tuple(best)


def _unasked(steps: tuple[SideEdge, ...], way: Direction) -> int:
    """How many edges run against their outline's order without a `!`."""
    return sum(turned and not (step.turned or step.part) for step, turned in zip(steps, (*way.a, *way.b), strict=True))


def decided_direction(garment: Garment, seam: Seam) -> Direction | None:
    """The way to walk a seam: where several are open, the first of those with the fewest faults."""
    return garment.once(("direction", seam.name), lambda: _decided_direction(garment, seam))


def _decided_direction(garment: Garment, seam: Seam) -> Direction | None:
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
        way = decided_direction(garment, seam)
        if way is not None:
            yield from ((seam, way, size) for size in garment.pattern.sizes if is_complete(garment, seam, size))


def side_text(side: tuple[SideEdge, ...]) -> str:
    """A side in the words of `pattern.toml`."""
    return " + ".join(map(step_text, side))
