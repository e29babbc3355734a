"""Groups that are drawn as they were before: the strokes of their shapes are known by all that they come of.

That is what a group holds, as parsed, and what it lies in: the map to mm and the digits that this costs, the viewport,
and the style sheets of the file. Where in the file it stands does not count. Nothing is kept of a group of which
anything was told or left out.
"""

import hashlib
from collections.abc import Sequence

import msgspec

from pipeline.masters.svg.path_data import Subpath
from pipeline.masters.svg.shapes import SHAPES
from pipeline.masters.svg.style import MOST_CHARACTERS
from pipeline.masters.svg.tree import Node

Strokes = tuple[Subpath, ...]
MOST_ELEMENTS_KNOWN = 64
"""Of a group of groups that is known as a whole; of a larger one those within it are. A piece in a size has twenty."""
QUIET = frozenset(("metadata", "title", "desc", "style"))
"""Elements that are not looked into."""


class KnownGroups:
    """The strokes of each shape of a group, in order, by all that they come of. This one knows none."""

    def group(self, made_from: object) -> tuple[Strokes, ...] | None:
        """Those that were kept; None where none were."""
        return None

    def keep_group(self, made_from: object, strokes: tuple[Strokes, ...]) -> None:
        """Keep what was read without anything to tell."""


class PlainGroup(msgspec.Struct):
    """A group of groups and shapes alone: a digest of all that it holds, and what a walk through it counts."""

    digest: bytes = b""
    elements: int = 0
    characters: int = 0
    shapes: int = 0
    has_own_shapes: bool = False


def plain_groups(nodes: Sequence[Node]) -> dict[Node, PlainGroup]:
    """The groups that may be known, of all elements of a file in its order.

    None where the styles of the file could have more characters than are read: which of them are counts then.
    """
    styles = {node.attributes.get("style", "") for node in nodes}
    sheets = sum(len(node.text) for node in nodes if node.tag == "style")
    if sheets + 2 * sum(map(len, styles)) > MOST_CHARACTERS:
        return {}
    plain: dict[Node, PlainGroup] = {}
    for node in reversed(nodes):  # what a group holds comes before it
        if node.tag == "g" and (group := _plain(node, plain)) is not None:
            plain[node] = group
    return {
        node: group for node, group in plain.items() if group.has_own_shapes or group.elements <= MOST_ELEMENTS_KNOWN
    }


def _plain(node: Node, plain: dict[Node, PlainGroup]) -> PlainGroup | None:
    group = PlainGroup()
    content: list[object] = []
    for child in node.children:
        if child.tag == "g":
            inner = plain.get(child)
            if inner is None:
                return None
            content.append((inner.digest, child.attributes))
            group.elements += inner.elements
            group.characters += inner.characters
            group.shapes += inner.shapes
        elif not child.tag or child.tag in SHAPES or child.tag in QUIET:
            content.append((child.tag, child.attributes))
            if child.tag in SHAPES:
                group.shapes += 1
                group.has_own_shapes = True
        else:
            return None
        if "transform-origin" in child.attributes:
            return None
        group.elements += 1
        group.characters += sum(map(len, child.attributes.values()))
    group.digest = hashlib.sha256(msgspec.json.encode(content)).digest()
    return group
