"""What a print file of a pattern is called, in the pattern's first language."""

from pipeline.drawing.names import PAPER_NAMES
from pipeline.model.pattern import Pattern, in_language
from pipeline.press.document import Imprint
from pipeline.words import catalogue, say


def imprint_of(pattern: Pattern, format_name: str, detail: str | None = None) -> Imprint:
    """The imprint of a file of that format; `detail` is what else tells it from others: a size, a material."""
    first = pattern.languages[0]
    key = f"file.{format_name}"
    name = say(first, key) if key in catalogue(first) else PAPER_NAMES.get(format_name, format_name)
    title = f"{in_language(pattern.title, first)} {pattern.version} · {name}"
    return Imprint(
        title=f"{title} · {detail}" if detail else title,
        author=in_language(pattern.maker, first),
        language=first,
        layer_word=say(first, "size.name"),
        row_word=say(first, "page.row-name"),
        start_word=say(first, "page.start"),
    )
