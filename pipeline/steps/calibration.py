"""A pattern's languages in; the pages that a projector is set up with out."""

from pathlib import Path

from pipeline.drawing.pages.calibration import calibration_pages, calibration_plan
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import Layout
from pipeline.steps.printed import printed_pattern
from pipeline.work.files import write


def main(folder: Path, work: Path, file: Path) -> None:
    """Draw the grid, its squares and how to check them."""
    make_ready(work / ".run")
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.imprint import imprint_of

    pattern = printed_pattern(folder)
    print_file = PrintFile(
        imprint=imprint_of(pattern, "calibration"),
        plan=calibration_plan(),
        layout=Layout(0.0, 0.0, ()),
        sizes=(),
        overlays=calibration_pages(pattern),
        layered=False,
    )
    write(file, compose(print_file, [], b""))
