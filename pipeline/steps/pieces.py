"""Masters of one size in, cut pieces and findings of that size out."""

from pathlib import Path

from pipeline.checks.attempts import could_not_run
from pipeline.cutting.cut import cut_pieces
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import Finding, FindingsFile
from pipeline.model.pieces import CutPiece, SizeFile
from pipeline.work.files import write_json


def main(folder: Path, size: str, pieces: Path, findings: Path) -> None:
    """Read and cut every piece of a size."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None, "a refused pattern has no job a size"
    cut: tuple[CutPiece, ...] = ()
    reading: tuple[Finding, ...] = ()
    cutting: tuple[Finding, ...] = ()
    try:
        drawn, reading = read_size(pattern, folder, size)
        cut, cutting = cut_pieces(pattern, size, drawn)
    except Exception as fault:  # the other sizes still tell what they have to
        cutting = (could_not_run("masters", pattern.name, fault, size),)
    write_json(pieces, SizeFile(pattern=pattern.name, size=size, pieces=cut))
    write_json(findings, FindingsFile(findings=(*reading, *cutting)))
