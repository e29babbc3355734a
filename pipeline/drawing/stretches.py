"""Which stretches of a line several sizes share, so that each is drawn once.

A size whose line lies within `ALIKE_MM` of a line that is already drawn is a guest there; elsewhere it draws its own.
Sizes are taken in order, and guests only of what is really drawn, so that a fan of lines, each near to the next, is
drawn as lines that are nowhere farther than `ALIKE_MM` from their sizes.
"""

import itertools
from collections.abc import Mapping, Sequence
from typing import NamedTuple

import numpy as np
import shapely
import shapely.ops
from numpy.typing import NDArray

from pipeline.model.points import Point

ALIKE_MM = 0.02
"""Lines that are nearer than this are one line on paper."""
DRAWN_ERROR_MM = 0.012
"""How far thinning may move a line that is drawn."""
_SPLIT_ERROR_MM = 0.004
"""Takes out the points at which lines were only split to be compared."""
_LEAST_SHARED_MM = 6.0
"""Shorter runs beside each other are not worth a stretch of their own."""
_LEAST_PART_MM = 0.05

Floats = NDArray[np.float64]


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
        self.ring: Floats = np.asarray(chain.ring)
        self.shape = shapely.linestrings(self.ring)
        self.length = float(shapely.length(self.shape))
        self.drawn: Floats = np.empty((0, 2))
        self.guests: list[_Guest] = []

    def draws(self, along: Floats) -> NDArray[np.bool_]:
        """Whether each place along the chain is drawn."""
        low, high = self.drawn[:, 0] - _LEAST_PART_MM, self.drawn[:, 1] + _LEAST_PART_MM
        inside: NDArray[np.bool_] = (along[:, None] >= low) & (along[:, None] <= high)
        return np.any(inside, axis=1)


def shared_stretches(lines: Mapping[str, Sequence[Chain]]) -> tuple[Stretch, ...]:
    """The lines of all sizes as stretches, each drawn once for the sizes that share it.

    Every size gets back its whole line, within `ALIKE_MM`: where the parts do not add up to it, nothing is shared.
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
        for stretch in _shared_of_different(different)
    )


def _shared_of_different(lines: Mapping[str, Sequence[Chain]]) -> tuple[Stretch, ...]:
    chains = [(size, chain) for size, found in lines.items() for chain in found if len(chain.points) > 1]
    own = tuple(Stretch((size,), chain.points, chain.closed) for size, chain in chains)
    if len({size for size, _ in chains}) < 2:
        return own
    hosts = [_Host(size, chain) for size, chain in chains]
    _seat(hosts)
    shared = tuple(stretch for host in hosts for stretch in _stretches(host, tuple(lines)))
    for size in lines:
        whole = sum(length_mm(stretch) for stretch in own if size in stretch.sizes)
        parts = [length_mm(stretch) for stretch in shared if size in stretch.sizes]
        if abs(whole - sum(parts)) > 3 * _LEAST_PART_MM * (1 + len(parts)):
            return own
    return shared


def thinned(points: tuple[Point, ...], closed: bool, error_mm: float = DRAWN_ERROR_MM) -> tuple[Point, ...]:
    """Fewer points, none of the dropped farther than the error from the new line; both ends stay."""
    ring = points + points[:1] if closed else points
    line = shapely.simplify(shapely.linestrings(np.asarray(ring)), error_mm, preserve_topology=False)
    kept = tuple(Point(*place) for place in shapely.get_coordinates(line).tolist())
    return kept[:-1] if closed else kept


def length_mm(stretch: Stretch) -> float:
    """Length of a stretch, as drawn."""
    return sum(a.distance(b) for a, b in itertools.pairwise(stretch.ring))


def _seat(hosts: Sequence[_Host]) -> None:
    """Decide, chain after chain, which parts are guests of an earlier one and which are drawn."""
    starts = np.concatenate([host.ring[:-1] for host in hosts])
    ends = np.concatenate([host.ring[1:] for host in hosts])
    owners = np.concatenate([np.full(len(host.ring) - 1, index) for index, host in enumerate(hosts)])
    tree = shapely.STRtree(shapely.linestrings(np.stack((starts, ends), axis=1)))
    corners = np.concatenate([host.ring for host in hosts])
    corner_owners = np.concatenate([np.full(len(host.ring), index) for index, host in enumerate(hosts)])
    at_corner, at_segment = tree.query(shapely.points(corners), predicate="dwithin", distance=ALIKE_MM)
    foreign = corner_owners[at_corner] != owners[at_segment]
    cuts = _cuts(starts, ends, corners[at_corner[foreign]], at_segment[foreign])
    first = 0
    for index, host in enumerate(hosts):
        refined = _refined(host.ring, first, cuts)
        first += len(host.ring) - 1
        along = np.concatenate(([0.0], np.cumsum(np.hypot(*(refined[1:] - refined[:-1]).T))))
        earlier = [k for k in range(index) if hosts[k].size != host.size]
        of = np.full(len(refined) - 1, -1)
        if earlier:
            of = _hosts_of(refined, tree, owners, hosts, earlier)
            bounds = [0, *(np.flatnonzero(of[1:] != of[:-1]) + 1).tolist(), len(of)]
            for start, end in itertools.pairwise(bounds):
                if along[end] - along[start] < _LEAST_SHARED_MM:
                    of[start:end] = -1
        _take_seats(refined, of, hosts, host)
        host.drawn = _merged(np.stack((along[:-1][of < 0], along[1:][of < 0]), axis=1))


def _hosts_of(
    refined: Floats, tree: shapely.STRtree, owners: NDArray[np.intp], hosts: Sequence[_Host], earlier: Sequence[int]
) -> NDArray[np.intp]:
    """By part of a line, the first earlier chain that is drawn along it, at both ends and in the middle; or -1."""
    middles = (refined[:-1] + refined[1:]) / 2
    probes = shapely.points(np.concatenate((refined, middles)))
    at_probe, at_segment = tree.query(probes, predicate="dwithin", distance=ALIKE_MM)
    near = np.zeros((len(probes), len(hosts)), dtype=bool)
    near[at_probe, owners[at_segment]] = True
    count = len(refined)
    of = np.full(count - 1, -1)
    for k in earlier:
        parts = np.flatnonzero(near[: count - 1, k] & near[1:count, k] & near[count:, k] & (of < 0))
        if len(parts):
            ways = [shapely.line_locate_point(hosts[k].shape, probes[parts + shift]) for shift in (0, 1, count)]
            of[parts[np.all([hosts[k].draws(way) for way in ways], axis=0)]] = k
    return of


def _take_seats(refined: Floats, of: NDArray[np.intp], hosts: Sequence[_Host], guest: _Host) -> None:
    """Enter the parts of a line with the chains that are drawn for them."""
    for k in np.unique(of[of >= 0]).tolist():
        host, parts = hosts[k], np.flatnonzero(of == k)
        ways = [shapely.line_locate_point(host.shape, shapely.points(refined[parts + shift])) for shift in (0, 1)]
        spans = np.sort(np.stack(ways, axis=1), axis=1)
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
        if merged and start <= merged[-1][1] + _LEAST_PART_MM:
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
            if bounds[-1] + 2 * _LEAST_PART_MM < place < end - 2 * _LEAST_PART_MM:
                bounds.append(place)
        for a, b in itertools.pairwise([*bounds, end]):
            middle = (a + b) / 2
            here = {guest.size for guest in host.guests if guest.start_mm <= middle <= guest.end_mm} | {host.size}
            sizes = tuple(size for size in order if size in here)
            if found and found[-1][0] == sizes and found[-1][2] == a:
                found[-1] = (sizes, found[-1][1], b)
            else:
                found.append((sizes, a, b))
    if len(found) == 1 and host.closed and found[0][2] - found[0][1] >= host.length - _LEAST_PART_MM:
        return [Stretch(found[0][0], tuple(Point(*place) for place in host.ring[:-1].tolist()), True)]
    parts = [(sizes, _between(host, a, b)) for sizes, a, b in found]
    round_start = found and found[0][1] <= _LEAST_PART_MM and found[-1][2] >= host.length - _LEAST_PART_MM
    if host.closed and round_start and len(parts) > 1 and parts[0][0] == parts[-1][0]:
        parts = [(parts[0][0], parts[-1][1] + parts[0][1][1:]), *parts[1:-1]]
    return [Stretch(sizes, thinned(points, False, _SPLIT_ERROR_MM), False) for sizes, points in parts]


def _between(host: _Host, start_mm: float, end_mm: float) -> tuple[Point, ...]:
    part = shapely.ops.substring(host.shape, start_mm, end_mm)
    return tuple(Point(*place) for place in shapely.get_coordinates(part).tolist())


def _cuts(starts: Floats, ends: Floats, corners: Floats, segments: NDArray[np.intp]) -> dict[int, list[float]]:
    """Shares along a segment at which another size's corner lies on it, by segment."""
    runs = ends[segments] - starts[segments]
    lengths = np.hypot(runs[:, 0], runs[:, 1])
    along = np.einsum("ij,ij->i", corners - starts[segments], runs) / np.maximum(lengths, 1e-12)
    inner = (along > _LEAST_PART_MM) & (along < lengths - _LEAST_PART_MM)
    cuts: dict[int, list[float]] = {}
    for segment, share in zip(segments[inner].tolist(), (along[inner] / lengths[inner]).tolist(), strict=True):
        cuts.setdefault(segment, []).append(share)
    return cuts


def _refined(ring: Floats, first: int, cuts: Mapping[int, list[float]]) -> Floats:
    """The line with points added where other sizes' corners lie on it; `first` is its first segment's number."""
    at: list[int] = []
    places: list[Floats] = []
    for index in range(len(ring) - 1):
        if first + index not in cuts:
            continue
        last, step = 0.0, ring[index + 1] - ring[index]
        least = _LEAST_PART_MM / float(np.hypot(*step))
        for share in sorted(cuts[first + index]):
            if share - last > least:
                at.append(index + 1)
                places.append(ring[index] + share * step)
                last = share
    return np.insert(ring, at, np.asarray(places), axis=0) if places else ring
