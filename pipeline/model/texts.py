"""What customers read: the texts of a pattern, and the versions that CHANGES.md tells of."""

import re

from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Texts

CHANGES = "CHANGES.md"
"""What customers are told of versions in a pattern's first language, and in those without a file of their own."""
SIZE_TITLES = "pattern.size_titles."
VERSION = re.compile(r"(?<![\d.])\d+\.\d+\.\d+(?![\d.])")
_HEADING = re.compile(r"^ {0,3}#{1,6}\s+(.*)$", re.MULTILINE)


def customer_texts(pattern: Pattern) -> dict[str, Texts]:
    """Every text that customers read, by the key of `pattern.toml` that holds it."""
    groups = ("views", "materials", "pieces", "strips", "body", "finished", "notions")
    texts = {f"pattern.{key}": getattr(pattern, key) for key in ("title", "maker", "contact", "licence")}
    for group in groups:
        texts |= {f"{group}.{name}.title": owner.title for name, owner in getattr(pattern, group).items()}
    texts |= {f"{SIZE_TITLES}{name}": title for name, title in pattern.size_titles.items()}
    return texts | contact_lines(pattern) | mark_titles(pattern) | seam_titles(pattern)


def contact_lines(pattern: Pattern) -> dict[str, Texts]:
    """The designer's lines, alike in all languages; nothing where there are none."""
    lines = "\n".join(pattern.style.contact_lines)
    return {"style.contact_lines": dict.fromkeys(pattern.languages, lines)} if lines else {}


def mark_titles(pattern: Pattern) -> dict[str, Texts]:
    """What the designer calls inside lines and points, by the key of `pattern.toml` that says it."""
    return {
        f"pieces.{name}.{group}.{mark}.title": spec.title
        for name, piece in pattern.pieces.items()
        for group, marks in (("lines", piece.line_marks), ("points", piece.point_marks))
        for mark, spec in marks.items()
        if spec.title
    }


def seam_titles(pattern: Pattern) -> dict[str, Texts]:
    """What the designer calls seams, by the key of `pattern.toml` that says it."""
    return {f"seams.{name}.title": seam.title for name, seam in pattern.seams.items() if seam.title}


def changes_file(language: str) -> str:
    """What customers are told of versions in one language, beside CHANGES."""
    return f"CHANGES.{language}.md"


def told_of_version(changes: str, version: str) -> str:
    """What CHANGES.md says below the heading of a version, up to the next one that names any; "" without one."""
    headings = [match for match in _HEADING.finditer(changes) if VERSION.search(match.group(1))]
    ends = [match.start() for match in headings[1:]] + [len(changes)]
    for heading, end in zip(headings, ends, strict=True):
        if VERSION.findall(heading.group(1))[:1] == [version]:
            return changes[heading.end() : end].strip()
    return ""


def told_versions(changes: str) -> list[str]:
    """The versions that headings of CHANGES.md name, in the order of the text."""
    return [found for heading in _HEADING.findall(changes) for found in VERSION.findall(heading)[:1]]


def counted(number: int, one: str, several: str | None = None) -> str:
    """A number and what it counts, for designers: "1 notch", "3 notches"; an s where `several` is not said."""
    return f"{number:,} {one if number == 1 else several or f'{one}s'}"
