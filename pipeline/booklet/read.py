"""CommonMark, tables, `{{ … }}` and `:::` → values; what is not understood is told with its line, never dropped."""

import re
from collections.abc import Sequence
from typing import get_args

from markdown_it import MarkdownIt
from markdown_it.rules_inline import StateInline
from markdown_it.tree import SyntaxTreeNode
from mdit_py_plugins.container import container_plugin

from pipeline.booklet.references import parse_reference
from pipeline.booklet.text import (
    Align,
    Block,
    Booklet,
    Box,
    BoxKind,
    Break,
    Bullets,
    Cell,
    Fault,
    FigureOf,
    Heading,
    Inline,
    Inserted,
    Item,
    Link,
    Paragraph,
    Picture,
    Steps,
    Strong,
    Table,
    TableOf,
    Value,
    Words,
)
from pipeline.masters.toml.faults import did_you_mean, shown
from pipeline.masters.toml.sums import GrammarError

BOXES: tuple[str, ...] = get_args(BoxKind)
MOST_FAULTS = 40
_OPEN, _CLOSE, _FENCE = "{{", "}}", ":::"
_ALIGNS: dict[str, Align] = {"text-align:right": "right", "text-align:center": "centre"}
_FIGURE_FILE = re.compile(r"figures/[A-Za-z0-9_-]{1,40}\.svg")
_ADDRESS = re.compile(r"(https?://|mailto:)[^\s]+")


def read_booklet(language: str, file: str, data: bytes) -> tuple[Booklet, tuple[Fault, ...]]:
    """The text of a language, and all that cannot be read in it. Never raises for what is in it."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        fault = Fault(
            code="not-utf-8",
            line=line,
            found=f"the byte 0x{data[error.start]:02x}",
            allowed="text in UTF-8",
            message="is not written in UTF-8.",
            remedy="Save it as UTF-8 in your editor.",
        )
        return Booklet(language, file, ()), (fault,)
    reader = _Reader(text)
    return Booklet(language, file, reader.blocks()), tuple(reader.faults)


def _markdown() -> MarkdownIt:
    """The parser. HTML is kept, as something to tell of."""
    made = MarkdownIt("commonmark", {"html": True}).enable("table")
    container_plugin(made, "box", validate=lambda *_: True)
    made.inline.ruler.before("escape", "reference", _reference)
    return made


def _reference(state: StateInline, silent: bool) -> bool:
    if not state.src.startswith(_OPEN, state.pos):
        return False
    end = state.src.find(_CLOSE, state.pos)
    if end < 0 or "\n" in state.src[state.pos : end]:
        return False
    if not silent:
        token = state.push("reference", "", 0)
        token.content = state.src[state.pos + len(_OPEN) : end].strip()
    state.pos = end + len(_CLOSE)
    return True


class _Reader:
    """One text being read."""

    def __init__(self, text: str) -> None:
        self.lines = text.split("\n")
        self.faults: list[Fault] = []
        self.tokens = _markdown().parse(text)

    def blocks(self) -> tuple[Block, ...]:
        return self._blocks(SyntaxTreeNode(self.tokens).children, 1)

    def tell(self, code: str, line: int, found: str, allowed: str, message: str, remedy: str) -> None:
        if len(self.faults) < MOST_FAULTS:
            self.faults.append(
                Fault(code=code, line=line, found=shown(found), allowed=allowed, message=message, remedy=remedy)
            )

    def _blocks(self, nodes: Sequence[SyntaxTreeNode], line: int) -> tuple[Block, ...]:
        return tuple(block for node in nodes for block in self._block(node, node.map[0] + 1 if node.map else line))

    def _block(self, node: SyntaxTreeNode, line: int) -> list[Block]:
        match node.type:
            case "heading":
                return self._heading(node, line)
            case "paragraph":
                return self._paragraph(node, line)
            case "ordered_list":
                return [Steps(self._items(node, line), line)]
            case "bullet_list":
                return [Bullets(self._items(node, line), line)]
            case "table":
                return self._table(node, line)
            case "container_box":
                return self._box(node, line)
            case "hr":
                return []
            case "html_block":
                self._html(node.content.strip(), line)
                return []
        remedy = "Write it as a paragraph, a list, a table, or a note between `::: note` and `:::`."
        message = "is neither a paragraph, a heading, a list, a table nor a figure."
        self.tell("unknown-block", line, node.type, "paragraphs, headings, lists, tables, figures", message, remedy)
        return []

    def _heading(self, node: SyntaxTreeNode, line: int) -> list[Block]:
        inside = self._inline(node, line)
        if not any(not isinstance(inline, Words) or inline.text.strip() for inline in inside):
            message, remedy = "is a heading without a word.", "Write what it heads, or take it out."
            self.tell("empty-heading", line, "no text", "a heading's text", message, remedy)
            return []
        return [Heading(int(node.tag[1]), inside, line)]

    def _items(self, node: SyntaxTreeNode, line: int) -> tuple[Item, ...]:
        items = []
        for item in node.children:
            at = item.map[0] + 1 if item.map else line
            items.append(Item(self._blocks(item.children, at), at))
        return tuple(items)

    def _paragraph(self, node: SyntaxTreeNode, line: int) -> list[Block]:
        inside = node.children[0].children if node.children else []
        told = [child for child in inside if child.type != "softbreak" and child.content.strip(" ") + child.tag]
        if told and all(self._is_figure(child) for child in told):
            return self._figures(inside, line)
        text = inside[0].content if inside and inside[0].type == "text" else ""
        if text.startswith(_FENCE):
            message = "begins with ::: and opens no box: a line before it runs into it, or one too many closes it."
            self.tell("stray-fence", line, text, "::: between empty lines", message, "Leave an empty line before it.")
            return []
        return [Paragraph(self._inline(node, line), line)]

    @staticmethod
    def _is_figure(node: SyntaxTreeNode) -> bool:
        return node.type == "image" or (
            node.type == "reference" and node.content.split()[:1] in (["table"], ["figure"])
        )

    def _figures(self, nodes: Sequence[SyntaxTreeNode], line: int) -> list[Block]:
        found: list[Block] = []
        for node in nodes:
            if node.type == "softbreak":
                line += 1
            elif node.type == "image":
                found += self._picture(node, line)
            elif node.type == "reference":
                value = self._value(node.content, line)
                if value is not None and isinstance(value.reference, TableOf | FigureOf):
                    found.append(Inserted(value.reference, value.written, line))
        return found

    def _picture(self, node: SyntaxTreeNode, line: int) -> list[Block]:
        source = str(node.attrs.get("src", ""))
        if _FIGURE_FILE.fullmatch(source) is None:
            message = f"shows {shown(source)}, which is no figure of this booklet."
            remedy = "Put an SVG into booklet/figures/ and name it as figures/NAME.svg (letters, digits, - and _)."
            self.tell("bad-figure", line, source, "figures/NAME.svg", message, remedy)
            return []
        alt = "".join(child.content for child in node.children or [])
        return [Picture(source, " ".join(alt.split()), line)]

    def _box(self, node: SyntaxTreeNode, line: int) -> list[Block]:
        kind, *rest = node.info.split()[:3] or [""]
        end = node.map[1] if node.map else 0
        closed = any(row.strip().startswith(_FENCE) for row in self.lines[max(line, end - 1) : end + 1])
        if not closed:
            self.tell("open-box", line, node.info.strip(), "::: at its end", "is never closed.", "Close it with `:::`.")
        if kind not in BOXES or (kind == "view") != (len(rest) == 1) or (kind != "view" and rest):
            allowed = "::: note, ::: caution or ::: view NAME"
            message = f"opens a box with {shown(node.info.strip())}; expected {allowed}."
            self.tell("unknown-box", line, node.info.strip(), allowed, message, did_you_mean(kind, BOXES))
        blocks = self._blocks(node.children, line)
        known: BoxKind = kind if kind in BOXES else "note"  # type: ignore[assignment]
        return [Box(known, rest[0] if known == "view" and rest else None, blocks, line)]

    def _table(self, node: SyntaxTreeNode, line: int) -> list[Block]:
        rows = []
        for part in node.children:
            for row in part.children:
                at = row.map[0] + 1 if row.map else line
                rows.append(
                    tuple(
                        Cell(self._inline(cell, at), _ALIGNS.get(str(cell.attrs.get("style")), "left"))
                        for cell in row.children
                    )
                )
        return [Table(rows[0], tuple(rows[1:]), line)]

    def _inline(self, node: SyntaxTreeNode, line: int) -> tuple[Inline, ...]:
        """What a block's text holds; `node` has one child that holds it, or none."""
        return self._run(node.children[0].children if node.children else [], line)[0]

    def _run(self, nodes: Sequence[SyntaxTreeNode], line: int) -> tuple[tuple[Inline, ...], int]:
        """The texts, and the line on which they end."""
        found: list[Inline] = []
        for node in nodes:
            match node.type:
                case "text" | "text_special" | "code_inline":
                    if _OPEN in node.content:
                        allowed = '"}}" in the same line'
                        message, remedy = "opens a reference that is never closed.", "Close it with `}}`."
                        self.tell("open-reference", line, node.content, allowed, message, remedy)
                    found.append(Words(node.content))
                case "softbreak":
                    line += 1
                    found.append(Words(" "))
                case "hardbreak":
                    line += 1
                    found.append(Break())
                case "strong" | "em":
                    inside, line = self._run(node.children, line)
                    found.append(Strong(inside))
                case "link":
                    inside, line = self._run(node.children, line)
                    found += self._link(str(node.attrs.get("href", "")), inside, line)
                case "reference":
                    value = self._value(node.content, line)
                    if value is not None and isinstance(value.reference, TableOf | FigureOf):
                        self._within(node.content, line)
                    elif value is not None:
                        found.append(value)
                case "image":
                    self._within(str(node.attrs.get("src", "")), line)
                case "html_inline":
                    self._html(node.content, line)
        return tuple(found), line

    def _link(self, address: str, inside: tuple[Inline, ...], line: int) -> Sequence[Inline]:
        if _ADDRESS.fullmatch(address):
            return [Link(address, inside)]
        allowed = "https://… or mailto:…"
        message, remedy = f"leads to {shown(address)}.", "Write the whole address, or leave the link out."
        self.tell("bad-link", line, address, allowed, message, remedy)
        return inside

    def _value(self, written: str, line: int) -> Value | None:
        try:
            if not written:
                raise GrammarError("", 'something between "{{" and "}}"', "bad-reference")
            return Value(parse_reference(written), written, line)
        except GrammarError as fault:
            message = f"{{{{ {written[:60]} }}}} has {shown(fault.found)}; expected {fault.expected}."
            self.tell("bad-reference", line, written, fault.expected, message, f"Write {fault.expected}.")
            return None

    def _within(self, written: str, line: int) -> None:
        message = f"has {shown(written)} within a text: figures and tables stand for themselves."
        remedy = "Leave an empty line before and after it."
        self.tell("figure-in-text", line, written, "a paragraph of its own", message, remedy)

    def _html(self, content: str, line: int) -> None:
        message, remedy = f"has HTML, {shown(content)}, which is not read.", "Write it as CommonMark, or take it out."
        self.tell("raw-html", line, content, "CommonMark without HTML", message, remedy)
