"""Pieces that need a second layer: all of their edges are sewn twice, or they are sewn to themselves and laid on."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.counts import layer_materials
from pipeline.checks.edge_seams import seams_in, sewn_to_itself, views_of
from pipeline.checks.garment import Garment
from pipeline.checks.partners import needed
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_ends import is_turned_onto_itself
from pipeline.checks.seam_way import decided_direction
from pipeline.checks.uses import placed
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import copies_of, in_view, shown_views


@CHECKS.register(
    id="cut-both-layers",
    title="What has an outside and an inside is cut for both",
    rationale="A yoke whose every edge is in two seams, or a flap that is sewn to itself, is there twice: of one, the"
    " inside is missing.",
    remedy="cut it once more for the inside, and say layers = 2; waive this where one layer is caught in both seams",
    severity="warn",
    source="one layer for each seam of an edge, and two for what is sewn to itself: common practice",
    needs=("seams",),
)
def cut_both_layers(garment: Garment) -> Iterator[Outcome]:
    """Pieces there as often as one seam of each edge needs them, though each edge is in two; and pieces sewn to
    nothing but themselves, turned, that are there once for each place that is marked for them.

    An edge that is in one seam alone, as most of a yoke's are where its inside is sewn into the same seams, says
    nothing of layers.
    """
    laid_on = {name for name in garment.pattern.pieces if _is_closed(garment, name)}
    for spec, cut in garment.each():
        if spec.source is None and (needs := _needs_of_seams(garment, spec, cut)):
            yield from _told(garment, spec, cut.size, 2 * needs, "each of its edges is sewn in two seams")
    for size in garment.pattern.sizes:
        for use in placed(garment, size, laid_on):
            spec = garment.pattern.pieces[use.piece]
            yield from _told(garment, spec, size, 2 * use.least, f"it is sewn to itself, and {use.told}")


def _told(garment: Garment, spec: PieceSpec, size: str, needs: int, told: str) -> Iterator[Outcome]:
    """Where a piece is there half as often as it is needed, all that is no interfacing counted together."""
    cut, materials = garment.cut(spec.name, size), layer_materials(garment)
    count = sum(copies_of(entry, size).copies for entry in spec.cut if entry.material in materials)
    halves = 1 if cut is None or cut.fold is None else 2
    if 0 < 2 * count * halves <= needs:
        yield Outcome(
            code="one-layer",
            size=size,
            piece=spec.name,
            file="pattern.toml",
            object=f"pieces.{spec.name}.cut",
            found=str(count),
            allowed=f"{needs // halves}",
            message=f"{spec.name} is cut for one layer, and {told}",
        )


def _needs_of_seams(garment: Garment, spec: PieceSpec, cut: CutPiece) -> int:
    """How often one layer of a piece is needed, where every edge is in two seams of a view that need it as often each,
    or is sewn to itself; 0 where it is not so."""
    own = {step.edge for seam in sewn_to_itself(garment, spec.name) for step in seam.a}
    edges = [SideEdge(spec.name, edge.name) for edge in cut.edges if not edge.fold and edge.name not in own]
    for view in (view for view in shown_views(garment.pattern) if in_view(spec.views, view)):
        needs = {_need_of_each(garment, edge, cut.size, view) for edge in edges}
        if len(edges) > 1 and len(needs) == 1 and None not in needs:
            return next(iter(needs)) or 0
    return 0


def _need_of_each(garment: Garment, edge: SideEdge, size: str, view: str | None) -> int | None:
    """How often each of the two seams of an edge needs it; None where there are not two that need it equally."""
    seams = [seam for seam in seams_in(garment, edge, view) if view in views_of(garment, seam)]
    needs = {_need(garment, seam, edge, size) for seam in seams}
    return next(iter(needs)) if len(seams) == 2 and len(needs) == 1 else None


def _need(garment: Garment, seam: Seam, edge: SideEdge, size: str) -> int | None:
    others = [other for other in (*seam.a, *seam.b) if other.piece != edge.piece]
    numbers = [needed(garment, other, seam, size) for other in others]
    return min(numbers, default=None)


def _is_closed(garment: Garment, piece: str) -> bool:
    """Whether a piece is in no seam but those that sew it to another layer of itself, turned onto each other."""
    own = sewn_to_itself(garment, piece)
    seams = [seam for seam in garment.pattern.seams.values() if piece in {s.piece for s in (*seam.a, *seam.b)}]
    ways = ((seam, decided_direction(garment, seam)) for seam in own)
    turned = any(way is not None and is_turned_onto_itself(garment, seam, way) for seam, way in ways)
    return bool(own) and len(own) == len(seams) and turned
