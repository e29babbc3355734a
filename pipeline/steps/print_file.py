"""The drawings, the layouts and the pages of all formats in; one print file out."""

from pathlib import Path

from pipeline.drawing.drawing import Frame
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.pages.overlays import page_overlays
from pipeline.drawing.panels.map import MapPiece
from pipeline.sheets.layout import Layout, PagePlan
from pipeline.steps.printed import printed_pattern
from pipeline.work.files import read_json, write


def main(
    folder: Path,
    work: Path,
    format: str,
    index: Path,
    drawings: Path,
    map: Path,
    layouts: Path,
    pages: Path,
    file: Path,
) -> None:
    """Compose the pages of a format."""
    use_own_fonts(work / ".run")
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.imprint import imprint_of

    pattern = printed_pattern(folder)
    plan = next(plan for plan in read_json(pages, list[PagePlan]) if plan.format == format)
    print_file = PrintFile(
        imprint=imprint_of(pattern, format),
        plan=plan,
        layout=read_json(layouts, dict[str, Layout])[format],
        sizes=pattern.sizes,
        overlays=page_overlays(
            pattern, plan, pattern.sizes, read_json(map, dict[str, list[MapPiece]])[format], file.name
        ),
    )
    write(file, compose(print_file, read_json(index, list[Frame]), drawings.read_bytes()))
