"""What is cut in one with a piece and folded back: along it the edge is a fold, on which no seam runs on."""

from collections.abc import Iterator

from pipeline.checks.allowances import FOLDED_MM
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_parts import known_reach_mm, reach_mm, step_text
from pipeline.model.pattern import SideEdge
from pipeline.model.pieces import CutPiece


@CHECKS.register(
    id="grown-on-sewn",
    title="A seam ends where the edge is folded for what is grown on",
    rationale="Where a fly or placket is cut in one with the piece its edge is a fold: a seam that runs on closes it.",
    remedy='name the part of the edge beside it, as "front.cf[zip..inseam]", or end what is grown on elsewhere',
    severity="warn",
    source=f"up to {FOLDED_MM:g} mm, the tolerance of a seam: common practice",
    needs=("seams",),
)
def grown_on_sewn(garment: Garment) -> Iterator[Outcome]:
    """Steps of sewn seams that lie partly on what is grown on; one that lies within it alone, as where a fold is laid
    on another piece and stitched, is meant. Told of the first size."""
    for seam in garment.pattern.seams.values():
        for step in dict.fromkeys((*seam.a, *seam.b)) if seam.kind == "sewn" else ():
            for size, cut in garment.cuts.get(step.piece, {}).items():
                on_mm = _runs_on_mm(cut, step)
                if on_mm > FOLDED_MM:
                    yield Outcome(
                        code="runs-on",
                        size=size,
                        piece=step.piece,
                        where=step.edge,
                        file="pattern.toml",
                        object=f"seams.{seam.name}",
                        found=f"{on_mm:.1f} mm of it folded",
                        allowed=f"up to {FOLDED_MM:g} mm",
                        message=f"{step_text(step)} of seam {seam.name} runs on over what is grown on there",
                    )
                    break


def _runs_on_mm(cut: CutPiece, step: SideEdge) -> float:
    """How long the folded part is of a step that lies beside that, too; 0 where all or nothing of it is folded."""
    if reach_mm(cut, step) is None:
        return 0.0
    (low, high), edge = known_reach_mm(cut, step), cut.edge(step.edge)
    spans = ((part.start * edge.gross_length_mm, part.end * edge.gross_length_mm) for part in edge.grown_on)
    folded_mm = sum(max(0.0, min(end, high) - max(start, low)) for start, end in spans)
    return folded_mm if folded_mm < high - low - FOLDED_MM else 0.0
