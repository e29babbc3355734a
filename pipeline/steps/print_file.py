"""The drawings, the layouts and the pages of all formats in; one print file out."""

from pathlib import Path

from pipeline.drawing.drawing import Frame, shown_signs
from pipeline.drawing.pages.overlays import Told, page_overlays
from pipeline.model.questions import ending_in, spoken
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import Layout, PagePlan
from pipeline.steps.inputs import logo_of
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
    frames = read_json(index, list[Frame])
    plan = next(plan for plan in read_json(pages, list[PagePlan]) if plan.format == format)
    told = read_json(map, Told)
    print_file = PrintFile(
        imprint=imprint_of(pattern, format),
        plan=plan,
        layout=read_json(layouts, dict[str, Layout])[format],
        sizes=pattern.sizes,
        overlays=page_overlays(
            pattern,
            plan,
            pattern.sizes,
            told.pieces[format],
            shown_signs(frames),
            file.name,
            told.strips,
            logo_of(folder),
        ),
    )
    write(file, compose(print_file, frames, drawings.read_bytes()))
