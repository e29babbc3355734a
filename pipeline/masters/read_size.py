"""All pieces of one size, as drawn: the masters read, and the pieces that are derived from them."""

from pathlib import Path

import msgspec

from pipeline.masters.lookup import master_file, unread
from pipeline.masters.read_piece import read_piece
from pipeline.masters.source_file import LARGEST_MASTER, FileFault, read_source
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import DrawnPiece


def read_size(pattern: Pattern, folder: Path, size: str) -> tuple[tuple[DrawnPiece, ...], tuple[Finding, ...]]:
    """The pieces of a size that can be read, in the order of the pattern, and everything that is wrong with any."""
    made = [piece for piece in pattern.pieces.values() if size in piece.sizes]
    findings: list[Finding] = []
    drawn: dict[str, DrawnPiece] = {}
    for name in dict.fromkeys(piece.source or piece.name for piece in made):
        piece, told = _read_master(pattern, folder, name, size)
        findings.extend(told)
        if piece is not None:
            drawn[name] = piece
    pieces: list[DrawnPiece] = []
    for spec in made:
        piece = _of_its_own(spec, drawn.get(spec.source or spec.name))
        if piece is not None and spec.part is not None:
            from pipeline.masters.piece_parts import cut_part  # shapely: most patterns have no parts

            piece, told = cut_part(pattern, spec, spec.part, piece)
            findings.extend(told)
        if piece is not None:
            pieces.append(piece)
    return tuple(pieces), tuple(findings)


def _read_master(pattern: Pattern, folder: Path, name: str, size: str) -> tuple[DrawnPiece | None, tuple[Finding, ...]]:
    file, findings = master_file(pattern, folder, name, size)
    if file is None:
        return None, findings
    data = read_source(folder / file, LARGEST_MASTER)
    if isinstance(data, FileFault):
        return None, (unread(pattern, file, name, size, data),)
    return read_piece(pattern, pattern.pieces[name], size, file, data)


def _of_its_own(spec: PieceSpec, drawn: DrawnPiece | None) -> DrawnPiece | None:
    """A derived piece: the source as drawn, with the derived piece's name and what its own table says of marks."""
    if drawn is None or spec.source is None:
        return drawn
    return msgspec.structs.replace(
        drawn,
        piece=spec.name,
        notches=tuple(
            msgspec.structs.replace(notch, style=spec.notches.get(notch.name or "", notch.style))
            for notch in drawn.notches
        ),
        inside=tuple(
            msgspec.structs.replace(line, kind=spec.lines.get(line.name or "", line.kind)) for line in drawn.inside
        ),
    )
