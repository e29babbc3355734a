"""The outline of the file of lays: what it tells in each language, then every cloth with its sizes."""

from collections.abc import Sequence

from pipeline.drawing.lay_names import cloth_title
from pipeline.lays.items import LayRequest
from pipeline.model.pattern import Pattern
from pipeline.press.document import Chapter
from pipeline.words import say


def lay_chapters(pattern: Pattern, requests: Sequence[LayRequest], pages: Sequence[int]) -> tuple[Chapter, ...]:
    """A chapter a cloth, nap and view, with an entry a size, in the first language; `pages` are those of the lays."""
    language = pattern.languages[0]
    entries: dict[str, list[Chapter]] = {}
    for request, page in zip(requests, pages, strict=True):
        size = f"{say(language, 'size.name')} {request.size}"
        entries.setdefault(cloth_title(pattern, request, language), []).append(Chapter(size, page))
    return tuple(Chapter(cloth, sizes[0].page, tuple(sizes)) for cloth, sizes in entries.items())
