"""The guard: bytes of an SVG file to a tree of elements, with limits against bombs.

Standard entities, numeric characters and a DOCTYPE are read; declared entities, gzip and what is over
a limit are refused.
"""

import re
from collections.abc import Iterator
from typing import Any
from xml.etree.ElementTree import ParseError

import msgspec
from defusedxml import DefusedXmlException
from defusedxml.ElementTree import DefusedXMLParser

from pipeline.masters.source_file import LARGEST_MASTER
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.numbers import MOST_SEGMENTS

SVG_NAMESPACE = "http://www.w3.org/2000/svg"
CUT_FROM = "data-cut-from"
"""What an object of a master that was cut out of a drawing is in that drawing, for people."""
XLINK_HREF = "{http://www.w3.org/1999/xlink}href"
ENCODINGS = re.compile(
    r"(?i)utf-?8|utf-?16(le|be)?|(us-)?ascii|iso-?8859-[0-9]{1,2}|latin-?1|windows-125[0-9]|cp125[0-9]"
)
"""What editors write; Python knows more, among them some that change what stands in the file (unicode_escape)."""
MOST_ELEMENTS = 20_000
MOST_DEPTH = 100


class Limits(msgspec.Struct, frozen=True):
    """How much one file may hold, with every `use` written out; `what` says what it is for."""

    characters: int = LARGEST_MASTER
    elements: int = MOST_ELEMENTS
    segments: int = MOST_SEGMENTS
    rest: str = "Remove what does not belong to the piece: one piece in one size is a few hundred elements at most."


OF_MASTER = Limits()


class Node(msgspec.Struct, eq=False):
    """An element. `tag` is the local name where the element is SVG's own, else "" ; names of attributes as parsed."""

    tag: str
    attributes: dict[str, str]
    line: int
    parent: "Node | None" = None
    children: list["Node"] = []
    text: str = ""

    @property
    def name(self) -> str | None:
        """The editor's label, else `data-name`, else the id."""
        for key, value in self.attributes.items():
            if value and (key == "label" or key.endswith("}label")):
                return value
        return self.attributes.get("data-name") or self.attributes.get("id") or None

    @property
    def described(self) -> str:
        """The object for people: its tag and name, or its place in the file; and its line."""
        if cut_from := self.attributes.get(CUT_FROM):
            return cut_from
        name = self.name
        place = f'{self.tag or "element"} "{name[:60]}"' if name and name.isprintable() else self._path()
        return f"{place}, line {self.line}"

    def _path(self) -> str:
        steps: list[str] = []
        node = self
        while node.parent is not None:
            tag = node.tag
            alike = [child for child in node.parent.children if child.tag == tag]
            index = next(i for i, child in enumerate(alike) if child is node) if node in alike else 0
            steps.append(f"{tag or 'element'}[{index + 1}]")
            node = node.parent
        steps.append(node.tag or "element")
        return "/".join(reversed(steps))

    def walk(self) -> Iterator["Node"]:
        """This element and all below it, in the order of the file."""
        waiting = [self]
        while waiting:
            node = waiting.pop()
            yield node
            waiting.extend(reversed(node.children))


PLAIN_SVG = "Save the file again as plain SVG."


def parse_svg(data: bytes, limits: Limits = OF_MASTER) -> Node:
    """The root element. Raises SvgFault for whatever is not an SVG file within the limits."""
    _refuse_foreign_bytes(data, limits)
    builder = _Builder(limits)
    parser: Any = DefusedXMLParser(target=builder, forbid_dtd=False, forbid_entities=True, forbid_external=True)
    builder.expat = parser.parser
    builder.expat.XmlDeclHandler = _check_encoding
    try:
        parser.feed(data)
        parser.close()
    except DefusedXmlException as refused:
        raise SvgFault(
            "entities",
            "The file declares entities of its own, which are not read (they can hide or multiply content).",
            PLAIN_SVG,
            found=f"entity {getattr(refused, 'name', None) or 'declaration'} on line {parser.parser.CurrentLineNumber}",
            allowed="no entity declarations",
        ) from None
    except (ParseError, ValueError, LookupError) as wrong:
        raise SvgFault(
            "not-xml",
            f"The file cannot be read as XML: {wrong}.",
            "Save it again as plain SVG from the drawing program; an upload or copy may have cut it off.",
            found=str(wrong),
            allowed="well-formed XML",
        ) from None
    assert builder.root is not None, "a parser that ends well has met a root"
    return _svg_root(builder)


def _check_encoding(version: str, encoding: str | None, standalone: int) -> None:
    if encoding is not None and ENCODINGS.fullmatch(encoding) is None:
        raise SvgFault(
            "encoding",
            f"The file says that it is written in {excerpt(encoding, 30)!r}, which is not read.",
            "Save the file as UTF-8.",
            encoding,
            "UTF-8, UTF-16, ASCII, ISO-8859 or Windows-125x",
        )


def _refuse_foreign_bytes(data: bytes, limits: Limits) -> None:
    if data[:2] == b"\x1f\x8b":
        raise SvgFault("gzip", "The file is compressed (SVGZ).", PLAIN_SVG, "gzip data", "plain SVG text")
    if not data.strip():
        raise SvgFault("empty-file", "The file is empty.", "Save the piece again.", "0 bytes of text", "an SVG file")
    if len(data) > limits.characters:
        raise SvgFault(
            "too-large",
            f"The file has {len(data):,} bytes; at most {limits.characters:,} are read.",
            "Remove embedded images and what does not belong to the piece.",
            f"{len(data)} bytes",
            f"{limits.characters} bytes",
        )


def _svg_root(builder: "_Builder") -> Node:
    root = builder.root
    assert root is not None
    if root.tag != "svg":
        raise SvgFault(
            "not-svg",
            f"The file's root element is <{builder.root_tag}>, not <svg> in the namespace {SVG_NAMESPACE}.",
            PLAIN_SVG,
            found=builder.root_tag,
            allowed=f"svg in {SVG_NAMESPACE}",
        )
    return root


class _Builder:
    """Builds the tree while the parser runs, so that a bomb ends at its limit and not in memory."""

    def __init__(self, limits: Limits) -> None:
        self.limits = limits
        self.root: Node | None = None
        self.root_tag = ""
        self.expat: Any = None
        self._open: list[Node] = []
        self._count = 0

    def start(self, tag: str, attributes: dict[str, str]) -> None:
        self._count += 1
        line = self.expat.CurrentLineNumber
        self._limit("too-many-elements", "elements", self._count, self.limits.elements)
        self._limit("too-deep", "levels of nested elements", len(self._open) + 1, MOST_DEPTH)
        namespace, _, local = tag[1:].rpartition("}") if tag.startswith("{") else ("", "", tag)
        parent = self._open[-1] if self._open else None
        node = Node(local if namespace == SVG_NAMESPACE else "", attributes, line, parent, [])
        if parent is None:
            self.root, self.root_tag = node, local if namespace else tag
        else:
            parent.children.append(node)
        self._open.append(node)

    def end(self, tag: str) -> None:
        self._open.pop()

    def data(self, text: str) -> None:
        if self._open[-1].tag in ("style", "text", "tspan"):
            self._open[-1].text += text

    def pi(self, target: str, text: str | None = None) -> None:
        """A processing instruction: a style sheet outside the file could hide or move what is drawn."""
        if target == "xml-stylesheet":
            raise SvgFault(
                "style-sheet",
                "The file takes its style from another file, which is not read.",
                PLAIN_SVG,
                excerpt(text or ""),
                "style within the file",
            )

    def close(self) -> None:
        return None

    def _limit(self, code: str, what: str, found: int, allowed: int) -> None:
        if found > allowed:
            raise SvgFault(
                code,
                f"The file has more than {allowed:,} {what} (line {self.expat.CurrentLineNumber}).",
                self.limits.rest,
                f"{found} or more",
                str(allowed),
            )
