"""Two notches of an edge that have each other's name: a front and a back that were exchanged on a cap."""

from collections.abc import Iterator
from itertools import combinations

import msgspec

from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import notch_outcomes
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_walk import WalkedNotch, WalkedSide, open_ways, walk_side
from pipeline.model.pattern import Seam


def exchanged(garment: Garment, seam: Seam, size: str) -> Outcome | None:
    """What is told of a seam whose notches do not meet in a size, where they all would if two of an edge had each
    other's name and kind; None where they would not. Names tell which way a seam is walked, so every way is tried."""
    for way in open_ways(garment, seam):
        a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
        for one, two in _pairs(a, b):
            if next(notch_outcomes(seam, _renamed(a, one, two), _renamed(b, one, two)), None) is None:
                return Outcome(
                    code="exchanged",
                    piece=one.piece,
                    object=f"{one.piece}.{one.edge}, {one.name} and {two.name}",
                    found=f"{one.name} where {two.name} should be",
                    allowed="as on the other side of the seam",
                    message=f"notches {one.name} and {two.name} of {one.piece}.{one.edge} have probably changed places",
                    remedy="exchange the names of the two notches",
                )
    return None


def _pairs(a: WalkedSide, b: WalkedSide) -> Iterator[tuple[WalkedNotch, WalkedNotch]]:
    """Every two notches of one edge whose names are on the other side, too, each once on its own side."""
    for own, other in ((a, b), (b, a)):
        names = [notch.name for notch in own.notches]
        known = {notch.name for notch in other.notches if notch.name is not None}
        single = [notch for notch in own.notches if notch.name in known and names.count(notch.name) == 1]
        for one, two in combinations(single, 2):
            if (one.piece, one.edge) == (two.piece, two.edge):
                yield (one, two) if (one.name or "") < (two.name or "") else (two, one)


def _renamed(side: WalkedSide, one: WalkedNotch, two: WalkedNotch) -> WalkedSide:
    """A side on which two notches have each other's name and kind; another side as it is."""
    swapped = {one: two, two: one}
    notches = tuple(
        msgspec.structs.replace(notch, name=swapped[notch].name, style=swapped[notch].style)
        if notch in swapped
        else notch
        for notch in side.notches
    )
    return msgspec.structs.replace(side, notches=notches)
