"""The drawings, the layouts and the pages of all formats in; one print file out."""

from pathlib import Path

from pipeline.drawing.drawing import Frame
from pipeline.drawing.pages.overlays import Told
from pipeline.model.questions import ending_in, spoken
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import Layout
from pipeline.steps.around import around_pages, plan_of
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
    """Compose the pages of a format, or of a format and language, "a4-en"."""
    make_ready(work / ".run")
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.imprint import imprint_of

    whole = printed_pattern(folder)
    ending = ending_in(whole, format)
    pattern, format = spoken(whole)[ending], format.removesuffix(ending)
    frames, plan = read_json(index, list[Frame]), plan_of(pages, format)
    print_file = PrintFile(
        imprint=imprint_of(pattern, format),
        plan=plan,
        layout=read_json(layouts, dict[str, Layout])[format],
        sizes=pattern.sizes,
        overlays=around_pages(pattern, plan, frames, read_json(map, Told), folder, file.name),
    )
    write(file, compose(print_file, frames, drawings.read_bytes()))
