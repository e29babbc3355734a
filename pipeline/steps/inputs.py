"""What several steps read."""

from pathlib import Path
from typing import Any

import msgspec

from pipeline.cutting.strips import CutSize
from pipeline.lays.demand import strip_sizes
from pipeline.masters.copied import BOOKLET, LOGO
from pipeline.masters.source_file import LARGEST_TEXT, read_source
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.model.findings import PatternFaultError
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Cuts, SizeFile, by_piece, in_size
from pipeline.work.files import read_json


def cuts_by_piece(files: list[Path]) -> dict[str, dict[str, CutPiece]]:
    """The cut pieces of all sizes, from the files of a job a size."""
    return by_piece(read_json(file, SizeFile) for file in files)


def strips_by_size(pattern: Pattern, cuts: Cuts) -> dict[str, dict[str, CutSize]]:
    """What every strip measures as cut, by size and name."""
    return {size: strip_sizes(pattern, size, tuple(in_size(cuts, size).values())) for size in pattern.sizes}


def changes_text(folder: Path) -> str | None:
    """The text of a pattern's CHANGES.md; None where there is none to read."""
    data = read_source(folder / "CHANGES.md", LARGEST_TEXT)
    return data.decode("utf-8", "replace") if isinstance(data, bytes) else None


def pattern_text(folder: Path) -> str:
    """The text of a pattern's pattern.toml, which was read."""
    return (folder / PATTERN_FILE).read_text(encoding="utf-8", errors="replace")


def booklet_files(folder: Path) -> dict[str, bytes]:
    """The files of a pattern's booklet by their places in its folder: those of the copy, which can be read."""
    files = sorted(path for path in (folder / BOOKLET).rglob("*") if path.is_file())
    return {path.relative_to(folder).as_posix(): path.read_bytes() for path in files}


def logo_of(folder: Path) -> Logo | None:
    """The designer's logo as pages show it, where there is one."""
    if not (file := folder / LOGO).is_file():
        return None
    from pipeline.masters.logo import read_logo  # the readers of SVG: most patterns have no logo

    return read_logo(file.read_bytes(), folder.name)[0]


def read_saved(file: Path, kind: Any) -> Any:
    """What a search saved beside the source. Raises PatternFaultError where it is not what was written."""
    try:
        return read_json(file, kind)
    except msgspec.MsgspecError as fault:
        raise PatternFaultError(
            f"{file} cannot be read ({fault}): take it from your last commit, or delete it"
        ) from None
