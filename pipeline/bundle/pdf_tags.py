"""The tags of a PDF in reading order: what each is, and what it says of itself."""

from collections.abc import Iterator
from typing import NamedTuple

import pikepdf

_HEADINGS = {f"H{level}": level for level in range(1, 7)}
_DEEPEST = 60


class Tag(NamedTuple):
    """One structure element: its standard type, its text alternative, its heading level (0: none), and the types of
    all that stands in it."""

    kind: str
    alt: str
    level: int
    below: frozenset[str]


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
    yield Tag(kind, str(element.get("/Alt", "")), _HEADINGS.get(kind, 0), frozenset(tag.kind for tag in inner))
    yield from inner


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
