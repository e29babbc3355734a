"""Pieces that are sewn between two others along every edge, as a yoke between the back and its lining."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.interfacing import is_fused
from pipeline.checks.registry import Outcome
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.questions import copies_of, in_view, shown_views

_LEAST_EDGES, _LEAST_BETWEEN = 3, 2


@CHECKS.register(
    id="cut-sewn-twice",
    title="What is sewn between two others along every edge is cut in two layers",
    rationale="Of a yoke cut once the back takes the only layer, and the lining's seams have nothing to hold.",
    remedy="correct the count in the piece's cut; waive this where one layer is sewn in both seams",
    severity="warn",
    source=f"a layer to a seam, {_LEAST_EDGES} edges and more that all lack their second: common practice",
    needs=("seams",),
)
def cut_sewn_twice(garment: Garment) -> Iterator[Outcome]:
    """Pieces of which every sewn edge is needed at least twice as often as it is cut, two and more of them by pieces
    none of which is in both seams. A part of an edge, or a piece that is sewn to itself, tells nothing of layers."""
    for size in garment.pattern.sizes:
        told: set[str] = set()
        for view in shown_views(garment.pattern):
            for piece, edges in _seams_of(garment, view, size).items():
                there = _there(garment, piece, size)
                if piece in told or len(edges) < _LEAST_EDGES or not there:
                    continue
                between = sum(_is_between(piece, seams) for seams in edges.values())
                needed = min(_needed(garment, piece, edge, seams, size) for edge, seams in edges.items())
                if between >= _LEAST_BETWEEN and needed >= 2 * there:
                    told.add(piece)
                    names = ", ".join(edges)
                    yield Outcome(
                        code="once",
                        size=size,
                        piece=piece,
                        file="pattern.toml",
                        object=f"pieces.{piece}.cut",
                        found=f"{there:g} of each edge",
                        allowed=f"{2 * there:g}, one for each seam",
                        message=f"every edge of {piece} ({names}) is sewn in two seams, and each is there for one",
                    )


Edges = dict[str, list[Seam]]


def _seams_of(garment: Garment, view: str | None, size: str) -> dict[str, Edges]:
    """The seams of a view by piece and edge."""
    found: dict[str, Edges] = {}
    for seam in garment.pattern.seams.values():
        steps = (*seam.a, *seam.b)
        pieces = {step.piece for step in steps}
        if seam.kind == "sewn" and all(_is_in(garment, piece, view, size) for piece in pieces):
            for piece, edge in dict.fromkeys((step.piece, step.edge) for step in steps):
                found.setdefault(piece, {}).setdefault(edge, []).append(seam)
    return found


def _is_in(garment: Garment, piece: str, view: str | None, size: str) -> bool:
    return garment.cut(piece, size) is not None and in_view(garment.pattern.pieces[piece].views, view)


def _is_between(piece: str, seams: list[Seam]) -> bool:
    """Whether no piece is on the other side of two of an edge's seams."""
    others = [{step.piece for step in _other_side(seam, piece)} for seam in seams]
    return len(others) > 1 and len(set[str]().union(*others)) == sum(map(len, others))


def _needed(garment: Garment, piece: str, edge: str, seams: list[Seam], size: str) -> float:
    """How often the other sides of an edge's seams need it; 0 where they do not say so."""
    needed = 0.0
    for seam in seams:
        others = _other_side(seam, piece)
        parted = any(step.part is not None for step in (*seam.a, *seam.b) if (step.piece, step.edge) == (piece, edge))
        if parted or any(step.piece == piece for step in others):
            return 0.0
        needed += min(_there(garment, step.piece, size) / _shared_by(garment, step.piece, step.edge) for step in others)
    return needed


def _other_side(seam: Seam, piece: str) -> tuple[SideEdge, ...]:
    return seam.b if any(step.piece == piece for step in seam.a) else seam.a


def _there(garment: Garment, piece: str, size: str) -> float:
    """How often each edge of a piece is there in a garment, layers of interfacing apart."""
    cut, spec = garment.cut(piece, size), garment.pattern.pieces[piece]
    if cut is None or is_fused(garment, spec):
        return 0.0
    return sum(copies_of(entry, size).copies for entry in spec.cut) * (1 if cut.fold is None else 2)


def _shared_by(garment: Garment, piece: str, edge: str) -> int:
    """Among how many seams the layers of an edge are shared out."""
    seams = garment.pattern.seams.values()
    return sum(any((step.piece, step.edge) == (piece, edge) for step in (*seam.a, *seam.b)) for seam in seams)
