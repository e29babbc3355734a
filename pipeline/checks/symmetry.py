"""Pieces that are their own mirror image but for a few millimetres: a corner that has slipped."""

import math
from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.mirror import SYMMETRIC_MM, asymmetry_mm
from pipeline.checks.registry import Outcome
from pipeline.checks.size_rows import masters_of

NEARLY_MM = 6.0
_GRADED = 3
"""Of a piece with so many masters each size is held against its neighbours."""


@CHECKS.register(
    id="nearly-symmetric",
    title="A piece that is not graded is symmetric about its grain, or plainly not",
    rationale="No other size tells of a corner that slipped in a pocket; that its halves are no longer alike does.",
    remedy="draw both halves alike, or one half on the fold; waive this where the difference is meant",
    severity="warn",
    source=(
        f"its mirror image within {SYMMETRIC_MM:g} mm, or more than {NEARLY_MM:g} mm off: "
        "common practice, the limits from memory"
    ),
)
def nearly_symmetric(garment: Garment) -> Iterator[Outcome]:
    """Outlines of pieces that have one or two masters, not on a fold, against their image in the grain."""
    for spec in garment.pattern.pieces.values():
        cuts = masters_of(garment, spec.name)
        for cut in cuts if spec.source is None and len(cuts) < _GRADED else ():
            run = cut.drawn.grain.bottom.to(cut.drawn.grain.top)
            off = 0.0 if cut.fold is not None else asymmetry_mm(cut.seam_outline, math.atan2(run.dy, run.dx))
            if SYMMETRIC_MM < off < NEARLY_MM:
                yield Outcome(
                    code="nearly",
                    piece=spec.name,
                    file=cut.drawn.file,
                    found=f"{off:.1f} mm off its mirror image",
                    allowed=f"up to {SYMMETRIC_MM:g} mm, or {NEARLY_MM:g} mm and more",
                    message=f"{spec.name} is nearly symmetric: its halves are up to {off:.1f} mm off each other",
                )
