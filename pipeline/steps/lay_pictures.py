"""Proven lays and cut pieces in; a picture of each lay, and pages of cloth, strips and all pictures, out."""

from pathlib import Path

from pipeline.drawing.cloth.lay_pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM, lay_pages
from pipeline.drawing.cloth.lay_picture import lay_picture
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.lay_names import lay_file_name
from pipeline.drawing.svg import document
from pipeline.lays.demand import strip_sizes
from pipeline.lays.items import LayRequest
from pipeline.lays.kept import Chosen
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import SizeFile
from pipeline.steps.printed import printed_pattern
from pipeline.tables.cloth import ClothRow, cloth_lines
from pipeline.tables.cloth_page import cloth_page
from pipeline.tables.strips import strip_rows
from pipeline.tables.strips_page import strips_pages
from pipeline.work.files import read_json, write


def main(folder: Path, work: Path, pieces: list[Path], lays: Path, pictures: Path) -> None:
    """Draw every lay in the pattern's first language, with the length to buy."""
    use_own_fonts(work / ".run")
    from pipeline.press.imprint import imprint_of  # cairo reads where fonts are when it is loaded
    from pipeline.press.plain import plain_pages

    pattern = printed_pattern(folder)
    chosen, language = read_json(lays, list[Chosen]), pattern.languages[0]
    lines = cloth_lines(pattern, chosen)
    to_buy = {_key(line.row): line.row for line in lines}
    drawn = []
    for each in chosen:
        drawn.append(lay_picture(pattern, each, language, _both(pattern, to_buy[_key(each.request)])))
        write(pictures / f"{lay_file_name(each.request)}.svg", document(drawn[-1].scene).encode())
    files = [read_json(path, SizeFile) for path in pieces]
    strips = strip_rows(pattern, {file.size: strip_sizes(pattern, file.size, file.pieces) for file in files})
    pages = (
        *(cloth_page(pattern, lines, name) for name in pattern.languages),
        *(page for name in pattern.languages for page in strips_pages(pattern, strips, name)),
        *lay_pages(drawn),
    )
    write(pictures / "lays.pdf", plain_pages(pages, (PAGE_WIDTH_MM, PAGE_HEIGHT_MM), imprint_of(pattern, "lays")))


def _key(lay: ClothRow | LayRequest) -> tuple[object, ...]:
    return lay.view, lay.size, lay.material, lay.width_mm, lay.one_way


def _both(pattern: Pattern, row: ClothRow) -> str:
    first, second = (row.metric, row.imperial) if pattern.units == "metric" else (row.imperial, row.metric)
    return f"{first} ({second})"
