"""Searching a lay of a cloth in two zones: what lies where is chosen first, then each zone is a lay of its own."""

from collections.abc import Callable

import msgspec

from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Lay
from pipeline.lays.plain import plain_lay, together
from pipeline.lays.proof import faults
from pipeline.lays.sharing import Share, shares


class Found(msgspec.Struct, frozen=True):
    """The outcome of one search: a proven lay, or what the tries failed of."""

    lay: Lay | None
    troubles: tuple[str, ...] = ()


Search = Callable[[LayRequest, int, int], Found]
"""Searches a lay on one fold or open, for so many seconds, with a seed."""


def search_zones(request: LayRequest, seconds: int, seed: int, search: Search) -> Found:
    """The shortest proven lay found in about `seconds` of the engine: half of them for the most promising shares, a
    second a zone, the other half for the longest zone of the best. Every piece must fit: see `sharing`."""
    tried = shares(request, seed, max(1, seconds))
    troubles: list[str] = []
    outcomes: list[tuple[float, int, Share, list[Lay]]] = []
    spent = 0
    for share in tried:
        if outcomes and (spent + len(share.asked) > seconds // 2 or share.estimate_mm >= outcomes[0][0]):
            break  # what is estimated to become longer than what was found will not be shorter
        laid = []
        for _, asked in share.asked:
            found, took = _searched(asked, 1, seed, search)
            spent += took
            troubles += found.troubles
            if found.lay is None:
                break
            laid.append(found.lay)
        if len(laid) == len(share.asked):
            outcomes.append((max(lay.length_mm for lay in laid), len(outcomes), share, laid))
            outcomes.sort(key=lambda outcome: outcome[:2])
    if not outcomes:
        return Found(None, tuple(dict.fromkeys(troubles)) or ("nothing fits into the zones together",))
    _, _, share, laid = outcomes[0]
    longest = max(range(len(laid)), key=lambda number: laid[number].length_mm)
    if seconds > spent:
        again, _ = _searched(share.asked[longest][1], seconds - spent, seed, search)
        if again.lay is not None and again.lay.length_mm < laid[longest].length_mm:
            laid[longest] = again.lay
    lay = together(request, share, laid, seed, seconds)
    found_faults = faults(request, lay)
    return Found(None, found_faults) if found_faults else Found(lay)


def _searched(request: LayRequest, seconds: int, seed: int, search: Search) -> tuple[Found, int]:
    """The lay of one zone, and the seconds that the engine was given: none where one piece lies alone."""
    if sum(item.count for item in request.items) > 1:
        return search(request, seconds, seed), seconds
    return Found(plain_lay(request, seed)), 0
