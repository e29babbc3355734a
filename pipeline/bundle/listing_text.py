"""The text of a listing in one language: what it is, sizes, measures, what to buy, what is in the download.

Shops take Markdown or plain text; both say the same. It is made for the designer, and is in no archive.
"""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import partial

from pipeline.booklet.nodes import Cell, Grid, Head, Node, Run, Runs, Text, plain
from pipeline.bundle.archives import USES, rank, sold_file
from pipeline.bundle.promised import promised_files
from pipeline.bundle.readme import files_by_kind
from pipeline.drawing.wording import all_sizes, told_apart, told_of, view_titles
from pipeline.model.pattern import Pattern, in_language
from pipeline.sheets.layout import Layout
from pipeline.words import say

_MARKS = re.compile(r"[\\`*_{}\[\]<>#|~]")
"""What Markdown would read as its own (CommonMark 2.4, and the bar of tables)."""
_LINE_MARKS = re.compile(r"^(\d+)([.)])(?=\s|$)|^([-+=])(?=\s|$)")


def buyers_files(pattern: Pattern) -> list[str]:
    """What buyers get of every release, by its place in the bundle, in the order in which they need it."""
    nothing_laid = Layout(0.0, 0.0, ())  # pictures of pieces and lays are the designer's
    files = ((path, sold_file(pattern, path)) for path in promised_files(pattern, nothing_laid, ()))
    sold = ((USES.index(file.use), rank(pattern, file.alone), path) for path, file in files if file is not None)
    return [path for *_, path in sorted(sold)]


def listing_nodes(pattern: Pattern, language: str, told: Sequence[Node], paths: Sequence[str]) -> list[Node]:
    """What a listing says, in order; `told` is what the booklet says of sizes and of what is bought, `paths` are the
    bundle's files.
    """
    title, contents = in_language(pattern.title, language), files_by_kind(pattern, paths)
    sizes = told_of(language, say(language, "size.several"), all_sizes(pattern, language))
    pieces = told_of(language, say(language, "booklet.pieces-head"), str(len(pattern.pieces)))
    views = view_titles(pattern.views, pattern, language)
    return [
        Head(1, plain(title)),
        Text(plain(f"{say(language, 'listing.kind')} · {in_language(pattern.maker, language)}")),
        Text(plain(" · ".join(filter(None, (sizes, views, pieces))))),
        *(Head(node.level + 1, node.runs) if isinstance(node, Head) else node for node in told),
        Head(2, plain(say(language, "listing.download"))),
        *(Text(plain(told_of(language, ", ".join(names), say(language, key)))) for key, names in contents.items()),
        Head(2, plain(say(language, "booklet.about-head"))),
        Text(plain(in_language(pattern.licence, language))),
        Text(plain(say(language, "readme.questions", contact=in_language(pattern.contact, language)))),
    ]


def markdown(nodes: Iterable[Node]) -> str:
    """The nodes as CommonMark with tables. Raises TypeError for what a listing does not hold."""
    return "\n\n".join(_written(nodes, _marked_head, _marked_grid, _escaped)) + "\n"


def plain_text(nodes: Iterable[Node], language: str) -> str:
    """The nodes as text: a table becomes a line a row, since shops set no columns. Raises TypeError as `markdown`."""
    return "\n\n".join(_written(nodes, lambda _, text: text.upper(), partial(_told_grid, language), str)) + "\n"


def _written(
    nodes: Iterable[Node], head: Callable[[int, str], str], grid: Callable[[Grid], str], text: Callable[[str], str]
) -> Iterator[str]:
    for node in nodes:
        match node:
            case Head(level=level, runs=runs):
                yield head(level, text(_joined(runs)))
            case Text(runs=runs):
                yield text(_joined(runs))
            case Grid():
                yield grid(node)
            case _:
                raise TypeError(f"a listing holds no {type(node).__name__}")


def _joined(runs: Runs) -> str:
    return " ".join("".join(run.text + " " * run.ends for run in runs).split())


def _escaped(text: str) -> str:
    marked = _MARKS.sub(lambda found: f"\\{found[0]}", text)
    return _LINE_MARKS.sub(lambda found: f"{found[1]}\\{found[2]}" if found[1] else f"\\{found[3]}", marked)


def _marked_head(level: int, text: str) -> str:
    return f"{'#' * level} {text}"


def _marked_grid(grid: Grid) -> str:
    heads = _heads(grid)
    rows = [heads, ["---"] * len(heads), *([_escaped(_cell(cell)) for cell in row] for row in grid.rows)]
    heads[:] = map(_escaped, heads)
    return "\n".join(f"| {' | '.join(row)} |" for row in rows)


def _told_grid(language: str, grid: Grid) -> str:
    first, *heads = _heads(grid)
    lines = []
    for row in grid.rows:
        told = [f"{head} {text}" for head, cell in zip(heads, row[1:], strict=True) if (text := _cell(cell))]
        lines.append(told_of(language, f"{first} {_cell(row[0])}", told_apart(language, told)))
    return "\n".join(lines)


def _heads(grid: Grid) -> list[str]:
    """Each column's heading, after the one that it shares with its neighbours."""
    above = [text for text, count in grid.above for _ in range(count)] or [""] * len(grid.head)
    return [f"{group}, {_cell(cell)}" if group else _cell(cell) for group, cell in zip(above, grid.head, strict=True)]


def _cell(cell: Cell) -> str:
    """What stands small on a line of its own, in brackets behind."""
    return _joined(tuple(Run(f"({run.text})") if _is_beside(run) else run for run in cell.runs))


def _is_beside(run: Run) -> bool:
    return run.small and not run.text.startswith("(")
