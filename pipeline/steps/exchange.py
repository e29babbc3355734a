"""Cut pieces of all sizes in, `exchange/<pattern>.dxf` out."""

from pathlib import Path

from pipeline.exchange.document import exchange_dxf
from pipeline.masters.toml.load import load_pattern
from pipeline.steps.inputs import cuts_by_piece
from pipeline.work.files import write


def main(folder: Path, pieces: list[Path], file: Path) -> None:
    """Write every piece in every size for who cuts by machine."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    write(file, exchange_dxf(pattern, cuts_by_piece(pieces)))
