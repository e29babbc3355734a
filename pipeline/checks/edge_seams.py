"""The seams that an edge is in, those of one view, and those that sew a piece to itself."""

from pipeline.checks.garment import Garment
from pipeline.checks.seam_walk import is_of_one_cloth
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.questions import in_view, shown_views


def seams_of(garment: Garment, step: SideEdge) -> list[Seam]:
    """The sewn seams that an edge is in: those of a right and of a left front, or of a band round front and back. Seams
    of other parts of the edge take nothing of it."""
    return garment.once(("seams of", step.piece, step.edge, step.part), lambda: _found_seams(garment, step))


def _found_seams(garment: Garment, step: SideEdge) -> list[Seam]:
    seams = (seam for seam in garment.pattern.seams.values() if seam.is_sewn)
    return [seam for seam in seams if any(_may_be_of(step, other) for other in (*seam.a, *seam.b))]


def seams_in(garment: Garment, step: SideEdge, view: str | None) -> list[Seam]:
    """The sewn seams that an edge is in, in one view."""
    return [seam for seam in seams_of(garment, step) if view in views_of(garment, seam)]


def views_of(garment: Garment, seam: Seam) -> tuple[str | None, ...]:
    """The views that have every piece of a seam."""
    pieces = [garment.pattern.pieces[step.piece].views for step in (*seam.a, *seam.b)]
    return tuple(view for view in shown_views(garment.pattern) if all(in_view(views, view) for views in pieces))


def _may_be_of(step: SideEdge, other: SideEdge) -> bool:
    whole = step.part is None or other.part is None
    return step.is_same_cloth(other) or (whole and (step.piece, step.edge) == (other.piece, other.edge))


def sewn_to_itself(garment: Garment, piece: str) -> list[Seam]:
    """The seams that join edges of one piece to the same edges of another copy of it."""
    return [
        seam
        for seam in garment.pattern.seams.values()
        if seam.kind == "sewn" and is_of_one_cloth(seam) and {step.piece for step in seam.a} == {piece}
    ]
