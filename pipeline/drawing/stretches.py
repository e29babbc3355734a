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
from numpy.typing import NDArray

from pipeline.model.points import Point
from pipeline.sheets.coordinates import coordinates

ALIKE_MM = 0.1
"""Lines that are nearer than this, a quarter of a cut line's width, are one line on paper."""
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
        self.ring: Floats = coordinates(chain.ring)
        steps: Floats = self.ring[1:] - self.ring[:-1]
        self.along: Floats = np.concatenate(([0.0], np.cumsum(np.hypot(steps[:, 0], steps[:, 1]))))
        self.length = float(self.along[-1])
        self.drawn: Floats = np.empty((0, 2))
        self.guests: list[_Guest] = []

    def drawn_at(self, along: Floats) -> NDArray[np.intp]:
        """Number of the drawn part in which each place along the chain lies, or -1; past a ring's start it stays."""
        low, high = self.drawn[:, 0] - _LEAST_PART_MM, self.drawn[:, 1] + _LEAST_PART_MM
        inside: NDArray[np.bool_] = (along[:, None] >= low) & (along[:, None] <= high)
        parts = np.where(inside.any(axis=1), inside.argmax(axis=1), -1) if len(low) else np.full(len(along), -1)
        if self.closed and len(low) > 1 and low[0] <= 0 and high[-1] >= self.length:
            parts[parts == len(low) - 1] = 0
        return parts


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
    whole, parts = ([(stretch.sizes, length_mm(stretch)) for stretch in some] for some in (own, shared))
    for size in lines:
        whole_mm = sum(length for sizes, length in whole if size in sizes)
        parts_mm = [length for sizes, length in parts if size in sizes]
        if abs(whole_mm - sum(parts_mm)) > 3 * _LEAST_PART_MM * (1 + len(parts_mm)):
            return own
    return shared


def thinned(points: tuple[Point, ...], closed: bool, error_mm: float = DRAWN_ERROR_MM) -> tuple[Point, ...]:
    """Fewer points, none of the dropped farther than the error from the new line; both ends stay."""
    ring = points + points[:1] if closed else points
    line = shapely.simplify(shapely.linestrings(coordinates(ring)), error_mm, preserve_topology=False)
    kept = points_of(shapely.get_coordinates(line))
    return kept[:-1] if closed else kept


def length_mm(stretch: Stretch) -> float:
    """Length of a stretch, as drawn."""
    steps = np.diff(coordinates(stretch.ring), axis=0)
    return float(np.hypot(steps[:, 0], steps[:, 1]).sum())


def points_of(places: Floats) -> tuple[Point, ...]:
    """Rows of an array as points."""
    return tuple(itertools.starmap(Point, places.tolist()))


def _seat(hosts: Sequence[_Host]) -> None:
    """Decide, chain after chain, which parts are guests of an earlier one and which are drawn."""
    segments = _Segments(hosts)
    refined = segments.refined()
    probes = [np.concatenate((line, (line[:-1] + line[1:]) / 2)) for line in refined]
    ways = segments.ways(probes)
    for index, (host, line, way) in enumerate(zip(hosts, refined, ways, strict=True)):
        along = np.concatenate(([0.0], np.cumsum(np.hypot(*(line[1:] - line[:-1]).T))))
        of = np.full(len(line) - 1, -1)
        earlier = [k for k in range(index) if hosts[k].size != host.size]
        if earlier:
            of = _hosts_of(len(line), way, hosts, earlier)
            bounds = [0, *(np.flatnonzero(of[1:] != of[:-1]) + 1).tolist(), len(of)]
            for start, end in itertools.pairwise(bounds):
                if along[end] - along[start] < _LEAST_SHARED_MM:
                    of[start:end] = -1
        _take_seats(way, of, hosts, host)
        host.drawn = _merged(np.stack((along[:-1][of < 0], along[1:][of < 0]), axis=1))


class _Segments:
    """The segments of all chains, numbered through."""

    def __init__(self, hosts: Sequence[_Host]) -> None:
        self.hosts = hosts
        self.starts = np.concatenate([host.ring[:-1] for host in hosts])
        self.runs = np.concatenate([host.ring[1:] - host.ring[:-1] for host in hosts])
        self.lengths: Floats = np.hypot(self.runs[:, 0], self.runs[:, 1])
        self.before = np.concatenate([host.along[:-1] for host in hosts])
        self.owners = np.concatenate([np.full(len(host.ring) - 1, index) for index, host in enumerate(hosts)])
        ends = self.starts + self.runs
        self.tree = shapely.STRtree(shapely.linestrings(np.stack((self.starts, ends), axis=1)))

    def refined(self) -> list[Floats]:
        """Each chain with points added where other chains' corners lie on it."""
        corners = np.concatenate([host.ring for host in self.hosts])
        owners = np.concatenate([np.full(len(host.ring), index) for index, host in enumerate(self.hosts)])
        at_corner, segments, along, _ = self._near(corners)
        foreign = owners[at_corner] != self.owners[segments]
        segments, along = segments[foreign], along[foreign]
        inner = (along > _LEAST_PART_MM) & (along < self.lengths[segments] - _LEAST_PART_MM)
        cuts: dict[int, list[float]] = {}
        shares = along[inner] / self.lengths[segments[inner]]
        for segment, share in zip(segments[inner].tolist(), shares.tolist(), strict=True):
            cuts.setdefault(segment, []).append(share)
        lines, first = [], 0
        for host in self.hosts:
            lines.append(_refined(host.ring, first, cuts))
            first += len(host.ring) - 1
        return lines

    def ways(self, probes: Sequence[Floats]) -> list[Floats]:
        """For each chain's probes, how far along each chain they lie, in mm (probes x chains); nan: not on it."""
        places, count = np.concatenate(probes), len(self.hosts)
        at_probe, segments, along, off = self._near(places)
        # the nearest segment of a chain comes last, and so is the one that stays
        order = np.lexsort((-segments, -np.round(off, 9)))
        found = np.full((len(places), count), np.nan)
        found[at_probe[order], self.owners[segments[order]]] = (self.before[segments] + along)[order]
        return np.split(found, np.cumsum([len(some) for some in probes])[:-1])

    def _near(self, places: Floats) -> tuple[NDArray[np.intp], NDArray[np.intp], Floats, Floats]:
        """Places and segments within `ALIKE_MM`: their numbers, how far along the segment, and how far off, in mm."""
        boxes = shapely.linestrings(np.stack((places - ALIKE_MM, places + ALIKE_MM), axis=1))
        at_place, segments = self.tree.query(boxes)
        from_start = places[at_place] - self.starts[segments]
        runs, lengths = self.runs[segments], self.lengths[segments]
        along = np.clip(np.einsum("ij,ij->i", from_start, runs) / np.maximum(lengths, 1e-12), 0.0, lengths)
        away = from_start - (along / np.maximum(lengths, 1e-12))[:, None] * runs
        off: Floats = np.hypot(away[:, 0], away[:, 1])
        near = off <= ALIKE_MM
        return at_place[near], segments[near], along[near], off[near]


def _hosts_of(count: int, ways: Floats, hosts: Sequence[_Host], earlier: Sequence[int]) -> NDArray[np.intp]:
    """By part of a line of `count` points, the first earlier chain with one drawn part at both its ends and its middle;
    or -1."""
    of = np.full(count - 1, -1)
    for k in earlier:
        way = ways[:, k]
        if np.isnan(way).all():
            continue
        part = hosts[k].drawn_at(way)
        start, end, middle = part[: count - 1], part[1:count], part[count:]
        of[(start >= 0) & (start == end) & (start == middle) & (of < 0)] = k
    return of


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
        return [Stretch(found[0][0], points_of(host.ring[:-1]), True)]
    parts = [(sizes, _between(host, a, b)) for sizes, a, b in found]
    round_start = found and found[0][1] <= _LEAST_PART_MM and found[-1][2] >= host.length - _LEAST_PART_MM
    if host.closed and round_start and len(parts) > 1 and parts[0][0] == parts[-1][0]:
        parts = [(parts[0][0], parts[-1][1] + parts[0][1][1:]), *parts[1:-1]]
    return [Stretch(sizes, thinned(points, False, _SPLIT_ERROR_MM), False) for sizes, points in parts]


def _between(host: _Host, start_mm: float, end_mm: float) -> tuple[Point, ...]:
    inner = host.ring[(host.along > start_mm) & (host.along < end_mm)].tolist()
    ends = [[float(np.interp(at, host.along, axis)) for axis in host.ring.T] for at in (start_mm, end_mm)]
    return tuple(itertools.starmap(Point, (ends[0], *inner, ends[1])))


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
