"""What a PDF says of itself: layers, page labels, outline, title, language, and how it asks to be printed."""

from collections.abc import Sequence
from html import escape
from itertools import groupby
from typing import NamedTuple

import msgspec
import pikepdf
from pikepdf import Array, Dictionary, Name, OutlineItem, String

from pipeline.sheets.layout import PagePlan
from pipeline.sheets.windows import row_letters

PRODUCER = "pattern-release"


class Imprint(msgspec.Struct, frozen=True, kw_only=True):
    """A file's title, author and language, and the words that readers show beside it (in that language).

    `layer_word` comes before a size in a layer's name, `row_word` before a row's letter in the outline; `start_word`
    is the outline's name of the first page, where that has no window.
    """

    title: str
    author: str
    language: str
    layer_word: str
    row_word: str
    start_word: str


class Chapter(NamedTuple):
    """An entry of an outline: its name, the index of its page, and what it holds."""

    name: str
    page: int
    entries: tuple["Chapter", ...] = ()


def layer_properties(
    document: pikepdf.Pdf, imprint: Imprint, sizes: Sequence[str]
) -> dict[tuple[str, ...], pikepdf.Object]:
    """Add a layer a size to the catalog and return their objects by size alone (ISO 32000-1, 8.11).

    No /Usage and no /AS: with them some readers show, and some print, layers that were switched off. No radio groups:
    two neighbouring sizes are wanted together.
    """
    layers: dict[tuple[str, ...], pikepdf.Object] = {
        (size,): document.make_indirect(Dictionary(Type=Name.OCG, Name=String(f"{imprint.layer_word} {size}")))
        for size in sizes
    }
    document.Root.OCProperties = Dictionary(
        OCGs=Array(layers.values()),
        D=Dictionary(
            Name=String(imprint.title), BaseState=Name.ON, Order=Array(layers.values()), ListMode=Name.AllPages
        ),
    )
    return layers


_ALL = "*"
"""Ends the key of what shows with all its sizes; no size is called so."""


def membership(
    document: pikepdf.Pdf,
    layers: dict[tuple[str, ...], pikepdf.Object],
    sizes: tuple[str, ...],
    together: bool = False,
) -> pikepdf.Object:
    """What shows as long as any of these sizes' layers does, or (`together`) all of them do.

    Made once and kept in `layers` (ISO 32000-1, 8.11.2.2).
    """
    key = (*sizes, _ALL) if together else sizes
    if key not in layers:
        groups = Array(layers[size,] for size in sizes)
        shown = Name.AllOn if together else Name.AnyOn
        layers[key] = document.make_indirect(Dictionary(Type=Name.OCMD, OCGs=groups, P=shown))
    return layers[key]


def describe(document: pikepdf.Pdf, imprint: Imprint, plan: PagePlan, chapters: Sequence[Chapter] = ()) -> None:
    """Write everything about the document but its pages and layers: the outline has the `chapters`, or else rows."""
    root = document.Root
    labels = [entry for n, page in enumerate(plan.pages) for entry in (n, Dictionary(P=String(page.label)))]
    root.PageLabels = Dictionary(Nums=Array(labels))
    if chapters:
        with document.open_outline() as outline:
            outline.root += _items(chapters)
    else:
        _outline(document, plan, imprint)
    root.PageMode = Name.UseOC if Name.OCProperties in root else Name.UseOutlines
    root.ViewerPreferences = Dictionary(
        PrintScaling=Name("/None"),
        Enforce=Array([Name.PrintScaling]),
        PickTrayByPDFSize=True,
        DisplayDocTitle=True,
    )
    root.Lang = String(imprint.language)
    root.Metadata = document.make_stream(_metadata(imprint), Type=Name.Metadata, Subtype=Name.XML)
    for key, text in (("/Title", imprint.title), ("/Author", imprint.author), ("/Producer", PRODUCER)):
        document.docinfo[key] = String(text)


def _items(chapters: Sequence[Chapter]) -> list[OutlineItem]:
    items = []
    for chapter in chapters:
        item = OutlineItem(chapter.name, chapter.page)
        item.children += _items(chapter.entries)
        item.is_closed = bool(chapter.entries)
        items.append(item)
    return items


def _outline(document: pikepdf.Pdf, plan: PagePlan, imprint: Imprint) -> None:
    indexed = list(enumerate(plan.pages))
    with document.open_outline() as outline:
        for row, pages in groupby(indexed, key=lambda entry: entry[1].row):
            entries = list(pages)
            if row == 0:
                outline.root += [OutlineItem(imprint.start_word, index) for index, _ in entries]
                continue
            items = [OutlineItem(page.label, index) for index, page in entries]
            if len(items) > 1 and not entries[0][1].label.isdigit():
                whole = OutlineItem(f"{imprint.row_word} {row_letters(row)}", entries[0][0])
                whole.children += items
                whole.is_closed = True
                items = [whole]
            outline.root += items


def _metadata(imprint: Imprint) -> bytes:
    """XMP without dates: the same file must have the same bytes."""
    title, author, language = (escape(text, quote=False) for text in (imprint.title, imprint.author, imprint.language))
    return (
        '<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>\n'
        '<x:xmpmeta xmlns:x="adobe:ns:meta/"><rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">'
        '<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"'
        ' xmlns:pdf="http://ns.adobe.com/pdf/1.3/">'
        "<dc:format>application/pdf</dc:format>"
        f'<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>'
        f"<dc:creator><rdf:Seq><rdf:li>{author}</rdf:li></rdf:Seq></dc:creator>"
        f"<dc:language><rdf:Bag><rdf:li>{language}</rdf:li></rdf:Bag></dc:language>"
        f"<pdf:Producer>{PRODUCER}</pdf:Producer>"
        '</rdf:Description></rdf:RDF></x:xmpmeta>\n<?xpacket end="r"?>'
    ).encode()
