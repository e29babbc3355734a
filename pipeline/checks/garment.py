"""What the checks look at: a pattern with the cut pieces of all its sizes, and measures of them."""

from collections.abc import Iterator

from pipeline.model.pattern import EdgeSpec, Pattern, PieceSpec, Take
from pipeline.model.pieces import CutPiece


class Garment:
    """A pattern with all its cut pieces: `cuts` by piece, then size, both in the pattern's order."""

    def __init__(self, pattern: Pattern, cuts: dict[str, dict[str, CutPiece]]) -> None:
        self.pattern = pattern
        self.cuts = cuts

    def each(self) -> Iterator[tuple[PieceSpec, CutPiece]]:
        """Every drawn piece (not the strips) in every size."""
        for name, by_size in self.cuts.items():
            spec = self.pattern.pieces.get(name)
            if spec is not None:
                yield from ((spec, cut) for cut in by_size.values())

    def cut(self, piece: str, size: str) -> CutPiece | None:
        """A piece in a size, where there is one."""
        return self.cuts.get(piece, {}).get(size)

    def edge_spec(self, piece: str, edge: str) -> EdgeSpec:
        """What is said of an edge; a derived piece's edges are its source's."""
        spec = self.pattern.pieces.get(piece)
        while spec is not None and spec.source is not None:
            spec = self.pattern.pieces.get(spec.source)
        return spec.edges.get(edge, EdgeSpec()) if spec is not None else EdgeSpec()

    def takes(self, piece: str, edge: str) -> tuple[Take, ...]:
        """The darts and pleats of an edge."""
        return self.edge_spec(piece, edge).takes
