"""Every seam in every size: lengths with their ease, notches that meet, corners that join to a straight line."""

from collections import Counter
from collections.abc import Iterator

import msgspec

from pipeline.checks.bagged import sewn_length_mm
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import neighbour
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import ease_mm, match_notches, notch_outcomes, parts_off, whole_band
from pipeline.checks.notch_swaps import exchanged
from pipeline.checks.notch_third import is_for_a_third
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_ends import ANGLE_LIMIT_DEG, end_miss_deg, lie
from pipeline.checks.seam_parts import step_text
from pipeline.checks.seam_walk import WalkedNotch, WalkedSide
from pipeline.checks.seam_way import decided_direction, directions, faults, side_text, walked_seams, walks
from pipeline.checks.side_ends import SideEnd, seam_end
from pipeline.checks.suspects import likeliest, strayed_notch_mm, suspect_of
from pipeline.checks.unsaid_takes import unsaid_take
from pipeline.model.pattern import Seam


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
    """Length of a minus length of b against the ease. Of a bagged seam, b is as long as it is where it is sewn."""
    walked = [(seam, size, a, _sewn(garment, seam, size, b)) for seam, size, a, b in walks(garment)]
    # what is off in all of several sizes has not slipped in one
    walks_of = Counter(seam.name for seam, *_ in walked)
    slipped = {seam.name for seam, _, a, b in walked if walks_of[seam.name] == 1 or not _miss_mm(seam, a, b)}
    for seam, size, a, b in walked:
        difference, miss = a.length_mm - b.length_mm, _miss_mm(seam, a, b)
        if not miss:
            continue
        low, high = ease_mm(seam.ease, b.length_mm)
        longer, other = (seam.a, seam.b) if miss > 0 else (seam.b, seam.a)
        excess = abs(difference - (low if miss < 0 else high))
        suspect = suspect_of(garment, seam, size, excess)
        cut = garment.cut((suspect or longer[0]).piece, size)
        yield Outcome(
            code="too-long" if miss > 0 else "too-short",
            size=size,
            where=f"seams.{seam.name}",
            file=cut.drawn.file if cut else None,
            object=step_text(suspect) if suspect else side_text(longer),
            found=f"a minus b = {difference:+.2f} mm ({a.length_mm:.2f} − {b.length_mm:.2f})",
            allowed=f"{low:.1f} to {high:.1f} mm, ± {seam.tolerance_mm:g} mm",
            message=(
                f"{side_text(longer)} is {excess:.1f} mm too long for {side_text(other)}"
                f"{_first_disagreement(garment, seam, size, a, b)}"
                f"{f'; of its edges {step_text(suspect)} is what breaks the grading' if suspect else ''}"
            ),
            remedy=(
                f"{unsaid_take(garment, longer, size, excess)}"
                f"{likeliest(garment, seam, size, suspect, excess, suspect in longer) if seam.name in slipped else ''}"
                f"shorten {side_text(longer)} or lengthen {side_text(other)} by {excess:.1f} mm in size {size}, "
                f"or declare the ease that is meant"
            ),
        )


def _sewn(garment: Garment, seam: Seam, size: str, b: WalkedSide) -> WalkedSide:
    """Side b as it is sewn: of a bagged seam so far within the hem."""
    if seam.kind != "bagged":
        return b
    return msgspec.structs.replace(b, length_mm=sewn_length_mm(garment, seam, size))


def _miss_mm(seam: Seam, a: WalkedSide, b: WalkedSide) -> float:
    return whole_band(seam, b.length_mm).misses_mm(a.length_mm - b.length_mm)


def _first_disagreement(garment: Garment, seam: Seam, size: str, a: WalkedSide, b: WalkedSide) -> str:
    """Where along the seam the first notch disagrees, as a part of a sentence."""
    matches, _ = match_notches(seam, a, b)
    start = _start_text(garment, seam, size)
    for before, match, _ in parts_off(seam, a, b, matches):
        if match.name == "the end":
            return f"; the difference lies after {before.name}, {before.a_mm:.0f} mm from {start}" if matches else ""
        return f"; the first notch that disagrees is {match.name}, {match.a_mm:.0f} mm from {start}"
    return ""


def _start_text(garment: Garment, seam: Seam, size: str) -> str:
    """The start of a seam in words: which neighbour of side a's first edge is there."""
    way = decided_direction(garment, seam)
    step = seam.a[0]
    cut = garment.cut(step.piece, size)
    if step.part is not None:
        return f"its end at {step.part.start} on {step.piece}.{step.edge}"
    if way is None or cut is None or len(cut.drawn.edges) < 2:
        return "the start"
    return f"its end at {step.piece}.{neighbour(cut, step.edge, way.a[0]).name}"


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
    """Bands between matched notches, partners, order, kind; two that have each other's name instead of all that."""
    for seam, size, a, b in walks(garment):
        if seam.notches and seam.kind == "sewn":

            def strayed_mm(notch: WalkedNotch, size: str = size) -> float:
                return strayed_notch_mm(garment, notch, size)

            told = [
                found for found in notch_outcomes(seam, a, b, strayed_mm) if not is_for_a_third(garment, seam, found)
            ]
            if told and (swapped := exchanged(garment, seam, size)) is not None:
                told = [swapped]
            for outcome in told:
                cut = garment.cut(outcome.piece or seam.a[0].piece, size)
                yield msgspec.structs.replace(
                    outcome, size=size, piece=None, where=f"seams.{seam.name}", file=cut.drawn.file if cut else None
                )


@CHECKS.register(
    id="seam-angles",
    title="Where a seam ends, its two corners join to a straight line, or are equal where one piece lies on the other",
    rationale="Hem, neck and armhole run on across a seam; corners that do not add up leave a peak or a dent there.",
    remedy="correct the corner of one piece, or say angles = false for the seam where the bend is meant",
    severity="warn",
    source=f"180 degrees, equal, or 360 set in, within {ANGLE_LIMIT_DEG:g}: common practice, the limit from memory",
    needs=("seams",),
)
def seam_angles(garment: Garment) -> Iterator[Outcome]:
    """Both corners at each end of a sewn seam: their sum, or that they are equal where one piece lies on the other.

    Where a third piece fills the corner, nothing is asked of the two.
    """
    for seam, way, size in walked_seams(garment):
        for at_end in (False, True) if seam.angles and seam.kind == "sewn" else ():
            if not end_miss_deg(garment, seam, way, size, at_end):
                continue
            one, two = seam_end(garment, seam, way, size, at_end)
            places = (_corner_text(one), _corner_text(two))
            lies = lie(garment, seam, way, size, at_end)
            found = f"{one.deg + two.deg:.1f} degrees"
            allowed = "180" if lies == "runs on" else "360"
            message = f"the corners {places[0]} and {places[1]} make {found} together"
            if lies == "lies on":
                found, allowed = f"{one.deg:.1f} and {two.deg:.1f} degrees", "equal,"
                message = f"one piece is turned onto the other, and the corners {places[0]} and {places[1]} differ"
            yield Outcome(
                code="bend",
                size=size,
                where=f"seams.{seam.name}",
                file=one.cut.drawn.file,
                object=places[0],
                found=found,
                allowed=f"{allowed} ± {ANGLE_LIMIT_DEG:g} degrees",
                message=message,
            )


def _corner_text(end: SideEnd) -> str:
    return f"{end.cut.piece}.{end.edge}/{end.beside.name}"


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
    """Seams that can be walked in several ways which do not come to the same, none plainly the right one."""
    for seam in garment.pattern.seams.values():
        if len(directions(garment, seam)) < 2:
            continue
        counts = sorted(faults(garment, seam).values())
        # Corners that add up tell the way too: only where the best way is hardly better than the next is it unknown.
        if counts[0] != counts[-1] and 2 * counts[0] >= next(count for count in counts[1:] if count != counts[0]):
            yield Outcome(
                code="undecided",
                where=f"seams.{seam.name}",
                found=f"{side_text(seam.a)} and {side_text(seam.b)} share no notch name that tells the way",
                allowed="a shared name, or an edge turned with !",
                message="nothing says which end of one side meets which end of the other, and it matters",
            )
