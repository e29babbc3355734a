"""Cut pieces of all sizes in, `data/pieces.json` out."""

from pathlib import Path

from pipeline.bundle.pieces_data import pieces_data
from pipeline.masters.toml.load import load_pattern
from pipeline.steps.inputs import cuts_by_piece
from pipeline.work.files import write_json


def main(folder: Path, pieces: list[Path], data: Path) -> None:
    """Write what was measured."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    write_json(data, pieces_data(pattern, cuts_by_piece(pieces)))
