"""How long each lay is searched, of a time for all: longest where one is longer than its neighbours would suggest."""

from collections.abc import Mapping, Sequence

from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay
from pipeline.lays.saved import lay_key

_STEP = 0.02
"""What a lay takes more of the cloth than its neighbours', for which it gets as much time again as an even share."""
_MOST = 5.0
"""The largest share, in even ones."""


def seconds_for(requests: Sequence[LayRequest], saved: Mapping[str, Lay], seconds: int) -> dict[str, int]:
    """Seconds by key: `seconds` a lay in all, and at least a quarter of it for any.

    A step between sizes that a longer search would smooth is a lay that uses its cloth worse than that of the next size
    up or down: its length over the least that its pieces' area allows is held against theirs.
    """
    wanted = {lay_key(request): request for request in requests}
    rows: dict[tuple[object, ...], list[str]] = {}
    for key, request in wanted.items():
        row = request.view, request.material, request.width_mm, request.one_way, request.way
        rows.setdefault(row, []).append(key)
    weights = {
        key: 1.0 + _disagreement(key, [row[place - 1 : place], row[place + 1 : place + 2]], wanted, saved)
        for row in rows.values()
        for place, key in enumerate(row)
    }
    each = seconds * len(weights) / sum(weights.values()) if weights else 0.0
    return {key: max(1, seconds // 4, round(each * weight)) for key, weight in weights.items()}


def _disagreement(
    key: str, beside: Sequence[Sequence[str]], requests: Mapping[str, LayRequest], saved: Mapping[str, Lay]
) -> float:
    """By how much a lay uses its cloth worse than the better of its neighbours, in steps; of one not saved the most."""
    if key not in saved:
        return _MOST - 1
    there = [_excess(requests[other], saved[other]) for keys in beside for other in keys if other in saved]
    more = _excess(requests[key], saved[key]) / min(there) - 1 if there else 0.0
    return min(_MOST - 1, max(0.0, more / _STEP))


def _excess(request: LayRequest, lay: Lay) -> float:
    """The length of a lay over the least that its pieces' area allows."""
    return lay.length_mm * request.usable_mm / request.area_mm2
