"""A whole booklet as values: cover, what needs no writing, the designer's text, and about the pattern."""

from collections.abc import Mapping, Sequence

import msgspec

from pipeline.booklet.folder import COVER, Folder, page_mm
from pipeline.booklet.glossary import glossary
from pipeline.booklet.lays import Lays
from pipeline.booklet.model import Model
from pipeline.booklet.nodes import (
    Alone,
    Cover,
    Document,
    Edition,
    Figure,
    Head,
    Node,
    Page,
    Pictures,
    margins_of,
    plain,
)
from pipeline.booklet.parts import Parts
from pipeline.booklet.pictures import PiecePictures
from pipeline.booklet.references import LAYS
from pipeline.booklet.sewing import Sewing
from pipeline.booklet.tables import Tables
from pipeline.booklet.text import Booklet, Heading, TableOf
from pipeline.booklet.walk import references_within
from pipeline.drawing.wording import size_range
from pipeline.lays.saved import Chosen
from pipeline.masters.copied import LOGO
from pipeline.model.pattern import in_language
from pipeline.tables.write import TablesFile
from pipeline.words import say

_COLUMNS: dict[Edition, int] = {"a4": 10, "letter": 10, "large-print": 3}
"""What a page holds beside a column of sizes."""
_PAPERS: dict[str, str] = {"a4": "a4", "letter": "us-letter"}


class Material(msgspec.Struct, frozen=True):
    """What all booklets of a pattern are made of: `signs` are those that its pieces show, `changes` what is
    told of versions, by language, `lays` are those that are shown."""

    rows: TablesFile
    folder: Folder
    signs: frozenset[str]
    changes: Mapping[str, str]
    drawn: PiecePictures
    lays: tuple[Chosen, ...] = ()


def booklet_document(model: Model, made_of: Material, edition: Edition) -> tuple[Document, Pictures]:
    """The document of one language and edition, and its pictures."""
    pictures, folder = Pictures(edition == "large-print", model.once.setdefault("written", {})), made_of.folder
    tables = Tables(model, made_of.rows, _COLUMNS[edition])
    parts = Parts(model, tables, pictures, made_of.drawn)
    pattern, language = model.pattern, model.language
    title = in_language(pattern.title, language)
    kind = say(language, "booklet.kind")
    lays = Lays(model, made_of.lays, made_of.rows.cloth, pictures)
    nodes: list[Node] = [*parts.sizes(), *parts.needed(), *parts.printing(), *parts.cutting(made_of.signs, lays)]
    text = folder.texts.get(language)
    nodes += [] if text is not None and _places_lays(text) else lays.pages(2)
    if text is not None and text.blocks:
        if not isinstance(text.blocks[0], Heading):
            nodes.append(Head(1, plain(say(language, "booklet.sew-head")), part=True))
        nodes += _opened(Sewing(model, tables, pictures, folder.drawings, text, 1, lays).nodes())
        nodes += glossary(text, pattern.languages, pictures.large)
    nodes += parts.about(made_of.changes.get(language))
    document = Document(
        title=f"{title} {pattern.version} · {kind}",
        author=in_language(pattern.maker, language),
        page=_page(model, edition, f"{title} · {say(language, 'piece.version', version=pattern.version)}"),
        cover=_cover(parts, folder, title, kind),
        nodes=tuple(nodes),
    )
    return document, pictures


def listing_documents(model: Model, made_of: Material) -> dict[str, tuple[Document, Pictures]]:
    """The pictures for a listing, by name: cover, sizes, cloth and pieces, each as a document that shows it alone."""
    pictures = Pictures()
    parts = Parts(model, Tables(model, made_of.rows, _COLUMNS["a4"]), pictures, made_of.drawn)
    title, kind = in_language(model.pattern.title, model.language), say(model.language, "booklet.kind")
    page = _page(model, "a4", "")
    shown: dict[str, list[Node]] = {
        "sizes": parts.sizes(),
        "cloth": parts.needed(),
        "pieces": [parts.head("booklet.pieces-head", part=True), parts.all_pieces()],
    }

    def document(alone: Alone, nodes: Sequence[Node]) -> tuple[Document, Pictures]:
        alone_page = msgspec.structs.replace(page, alone=alone)
        cover = _cover(parts, made_of.folder, title, kind)
        return Document(
            title, in_language(model.pattern.maker, model.language), alone_page, cover, tuple(nodes)
        ), pictures

    return {"cover": document("cover", ())} | {name: document("nodes", nodes) for name, nodes in shown.items() if nodes}


def _places_lays(text: Booklet) -> bool:
    return any(value.reference == TableOf(LAYS) for value in references_within(text.blocks))


def _opened(nodes: list[Node]) -> list[Node]:
    """The text begins on a page of its own."""
    first = nodes[0] if nodes else None
    return [Head(first.level, first.runs, part=True), *nodes[1:]] if isinstance(first, Head) else nodes


def _page(model: Model, edition: Edition, running: str) -> Page:
    pattern, language = model.pattern, model.language
    large = edition == "large-print"
    code, _, region = language.partition("-")
    before, _, rest = say(language, "page.number", number="\0", count="\1").partition("\0")
    between, _, after = rest.partition("\1")
    return Page(
        paper=_PAPERS[pattern.booklet.paper if large else edition],
        large=large,
        margins=margins_of(large),
        accent=pattern.booklet.accent,
        language=code,
        region=region if len(region) == 2 and region.isalpha() else "",
        number=(before, between, after),
        running=running,
        contents=say(language, "booklet.contents"),
    )


def _lines(model: Model) -> tuple[str, ...]:
    pattern, language = model.pattern, model.language
    key = "size.name" if len(pattern.sizes) == 1 else "size.several"
    sizes = f"{say(language, key)} {size_range(pattern.sizes, pattern, language)}"
    return sizes, say(language, "piece.version", version=pattern.version)


def _cover(parts: Parts, folder: Folder, title: str, kind: str) -> Cover:
    """The designer's drawing, else all pieces; her logo where she has one, which says her name."""
    maker = in_language(parts.pattern.maker, parts.language)
    figure = _drawing(parts, folder, COVER, parts.say("booklet.cover-alt", title=title)) or parts.all_pieces()
    return Cover(title, kind, maker, _lines(parts.model), figure, _drawing(parts, folder, LOGO, maker))


def _drawing(parts: Parts, folder: Folder, name: str, alt: str) -> Figure | None:
    data = folder.drawings.get(name)
    return None if data is None else parts.pictures.add(data, *page_mm(data), alt)
