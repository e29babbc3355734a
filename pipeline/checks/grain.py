"""The grain line: in the piece, along the fold, and the same in every size.

What turns cloth pieces the wrong way blocks: a grain that lies at 3 or 90 degrees to a fold, or that one size has
otherwise than its neighbours. A grain that is nearly upright in all sizes can be meant, so it warns.
"""

import math
from collections.abc import Iterator

import msgspec

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import rungs_of, triples_of
from pipeline.checks.smooth import uneven
from pipeline.geometry.distances import outside_mm
from pipeline.masters.marks import STRAIGHT_MM
from pipeline.model.pieces import CutPiece

ALIKE_DEG = 1.0
PARALLEL_DEG = 0.5
NEARLY_DEG = 8.0
_EXACT_DEG = 0.2
_OUTSIDE_MM = 0.5
_SHORTEST_MM = 20.0
_SHORT_SHARE = 0.15


@CHECKS.register(
    id="grain-inside",
    title="The grain line lies inside its piece and is long enough to lay by",
    rationale="A piece is laid by its grain; outside the piece it is cut away, and a short one is hard to measure by.",
    remedy="draw the grain line within the seam line, as long as the piece allows",
    severity="block",
    source="inside the seam line; at least 20 mm, or 15 % of a smaller piece's height: common practice, from memory",
)
def grain_inside(garment: Garment) -> Iterator[Outcome]:
    """Both ends within the seam line (a piece on the fold opened), and the length. A short one warns."""
    for cut in _with_grain(garment):
        grain, ring = cut.drawn.grain, cut.seam_outline
        outside = [end for end in (grain.bottom, grain.top) if outside_mm(end, ring) > _OUTSIDE_MM]
        length = grain.bottom.distance(grain.top)
        if outside:
            far = max(outside_mm(end, ring) for end in outside)
            place = f"x {outside[0].x:.0f}, y {outside[0].y:.0f} mm"
            yield _outcome(
                cut,
                "outside",
                f"{far:.1f} mm outside the seam line at {place}",
                "inside the seam line",
                "the grain line leaves the piece",
            )
        elif length < min(_SHORTEST_MM, _SHORT_SHARE * _height_mm(cut)):
            yield _outcome(
                cut,
                "short",
                f"{length:.1f} mm",
                f"at least {_SHORTEST_MM:g} mm",
                "the grain line is very short",
                warn=True,
            )


@CHECKS.register(
    id="grain-fold",
    title="The grain line is parallel to the fold",
    rationale="A piece on the fold is laid by its fold; a grain that says otherwise tells cutters two things at once.",
    remedy=(
        "draw the grain parallel to the fold, or the whole piece without one; where the cloth is to be folded across, "
        'draw it along the fold all the same and say grain = "weft"'
    ),
    severity="block",
    source="parallel to the fold, within 0.5 degrees: common practice, the limit from memory",
)
def grain_fold(garment: Garment) -> Iterator[Outcome]:
    """The angle between grain and fold: 45 degrees, a bias cut, can be meant and warns."""
    for cut in _with_grain(garment):
        if cut.fold is None:
            continue
        along = cut.fold[0].to(cut.fold[1])
        run = cut.drawn.grain.bottom.to(cut.drawn.grain.top)
        off = abs(along.turn_deg(run)) % 180
        off = min(off, 180 - off)
        if off > PARALLEL_DEG:
            bias = abs(off - 45) <= PARALLEL_DEG
            yield _outcome(
                cut,
                "bias-to-fold" if bias else "not-parallel",
                f"{off:.1f} degrees",
                f"0 ± {PARALLEL_DEG:g} degrees",
                f"the grain lies at {off:.1f} degrees to the fold",
                warn=bias,
            )


@CHECKS.register(
    id="grain-sizes",
    title="The grain lies alike in every size",
    rationale="A grain that is turned in a single size is cut off grain, and shows only once the garment hangs.",
    remedy="give the grain of that size the direction that its neighbours have",
    severity="block",
    source="within 1 degree of the line through the other sizes: common practice, the limit from memory",
)
def grain_sizes(garment: Garment) -> Iterator[Outcome]:
    """The grain's direction on the page over the sizes; a slow change over all of them is let be."""
    for by_size in _drawn_sizes(garment):
        cuts = list(by_size.values())
        angles = [_angle_deg(cut) for cut in cuts]
        turns = [(angle - angles[0] + 180) % 360 - 180 for angle in angles]
        if len(cuts) == 2 and abs(turns[1]) > ALIKE_DEG:
            wrong = [(max((0, 1), key=lambda index: abs(angles[index])), abs(turns[1]))]
        else:
            rungs = rungs_of(garment, {size: place for place, size in enumerate(by_size)})
            beside = triples_of([msgspec.structs.replace(each, ends=()) for each in rungs])
            found = uneven([(turn,) for turn in turns], beside, ALIKE_DEG)
            wrong = [(item.index, item.off_mm) for item in found]
        for index, off in wrong:
            yield _outcome(
                cuts[index],
                "turned",
                f"{angles[index]:.1f} degrees from the page's vertical, {off:.1f} off its neighbours",
                f"as in the other sizes, ± {ALIKE_DEG:g} degrees",
                f"the grain of size {cuts[index].size} is turned against the other sizes",
            )


@CHECKS.register(
    id="grain-upright",
    title="A grain that is nearly upright, level or at 45 degrees is so exactly",
    rationale="A grain drawn by eye is a few degrees off; over the length of a trouser leg that is a twisted seam.",
    remedy="snap the grain line to the vertical, the horizontal or 45 degrees, or waive this where it is meant",
    severity="warn",
    source="within 8 degrees, but not within 0.2: common practice, the limits from memory",
)
def grain_upright(garment: Garment) -> Iterator[Outcome]:
    """The grain of the first size against the page, where all sizes have it alike."""
    for by_size in _drawn_sizes(garment):
        cut = next(iter(by_size.values()))
        off = (_angle_deg(cut) + 22.5) % 45 - 22.5
        if cut.fold is None and _EXACT_DEG < abs(off) < NEARLY_DEG:
            yield _outcome(
                cut,
                "nearly",
                f"{abs(off):.1f} degrees off",
                "0, 45 or 90 degrees to the page, or plainly another angle",
                f"the grain is {abs(off):.1f} degrees off an even angle",
            )


@CHECKS.register(
    id="grain-nap",
    title="A piece of cloth with a direction says which of its ends is up",
    rationale="In cloth with nap, or a print that has a direction, a band laid the other way looks like another cloth.",
    remedy="where the piece has a top, turn it on the page so that this end of its grain is higher",
    severity="info",
    source="all tops one way on cloth with nap: common practice",
)
def grain_nap(garment: Garment) -> Iterator[Outcome]:
    """A level grain, whose right end is taken as its top, where a cloth of the piece is not the same both ways."""
    pattern = garment.pattern
    for cut in _with_grain(garment):
        entries = pattern.pieces[cut.piece].cut
        napped = [entry.material for entry in entries if pattern.materials[entry.material].nap == "one-way"]
        if napped and abs(cut.drawn.grain.bottom.y - cut.drawn.grain.top.y) <= STRAIGHT_MM:
            text = f"the grain lies level, and {napped[0]} has a direction"
            yield _outcome(cut, "no-top", "neither end is higher", "an end that is higher: the top", text)


def _with_grain(garment: Garment) -> Iterator[CutPiece]:
    """Every piece whose grain is drawn; the reading has told where it is not. Derived pieces have their source's."""
    return (cut for spec, cut in garment.each() if cut.drawn.grain.drawn and spec.source is None)


def _drawn_sizes(garment: Garment) -> Iterator[dict[str, CutPiece]]:
    """For every piece with a drawn grain: its sizes, those that share a file once."""
    pieces: dict[str, dict[str, CutPiece]] = {}
    for cut in _with_grain(garment):
        known = pieces.setdefault(cut.piece, {})
        if all(other.drawn.file != cut.drawn.file for other in known.values()):
            known[cut.size] = cut
    return iter(pieces.values())


def _angle_deg(cut: CutPiece) -> float:
    """Direction of the grain's top, clockwise from the page's vertical."""
    run = cut.drawn.grain.bottom.to(cut.drawn.grain.top)
    return math.degrees(math.atan2(run.dx, -run.dy))


def _height_mm(cut: CutPiece) -> float:
    ys = [place.y for place in cut.seam_outline]
    return max(ys) - min(ys)


def _outcome(cut: CutPiece, code: str, found: str, allowed: str, message: str, warn: bool = False) -> Outcome:
    return Outcome(
        code=code,
        severity="warn" if warn else None,
        size=cut.size,
        piece=cut.piece,
        where="grain",
        file=cut.drawn.file,
        object="grain",
        found=found,
        allowed=allowed,
        message=message,
    )
