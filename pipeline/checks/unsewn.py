"""Edges that no seam names: a seam that was forgotten shows nowhere else."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome


@CHECKS.register(
    id="seams-named",
    title="Every edge with an allowance is a hem, a fold, or in a seam",
    rationale="Only what a seam names is walked: one that was forgotten is held against nothing, and nobody is told.",
    remedy="say the seam of each; edges that are turned, faced by hand or sewn onto a piece may stay in this list",
    severity="info",
    source="an allowance is there to be sewn or turned: common practice",
)
def seams_named(garment: Garment) -> Iterator[Outcome]:
    """One list for the pattern. Edges of derived pieces are their source's."""
    pattern = garment.pattern
    sewn = {
        (side.piece, side.edge) for seam in pattern.seams.values() if seam.kind == "sewn" for side in (*seam.a, *seam.b)
    }
    unnamed: dict[str, None] = {}
    for spec, cut in garment.each():
        if spec.source is not None:
            continue
        for edge in cut.edges:
            if not edge.fold and not edge.hem and edge.widest_mm > 0 and (spec.name, edge.name) not in sewn:
                unnamed[f"{spec.name}.{edge.name}"] = None
    if unnamed and pattern.seams:
        yield Outcome(
            code="in-no-seam",
            file="pattern.toml",
            object="seams",
            found=", ".join(unnamed),
            allowed="every edge in a seam, or meant to be in none",
            message=f"{len(unnamed)} edge{'s are' if len(unnamed) > 1 else ' is'} in no seam",
        )
