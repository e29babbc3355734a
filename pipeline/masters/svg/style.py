"""The little of CSS that decides what counts: what hides an object is followed, what moves one is refused."""

import re
from collections.abc import Iterable, Sequence
from typing import NamedTuple

import tinycss2
from tinycss2.ast import AtRule, Declaration, ParseError, QualifiedRule
from tinycss2.ast import Node as Token

from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.tree import Node

_OFFSETS = ("offset", "offset-path", "offset-distance", "offset-rotate", "offset-anchor", "offset-position")
_MOVES = frozenset(
    (*_OFFSETS, "transform", "transform-origin", "transform-box", "translate", "rotate", "scale", "perspective", "zoom")
)
_SHAPES = frozenset(("d", "x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2", "points"))
_HIDES = ("display", "visibility")
_INHERITED = ("inherit", "unset", "revert", "revert-layer")
_VISIBLE = {"visible": True, "initial": True, "hidden": False, "collapse": False}
_SHOWN = re.compile(
    r"(inline-)?(block|table|flex|grid)|inline|list-item|flow-root|contents|compact|run-in|marker|ruby|math|initial"
    r"|table-(row|header-group|footer-group|row-group|column|column-group|cell|caption)"
)
"""Values of display that draw an object: CSS Display 3, and CSS 2.0, which SVG 1.1 (11.5) refers to."""
_KNOWN = re.compile(r"(?i)(?<![\w-])(?:-\w+-)?(?:" + "|".join(sorted({*_MOVES, *_SHAPES, *_HIDES})) + r")\s*:|\\|/\*")
"""What a style that is worth tokenizing holds, in whatever place: most styles have colours and widths alone."""
_SELECTOR = re.compile(r"(\*|[a-zA-Z][\w-]*)?((?:[.#][\w-]+)*)")
MOST_RULES = 100
MOST_CHARACTERS = 200_000
"""Of the styles of a file that are tokenized, each counted once. It takes up to 10 µs a character."""
_DATA = re.compile(r"[\w+/=]{200,}")
"""Bytes of a font or picture: no word of CSS is as long."""
_HARMLESS = ("font-face", "charset", "namespace")
_REMEDY = "Save the file again as plain SVG with its style in presentation attributes."


class Hiding(NamedTuple):
    """What a declaration says: whether the object is shown (None: as what it lies in), and whether it is important."""

    shown: bool | None
    important: bool = False


Declared = dict[str, Hiding]
"""What is said of `display` and `visibility`."""


class Rule(NamedTuple):
    """A rule of a style sheet that hides or shows: tag, #ids, .classes, what it declares, and where it stands."""

    tag: str | None
    ids: tuple[str, ...]
    classes: tuple[str, ...]
    declared: "Declared"
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


def _declared(tokens: Iterable[Token], geometry: bool) -> Declared:
    hides: Declared = {}
    for token in tokens:
        if not isinstance(token, Declaration):
            continue
        key, value = token.lower_name, tinycss2.serialize(token.value).strip().lower()
        plain = key.removeprefix("-webkit-").removeprefix("-moz-").removeprefix("-ms-").removeprefix("-o-")
        if plain in _MOVES and value not in ("none", "initial"):
            raise SvgFault(
                "css-transform",
                f"The style moves it by {excerpt(key, 20)}: {excerpt(value, 30)}, which editors read differently.",
                "Apply the transform in the drawing program, so that it is written as the attribute transform.",
                f"{key}:{value}",
                "transforms as attributes",
            )
        if geometry and plain in _SHAPES and value not in ("auto", "initial"):
            raise SvgFault(
                "css-geometry",
                f"The style sets the shape by {excerpt(key, 20)}: {excerpt(value, 30)}, which not every editor reads.",
                _REMEDY,
                f"{key}:{value}",
                "sizes and shapes as attributes",
            )
        if key in _HIDES:
            _overrule(hides, {key: Hiding(_shown(key, value), token.important)})
    return hides


def _shown(key: str, value: str) -> bool | None:
    """Whether a value of `display` or `visibility` shows an object. Raises SvgFault for one that CSS does not know."""
    if value in _INHERITED:
        return None
    if key == "visibility" and value in _VISIBLE:
        return _VISIBLE[value]
    if key == "display" and (value == "none" or _SHOWN.fullmatch(value)):
        return value != "none"
    raise SvgFault(
        "css-value",
        f"The style says {key}: {excerpt(value, 30) or 'nothing'}, which is no value of {key}.",
        f"Write {key}: {'none' if key == 'display' else 'hidden'} to hide the object, or take it out.",
        f"{key}: {value}",
        "a value that CSS knows",
    )


def _overrule(declared: Declared, later: Declared) -> None:
    """What is said later counts, but for what is important against what is not (CSS Cascading 3, 6.1)."""
    for key, hiding in later.items():
        if key not in declared or hiding.important or not declared[key].important:
            declared[key] = hiding


class Styles:
    """What the styles of a file say, of its `<style>` elements all rules that hide or show objects."""

    def __init__(self) -> None:
        self._rules: list[Rule] = []
        self._declarations: dict[tuple[str, bool], Declared] = {}
        self._characters = 0

    def add(self, text: str) -> None:
        """Reads one style element. Raises SvgFault for what cannot be followed."""
        for rule in tinycss2.parse_stylesheet(self._counted(text), skip_comments=True, skip_whitespace=True):
            if isinstance(rule, AtRule) and rule.lower_at_keyword not in _HARMLESS:
                word = f"@{rule.lower_at_keyword}"
                raise _unread(f"uses {excerpt(word, 20)}", word)
            if isinstance(rule, ParseError):
                raise _unread(f"breaks off, at line {rule.source_line} of it", rule.message)
            if isinstance(rule, QualifiedRule):
                self._add_rules(tinycss2.serialize(rule.prelude), tinycss2.parse_blocks_contents(rule.content))

    def declarations(self, text: str, geometry: bool = True) -> Declared:
        """What a style declares of hiding. Raises SvgFault where it moves an object, or (`geometry`) sets its shape."""
        if (text, geometry) not in self._declarations:
            tokens = tinycss2.parse_blocks_contents(self._counted(text)) if _KNOWN.search(text) else ()
            self._declarations[text, geometry] = _declared(tokens, geometry)
        return self._declarations[text, geometry]

    def _counted(self, text: str) -> str:
        """The text without data, which counts."""
        plain = _DATA.sub("", text)
        self._characters += len(plain)
        if self._characters > MOST_CHARACTERS:
            raise _unread(f"of the file has more than {MOST_CHARACTERS:,} characters", "more", f"{MOST_CHARACTERS:,}")
        return plain

    def _add_rules(self, selectors: str, tokens: Sequence[Token]) -> None:
        if any(isinstance(token, AtRule | QualifiedRule) for token in tokens):
            raise _unread(
                f"has rules within rules, at {excerpt(selectors.strip(), 40)!r}, which are not read", selectors
            )
        declared = _declared(tokens, geometry=True)
        for selector in selectors.split(",") if declared else ():
            self._add_rule(selector.strip(), declared)

    def _add_rule(self, selector: str, declared: Declared) -> None:
        if len(self._rules) >= MOST_RULES:
            raise _unread(
                f"has more than {MOST_RULES} rules that hide or show objects",
                f"{MOST_RULES + 1} or more",
                str(MOST_RULES),
            )
        self._rules.append(rule_of(selector, declared, len(self._rules)))

    def hiding(self, node: Node) -> dict[str, bool | None]:
        """Whether `display` and `visibility` show an element: attribute, then style sheet, then its own style."""
        declared = {
            key: Hiding(_shown(key, node.attributes[key].strip().lower())) for key in _HIDES if key in node.attributes
        }
        if self._rules:
            classes = frozenset(node.attributes.get("class", "").split())
            for rule in sorted((rule for rule in self._rules if rule.fits(node, classes)), key=lambda r: r.weight):
                _overrule(declared, rule.declared)
        if "style" in node.attributes:
            _overrule(declared, self.declarations(node.attributes["style"], geometry=False))
        return {key: hiding.shown for key, hiding in declared.items()}


def rule_of(selector: str, declared: Declared, order: int) -> Rule:
    """The rule of one selector. Raises SvgFault for one that is not read."""
    match = _SELECTOR.fullmatch(selector)
    if match is None or not selector:
        hides = f"hides, shows or paints objects by the selector {excerpt(selector, 40)!r}, which is not read"
        raise _unread(hides, selector, "tag, .class or #id")
    names = re.findall(r"[.#][\w-]+", match[2])
    ids = tuple(name[1:] for name in names if name[0] == "#")
    classes = tuple(name[1:] for name in names if name[0] == ".")
    tag = None if match[1] in (None, "*") else match[1]
    return Rule(tag, ids, classes, declared, order)


def _unread(what: str, found: str, allowed: str = "plain rules") -> SvgFault:
    return SvgFault("style-sheet", f"The style sheet {what}.", _REMEDY, excerpt(found.strip()), allowed)
