"""The small pattern built by the steps themselves, in this process and without the engine."""

from collections.abc import Sequence
from pathlib import Path

from pipeline.masters.toml.load import load_pattern
from pipeline.steps import drawings, layout, pieces, print_file

APRON = Path(__file__).resolve().parent / "patterns/tea-apron"


def apron_with(source: Path, more: str) -> Path:
    """The apron in a new folder, with `more` in place of what it says of print."""
    source.mkdir(parents=True)
    (source / "sizes").symlink_to(APRON / "sizes")
    text = (APRON / "pattern.toml").read_text(encoding="utf-8")
    (source / "pattern.toml").write_text(text[: text.index("[print]")] + more, encoding="utf-8")
    return source


def cut_sizes(source: Path, work: Path, sizes: Sequence[str]) -> list[Path]:
    """The cut pieces of each size."""
    files = [work / f"{size}.json" for size in sizes]
    for size, file in zip(sizes, files, strict=True):
        pieces.main(source, size, file, work / f"read-{size}.json")
    return files


def print_all_sizes(source: Path, work: Path, files: list[Path], formats: Sequence[str], prints: Path) -> None:
    """The print file of each format, with layouts and pages beside the cut pieces."""
    layout.main(source, files, [], work / "layout.json", work / "layouts.json", work / "pages.json", work / "all.json")
    drawn = work / "drawings.json", work / "drawings.pdf", work / "map.json"
    told = work / "drawings-told.json"
    pattern, _ = load_pattern(source)
    assert pattern is not None
    drawings.main(
        source, work, list(pattern.languages), files, work / "layouts.json", work / "pages.json", *drawn, told
    )
    for name in formats:
        target = prints / f"{name}.pdf"
        print_file.main(source, work, name, *drawn, work / "layouts.json", work / "pages.json", target)
