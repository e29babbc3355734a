"""Cut pieces of all sizes and the kept lays in; a proven lay for each request, and what there is to tell, out."""

from collections.abc import Collection
from pathlib import Path

from pipeline.lays.demand import fitting_requests
from pipeline.lays.even import made_even, uneven
from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay
from pipeline.lays.mend import mended
from pipeline.lays.saved import LaysFile, choose, lay_key, missing
from pipeline.lays.search import search_lays
from pipeline.lays.tell import made_again, no_lay, not_kept, tried_open
from pipeline.lays.ways import least_to_buy, of_one_lay, would_save
from pipeline.lays.zone_search import Found
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import FindingsFile
from pipeline.model.pieces import SizeFile
from pipeline.steps.inputs import read_saved
from pipeline.work.cache import Answers
from pipeline.work.files import read_json, write_json

_MISSED, _AGAIN = 1.03, 4
"""A lay so many times as long as one that holds as much is searched again, for so many times as long."""


def main(folder: Path, work: Path, pieces: list[Path], kept: list[Path], lays: Path, findings: Path) -> None:
    """Prove what is kept; mend or search what is missing, the latter as long as `pattern.toml` says, and once a work
    folder: a fix of one size lets the others lie, and says the lengths to buy that it said before."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    requests = fitting_requests(pattern, (read_json(path, SizeFile) for path in pieces))
    known = read_saved(kept[0], LaysFile).lays if kept else {}
    mends = [(request, mended(request, known.values())) for request in missing(requests, known)]
    again = [request for request, lay in mends if lay is not None]
    known |= {lay_key(request): lay for request, lay in mends if lay is not None}
    absent = missing(requests, known)
    before = Answers(work / pattern.name / "cache/lays-found", search_lays.__module__)
    old = {lay_key(each) for each in absent if before.known((lay_key(each), pattern.lay_seconds), Found) is not None}
    outcomes = _searched(absent, pattern.lay_seconds, before)
    searched = {lay_key(request): found.lay for request, found in outcomes if found.lay is not None}
    searched |= _made_even(requests, known | searched, searched.keys() - old, pattern.lay_seconds, before)
    before.save()
    laid = choose(requests, known, searched)
    chosen = least_to_buy(pattern, laid)
    there = {of_one_lay(each.request) for each in chosen}
    told = [no_lay(pattern, request, found) for request, found in outcomes if of_one_lay(request) not in there]
    told += [*made_again(pattern, again), *not_kept(pattern, laid), *tried_open(pattern, chosen)]
    told += would_save(pattern, chosen)
    write_json(lays, chosen)
    write_json(findings, FindingsFile(findings=tuple(told)))


def _made_even(
    requests: tuple[LayRequest, ...], lays: dict[str, Lay], keys: Collection[str], seconds: int, before: Answers
) -> dict[str, Lay]:
    """Of the lays that this build searched, by key, those that are longer than one which holds as much: made of that,
    or, where they are still much longer, searched again for longer. They are remembered as found."""
    even = made_even(requests, lays, keys)
    missed = tuple(each for each in uneven(requests, lays | even, _MISSED) if lay_key(each) in keys)
    for request, outcome in _searched(missed, _AGAIN * seconds, before):
        key = lay_key(request)
        if outcome.lay is not None and outcome.lay.length_mm < (lays | even)[key].length_mm:
            even[key] = outcome.lay
    even |= made_even(requests, lays | even, keys) if missed else {}
    for key, lay in even.items():
        before.keep((key, seconds), Found(lay))
    return even


def _searched(requests: tuple[LayRequest, ...], seconds: int, before: Answers) -> list[tuple[LayRequest, Found]]:
    """What was found of each request, in this build or in one before it; nothing is saved yet."""
    asked = {lay_key(request): (lay_key(request), seconds) for request in requests}
    found = {key: before.known(asked[key], Found) for key in asked}
    new = [request for request in requests if found[lay_key(request)] is None]
    for request, outcome in zip(new, search_lays(new, seconds) if new else (), strict=True):
        found[lay_key(request)] = outcome
        if outcome.lay is not None:
            before.keep(asked[lay_key(request)], outcome)
    return [(request, found[lay_key(request)]) for request in requests]
