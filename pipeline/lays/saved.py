"""Lays that were found are kept, and a build only proves them again.

A lay is kept under a hash of all that it depends on. One that holds for a request also holds on wider cloth, without
nap, and of folded cloth when it is opened out: so the shortest is chosen among all of one size, and a table of lengths
cannot contradict itself. Where a cloth may be laid in several ways, the one that takes the least is told.
"""

import hashlib
from collections.abc import Iterable, Mapping
from functools import cache, lru_cache

import msgspec
import numpy as np

from pipeline.lays.engine import engine_version
from pipeline.lays.items import LayItem, LayRequest, allowed_angles
from pipeline.lays.lay import Lay, folded_as
from pipeline.lays.proof import faults
from pipeline.lays.zones import on_width, unfolded

FORMAT = 1
OUTLINE_STEP_MM = 0.01
"""Outlines are hashed to this step: finer differences are arithmetic, and the proof sees them anyway."""

_engine_version = cache(engine_version)
_faults = lru_cache(maxsize=1024)(faults)  # a build asks twice: whether to search, and what to choose


class LaysFile(msgspec.Struct, frozen=True, kw_only=True):
    """The file `lays.json`: the best lay known, by key."""

    lays: dict[str, Lay]
    format: int = FORMAT


def lays_json(file: LaysFile) -> bytes:
    """The text of `lays.json`, a lay a line: a repository shows which ones became better."""

    def text(value: object) -> str:
        return msgspec.json.encode(value).decode()

    rows = [f"{text(key)}: {text(lay)}" for key, lay in file.lays.items()]
    return (f'{{"format": {file.format}, "lays": {{\n' + ",\n".join(rows) + "\n}}\n").encode()


class Chosen(msgspec.Struct, frozen=True, kw_only=True):
    """The shortest proven lay of a request, and whether it was kept beside the source."""

    request: LayRequest
    lay: Lay
    kept: bool


def lay_key(request: LayRequest) -> str:
    """A hash of outlines, demand, orientations, usable width, gap, kind of lay and the engine's version."""
    items = [
        (_item_digest(item), allowed_angles(item.grain, request.one_way, request.free_turn)) for item in request.items
    ]
    way: object = folded_as(request.way)
    if not isinstance(way, bool):
        way = (way, request.selvedge_mm)
    depends_on = [items, round(request.usable_mm, 3), request.gap_mm, way, _engine_version(), FORMAT]
    return hashlib.sha256(msgspec.json.encode(depends_on)).hexdigest()[:32]


@lru_cache(maxsize=1024)
def _item_digest(item: LayItem) -> str:
    """A hash of an item, but for what its grain is held against."""
    steps = np.rint(item.points / OUTLINE_STEP_MM).astype("<i8")
    counted: tuple[object, ...] = (item.name, item.count, item.mirrored, item.symmetric, item.on_fold)
    counted += (item.face,) if item.face else ()
    return hashlib.sha256(msgspec.json.encode(counted) + steps.tobytes()).hexdigest()


def missing(requests: Iterable[LayRequest], lays: Mapping[str, Lay]) -> tuple[LayRequest, ...]:
    """The requests without a proven lay under their own key, each key once: these are to be searched."""
    wanted = {lay_key(request): request for request in requests}
    return tuple(request for key, request in wanted.items() if key not in lays or _faults(request, lays[key]))


def choose(requests: Iterable[LayRequest], saved: Mapping[str, Lay], found: Mapping[str, Lay]) -> tuple[Chosen, ...]:
    """The shortest proven lay of every request that has one, of those kept beside the source and those just found.

    The requests are of any sizes, materials and widths; a lay is tried on all requests that lay the same items.
    """
    families: dict[object, list[LayRequest]] = {}
    for request in requests:
        families.setdefault((request.view, request.size, request.material), []).append(request)
    return tuple(
        chosen
        for family in families.values()
        for request in family
        if (chosen := _shortest(request, family, saved, found)) is not None
    )


def _shortest(
    request: LayRequest, family: list[LayRequest], saved: Mapping[str, Lay], found: Mapping[str, Lay]
) -> Chosen | None:
    candidates: list[tuple[float, bool, bool, int, Lay]] = []
    for other in family:
        if other.usable_mm > request.usable_mm or request.way not in ("open", other.way):
            continue
        key = lay_key(other)
        for is_kept, lays in ((True, saved), (False, found)):
            if key in lays:
                opened = other.way != request.way
                lay = unfolded(lays[key], other) if opened else on_width(lays[key], other, request)
                candidates.append((lay.length_mm, other is not request, not is_kept, len(candidates), lay))
    for _, _, is_found, _, lay in sorted(candidates, key=lambda candidate: candidate[:4]):
        if not _faults(request, lay):
            return Chosen(request=request, lay=lay, kept=not is_found)
    return None


def with_better(saved: Mapping[str, Lay], requests: Iterable[LayRequest], found: Mapping[str, Lay]) -> LaysFile:
    """What is kept after a search: the shorter of the old and the new for every request, and nothing else."""
    lays = {}
    for request in requests:
        key = lay_key(request)
        proven = [each[key] for each in (saved, found) if key in each and not _faults(request, each[key])]
        if proven:
            lays[key] = min(proven, key=lambda lay: lay.length_mm)
    return LaysFile(lays=dict(sorted(lays.items())))


def next_seed(request: LayRequest, saved: Mapping[str, Lay]) -> int:
    """A seed whose tries were not made yet for the lay that is kept."""
    lay = saved.get(lay_key(request))
    return 1 if lay is None else lay.seed + 1
