"""One piece of a garment, read and cut in some of its sizes."""

from collections.abc import Sequence
from pathlib import Path

from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts


def cuts_of(folder: Path, name: str, sizes: Sequence[str]) -> tuple[Pattern, Cuts]:
    """The pattern and the cut piece by size; nothing may be told of either."""
    pattern, findings = load_pattern(folder)
    assert findings == ()
    assert pattern is not None
    cuts = {}
    for size in sizes:
        drawn, _ = read_size(pattern, folder, size)
        found, told = cut_pieces(pattern, size, tuple(piece for piece in drawn if piece.piece == name))
        assert told == ()
        cuts[size] = found[0]
    return pattern, {name: cuts}
