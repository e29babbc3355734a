"""What is said of a correction, in one language: sentences that the sheet and the letter share."""

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from pipeline.bundle.archives import inner_name
from pipeline.bundle.promised import REPRINT
from pipeline.correction.differences import Difference
from pipeline.correction.rows import row_name, row_values
from pipeline.drawing.fonts import advances, printable
from pipeline.drawing.lay_names import laid_names
from pipeline.drawing.panels.words import size_words
from pipeline.drawing.wording import in_decimals
from pipeline.ledger.changes import Change, ChangesFile
from pipeline.model.lengths import MM_PER_INCH, imperial_text
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.questions import ending_of
from pipeline.model.texts import told_of_version
from pipeline.sheets.papers import PAPERS
from pipeline.tables.pages import PageRow
from pipeline.words import catalogue, say

TAPE_MM = 20.0
"""What an edge may move so that a strip can be taped on: common practice."""
_TABLES = {"cloth": "cloth.head", "strips": "strips.strip", "notions": "table.notion", "measures": "table.measure"}
_OF_PIECES = ("piece", "edge", "notch", "mark", "detail", "said")
_MARKUP = re.compile(r"[*_`]{1,3}(?=\S)|(?<=\S)[*_`]{1,3}|^\s*(?:[-+*]|\d+\.)\s+|^#+\s*", re.MULTILINE)


class Correction(NamedTuple):
    """All that there is to tell: `pages` are those of all print files, `text` what its designer tells of versions."""

    pattern: Pattern
    changes: ChangesFile
    differences: tuple[Difference, ...]
    pages: tuple[PageRow, ...]
    text: str


class PageList(NamedTuple):
    """Pages of a file that some sizes print again."""

    sizes: tuple[str, ...]
    file: str
    labels: tuple[str, ...]


def what_was_wrong(correction: Correction) -> list[str]:
    """The designer's own words on this version, a paragraph an entry, without markup and what cannot be printed."""
    text = printable(told_of_version(correction.text, correction.changes.version))
    parts = (" ".join(_MARKUP.sub("", part).split()) for part in re.split(r"\n\s*\n|\n(?=\s*[-+*]\s)", text))
    known = advances().regular
    return ["".join(each if each in known else "?" for each in part) for part in parts if part]


def concerned(correction: Correction) -> tuple[str, ...]:
    """The sizes in which any piece is another than before, in the pattern's order."""
    there = {change.size for change in correction.changes.changes if change.what in _OF_PIECES}
    whole = {change.name for change in correction.changes.changes if change.what == "size"}
    every = any(change.what == "piece" and change.size is None for change in correction.changes.changes)
    return tuple(size for size in correction.pattern.sizes if every or size in there or size in whole)


def sizes_said(correction: Correction, sizes: Sequence[str], language: str) -> str:
    """ "Sizes 44–48"."""
    return size_words(sizes, correction.pattern, (language,))


def concerned_said(correction: Correction, sizes: tuple[str, ...], language: str) -> str:
    """Which sizes are concerned; of others only where there are any."""
    told = sizes_said(correction, sizes, language)
    return told if sizes == correction.pattern.sizes else say(language, "correction.only", sizes=told)


def pages_to_print(correction: Correction, language: str) -> tuple[PageList, ...]:
    """The changed pages of every print file of a language that a size in question needs, those of several sizes in one
    entry.

    A page that shows only sizes that are as they were is printed again by nobody.
    """
    changed = {
        (change.name, change.near) for change in correction.changes.changes if change.what == "page" and change.after
    }
    files = {row.format: print_file(correction, row.format, language) for row in correction.pages}
    lists: dict[tuple[str, tuple[str, ...]], list[str]] = {}
    for size in concerned(correction):
        by_file: dict[str, list[str]] = {}
        for row in correction.pages:
            if (files[row.format], row.label) in changed and size in row.sizes:
                by_file.setdefault(files[row.format], []).append(row.label)
        for file, labels in by_file.items():
            lists.setdefault((file, tuple(labels)), []).append(size)
    order = {file: index for index, file in enumerate(files.values())}
    found = [PageList(tuple(sizes), file, labels) for (file, labels), sizes in lists.items()]
    return tuple(sorted(found, key=lambda each: order[each.file]))


def page_sentences(correction: Correction, language: str) -> list[str]:
    """Which pages to print again, a line a file and sizes."""
    lines = [
        say(
            language,
            "correction.page-list",
            sizes=sizes_said(correction, each.sizes, language),
            file=inner_name(correction.pattern, each.file),
            pages=", ".join(each.labels),
        )
        for each in pages_to_print(correction, language)
    ]
    return lines or [say(language, "correction.pages-none")]


def distance(correction: Correction, length_mm: float, language: str) -> str:
    """ "1.9 mm (0.07 in)"; of inch patterns "1/16 in (1.9 mm)", to 1/32 in, the finest that rulers have."""
    metric = f"{length_mm:.1f} mm"
    if correction.pattern.units == "metric":
        return in_decimals(language, f"{metric} ({length_mm / MM_PER_INCH:.2f} in)")
    return in_decimals(language, f"{imperial_text(max(length_mm, MM_PER_INCH / 32), 32)} ({metric})")


def piece_name(correction: Correction, piece: str, language: str) -> str:
    """ "2 Front", "S1 Loop"; a piece that is no more has its id."""
    names = laid_names(correction.pattern, language)
    name = names.get(piece) or names.get(f"strips.{piece}")
    return f"{name.short} {name.title}" if name else piece


def edge_name(edge: str, language: str) -> str:
    """What an edge is called where it has a usual name, else its id."""
    key = f"edge.{edge}"
    return say(language, key) if key in catalogue(language) else edge


def edge_sentences(correction: Correction, of: Sequence[Difference], language: str) -> list[str]:
    """How far edges of a piece moved, over the sizes `of`."""
    found = []
    for edge in dict.fromkeys(edge for one in of for edge in one.edges):
        moves = [one.edges[edge] for one in of if edge in one.edges]
        for key, most in (("out", max(move.out_mm for move in moves)), ("in", max(move.in_mm for move in moves))):
            if most:
                told = distance(correction, most, language)
                found.append(say(language, f"correction.{key}", edge=edge_name(edge, language), distance=told))
    return found


def other_sentences(correction: Correction, language: str) -> list[str]:
    """What changed besides edges and pages, those of several sizes in one line; texts are told by their number."""
    groups: dict[tuple[str | None, str, str | None, str | None, str], list[Change]] = {}
    for change in correction.changes.changes:
        if change.what not in ("edge", "page", "text", "shown"):
            told = (None, None) if change.mm is not None else (change.before, change.after)
            groups.setdefault((change.piece, change.name, *told, change.what), []).append(change)
    lines = []
    for (piece, _, _, _, _), group in groups.items():
        sizes = tuple(size for size in correction.pattern.sizes if any(one.size == size for one in group))
        head = [piece_name(correction, piece, language)] if piece else []
        head += [sizes_said(correction, sizes, language)] if sizes else []
        worst = max(group, key=lambda change: change.mm or 0.0)
        lines.append(" · ".join((*head, _other(correction, worst, language))))
    return lines


def _other(correction: Correction, change: Change, language: str) -> str:
    name = _subject(correction, change, language)
    if change.mm is not None:
        return say(language, "correction.moved", mark=name, distance=distance(correction, change.mm, language))
    if change.before is None or change.after is None:
        return say(language, "correction.new" if change.before is None else "correction.gone", name=name)
    before, after = row_values(correction.pattern, change.before, change.after, language)
    return say(language, "correction.now", name=name, before=before, after=after)


def _subject(correction: Correction, change: Change, language: str) -> str:
    """What changed, in words as far as there are any for it."""
    if change.what in _TABLES:
        name = row_name(correction.pattern, change.name, language)
        return f"{say(language, _TABLES[change.what])} · {name}"
    if change.what == "notch":
        return say(language, "correction.notch", name=change.name)
    if change.what == "piece":
        return piece_name(correction, change.name, language)
    if change.what == "size":
        return f"{say(language, 'size.name')} {change.name}"
    head, _, rest = change.name.partition(" ")
    if change.what == "said" and head == "count":
        material = correction.pattern.materials.get(rest.removeprefix("in "))
        title = in_language(material.title, language) if material else rest.removeprefix("in ")
        return f"{say(language, 'correction.count')} ({title})"
    if change.what == "said" and head == "allowance":
        return f"{say(language, 'correction.allowance')} ({edge_name(rest.removeprefix('of '), language)})"
    if change.what == "said" and head == "grown":
        edge, _, part = rest.removeprefix("onto ").partition(", part ")
        return f"{say(language, 'correction.grown-on')} ({edge_name(edge, language)}{f' {part}' if part else ''})"
    return change.name


def by_piece(differences: Iterable[Difference]) -> Iterator[tuple[str, list[Difference]]]:
    """Differences piece by piece, in their order."""
    found: dict[str, list[Difference]] = {}
    for one in differences:
        found.setdefault(one.piece, []).append(one)
    yield from found.items()


def print_file(correction: Correction, format: str, language: str) -> str:
    """The file of a format that speaks a language, by its place in the bundle."""
    return f"print/{format}{ending_of(correction.pattern, language)}.pdf"


def reprint_file(correction: Correction, format: str, language: str) -> str:
    """The file of its changed pages, by its place in the bundle."""
    return f"{REPRINT}{format}{ending_of(correction.pattern, language)}.pdf"


def reprint_sentences(correction: Correction, papers: Sequence[str], language: str) -> Iterator[str]:
    """Where changed pages are by themselves; of a roll, which is one page, that it is all of it."""
    places = {"file": print_file, "reprint": reprint_file}
    told = {
        paper: {
            key: inner_name(correction.pattern, place(correction, paper, language)) for key, place in places.items()
        }
        for paper in papers
    }
    listed = {key: ", ".join(names[key] for names in told.values()) for key in places}
    yield say(language, "correction.reprint", **listed)
    for paper, names in told.items():
        if PAPERS[paper].kind == "roll":
            yield say(language, "correction.reprint-roll", reprint=names["reprint"])
