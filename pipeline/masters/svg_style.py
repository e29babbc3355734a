"""The little of CSS that decides what counts: what hides an object is followed, what moves one is refused."""

import re
from typing import NamedTuple

from pipeline.masters.svg_fault import SvgFault, excerpt
from pipeline.masters.svg_tree import Node

_OFFSETS = ("offset", "offset-path", "offset-distance", "offset-rotate", "offset-anchor", "offset-position")
_MOVES = frozenset(
    (*_OFFSETS, "transform", "transform-origin", "transform-box", "translate", "rotate", "scale", "perspective", "zoom")
)
_SHAPES = frozenset(("d", "x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2", "points"))
_HIDES = ("display", "visibility")
_KNOWN = re.compile(
    r"(?i)(?:^|;)\s*(?:-\w+-)?(?:" + "|".join(sorted({*_MOVES, *_SHAPES, *_HIDES})) + r")\s*:|\\|/\*",
)
_SELECTOR = re.compile(r"(\*|[a-zA-Z][\w-]*)?((?:[.#][\w-]+)*)")
MOST_RULES = 100
_HARMLESS = ("@font-face", "@charset", "@namespace")
_REMEDY = "Save the file again as plain SVG with its style in presentation attributes."


class Rule(NamedTuple):
    """A rule of a style sheet that hides or shows: tag, #ids, .classes, what it declares, and where it stands."""

    tag: str | None
    ids: tuple[str, ...]
    classes: tuple[str, ...]
    declared: dict[str, str]
    order: int

    def fits(self, node: Node, classes: frozenset[str]) -> bool:
        """Whether the selector is the element's."""
        return (
            (self.tag is None or self.tag == node.tag)
            and all(name == node.attributes.get("id") for name in self.ids)
            and classes.issuperset(self.classes)
        )

    @property
    def weight(self) -> tuple[int, int, int, int]:
        """Specificity, then order (CSS Selectors 3, 9)."""
        return len(self.ids), len(self.classes), int(self.tag is not None), self.order


def declarations(text: str, geometry: bool = True) -> dict[str, str]:
    """What a style declares of hiding. Raises SvgFault where it moves an object, or (`geometry`) sets its shape."""
    if not _KNOWN.search(text):
        return {}
    hides: dict[str, str] = {}
    for declaration in _without_comments(text).split(";"):
        key, _, value = declaration.partition(":")
        key, value = key.strip().lower(), value.replace("!important", "").strip().lower()
        plain = key.removeprefix("-webkit-").removeprefix("-moz-").removeprefix("-ms-").removeprefix("-o-")
        if (plain in _MOVES and value not in ("none", "initial")) or "\\" in key:
            raise SvgFault(
                "css-transform",
                f"The style moves it by {excerpt(key, 20)}: {excerpt(value, 30)}, which editors read differently.",
                "Apply the transform in the drawing program, so that it is written as the attribute transform.",
                declaration.strip(),
                "transforms as attributes",
            )
        if geometry and plain in _SHAPES and value not in ("auto", "initial"):
            raise SvgFault(
                "css-geometry",
                f"The style sets the shape by {excerpt(key, 20)}: {excerpt(value, 30)}, which not every editor reads.",
                _REMEDY,
                declaration.strip(),
                "sizes and shapes as attributes",
            )
        if key in _HIDES:
            hides[key] = value
    return hides


def _without_comments(text: str) -> str:
    """The text without comments; one that is not closed runs to the end."""
    first, *rest = text.split("/*")
    return first + "".join(part.partition("*/")[2] for part in rest)


class StyleSheet:
    """All rules of the file's `<style>` elements that hide or show objects."""

    def __init__(self) -> None:
        self._rules: list[Rule] = []

    def add(self, text: str) -> None:
        """Reads one style element. Raises SvgFault for what cannot be followed."""
        plain = _without_comments(text).replace("<!--", "").replace("-->", "")
        for block in plain.split("}"):
            head, _, body = block.partition("{")
            head = head.rpartition(";")[2].strip()
            if head.lower().startswith(_HARMLESS):
                continue
            declared = declarations(body)
            if declared:
                for selector in head.split(","):
                    self._add_rule(selector.strip(), declared)
        for word in re.findall(r"@[\w-]+", plain):
            if word.lower() not in _HARMLESS:
                raise SvgFault(
                    "style-sheet", f"The style sheet uses {excerpt(word, 20)}.", _REMEDY, word, "plain rules"
                )

    def _add_rule(self, selector: str, declared: dict[str, str]) -> None:
        match = _SELECTOR.fullmatch(selector)
        if match is None or not selector:
            raise SvgFault(
                "style-sheet",
                f"The style sheet hides or shows objects by the selector {excerpt(selector, 40)!r}, which is not read.",
                _REMEDY,
                selector,
                "tag, .class or #id",
            )
        names = re.findall(r"[.#][\w-]+", match[2])
        ids = tuple(name[1:] for name in names if name[0] == "#")
        classes = tuple(name[1:] for name in names if name[0] == ".")
        tag = None if match[1] in (None, "*") else match[1]
        if len(self._rules) >= MOST_RULES:
            raise SvgFault(
                "style-sheet",
                f"The style sheet has more than {MOST_RULES} rules that hide or show objects.",
                _REMEDY,
                f"{MOST_RULES + 1} or more",
                str(MOST_RULES),
            )
        self._rules.append(Rule(tag, ids, classes, declared, len(self._rules)))

    def hiding(self, node: Node) -> dict[str, str]:
        """`display` and `visibility` of an element: attribute, then style sheet, then its own style."""
        declared = {key: node.attributes[key].strip().lower() for key in _HIDES if key in node.attributes}
        if self._rules:
            classes = frozenset(node.attributes.get("class", "").split())
            for rule in sorted((rule for rule in self._rules if rule.fits(node, classes)), key=lambda r: r.weight):
                declared.update(rule.declared)
        if "style" in node.attributes:
            declared.update(declarations(node.attributes["style"], geometry=False))
        return declared
