"""What several steps read."""

from pathlib import Path

from pipeline.model.pieces import CutPiece, SizeFile
from pipeline.steps.run import read_json


def cuts_by_piece(files: list[Path]) -> dict[str, dict[str, CutPiece]]:
    """The cut pieces of all sizes: piece, then size, both in the pattern's order."""
    cuts: dict[str, dict[str, CutPiece]] = {}
    for file in files:
        for cut in read_json(file, SizeFile).pieces:
            cuts.setdefault(cut.piece, {})[cut.size] = cut
    return cuts
