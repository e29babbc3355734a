"""Which places of two walked sides lie on each other when the seam is sewn, and what is wrong with them."""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

import msgspec

from pipeline.checks.registry import Outcome
from pipeline.checks.seam_walk import WalkedNotch, WalkedSide
from pipeline.model.pattern import Range, Seam

AT_JOINT_MM = 0.5
"""A notch this near to a corner stands at the corner, as the masters' reader has it."""
_FAR_SHARE = 0.15
"""Unnamed notches farther apart than this share of their sides are not each other's partners."""


class Band(msgspec.Struct, frozen=True):
    """What length of a minus length of b may be, in mm, tolerance included."""

    low_mm: float
    high_mm: float

    def misses_mm(self, difference_mm: float) -> float:
        """How much a lies above (positive) or below (negative) the band; 0 within it."""
        return max(0.0, difference_mm - self.high_mm) + min(0.0, difference_mm - self.low_mm)


class Match(msgspec.Struct, frozen=True):
    """Two places that lie on each other when the seam is sewn; the notches there, None where it is a joint or end."""

    name: str
    a_mm: float
    b_mm: float
    a: WalkedNotch | None = None
    b: WalkedNotch | None = None


def ease_mm(ease: Range, b_mm: float) -> tuple[float, float]:
    """Both ends of an ease in mm; a percentage is of side b."""
    factor = b_mm if ease.percent else 1.0
    return ease.low * factor, ease.high * factor


def whole_band(seam: Seam, b_mm: float) -> Band:
    """The band for the whole seam."""
    low, high = ease_mm(seam.ease, b_mm)
    return Band(low - seam.tolerance_mm, high + seam.tolerance_mm)


def part_band(seam: Seam, b_mm: float) -> Band:
    """The band between two matched notches: the ease may all lie there, or none of it."""
    low, high = ease_mm(seam.ease, b_mm)
    return Band(min(0.0, low) - seam.tolerance_mm, max(0.0, high) + seam.tolerance_mm)


def notch_text(notch: WalkedNotch) -> str:
    """A notch for a sentence."""
    name = f"notch {notch.name}" if notch.name else "an unnamed notch"
    return f"{name} of {notch.piece}.{notch.edge}"


def _object(notch: WalkedNotch) -> str:
    return f"{notch.piece}.{notch.edge}, {notch.name or 'unnamed notch'}"


def match_notches(seam: Seam, a: WalkedSide, b: WalkedSide) -> tuple[list[Match], list[WalkedNotch]]:
    """(matches along side a, notches without a partner).

    Notches of one name are partners, unnamed ones in their order; what is left may face a joint of the other side.
    """
    own, other = _inner(a), _inner(b)
    matches: list[Match] = []
    for name in dict.fromkeys(notch.name for notch in (*own, *other)):
        some, more = [n for n in own if n.name == name], [n for n in other if n.name == name]
        far = _FAR_SHARE if name is None else 1.0
        for one, two in _paired(some, more, a.length_mm, b.length_mm, far):
            matches.append(Match(f"notch {name}" if name else "an unnamed notch", one.at_mm, two.at_mm, one, two))
            own.remove(one)
            other.remove(two)
    matches.sort(key=lambda match: match.a_mm)
    band = part_band(seam, b.length_mm)
    joined: list[Match] = []
    lonely: list[WalkedNotch] = []
    for notch in own:
        joint = _faced_mm(notch.at_mm, b.joints_mm, [(m.a_mm, m.b_mm) for m in matches], band, 1)
        if joint is not None:
            joined.append(Match(notch_text(notch), notch.at_mm, joint, notch, None))
        elif not _needs_none(notch, a, b):
            lonely.append(notch)
    for notch in other:
        joint = _faced_mm(notch.at_mm, a.joints_mm, [(m.b_mm, m.a_mm) for m in matches], band, -1)
        if joint is not None:
            joined.append(Match(notch_text(notch), joint, notch.at_mm, None, notch))
        elif not _needs_none(notch, b, a):
            lonely.append(notch)
    return sorted((*matches, *joined), key=lambda match: match.a_mm), lonely


def _inner(side: WalkedSide) -> list[WalkedNotch]:
    """The notches between a side's ends; one at a joint, which both its edges have, once."""
    kept: list[WalkedNotch] = []
    for notch in side.notches:
        twice = any(n.name == notch.name and abs(n.at_mm - notch.at_mm) < AT_JOINT_MM for n in kept[-2:])
        again = twice and any(abs(notch.at_mm - joint) < AT_JOINT_MM for joint in side.joints_mm)
        if AT_JOINT_MM < notch.at_mm < side.length_mm - AT_JOINT_MM and not again:
            kept.append(notch)
    return kept


def _needs_none(notch: WalkedNotch, side: WalkedSide, other: WalkedSide) -> bool:
    """An end of a dart or pleat; a notch at a joint of its own side, where the corner itself is what is matched; and
    one that the other side has at its end, where this side laps over.
    """
    laps = notch.name is not None and any(
        n.name == notch.name and min(n.at_mm, other.length_mm - n.at_mm) < AT_JOINT_MM for n in other.notches
    )
    return notch.bounds_take or laps or any(abs(notch.at_mm - joint) < AT_JOINT_MM for joint in side.joints_mm)


def _paired(
    some: Sequence[WalkedNotch], more: Sequence[WalkedNotch], a_mm: float, b_mm: float, far_share: float
) -> list[tuple[WalkedNotch, WalkedNotch]]:
    """As many pairs as there can be, in order on both sides, as near to each other as shares of their sides can be."""
    # best[j] = (pairs missing, cost, pairs) of the notches so far against the first j of `more`
    best: list[tuple[int, float, list[tuple[WalkedNotch, WalkedNotch]]]] = [(0, 0.0, [])] * (len(more) + 1)
    for one in some:
        row = [(best[0][0], best[0][1], best[0][2])]
        for j, two in enumerate(more):
            gap = abs(one.at_mm / a_mm - two.at_mm / b_mm)
            options = [best[j + 1], row[j]]
            if gap <= far_share:
                pairs, cost, chosen = best[j]
                options.append((pairs - 1, cost + gap, [*chosen, (one, two)]))
            row.append(min(options, key=lambda option: option[:2]))
        best = row
    return best[-1][2]


def _faced_mm(
    at_mm: float, joints_mm: tuple[float, ...], matched: list[tuple[float, float]], band: Band, sign: int
) -> float | None:
    """The nearest joint of the other side that a notch faces within the band, counted from the match before it."""
    own, other = max(((o, p) for o, p in matched if o <= at_mm), default=(0.0, 0.0))
    gaps = {joint: (at_mm - own) - (joint - other) for joint in joints_mm[1:-1]}
    facing = [joint for joint, gap in gaps.items() if not band.misses_mm(sign * gap)]
    return min(facing, key=lambda joint: abs(gaps[joint]), default=None)


def parts_off(seam: Seam, a: WalkedSide, b: WalkedSide, matches: list[Match]) -> Iterator[tuple[Match, Match, float]]:
    """(from, to, miss_mm) of every stretch between matched places whose sides differ by more than the band."""
    band = part_band(seam, b.length_mm)
    places = (Match("the start", 0.0, 0.0), *matches, Match("the end", a.length_mm, b.length_mm))
    for before, match in pairwise(places):
        miss = band.misses_mm((match.a_mm - before.a_mm) - (match.b_mm - before.b_mm))
        if miss:
            yield before, match, miss


Strayed = Callable[[WalkedNotch], float]


def notch_outcomes(
    seam: Seam, a: WalkedSide, b: WalkedSide, strayed_mm: Strayed = lambda notch: 0.0
) -> Iterator[Outcome]:
    """What is wrong with the notches of two walked sides; `strayed_mm`: how far one lies off its row of sizes."""
    matches, lonely = match_notches(seam, a, b)
    for notch in lonely:
        yield Outcome(
            code="no-partner",
            piece=notch.piece,
            object=_object(notch),
            found=f"a notch {notch.at_mm:.1f} mm from the start of the seam",
            allowed="a notch of that name on the other side, or a joint that it faces",
            message=f"{notch_text(notch)} has no partner",
        )
    by_b = sorted(matches, key=lambda match: match.b_mm)
    if [m.name for m in matches] != [m.name for m in by_b]:
        yield Outcome(
            code="order",
            found=", ".join(match.name for match in by_b),
            allowed=", ".join(match.name for match in matches),
            message="the notches of the two sides come in different orders",
        )
        return
    yield from _apart(seam, a, b, matches, strayed_mm)
    for match in matches:
        if match.a is not None and match.b is not None and match.a.style != match.b.style:
            yield Outcome(
                code="kind",
                piece=match.b.piece,
                object=_object(match.b),
                found=f"{match.b.style}, and {match.a.style} on {match.a.piece}.{match.a.edge}",
                allowed="the same kind on both sides",
                message=f"{match.name} is {match.a.style} on one side and {match.b.style} on the other",
            )


def _apart(seam: Seam, a: WalkedSide, b: WalkedSide, matches: list[Match], strayed_mm: Strayed) -> Iterator[Outcome]:
    band = part_band(seam, b.length_mm)
    whole = whole_band(seam, b.length_mm).misses_mm(a.length_mm - b.length_mm)
    off = list(parts_off(seam, a, b, matches))
    if whole and len(off) <= 1:
        return  # one stretch is off as the whole seam is: told with its length
    for index, (before, match, miss) in enumerate(off):
        difference = (match.a_mm - before.a_mm) - (match.b_mm - before.b_mm)
        nearest = (band.high_mm - seam.tolerance_mm) if miss > 0 else (band.low_mm + seam.tolerance_mm)
        excess = abs(difference - nearest)
        side = "a" if miss > 0 else "b"
        marked = next((n for n in (match.a, before.a, match.b, before.b) if n is not None), None)
        after = off[index + 1] if index + 1 < len(off) else None
        moved = ""
        if after is not None and after[0] is match and after[2] * miss < 0:
            # what is too much before a notch is missing after it
            notches = sorted((n for n in (match.a, match.b) if n is not None), key=strayed_mm, reverse=True)
            if len(notches) == 2 and strayed_mm(notches[0]) > 2 * strayed_mm(notches[1]):
                notches = notches[:1]
            marked = notches[0]
            moved = f"{' or '.join(map(notch_text, notches))} has probably moved by {excess:.1f} mm: "
        yield Outcome(
            code="apart",
            object=_object(marked) if marked else None,
            found=f"a minus b = {difference:+.2f} mm between {before.name} and {match.name}",
            allowed=f"{band.low_mm:.1f} to {band.high_mm:.1f} mm",
            message=(
                f"{moved}between {before.name} and {match.name}, "
                f"from {before.a_mm:.0f} to {match.a_mm:.0f} mm along side a, side {side} is {excess:.1f} mm too long"
            ),
        )
