"""Every seam in every size: lengths with their ease, notches that meet, corners that join to a straight line."""

import math
from collections.abc import Iterator

import msgspec

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_walk import Direction, WalkedNotch, WalkedSide, directions, is_complete, walk_side
from pipeline.model.curves import direction
from pipeline.model.pattern import Range, Seam, SideEdge

ANGLE_LIMIT_DEG = 3.0
"""How far two joined corners may miss a straight line; common practice, from memory."""
_AT_END_MM = 0.5


class Band(msgspec.Struct, frozen=True):
    """What length of a minus length of b may be, in mm, tolerance included."""

    low_mm: float
    high_mm: float

    def misses_mm(self, difference_mm: float) -> float:
        """How much a lies above (positive) or below (negative) the band; 0 within it."""
        return max(0.0, difference_mm - self.high_mm) + min(0.0, difference_mm - self.low_mm)


class Match(msgspec.Struct, frozen=True):
    """Two places that lie on each other when the seam is sewn."""

    name: str
    a_mm: float
    b_mm: float


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


@CHECKS.register(
    id="seam-lengths",
    title="Both sides of every seam are as long as they must be, in every size",
    rationale="A side that is longer than its partner cannot be sewn to it; the ease that is meant must be declared.",
    remedy="mend the edge that is wrong in that size, or declare the ease that is meant",
    severity="block",
    source="1 mm or 1/16 in at any length, walked along the seam line: common practice",
    needs=("seams",),
)
def seam_lengths(garment: Garment) -> Iterator[Outcome]:
    """Length of a minus length of b against the ease."""
    for seam, size, a, b in _walks(garment):
        band = whole_band(seam, b.length_mm)
        difference = a.length_mm - b.length_mm
        miss = band.misses_mm(difference)
        if not miss:
            continue
        low, high = ease_mm(seam.ease, b.length_mm)
        longer = seam.a if miss > 0 else seam.b
        other = seam.b if miss > 0 else seam.a
        nearest = low if miss < 0 else high
        yield Outcome(
            code="too-long" if miss > 0 else "too-short",
            size=size,
            where=f"seams.{seam.name}",
            file=_file(garment, seam.a, size),
            object=_side_text(seam.a),
            found=f"a minus b = {difference:+.2f} mm ({a.length_mm:.2f} − {b.length_mm:.2f})",
            allowed=f"{low:.1f} to {high:.1f} mm, ± {seam.tolerance_mm:g} mm",
            message=(
                f"{_side_text(longer)} is {abs(difference - nearest):.1f} mm too long for {_side_text(other)}"
                f"{_first_disagreement(seam, a, b)}"
            ),
            remedy=(
                f"shorten {_side_text(longer)} or lengthen {_side_text(other)} by {abs(difference - nearest):.1f} mm"
                f" in size {size}, or declare the ease that is meant"
            ),
        )


@CHECKS.register(
    id="seam-notches",
    title="Notches of both sides meet, in the same order and of the same kind",
    rationale="Notches are what the sewer matches: one that is lost or has moved sews the ease into the wrong place.",
    remedy="put the notch back where its partner is, give both one name, or say notches = false for the seam",
    severity="block",
    source="the band between notches follows the declared ease; single in front, double at the back: common practice",
    needs=("seams",),
)
def seam_notches(garment: Garment) -> Iterator[Outcome]:
    """Bands between matched notches, partners, order, kind."""
    for seam, size, a, b in _walks(garment):
        if seam.notches and seam.kind == "sewn":
            for outcome in notch_outcomes(seam, a, b):
                yield msgspec.structs.replace(
                    outcome, size=size, where=f"seams.{seam.name}", file=outcome.file or _file(garment, seam.a, size)
                )


def notch_outcomes(seam: Seam, a: WalkedSide, b: WalkedSide) -> Iterator[Outcome]:
    """What is wrong with the notches of two walked sides."""
    matches, lonely = match_notches(seam, a, b)
    for notch in lonely:
        yield Outcome(
            code="no-partner",
            object=f"{notch.piece}.{notch.edge} {notch.name or 'unnamed notch'}",
            found=f"a notch {notch.at_mm:.1f} mm from the start",
            allowed="a notch of that name on the other side, or a joint that it faces",
            message=f"notch {notch.name or '(unnamed)'} of {notch.piece}.{notch.edge} has no partner",
        )
    in_order = [match for match in matches if match.name]
    if [m.name for m in in_order] != [m.name for m in sorted(in_order, key=lambda m: m.b_mm)]:
        yield Outcome(
            code="order",
            found=", ".join(m.name for m in sorted(in_order, key=lambda m: m.b_mm)),
            allowed=", ".join(m.name for m in in_order),
            message="the notches of the two sides come in different orders",
        )
        return
    band = part_band(seam, b.length_mm)
    ends = Match("the end", a.length_mm, b.length_mm)
    before = Match("the start", 0.0, 0.0)
    for match in (*matches, ends):
        difference = (match.a_mm - before.a_mm) - (match.b_mm - before.b_mm)
        if miss := band.misses_mm(difference):
            whole = whole_band(seam, b.length_mm).misses_mm(a.length_mm - b.length_mm)
            if not (match is ends and before.name == "the start" and whole):
                yield Outcome(
                    code="apart",
                    found=f"a minus b = {difference:+.2f} mm between {before.name} and {match.name}",
                    allowed=f"{band.low_mm:.1f} to {band.high_mm:.1f} mm",
                    message=(
                        f"between {before.name} and {match.name}, side {'a' if miss > 0 else 'b'} is"
                        f" {abs(miss) + seam.tolerance_mm:.1f} mm too long"
                    ),
                )
        before = match
    for outcome in _kinds(a, b):
        yield outcome


def match_notches(seam: Seam, a: WalkedSide, b: WalkedSide) -> tuple[list[Match], list[WalkedNotch]]:
    """Pairs of notches of one name, then notches that face a joint; and those with neither, in the order of side a."""
    own, other = _between_ends(a), _between_ends(b)
    matches: list[Match] = []
    for notch in list(own):
        partner = next((n for n in other if n.name == notch.name), None)
        if partner is not None:
            matches.append(Match(notch.name or "an unnamed notch", notch.at_mm, partner.at_mm))
            own.remove(notch)
            other.remove(partner)
    band = part_band(seam, b.length_mm)
    lonely = []
    for notch in own:
        joint = _faced_joint(notch.at_mm, b.joints_mm[1:-1], [(m.a_mm, m.b_mm) for m in matches], band, 1)
        if joint is None:
            lonely.append(notch)
        else:
            matches.append(Match(f"notch {notch.name or ''} at the joint", notch.at_mm, joint))
    for notch in other:
        joint = _faced_joint(notch.at_mm, a.joints_mm[1:-1], [(m.b_mm, m.a_mm) for m in matches], band, -1)
        if joint is None:
            lonely.append(notch)
        else:
            matches.append(Match(f"notch {notch.name or ''} at the joint", joint, notch.at_mm))
    return sorted(matches, key=lambda m: m.a_mm), [n for n in lonely if not n.bounds_take]


def _faced_joint(
    at_mm: float, joints_mm: tuple[float, ...], matched: list[tuple[float, float]], band: Band, sign: int
) -> float | None:
    own, other = max(((o, p) for o, p in matched if o <= at_mm), default=(0.0, 0.0))
    for joint in joints_mm:
        if not band.misses_mm(sign * ((at_mm - own) - (joint - other))):
            return joint
    return None


def _between_ends(side: WalkedSide) -> list[WalkedNotch]:
    return [n for n in side.notches if _AT_END_MM < n.at_mm < side.length_mm - _AT_END_MM]


def _kinds(a: WalkedSide, b: WalkedSide) -> Iterator[Outcome]:
    kinds = {notch.name: notch.style for notch in b.notches if notch.name is not None}
    for notch in a.notches:
        if kinds.get(notch.name or "", notch.style) != notch.style:
            yield Outcome(
                code="kind",
                object=f"{notch.piece}.{notch.edge} {notch.name}",
                found=f"{notch.style} on one side, {kinds[notch.name or '']} on the other",
                allowed="the same kind on both sides",
                message=f"notch {notch.name} is {notch.style} on {notch.piece}.{notch.edge} and {kinds[notch.name or '']} on its partner",
            )


@CHECKS.register(
    id="seam-angles",
    title="Where a seam ends, its two corners join to a straight line",
    rationale="Hem, neck and armhole run on across a seam; corners that do not add up leave a peak or a dent there.",
    remedy="correct the corner of one piece, or say angles = false for the seam where the bend is meant",
    severity="warn",
    source=f"180 degrees, within {ANGLE_LIMIT_DEG:g}: common practice, the limit from memory",
    needs=("seams",),
)
def seam_angles(garment: Garment) -> Iterator[Outcome]:
    """The sum of both corners at each end of a sewn seam."""
    for seam in garment.pattern.seams.values():
        if not seam.angles or seam.kind != "sewn":
            continue
        way = settled(garment, seam)
        for size in garment.pattern.sizes:
            if way is None or not is_complete(garment, seam, size):
                continue
            for end, total in zip(("start", "end"), end_angles_deg(garment, seam, way, size), strict=True):
                if abs(total - 180) > ANGLE_LIMIT_DEG:
                    yield Outcome(
                        code="bend",
                        size=size,
                        where=f"seams.{seam.name}",
                        file=_file(garment, seam.a, size),
                        object=f"{_side_text(seam.a)}, {end}",
                        found=f"{total:.1f} degrees",
                        allowed=f"180 ± {ANGLE_LIMIT_DEG:g} degrees",
                        message=f"at the {end} of the seam the two corners make {total:.1f} degrees together",
                    )


def end_angles_deg(garment: Garment, seam: Seam, way: Direction, size: str) -> tuple[float, float]:
    """The sums of the two interior corners at the start and at the end of a seam."""
    starts = [_corner_deg(garment, side[0], reverse[0], size, True) for side, reverse in _sides(seam, way)]
    ends = [_corner_deg(garment, side[-1], reverse[-1], size, False) for side, reverse in _sides(seam, way)]
    return sum(starts), sum(ends)


def _sides(seam: Seam, way: Direction) -> tuple[tuple[tuple[SideEdge, ...], tuple[bool, ...]], ...]:
    return (seam.a, way.a), (seam.b, way.b)


def _corner_deg(garment: Garment, step: SideEdge, reverse: bool, size: str, at_start: bool) -> float:
    """The interior angle at one end of an edge; `at_start` of the walk along it."""
    cut = garment.cut(step.piece, size)
    assert cut is not None
    edges = cut.drawn.edges
    index = next(i for i, edge in enumerate(edges) if edge.name == step.edge)
    if at_start != reverse:
        before, after = edges[index - 1], edges[index]
    else:
        before, after = edges[index], edges[(index + 1) % len(edges)]
    arriving, leaving = direction(before.path[-1], 1.0), direction(after.path[0], 0.0)
    turn = math.degrees(math.atan2(arriving.cross(leaving), arriving.dot(leaving)))
    return 180 - turn


@CHECKS.register(
    id="seam-direction",
    title="It is known which end of a seam meets which",
    rationale="Two edges can be joined in two ways; where they differ, a sewer and this pipeline must choose the same.",
    remedy="give the notches that meet one name on both sides, or turn an edge by hand with !",
    severity="warn",
    source="common practice",
    needs=("seams",),
)
def seam_direction(garment: Garment) -> Iterator[Outcome]:
    """Seams that can be walked in several ways which do not come to the same."""
    for seam in garment.pattern.seams.values():
        ways = directions(garment, seam)
        if len(ways) > 1 and len({_faults(garment, seam, way) for way in ways}) > 1:
            yield Outcome(
                code="undecided",
                where=f"seams.{seam.name}",
                found=f"{_side_text(seam.a)} and {_side_text(seam.b)} share no notch name that tells the way",
                allowed="a shared name, or an edge turned with !",
                message="nothing says which end of one side meets which end of the other, and it matters",
            )


def settled(garment: Garment, seam: Seam) -> Direction | None:
    """The way to walk a seam: where several are open, the first of those with the fewest faults."""
    ways = directions(garment, seam)
    return min(ways, key=lambda way: _faults(garment, seam, way)) if ways else None


def _faults(garment: Garment, seam: Seam, way: Direction) -> int:
    count = 0
    for size in garment.pattern.sizes:
        a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
        if a is None or b is None or seam.kind != "sewn":
            continue
        count += len(list(notch_outcomes(seam, a, b))) if seam.notches else 0
        if seam.angles:
            count += sum(abs(total - 180) > ANGLE_LIMIT_DEG for total in end_angles_deg(garment, seam, way, size))
    return count


def _walks(garment: Garment) -> Iterator[tuple[Seam, str, WalkedSide, WalkedSide]]:
    for seam in garment.pattern.seams.values():
        way = settled(garment, seam)
        for size in garment.pattern.sizes if way is not None else ():
            a, b = walk_side(garment, seam.a, way.a, size), walk_side(garment, seam.b, way.b, size)
            if a is not None and b is not None:
                yield seam, size, a, b


def _first_disagreement(seam: Seam, a: WalkedSide, b: WalkedSide) -> str:
    """Where along the seam the first notch disagrees, as a part of a sentence."""
    matches, _ = match_notches(seam, a, b)
    band = part_band(seam, b.length_mm)
    for match in matches:
        if band.misses_mm(match.a_mm - match.b_mm):
            return f"; the first notch that disagrees is {match.name}, {match.a_mm:.0f} mm from the start"
    return f"; the difference lies after {matches[-1].name}, the last notch" if matches else ""


def _side_text(side: tuple[SideEdge, ...]) -> str:
    return " + ".join(f"{step.piece}.{step.edge}" for step in side)


def _file(garment: Garment, side: tuple[SideEdge, ...], size: str) -> str | None:
    cut = garment.cut(side[0].piece, size)
    return cut.drawn.file if cut is not None else None
