"""Cut pieces of all sizes in; the better of the lays saved so far and those found now stay beside the source."""

from pathlib import Path

from pipeline.lays.demand import fitting_requests
from pipeline.lays.effort import seconds_for
from pipeline.lays.mend import improved
from pipeline.lays.saved import LaysFile, lay_key, lays_json, next_seed, with_better
from pipeline.lays.search import search_lays
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pieces import SizeFile
from pipeline.steps.inputs import read_saved
from pipeline.work.files import read_json, write


def main(folder: Path, pieces: list[Path], seconds: int) -> None:
    """Search every lay, longest where neighbouring sizes disagree, then see whether one size's holds for another.

    What is found is saved after each, so that a search that is stopped keeps what it had.
    """
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    requests = fitting_requests(pattern, (read_json(path, SizeFile) for path in pieces))
    place = folder / "lays.json"
    known = read_saved(place, LaysFile).lays if place.is_file() else {}
    found = {}
    shared = seconds_for(requests, known, seconds)
    outcomes = search_lays(requests, lambda request: shared[lay_key(request)], lambda each: next_seed(each, known))
    for request, outcome in zip(requests, outcomes, strict=True):
        if outcome.lay is not None:
            found[lay_key(request)] = outcome.lay
            write(place, lays_json(with_better(known, requests, found)))
    best = with_better(known, requests, found).lays
    write(place, lays_json(with_better(best, requests, improved(requests, {**known, **best}))))
