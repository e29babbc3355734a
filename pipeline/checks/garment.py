"""What the checks look at: a pattern with the cut pieces of all its sizes, and measures of them."""

from collections.abc import Callable, Hashable, Iterator, Mapping
from types import MappingProxyType
from typing import Any, TypeVar

from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import EdgeSpec, PieceSpec, Take
from pipeline.model.pieces import CutPiece, Cuts
from pipeline.model.questions import edge_spec
from pipeline.model.sizes import Ladder, ladders

T = TypeVar("T")


class Garment:
    """A pattern with all its cut pieces: `cuts` by piece, then size, both in the pattern's order.

    `changes` is the text of CHANGES.md, None where there is none; `said` that of pattern.toml; `changes_in`
    are those of languages that tell of versions in a file of their own.
    """

    def __init__(
        self,
        pattern: Pattern,
        cuts: Cuts,
        changes: str | None = None,
        said: str = "",
        changes_in: Mapping[str, str] = MappingProxyType({}),
    ) -> None:
        self.pattern = pattern
        self.cuts = cuts
        self.changes, self.said, self.changes_in = changes, said, changes_in
        self._made: dict[Hashable, Any] = {}

    def once(self, key: Hashable, make: Callable[[], T]) -> T:
        """What `make` gives, worked out the first time that it is asked for: several checks walk the same seams."""
        if key not in self._made:
            self._made[key] = make()
        made: T = self._made[key]
        return made

    @property
    def provides(self) -> frozenset[str]:
        """What the pattern declares, as checks name their needs: seams, finished, body, strips, notions, children."""
        parts = ("seams", "finished", "body", "strips", "notions", "views")
        named = {part for part in parts if getattr(self.pattern, part)}
        return frozenset(named | ({"children"} if self.pattern.wearer != "adult" else set()))

    @property
    def ladders(self) -> tuple[Ladder, ...]:
        """The ladders that sizes stand on."""
        return self.once("ladders", lambda: ladders(self.pattern))

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
        return edge_spec(self.pattern, piece, edge)

    def takes(self, piece: str, edge: str) -> tuple[Take, ...]:
        """The darts and pleats of an edge."""
        return self.edge_spec(piece, edge).takes
