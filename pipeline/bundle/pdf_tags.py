"""The tags of a PDF in reading order: what each is, and what it says of itself."""

import re
from collections.abc import Iterator
from typing import NamedTuple

import pikepdf

_HEADINGS = {f"H{level}": level for level in range(1, 7)}
_DEEPEST = 60
_MARKS = re.compile(
    rb"\((?:[^()\\]|\\.)*+\)|(?<![^\s\])>])"
    rb"(?:(?P<begins>BDC|BMC)|(?P<ends>EMC)|(?P<draws>Tj|TJ|Do|sh|[fBb]\*?|[FSs]))(?=[\s/\[(<]|$)",
    re.DOTALL,
)
"""Strings, which may say anything, and the operators that mark content or draw it (ISO 32000-1, 8.2 and 14.6)."""


class Tag(NamedTuple):
    """One structure element: its standard type, its text alternative, its heading level (0: none), the types of all
    that stands in it, and of a heading cell what it heads ("": not said)."""

    kind: str
    alt: str
    level: int
    below: frozenset[str]
    scope: str


def tags_of(root: pikepdf.Object) -> Iterator[Tag]:
    """All elements of a document's catalogue, each before what stands in it."""
    if "/StructTreeRoot" not in root:
        return
    tree = root["/StructTreeRoot"]
    roles = {key: str(value) for key, value in tree.get("/RoleMap", pikepdf.Dictionary()).items()}
    for kid in _kids(tree):
        yield from _walk(kid, roles, 0)


def _walk(element: pikepdf.Object, roles: dict[str, str], depth: int) -> Iterator[Tag]:
    if depth > _DEEPEST:
        return
    kind = _kind(element, roles)
    inner = [tag for kid in _kids(element) for tag in _walk(kid, roles, depth + 1)]
    below = frozenset(tag.kind for tag in inner)
    yield Tag(kind, str(element.get("/Alt", "")), _HEADINGS.get(kind, 0), below, _scope(element))
    yield from inner


def unmarked(content: bytes) -> int:
    """How often a page's operators draw what is neither tagged nor marked as an artifact."""
    depth = found = 0
    for match in _MARKS.finditer(content):
        if match["begins"]:
            depth += 1
        elif match["ends"]:
            depth -= 1
        elif match["draws"] and depth <= 0:
            found += 1
    return found


def _scope(element: pikepdf.Object) -> str:
    said = element.get("/A", pikepdf.Dictionary())
    every = list(said) if isinstance(said, pikepdf.Array) else [said]
    scopes = [str(one["/Scope"]) for one in every if isinstance(one, pikepdf.Dictionary) and "/Scope" in one]
    return scopes[0].lstrip("/") if scopes else ""


def _kind(element: pikepdf.Object, roles: dict[str, str]) -> str:
    name = str(element["/S"])
    for _ in range(_DEEPEST):
        if name not in roles:
            break
        name = roles[name]
    return name.lstrip("/")


def _kids(element: pikepdf.Object) -> list[pikepdf.Object]:
    """Those that are elements; what is left is content."""
    kids = element.get("/K")
    if kids is None:
        return []
    every = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
    return [kid for kid in every if isinstance(kid, pikepdf.Dictionary) and "/S" in kid]
