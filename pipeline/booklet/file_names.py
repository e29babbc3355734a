"""What files are called where a buyer meets them: in the archives of a shop, else in the bundle's folders.

Held against the names that archives and bundle give them by `tests/bundle/test_archives.py`.
"""

from pipeline.drawing.names import PAPER_NAMES
from pipeline.model.pattern import Pattern
from pipeline.sheets.papers import PAPERS


def lays_file(pattern: Pattern) -> str:
    """The file with lays, cloth and strips, without what it begins and ends with."""
    return "cloth-and-lays" if pattern.channels else "lays"


def size_in_name(pattern: Pattern, size: str) -> str:
    """What names of files of one size have before their paper."""
    return f"size-{size}" if pattern.channels else size


def view_in_name(pattern: Pattern, view: str) -> str:
    """What names of files of one view have before their paper."""
    return f"view-{view}" if pattern.channels else view


def shop_files(pattern: Pattern) -> str:
    """The files for a copy shop, each with its paper: "a0 (A0), roll-36in (36 in)"."""
    papers = [name for name in pattern.print.formats if name in PAPERS and PAPERS[name].kind != "tiled"]
    return ", ".join(f"{name} ({PAPER_NAMES[name]})" for name in papers)
