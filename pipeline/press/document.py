"""What a PDF says of itself: layers, page labels, outline, title, language, and how it asks to be printed."""

from collections.abc import Sequence
from itertools import groupby
from xml.sax.saxutils import escape

import msgspec
from pypdf import PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    StreamObject,
    TextStringObject,
)

from pipeline.sheets.layout import PagePlan

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


def layer_properties(
    writer: PdfWriter, imprint: Imprint, sizes: Sequence[str]
) -> dict[tuple[str, ...], IndirectObject]:
    """Add a layer a size to the catalog and return their objects by size alone (ISO 32000-1, 8.11).

    No /Usage and no /AS: with them some readers show, and some print, layers that were switched off. No radio groups:
    two neighbouring sizes are wanted together.
    """
    layers: dict[tuple[str, ...], IndirectObject] = {
        (size,): writer._add_object(
            DictionaryObject(
                {
                    NameObject("/Type"): NameObject("/OCG"),
                    NameObject("/Name"): text_string(f"{imprint.layer_word} {size}"),
                }
            )
        )
        for size in sizes
    }
    writer.root_object[NameObject("/OCProperties")] = DictionaryObject(
        {
            NameObject("/OCGs"): ArrayObject(layers.values()),
            NameObject("/D"): DictionaryObject(
                {
                    NameObject("/Name"): text_string(imprint.title),
                    NameObject("/BaseState"): NameObject("/ON"),
                    NameObject("/Order"): ArrayObject(layers.values()),
                    NameObject("/ListMode"): NameObject("/AllPages"),
                }
            ),
        }
    )
    return layers


def membership(
    writer: PdfWriter, layers: dict[tuple[str, ...], IndirectObject], sizes: tuple[str, ...]
) -> IndirectObject:
    """What shows as long as any of these sizes' layers does; made once and kept in `layers` (ISO 32000-1, 8.11.2.2)."""
    if sizes not in layers:
        layers[sizes] = writer._add_object(
            DictionaryObject(
                {
                    NameObject("/Type"): NameObject("/OCMD"),
                    NameObject("/OCGs"): ArrayObject(layers[size,] for size in sizes),
                    NameObject("/P"): NameObject("/AnyOn"),
                }
            )
        )
    return layers[sizes]


def describe(writer: PdfWriter, imprint: Imprint, plan: PagePlan) -> None:
    """Write everything about the document but its pages and layers."""
    writer.pdf_header = "%PDF-1.7"
    root = writer.root_object
    _label_pages(root, plan)
    _outline(writer, plan, imprint)
    root[NameObject("/PageMode")] = NameObject("/UseOC" if "/OCProperties" in root else "/UseOutlines")
    root[NameObject("/ViewerPreferences")] = DictionaryObject(
        {
            NameObject("/PrintScaling"): NameObject("/None"),
            NameObject("/Enforce"): ArrayObject([NameObject("/PrintScaling")]),
            NameObject("/PickTrayByPDFSize"): BooleanObject(True),
            NameObject("/DisplayDocTitle"): BooleanObject(True),
        }
    )
    root[NameObject("/Lang")] = text_string(imprint.language)
    root[NameObject("/Metadata")] = writer._add_object(_metadata(imprint))
    writer.metadata = {"/Title": imprint.title, "/Author": imprint.author, "/Producer": PRODUCER}


def text_string(text: str) -> TextStringObject:
    """A PDF text string."""
    return TextStringObject(text)


def _label_pages(root: DictionaryObject, plan: PagePlan) -> None:
    numbers = ArrayObject()
    for index, page in enumerate(plan.pages):
        numbers.append(NumberObject(index))
        numbers.append(DictionaryObject({NameObject("/P"): text_string(page.label)}))
    root[NameObject("/PageLabels")] = DictionaryObject({NameObject("/Nums"): numbers})


def _outline(writer: PdfWriter, plan: PagePlan, imprint: Imprint) -> None:
    indexed = list(enumerate(plan.pages))
    for row, pages in groupby(indexed, key=lambda entry: entry[1].row):
        entries = list(pages)
        if row == 0:
            for index, _ in entries:
                writer.add_outline_item(title=imprint.start_word, page_number=index)
            continue
        letter = entries[0][1].label.rstrip("0123456789")
        parent = None
        if len(entries) > 1:
            parent = writer.add_outline_item(
                title=f"{imprint.row_word} {letter}", page_number=entries[0][0], is_open=False
            )
        for index, page in entries:
            writer.add_outline_item(title=page.label, page_number=index, parent=parent)


def _metadata(imprint: Imprint) -> StreamObject:
    """XMP without dates: the same file must have the same bytes."""
    title, author, language = (escape(text) for text in (imprint.title, imprint.author, imprint.language))
    packet = (
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
    )
    stream = StreamObject()
    stream.set_data(packet.encode())
    stream[NameObject("/Type")] = NameObject("/Metadata")
    stream[NameObject("/Subtype")] = NameObject("/XML")
    return stream
