"""What each page of a print file shows, as a digest: lines, texts and layers, but not the version's number."""

import hashlib
import re
from pathlib import Path
from typing import Any

import msgspec

from pipeline.bundle.built_pdf import BuiltForm, BuiltPage, BuiltPdf
from pipeline.bundle.pdf_content import text_blocks, text_runs, without_texts

_CODES = re.compile(rb"<[0-9A-Fa-f]++>")
"""Letters of a text that has no Latin ones."""
_DIGITS = 16


def page_digests(file: Path, version: str) -> tuple[tuple[str, str], ...]:
    """Label and digest of every page. A page on which only the version's number is another has the same digest.

    Raises pikepdf.PdfError where the file is damaged.
    """
    forms: dict[int, Any] = {}
    pdf = BuiltPdf(file.parent, file.name)  # its pages live no longer than it does
    return tuple((page.label, _digest(_page(page, version, forms))) for page in pdf.pages)


def _page(page: BuiltPage, version: str, forms: dict[int, Any]) -> Any:
    shown = []
    for each in page.shown:
        if id(each.form) not in forms:
            forms[id(each.form)] = each.form, _digest(_form(each.form, version))
        shown.append([each.layers, each.left_pt, each.bottom_pt, forms[id(each.form)][1]])
    return [page.width_pt, page.height_pt, page.turned_deg, page.clip, shown]


def _form(form: BuiltForm, version: str) -> Any:
    """Lines as operators; texts as they read, since the codes and names of fonts are of the whole file."""
    runs = []
    for run in text_runs(form.content, {}):
        told = version in run.text  # what stands in its place may be wider
        runs.append((run.text.replace(version, ""), None if told else [round(side, 2) for side in run.box]))
    codes = [code.decode() for block in text_blocks(form.content) for code in _CODES.findall(block)]
    lines = hashlib.sha256(without_texts(form.content)).hexdigest()
    return [form.matrix, form.height_pt, lines, runs, codes]


def _digest(value: Any) -> str:
    return hashlib.sha256(msgspec.json.encode(value)).hexdigest()[:_DIGITS]
