"""Which stretches of a line several sizes share, so that each is drawn once.

A size whose line lies near enough to a line that is already drawn is a guest there; elsewhere it draws its own. Sizes
are taken in order, and guests only of what is really drawn, so that a fan of lines, each near to the next, is drawn as
lines that are nowhere too far from their sizes. That is measured at the end: a size for which it does not hold is
nobody's guest.
"""

import itertools
from collections.abc import Mapping, Sequence, Set
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray

from pipeline.drawing.nest.segments import LEAST_PART_MM, NEAR_SHARE, Floats, Segments
from pipeline.drawing.styles import ALIKE_MM
from pipeline.geometry.chains import arc_lengths, chord_lengths, coordinates
from pipeline.geometry.points import Point

DRAWN_ERROR_MM = 0.012
"""How far thinning may move a line that is drawn."""
_SPLIT_ERROR_MM = 0.004
"""Takes out the points at which lines were only split to be compared."""
_LEAST_SHARED_MM = 6.0
"""Shorter runs beside each other are not worth a stretch of their own."""
_LENGTH_OFF_MM = 0.15
"""How much a line and the stretches that show it may differ in length, for each stretch."""


class Chain(NamedTuple):
    """A line of one size: points in order; a closed one does not repeat its first point."""

    points: tuple[Point, ...]
    closed: bool

    @property
    def ring(self) -> tuple[Point, ...]:
        """The points as they are walked: a closed line ends where it starts."""
        return self.points + self.points[:1] if self.closed else self.points


class Stretch(NamedTuple):
    """Part of a line that exactly these sizes share, in the order of the mapping they came from."""

    sizes: tuple[str, ...]
    points: tuple[Point, ...]
    closed: bool

    @property
    def ring(self) -> tuple[Point, ...]:
        """The points as they are walked: a closed line ends where it starts."""
        return self.points + self.points[:1] if self.closed else self.points


class _Guest(NamedTuple):
    """A size that is shown by another's line, from and to in mm along it."""

    size: str
    start_mm: float
    end_mm: float


class _Host:
    """A chain by length: what of it is drawn, and for which guests."""

    def __init__(self, size: str, chain: Chain) -> None:
        self.size = size
        self.closed = chain.closed
        self.ring: Floats = coordinates(chain.ring)
        self.along: Floats = arc_lengths(self.ring)
        self.length = float(self.along[-1])
        self.drawn: Floats = np.empty((0, 2))
        self.guests: list[_Guest] = []

    def drawn_at(self, along: Floats) -> NDArray[np.intp]:
        """Number of the drawn part in which each place along the chain lies, or -1; past a ring's start it stays."""
        low, high = self.drawn[:, 0] - LEAST_PART_MM, self.drawn[:, 1] + LEAST_PART_MM
        inside: NDArray[np.bool_] = (along[:, None] >= low) & (along[:, None] <= high)
        parts = np.where(inside.any(axis=1), inside.argmax(axis=1), -1) if len(low) else np.full(len(along), -1)
        if self.closed and len(low) > 1 and low[0] <= 0 and high[-1] >= self.length:
            parts[parts == len(low) - 1] = 0
        return parts

    def between(self, start_mm: float, end_mm: float) -> Floats:
        """Its corners between two places along it, in whatever order; on a ring, the shorter way round."""
        low, high = min(start_mm, end_mm), max(start_mm, end_mm)
        inside: NDArray[np.bool_] = (self.along > low) & (self.along < high)
        if self.closed and high - low > self.length / 2:
            inside = (self.along < low) | (self.along > high)
        return self.ring[inside]


def shared_stretches(lines: Mapping[str, Sequence[Chain]], alike_mm: float = ALIKE_MM) -> tuple[Stretch, ...]:
    """The lines of all sizes as stretches, each drawn once for the sizes that share it.

    Every size gets back its whole line, within `alike_mm`: where the parts do not add up to it, nothing is shared.
    """
    twins: dict[tuple[Chain, ...], list[str]] = {}
    for size, found in lines.items():
        twins.setdefault(tuple(found), []).append(size)
    same = {alike[0]: alike for alike in twins.values()}
    different = {alike[0]: found for found, alike in twins.items()}
    return tuple(
        Stretch(
            tuple(size for size in lines if any(size in same[twin] for twin in stretch.sizes)),
            stretch.points,
            stretch.closed,
        )
        for stretch in _shared_of_different(different, alike_mm)
    )


def _shared_of_different(lines: Mapping[str, Sequence[Chain]], alike_mm: float) -> tuple[Stretch, ...]:
    chains = [(size, chain) for size, found in lines.items() for chain in found if len(chain.points) > 1]
    alone: set[str] = set()
    while len({size for size, _ in chains} - alone) > 1:
        hosts = [_Host(size, chain) for size, chain in chains]
        _seat(hosts, alone, NEAR_SHARE * alike_mm)
        shared = tuple(stretch for host in hosts for stretch in _stretches(host, tuple(lines)))
        lost = {size for size in lines if size not in alone and not _shown(size, lines[size], shared, alike_mm)}
        if not lost:
            return shared
        alone |= lost
    return tuple(Stretch((size,), chain.points, chain.closed) for size, chain in chains)


def _shown(size: str, chains: Sequence[Chain], shared: Sequence[Stretch], alike_mm: float) -> bool:
    """Whether the stretches of a size are its line: as long, and no corner of either too far from the other."""
    mine = [stretch for stretch in shared if size in stretch.sizes]
    drawn = [coordinates(stretch.ring) for stretch in mine]
    own = [coordinates(chain.ring) for chain in chains if len(chain.points) > 1]
    if not own or not drawn:
        return not own and not drawn
    off = abs(sum(map(_length_mm, own)) - sum(map(_length_mm, drawn)))
    if off > (_LENGTH_OFF_MM + 2 * (alike_mm - ALIKE_MM)) * (1 + len(mine)):
        return False
    if all(stretch.sizes == (size,) for stretch in mine):
        return True
    return max(_farthest_mm(own, drawn), _farthest_mm(drawn, own)) <= alike_mm - DRAWN_ERROR_MM


def _farthest_mm(lines: Sequence[Floats], others: Sequence[Floats]) -> float:
    """How far a corner of some lines lies from the nearest of the others, at the most."""
    near = shapely.MultiLineString(others)
    shapely.prepare(near)
    return float(shapely.distance(near, shapely.points(np.concatenate(lines))).max())


def thinned(points: tuple[Point, ...], closed: bool, error_mm: float = DRAWN_ERROR_MM) -> tuple[Point, ...]:
    """Fewer points, none of the dropped farther than the error from the new line; both ends stay."""
    ring = points + points[:1] if closed else points
    line = shapely.simplify(shapely.linestrings(coordinates(ring)), error_mm, preserve_topology=False)
    kept = points_of(shapely.get_coordinates(line))
    return kept[:-1] if closed else kept


def length_mm(stretch: Stretch) -> float:
    """Length of a stretch, as drawn."""
    return _length_mm(coordinates(stretch.ring))


def _length_mm(line: Floats) -> float:
    return float(chord_lengths(line).sum())


def points_of(places: Floats) -> tuple[Point, ...]:
    """Rows of an array as points."""
    return tuple(itertools.starmap(Point, places.tolist()))


def _seat(hosts: Sequence[_Host], alone: Set[str], near_mm: float) -> None:
    """Decide, chain after chain, which parts are guests of an earlier one and which are drawn; those of `alone` all."""
    segments = Segments([(host.ring, host.along) for host in hosts], near_mm)
    refined = segments.refined()
    probes = [np.concatenate((line, (line[:-1] + line[1:]) / 2)) for line in refined]
    ways = segments.ways(probes)
    for index, (host, line, way) in enumerate(zip(hosts, refined, ways, strict=True)):
        along = arc_lengths(line)
        of = np.full(len(line) - 1, -1)
        earlier = [k for k in range(index) if hosts[k].size != host.size]
        if earlier and host.size not in alone:
            of = _hosts_of(line, way, hosts, earlier, near_mm)
            bounds = [0, *(np.flatnonzero(of[1:] != of[:-1]) + 1).tolist(), len(of)]
            for start, end in itertools.pairwise(bounds):
                if along[end] - along[start] < _LEAST_SHARED_MM:
                    of[start:end] = -1
        _take_seats(way, of, hosts, host)
        host.drawn = _merged(np.stack((along[:-1][of < 0], along[1:][of < 0]), axis=1))


def _hosts_of(
    line: Floats, ways: Floats, hosts: Sequence[_Host], earlier: Sequence[int], near_mm: float
) -> NDArray[np.intp]:
    """By part of a line, the first earlier chain with one drawn part at both its ends and its middle that turns off
    nowhere between them; or -1."""
    count = len(line)
    of = np.full(count - 1, -1)
    for k in earlier:
        way = ways[:, k]
        if np.isnan(way).all():
            continue
        part = hosts[k].drawn_at(way)
        start, end, middle = part[: count - 1], part[1:count], part[count:]
        for index in np.flatnonzero((start >= 0) & (start == end) & (start == middle) & (of < 0)).tolist():
            if _beside(line[index : index + 2], hosts[k].between(way[index], way[index + 1]), near_mm):
                of[index] = k
    return of


def _beside(part: Floats, corners: Floats, near_mm: float) -> bool:
    """Whether corners all lie on a straight part of a line."""
    return not len(corners) or bool(
        (shapely.distance(shapely.linestrings(part), shapely.points(corners)) <= near_mm).all()
    )


def _take_seats(ways: Floats, of: NDArray[np.intp], hosts: Sequence[_Host], guest: _Host) -> None:
    """Enter the parts of a line with the chains that are drawn for them."""
    for k in np.unique(of[of >= 0]).tolist():
        host, parts = hosts[k], np.flatnonzero(of == k)
        spans = np.sort(np.stack((ways[parts, k], ways[parts + 1, k]), axis=1), axis=1)
        if host.closed:  # a part that passes the ring's start lies at both of its ends
            over = spans[:, 1] - spans[:, 0] > host.length / 2
            low, high = spans[over, 0], spans[over, 1]
            spans = np.concatenate(
                (
                    spans[~over],
                    np.stack((np.zeros_like(low), low), axis=1),
                    np.stack((high, np.full_like(high, host.length)), axis=1),
                )
            )
        host.guests.extend(_Guest(guest.size, *span) for span in _merged(spans).tolist())


def _merged(spans: Floats) -> Floats:
    """Spans in order, those that touch as one."""
    merged: list[list[float]] = []
    for start, end in sorted(spans.tolist()):
        if merged and start <= merged[-1][1] + LEAST_PART_MM:
            merged[-1][1] = max(merged[-1][1], end)
        else:
            merged.append([start, end])
    return np.asarray(merged).reshape(-1, 2)


def _stretches(host: _Host, order: tuple[str, ...]) -> list[Stretch]:
    """What of a chain is drawn, parted where its guests come and go."""
    found: list[tuple[tuple[str, ...], float, float]] = []
    for start, end in host.drawn.tolist():
        bounds = [start]
        for place in sorted(place for guest in host.guests for place in (guest.start_mm, guest.end_mm)):
            if bounds[-1] + 2 * LEAST_PART_MM < place < end - 2 * LEAST_PART_MM:
                bounds.append(place)
        for a, b in itertools.pairwise([*bounds, end]):
            middle = (a + b) / 2
            here = {guest.size for guest in host.guests if guest.start_mm <= middle <= guest.end_mm} | {host.size}
            sizes = tuple(size for size in order if size in here)
            if found and found[-1][0] == sizes and found[-1][2] == a:
                found[-1] = (sizes, found[-1][1], b)
            else:
                found.append((sizes, a, b))
    if len(found) == 1 and host.closed and found[0][2] - found[0][1] >= host.length - LEAST_PART_MM:
        return [Stretch(found[0][0], points_of(host.ring[:-1]), True)]
    parts = [(sizes, _between(host, a, b)) for sizes, a, b in found]
    round_start = found and found[0][1] <= LEAST_PART_MM and found[-1][2] >= host.length - LEAST_PART_MM
    if host.closed and round_start and len(parts) > 1 and parts[0][0] == parts[-1][0]:
        parts = [(parts[0][0], parts[-1][1] + parts[0][1][1:]), *parts[1:-1]]
    return [Stretch(sizes, thinned(points, False, _SPLIT_ERROR_MM), False) for sizes, points in parts]


def _between(host: _Host, start_mm: float, end_mm: float) -> tuple[Point, ...]:
    inner = host.ring[(host.along > start_mm) & (host.along < end_mm)].tolist()
    ends = [[float(np.interp(at, host.along, axis)) for axis in host.ring.T] for at in (start_mm, end_mm)]
    return tuple(itertools.starmap(Point, (ends[0], *inner, ends[1])))
