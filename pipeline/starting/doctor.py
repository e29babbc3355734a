"""`pattern-release doctor`: whether this computer has what a run needs, a line each."""

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path

LIBRARIES = (
    *("snakemake", "snakemake-logger-plugin-rich", "msgspec", "defusedxml", "ezdxf", "shapely", "numpy", "cairocffi"),
    *("pikepdf", "spyrrow", "markdown-it-py", "mdit-py-plugins", "tinycss2", "typst"),
)
OLDEST = (3, 11)
Row = tuple[bool, str]


def doctor(source: Path, release: Path, work: Path) -> list[Row]:
    """Whether each thing is well, and what to say of it."""
    looks: list[Callable[[], Row]] = [_python, _cairo, _fonts]
    return [*(look() for look in looks), *_libraries(), *(_writes(place) for place in (source, release, work))]


def _python() -> Row:
    found = ".".join(map(str, sys.version_info[:3]))
    well = sys.version_info >= OLDEST
    return well, f"Python {found}" + ("" if well else f": {'.'.join(map(str, OLDEST))} or newer is needed")


def _cairo() -> Row:
    try:
        import cairocffi

        return True, f"cairo {cairocffi.cairo_version_string()}"
    except (ImportError, OSError) as fault:
        remedy = "install it: Debian `sudo apt-get install libcairo2`, macOS `brew install cairo`"
        return False, f"cairo cannot be loaded ({str(fault).splitlines()[0]}): {remedy}"


def _fonts() -> Row:
    from pipeline.drawing.fonts import FONT_FILES

    gone = [file.name for file in FONT_FILES.values() if not file.is_file()]
    return not gone, f"font {'files are missing: ' + ', '.join(gone) if gone else 'Noto Sans is there'}"


def _libraries() -> Iterator[Row]:
    for library in LIBRARIES:
        try:
            yield True, f"{library} {version(library)}"
        except PackageNotFoundError:
            yield False, f"{library} is not installed: give `pip install --editable .` again"


def _writes(place: Path) -> Row:
    """Whether files can be made in a folder, or in the first above it that is there; nothing is left behind."""
    there = next(folder for folder in (place, *place.parents) if folder.exists())
    try:
        with tempfile.TemporaryFile(dir=there):
            return True, f"{place} can be written"
    except OSError as fault:
        return False, f"{there} cannot be written: {os.strerror(fault.errno or 0)}"
