"""Proven lays and cut pieces in; a picture of each lay, and pages of cloth, strips and all pictures, out."""

from functools import partial
from itertools import accumulate, chain
from pathlib import Path

from pipeline.drawing.cloth.lay_pages import PAGE_HEIGHT_MM, PAGE_WIDTH_MM, lay_pages
from pipeline.drawing.cloth.lay_picture import Picture, lay_picture
from pipeline.drawing.lay_names import lay_file_name, lay_title
from pipeline.drawing.piece.own_image import is_own_image
from pipeline.drawing.scene import Scene
from pipeline.drawing.svg import document
from pipeline.lays.demand import strip_sizes
from pipeline.lays.items import LayRequest
from pipeline.lays.saved import Chosen
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import SizeFile
from pipeline.press.ready import make_ready
from pipeline.steps.printed import printed_pattern
from pipeline.tables.cloth import ClothRow, cloth_lines
from pipeline.tables.cloth_page import cloth_pages
from pipeline.tables.strips import strip_rows
from pipeline.tables.strips_page import strips_pages
from pipeline.words import say
from pipeline.work.cache import Cache
from pipeline.work.code import digest
from pipeline.work.files import read_json, write


def main(folder: Path, work: Path, pieces: list[Path], lays: Path, pictures: Path) -> None:
    """Draw every lay in the pattern's languages, with the length to buy; one that is as before is not drawn again."""
    make_ready(work / ".run")
    from pipeline.press.document import Chapter  # cairo reads where fonts are when it is loaded
    from pipeline.press.imprint import imprint_of
    from pipeline.press.lay_chapters import lay_chapters
    from pipeline.press.plain import plain_pages

    pattern = printed_pattern(folder)
    chosen = read_json(lays, list[Chosen])
    lines = cloth_lines(pattern, chosen)
    to_buy = {_key(line.row): line.row for line in lines}
    said, cache, drawn = digest(pattern), Cache(work / pattern.name / "cache/lays", lay_picture.__module__), []
    files = [read_json(path, SizeFile) for path in pieces]
    own_image = {file.size: [cut.piece for cut in file.pieces if is_own_image(cut)] for file in files}
    for each in chosen:
        buy = _both(pattern, to_buy[_key(each.request)])
        own = own_image[each.request.size]
        drawn.append(cache.value_of((said, each, buy, own), partial(lay_picture, pattern, each, buy, own), Picture))
        first = pattern.languages[0]
        picture = document(drawn[-1].scene, lay_title(pattern, each.request, first), first)
        write(pictures / f"{lay_file_name(each.request)}.svg", picture.encode())
    cache.forget_others()
    strips = strip_rows(pattern, {file.size: strip_sizes(pattern, file.size, file.pieces) for file in files})
    pages: list[Scene] = []
    chapters: list[Chapter] = []
    told: list[tuple[str, str, tuple[Scene, ...]]] = []
    told += [("cloth.head", name, cloth_pages(pattern, lines, name)) for name in pattern.languages]
    told += [("strips.head", name, strips_pages(pattern, strips, name)) for name in pattern.languages]
    for key, name, made in told:
        if made:
            chapters.append(Chapter(say(name, key), len(pages)))
            pages += made
    laid = lay_pages(drawn)
    at = [len(pages) + before for before in accumulate(map(len, laid), initial=0)][: len(laid)]
    chapters += lay_chapters(pattern, [each.request for each in chosen], at)
    pages += chain.from_iterable(laid)
    imprint = imprint_of(pattern, "lays")
    write(pictures / "lays.pdf", plain_pages(pages, (PAGE_WIDTH_MM, PAGE_HEIGHT_MM), imprint, chapters))


def _key(lay: ClothRow | LayRequest) -> tuple[object, ...]:
    return lay.view, lay.size, lay.material, lay.width_mm, lay.one_way


def _both(pattern: Pattern, row: ClothRow) -> str:
    first, second = (row.metric, row.imperial) if pattern.units == "metric" else (row.imperial, row.metric)
    return f"{first} ({second})"
