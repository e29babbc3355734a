"""Lines of several sizes as numbered segments: where one line lies on another."""

from collections.abc import Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

NEAR_SHARE = 0.8
"""How near a thinned line must lie to be shown by another, as a share of how far off it may be: thinning and moved ends
take the rest."""
LEAST_PART_MM = 0.02
"""Shorter parts are added to their neighbours: a stretch may end so far from where its guest does, and twice that."""

Floats = NDArray[np.float64]


class Segments:
    """The segments of all chains, numbered through.

    A chain is its points, shape (n, 2), and how far along it each lies, in mm, shape (n,).
    """

    def __init__(self, chains: Sequence[tuple[Floats, Floats]], near_mm: float) -> None:
        self.near_mm = near_mm
        self.rings = [ring for ring, _ in chains]
        self.starts = np.concatenate([ring[:-1] for ring in self.rings])
        self.runs = np.concatenate([ring[1:] - ring[:-1] for ring in self.rings])
        self.lengths: Floats = np.hypot(self.runs[:, 0], self.runs[:, 1])
        self.before = np.concatenate([along[:-1] for _, along in chains])
        self.owners = np.concatenate([np.full(len(ring) - 1, index) for index, ring in enumerate(self.rings)])
        ends = self.starts + self.runs
        self.tree = shapely.STRtree(shapely.linestrings(np.stack((self.starts, ends), axis=1)))

    def refined(self) -> list[Floats]:
        """Each chain with points added where other chains' corners lie on it."""
        corners = np.concatenate(self.rings)
        owners = np.concatenate([np.full(len(ring), index) for index, ring in enumerate(self.rings)])
        at_corner, segments, along, _ = self._near(corners)
        foreign = owners[at_corner] != self.owners[segments]
        segments, along = segments[foreign], along[foreign]
        inner = (along > LEAST_PART_MM) & (along < self.lengths[segments] - LEAST_PART_MM)
        cuts: dict[int, list[float]] = {}
        shares = along[inner] / self.lengths[segments[inner]]
        for segment, share in zip(segments[inner].tolist(), shares.tolist(), strict=True):
            cuts.setdefault(segment, []).append(share)
        lines, first = [], 0
        for ring in self.rings:
            lines.append(_refined(ring, first, cuts))
            first += len(ring) - 1
        return lines

    def ways(self, probes: Sequence[Floats]) -> list[Floats]:
        """For each chain's probes, how far along each chain they lie, in mm (probes x chains); nan: not on it."""
        places, count = np.concatenate(probes), len(self.rings)
        at_probe, segments, along, off = self._near(places)
        # the nearest segment of a chain comes last, and so is the one that stays
        order = np.lexsort((-segments, -np.round(off, 9)))
        found = np.full((len(places), count), np.nan)
        found[at_probe[order], self.owners[segments[order]]] = (self.before[segments] + along)[order]
        return np.split(found, np.cumsum([len(some) for some in probes])[:-1])

    def _near(self, places: Floats) -> tuple[NDArray[np.intp], NDArray[np.intp], Floats, Floats]:
        """Places and segments within `near_mm`: their numbers, how far along the segment, and how far off, in mm."""
        boxes = shapely.linestrings(np.stack((places - self.near_mm, places + self.near_mm), axis=1))
        at_place, segments = self.tree.query(boxes)
        from_start = places[at_place] - self.starts[segments]
        runs, lengths = self.runs[segments], self.lengths[segments]
        along = np.clip(np.einsum("ij,ij->i", from_start, runs) / np.maximum(lengths, 1e-12), 0.0, lengths)
        away = from_start - (along / np.maximum(lengths, 1e-12))[:, None] * runs
        off: Floats = np.hypot(away[:, 0], away[:, 1])
        near = off <= self.near_mm
        return at_place[near], segments[near], along[near], off[near]


def _refined(ring: Floats, first: int, cuts: Mapping[int, list[float]]) -> Floats:
    """The line with points added where other sizes' corners lie on it; `first` is its first segment's number."""
    at: list[int] = []
    places: list[Floats] = []
    for index in range(len(ring) - 1):
        if first + index not in cuts:
            continue
        last, step = 0.0, ring[index + 1] - ring[index]
        least = LEAST_PART_MM / float(np.hypot(*step))
        for share in sorted(cuts[first + index]):
            if share - last > least:
                at.append(index + 1)
                places.append(ring[index] + share * step)
                last = share
    return np.insert(ring, at, np.asarray(places), axis=0) if places else ring
