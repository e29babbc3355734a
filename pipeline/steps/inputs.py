"""What several steps read."""

from pathlib import Path
from typing import Any

import msgspec

from pipeline.cutting.strips import CutSize
from pipeline.lays.demand import strip_sizes
from pipeline.masters.copied import BOOKLET, LOGO, changes_names
from pipeline.masters.source_file import LARGEST_TEXT, read_source
from pipeline.masters.toml.toml_file import PATTERN_FILE
from pipeline.model.findings import PatternFaultError
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece, Cuts, SizeFile, by_piece, in_size
from pipeline.model.texts import CHANGES, changes_file
from pipeline.work.files import read_json


def cuts_by_piece(files: list[Path]) -> dict[str, dict[str, CutPiece]]:
    """The cut pieces of all sizes, from the files of a job a size."""
    return by_piece(read_json(file, SizeFile) for file in files)


def strips_by_size(pattern: Pattern, cuts: Cuts) -> dict[str, dict[str, CutSize]]:
    """What every strip measures as cut, by size and name."""
    return {size: strip_sizes(pattern, size, tuple(in_size(cuts, size).values())) for size in pattern.sizes}


def changes_text(folder: Path, language: str = "") -> str | None:
    """What a pattern tells of its versions, in this language where it has a file of its own; None without any."""
    names = (changes_file(language), CHANGES) if language else (CHANGES,)
    texts = (read_source(folder / name, LARGEST_TEXT) for name in names)
    return next((data.decode("utf-8", "replace") for data in texts if isinstance(data, bytes)), None)


def changes_by_language(folder: Path) -> dict[str, str]:
    """The texts of languages that have a file of their own, also of such as the pattern is not sold in."""
    found = {name.split(".")[1]: changes_text(folder, name.split(".")[1]) for name in changes_names(folder)}
    return {language: text for language, text in found.items() if text is not None}


def told_changes(pattern: Pattern, folder: Path) -> list[str]:
    """The files of a bundle that tell of its versions: the first language's, and those that others have."""
    own = (changes_file(language) for language in pattern.languages[1:])
    return [CHANGES, *(name for name in own if name in changes_names(folder))]


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
