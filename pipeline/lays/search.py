"""Searching a lay: tries of the engine, compacted and proven, the shortest kept."""

import random
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ThreadPoolExecutor
from queue import SimpleQueue

import msgspec

from pipeline.lays.compact import compacted
from pipeline.lays.engine import Engine, EngineError, EngineLostError
from pipeline.lays.folded_lay import Halves, folded_members
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay, Placed, Shapes, folded_as
from pipeline.lays.open_lay import Member, engine_item, open_members, placed_members
from pipeline.lays.proof import faults
from pipeline.lays.shelves import shelved
from pipeline.lays.zone_search import Found, search_zones

SIDE_BY_SIDE = 2
"""Lays that are searched at a time."""


class Round(msgspec.Struct, frozen=True):
    """The best `tries` so far get `seconds` each."""

    tries: int
    seconds: int


def rounds(seconds: int, choices: bool) -> tuple[Round, ...]:
    """How a total of seconds is shared among tries, where there is something to choose besides the engine's path.

    Measured on folded lays: 16 tries of 1 s, the best 4 for 4 s, the best for 20 s. Less time has fewer of each.
    """
    if not choices or seconds < 2:
        return (Round(1, max(1, seconds)),)
    if seconds < 6:
        return (Round(seconds, 1),)
    first = min(16, seconds * 3 // 10)
    second = max(1, first // 4)
    each = min(4, max(1, seconds * 3 // 10 // second))
    return Round(first, 1), Round(second, each), Round(1, seconds - first - second * each)


def search_lay(request: LayRequest, seconds: int, engine: Engine, seed: int = 1) -> Found:
    """The shortest proven lay found in `seconds` of the engine over all tries. Every piece must fit: see `fit`."""
    if request.way in ("fold", "open"):
        return _Search(request, seconds, engine, seed).run()
    return search_zones(request, seconds, seed, lambda part, time, lot: _Search(part, time, engine, lot).run())


def search_lays(
    requests: Iterable[LayRequest],
    seconds: int | Callable[[LayRequest], int],
    seed: Callable[[LayRequest], int] = lambda _: 1,
    side_by_side: int = SIDE_BY_SIDE,
) -> Iterator[Found]:
    """Search lays side by side, each row of them in one process of the engine; outcomes in the requests' order."""
    engines: SimpleQueue[Engine] = SimpleQueue()
    started = [Engine() for _ in range(side_by_side)]
    for engine in started:
        engines.put(engine)

    def search(request: LayRequest) -> Found:
        engine = engines.get()
        try:
            own = seconds if isinstance(seconds, int) else seconds(request)
            return search_lay(request, own, engine, seed(request))
        finally:
            engines.put(engine)

    try:
        with ThreadPoolExecutor(side_by_side) as pool:
            yield from pool.map(search, requests)
    finally:
        for engine in started:
            engine.end()


class _Search:
    def __init__(self, request: LayRequest, seconds: int, engine: Engine, seed: int) -> None:
        self.request, self.seconds, self.engine, self.seed = request, seconds, engine, seed
        self.coarse = Shapes(request, coarse=True)
        self.halves = Halves(request, self.coarse)
        self.best: Lay | None = None
        self.begun: float | None = None
        self.lost = False
        self.troubles: list[str] = []

    def run(self) -> Found:
        lots = len(self.halves.names) > 1 or any(not item.symmetric for item in self.request.items)
        shared = rounds(self.seconds, self.request.way == "fold" and lots)
        numbers = list(range(shared[0].tries))
        for each in shared:
            tried = [outcome for number in numbers[: each.tries] if (outcome := self._try(number, each.seconds))]
            if not tried:
                break
            tried.sort(key=lambda outcome: outcome[:2])
            for _, _, placed in tried:
                if self._proven(placed):
                    break  # only the best of a round is worth compacting
            numbers = [number for _, number, _ in tried]
        if not self.lost:  # a process that was ended has said nothing of this lay: that is told, nothing made up for it
            self._proven(shelved(self.request, self.coarse, self._members(random.Random(self.seed))))
        return Found(self.best, tuple(dict.fromkeys(self.troubles)) if self.best is None else ())

    def _try(self, number: int, seconds: int) -> tuple[float, int, list[Placed]] | None:
        """(length as the engine left it, the try's number, what lies where); None where the engine fails.

        The engine overruns what it is given, most with a comb: no try is begun after the total is used up.
        """
        if self.begun is not None and time.monotonic() - self.begun >= self.seconds:
            return None
        self.begun = self.begun or time.monotonic()
        try:
            placed = self._placed(number, seconds)
        except EngineError as error:
            self.troubles.append(str(error))
            self.lost = isinstance(error, EngineLostError)
            return None
        extents = [self.coarse.placed(place)[:, 0] for place in placed]
        return max(float(xs.max()) for xs in extents) - min(float(xs.min()) for xs in extents), number, placed

    def _proven(self, placed: list[Placed]) -> bool:
        """Settle a try and prove it; the shortest is remembered."""
        length, places = compacted(self.request, self.coarse, placed)
        lay = Lay(
            folded=folded_as(self.request.way),
            length_mm=length,
            placed=places,
            seed=self.seed,
            seconds=self.seconds,
        )
        if found := faults(self.request, lay):
            self.troubles += found
            return False
        if self.best is None or length < self.best.length_mm:
            self.best = lay
        return True

    def _placed(self, number: int, seconds: int) -> list[Placed]:
        """One run of the engine. The search's seed and the try's number decide all that is drawn by lot."""
        rng = random.Random(f"{self.seed} {number}")
        request = self.request
        members = self._members(rng)
        combs = self.halves.combs(rng, number == 0 and self.seed == 1) if request.way == "fold" else []
        order = list(members)
        items = [comb.engine_item() for comb in combs]
        items += [engine_item(request, self.coarse, member, members[member]) for member in order]
        found = self.engine.solve(request.height_mm, request.gap_mm, tuple(items), seconds, self.seed * 1000 + number)
        placed = [half for place in found if place.item < len(combs) for half in combs[place.item].placed(place)]
        free = [place for place in found if place.item >= len(combs)]
        rest = (msgspec.structs.replace(place, item=place.item - len(combs)) for place in free)
        return [*placed, *placed_members(order, rest)]

    def _members(self, rng: random.Random) -> Counter[Member]:
        return folded_members(self.request, rng) if self.request.way == "fold" else open_members(self.request)
