"""Lays of smaller pieces that are longer than those of larger ones: what a search missed for one size, it found for
another. Every larger size would be told to buy as much."""

from collections.abc import Collection, Iterable, Mapping
from typing import NamedTuple

from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay
from pipeline.lays.mend import mended
from pipeline.lays.saved import lay_key

_ALIKE = 1.001
_ROUNDS = 4


class _One(NamedTuple):
    key: str
    area_mm2: float
    request: LayRequest


def uneven(requests: Iterable[LayRequest], lays: Mapping[str, Lay], by: float = _ALIKE) -> tuple[LayRequest, ...]:
    """Those whose lay is longer, `by` so many times, than one of the same view, cloth and way that holds as much area,
    or more."""
    return tuple(one.request for row in _rows(requests) for one in row if _shorter_ones(one, row, lays, by))


def made_even(requests: Iterable[LayRequest], lays: Mapping[str, Lay], keys: Collection[str]) -> dict[str, Lay]:
    """The lays of these keys that can be made shorter of one which is shorter though it holds as much.

    What one size gains others may gain from it, so this goes round until nothing changes.
    """
    asked, best = [(one, row) for row in _rows(requests) for one in row if one.key in keys], dict(lays)
    for _ in range(_ROUNDS):
        before = dict(best)
        for one, row in asked:
            shorter = _shorter_ones(one, row, before, _ALIKE)
            new = mended(one.request, shorter) if shorter else None
            if new is not None and new.length_mm < best[one.key].length_mm:
                best[one.key] = new
        if best == before:
            break
    return {key: best[key] for key in keys if best[key] is not lays[key]}


def _rows(requests: Iterable[LayRequest]) -> list[list[_One]]:
    rows: dict[tuple[object, ...], list[_One]] = {}
    for request in requests:
        row = request.view, request.material, request.width_mm, request.one_way, request.way
        rows.setdefault(row, []).append(_One(lay_key(request), request.area_mm2, request))
    return list(rows.values())


def _shorter_ones(one: _One, row: Iterable[_One], lays: Mapping[str, Lay], by: float) -> list[Lay]:
    if one.key not in lays:
        return []
    others = (lays[other.key] for other in row if other.key in lays and other.area_mm2 >= one.area_mm2)
    return [lay for lay in others if by * lay.length_mm < lays[one.key].length_mm]
