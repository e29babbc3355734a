"""What a sum comes to in one size."""

from collections.abc import Callable, Mapping

from pipeline.model.edge_places import cut_places, part_length_mm
from pipeline.model.pattern import Pattern, Reference, Sum
from pipeline.model.pieces import CutPiece, inside_length_mm
from pipeline.model.questions import edge_spec

Lengths = Callable[[Reference], float | None]
"""The length in mm that a reference has in one size; None where it has none there."""


def sum_mm(total: Sum, lengths: Lengths) -> float | None:
    """Millimetres of a sum; None where one of its references has no length in that size."""
    result = 0.0
    for term in total.terms:
        length_mm = lengths(term.of) if isinstance(term.of, Reference) else term.of
        if length_mm is None:
            return None
        result += term.factor * length_mm
    return result


def lengths_of(pattern: Pattern, size: str, cuts: Mapping[str, CutPiece]) -> Lengths:
    """Looks references up in the cut pieces of a size, by name, and in the body measures.

    An edge, or the part of it that is named, counts without what darts and pleats take up, unless the reference says
    gross; where an edge and an inside line have one name, the edge is meant. Lengths are of the drawn half.
    """

    def length_mm(reference: Reference) -> float | None:
        if reference.piece == "body":
            measure = pattern.body.get(reference.line)
            return None if measure is None else measure.sizes_mm.get(size)
        cut = cuts.get(reference.piece)
        if cut is None:
            return None
        for edge in cut.edges:
            if edge.name == reference.line and reference.part is not None:
                takes = () if reference.gross else edge_spec(pattern, reference.piece, edge.name).takes
                places, notches = cut_places(cut, edge), cut.drawn.notches
                return part_length_mm(places, reference.part, edge.name, notches, takes)
            if edge.name == reference.line:
                return edge.gross_length_mm if reference.gross else edge.length_mm
        if reference.part is not None:
            return None
        return next((inside_length_mm(line) for line in cut.drawn.inside if line.name == reference.line), None)

    return length_mm
