"""The changed pages of a print file by themselves: the same page objects, so that the pattern on them is the same."""

import io
from collections.abc import Collection, Sequence

import pikepdf
from pikepdf import Array, Dictionary, Name, OutlineItem, String

from pipeline.drawing.scene import Scene
from pipeline.press.forms import load_forms, render_pages


def reprinted(file: bytes, labels: Collection[str], title: str, around: Sequence[Scene]) -> bytes:
    """A print file without the pages that are not wanted; layers stay, labels and outline name what is left.

    `around` is what stands around the pattern on each page that is left, in the file's order: it names the whole file
    there. Raises ValueError where none of the pages is there, or `around` are not as many.
    """
    document = pikepdf.open(io.BytesIO(file))
    names = [str(document.Root.PageLabels.Nums[2 * index + 1].P) for index in range(len(document.pages))]
    wanted = [index for index, name in enumerate(names) if name in labels]
    if not wanted:
        raise ValueError(f"none of the pages {', '.join(labels)} is there")
    for index in reversed(range(len(names))):
        if index not in wanted:
            del document.pages[index]
    kept = [names[index] for index in wanted]
    for page, form in zip(document.pages, load_forms(render_pages(around)), strict=True):
        page.Resources.XObject.Overlay = document.copy_foreign(form.stream)
    numbers = [entry for n, name in enumerate(kept) for entry in (n, Dictionary(P=String(name)))]
    document.Root.PageLabels = Dictionary(Nums=Array(numbers))
    if Name.Outlines in document.Root:
        del document.Root.Outlines
    with document.open_outline() as outline:
        outline.root += [OutlineItem(name, index) for index, name in enumerate(kept)]
    if Name.Metadata in document.Root:  # it would name the whole file
        del document.Root.Metadata
    document.docinfo["/Title"] = String(title)
    target = io.BytesIO()
    document.save(
        target, force_version="1.7", object_stream_mode=pikepdf.ObjectStreamMode.disable, deterministic_id=True
    )
    return target.getvalue()
