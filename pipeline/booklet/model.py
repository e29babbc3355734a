"""What a booklet is made of: the pattern with the cut pieces of all its sizes."""

from functools import cached_property
from typing import Any

from pipeline.checks.garment import Garment
from pipeline.cutting.strips import CutSize
from pipeline.drawing.lay_names import LaidName, laid_names
from pipeline.lays.demand import strip_sizes
from pipeline.model.edge_places import cut_places
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Cuts, in_size
from pipeline.model.sums import Lengths, lengths_of


class Model:
    """A pattern in one language: `cuts` are its cut pieces by piece, then size, both in the pattern's order."""

    def __init__(self, pattern: Pattern, cuts: Cuts, language: str) -> None:
        self.pattern, self.cuts, self.language = pattern, cuts, language
        self.once: dict[object, Any] = {}
        """What was worked out for one edition, or one check, and serves the next."""

    def told_in(self, language: str) -> "Model":
        """The same in another language, with what was worked out of its pieces."""
        other = Model(self.pattern, self.cuts, language)
        other.garment = self.garment
        return other

    def in_size(self, size: str) -> dict[str, CutPiece]:
        """The cut pieces of a size by name."""
        return in_size(self.cuts, size)

    @cached_property
    def lengths(self) -> dict[str, Lengths]:
        """What references come to, by size."""
        return {size: lengths_of(self.pattern, size, self.in_size(size)) for size in self.pattern.sizes}

    @cached_property
    def strips(self) -> dict[str, dict[str, CutSize]]:
        """What every strip measures as cut, by size and name."""
        sizes = self.pattern.sizes
        return {size: strip_sizes(self.pattern, size, tuple(self.in_size(size).values())) for size in sizes}

    @cached_property
    def garment(self) -> Garment:
        """The same as checks and figures look at it."""
        return Garment(self.pattern, self.cuts)

    @cached_property
    def names(self) -> dict[str, LaidName]:
        """What pieces and strips (`strips.<name>`) are called where there is little room."""
        return laid_names(self.pattern, self.language)

    @cached_property
    def edges(self) -> tuple[str, ...]:
        """Every edge that is drawn, as `piece.edge`."""
        found = (f"{name}.{edge.name}" for name, cut in self._drawn() for edge in cut.edges)
        return tuple(dict.fromkeys(found))

    @cached_property
    def lines(self) -> tuple[str, ...]:
        """Every edge and named inside line that is drawn, as `piece.line`."""
        inside = (f"{name}.{line.name}" for name, cut in self._drawn() for line in cut.drawn.inside if line.name)
        return tuple(dict.fromkeys((*self.edges, *inside)))

    @cached_property
    def places(self) -> tuple[str, ...]:
        """Every place on an edge that has a name, as `piece.edge[place]`."""
        return tuple(
            dict.fromkeys(
                f"{name}.{edge.name}[{place}]"
                for name, cut in self._drawn()
                for edge in cut.edges
                for place in cut_places(cut, edge)
            )
        )

    def _drawn(self) -> list[tuple[str, CutPiece]]:
        return [(name, cut) for name, by_size in self.cuts.items() for cut in by_size.values()]
