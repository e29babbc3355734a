"""The demo jacket, built in four of its eleven sizes by the real command, and what tests look at its files with."""

import json
import math
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Collection, Iterator
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pypdfium2.raw as raw
from pypdf import PageObject
from pypdf.generic import ContentStream

from pipeline.drawing.drawing import Drawing, shown_signs
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.pages.overlays import Told, page_overlays
from pipeline.masters.toml.load import load_pattern
from pipeline.model.lengths import MM_PER_POINT
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import Layout, PagePlan
from pipeline.work.files import read_json
from tests.press import proof, synthetic
from tests.press.proof import Grey, tool

ROOT = Path(__file__).resolve().parents[2]
SIZES = ("42", "44", "46", "48")
"""Both size sets, both numbers of buttons, and the end of the first grading band."""
TILED = ("a4", "letter")
LARGE = ("a0", "roll-36in")
ALONE = tuple(f"by-size/{size}-{paper}" for size in SIZES for paper in (*TILED, *LARGE))
PRINTED = (*TILED, *LARGE, *ALONE)
"""All print files, as they are called below print/."""


class Jacket:
    """The built bundle and its work folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.source, self.work = folder / "source/work-jacket", folder / "work/work-jacket"
        self.bundle = folder / "release/work-jacket/1.1.0"

    @property
    def pattern(self) -> Pattern:
        pattern, _ = load_pattern(self.source)
        assert pattern is not None
        return pattern

    def plans(self) -> dict[str, PagePlan]:
        """The pages of every file under print/, by the file's name without .pdf."""
        found = read_json(self.work / "pages.json", list[PagePlan])
        for size in SIZES:
            found += read_json(self.work / f"by-size/{size}.json", list[PagePlan])
        return {plan.format: plan for plan in found}

    def print_file(self, name: str) -> Path:
        return self.bundle / f"print/{name}.pdf"

    def composed(self, format_name: str, without: Collection[str], target: Path) -> Path:
        """The print file put together again of the same drawings and layout, the content of some layers left out."""
        use_own_fonts(self.folder / "fonts")
        from pipeline.press.compose import PrintFile, compose
        from pipeline.press.imprint import imprint_of

        pattern, plan = self.pattern, self.plans()[format_name]
        told = read_json(self.work / "map.json", Told)
        pieces = told.pieces[format_name]
        drawings = read_json(self.work / "drawings.json", list[Drawing])
        print_file = PrintFile(
            imprint=imprint_of(pattern, format_name),
            plan=plan,
            layout=read_json(self.work / "layouts.json", dict[str, Layout])[format_name],
            sizes=pattern.sizes,
            overlays=page_overlays(
                pattern, plan, pattern.sizes, pieces, shown_signs(drawings), f"{format_name}.pdf", told.strips
            ),
        )
        target.write_bytes(compose(print_file, drawings, (self.work / "drawings.pdf").read_bytes(), without))
        return target

    @cached_property
    def sheet(self) -> tuple[Path, PagePlan]:
        """The layout of the tiles on one page of its own size, with nothing around it."""
        use_own_fonts(self.folder / "fonts")
        from pipeline.press.compose import PrintFile, compose
        from pipeline.press.imprint import imprint_of

        layout, file = read_json(self.work / "layout.json", Layout), self.folder / "sheet.pdf"
        # whole millimetres, as tiles begin at: letters then fall on the same parts of a pixel
        width, height = float(math.ceil(layout.width_mm)), float(math.ceil(layout.height_mm))
        plan = synthetic.large_sheet(Layout(width, height, ()))
        print_file = PrintFile(
            imprint=imprint_of(self.pattern, "roll-36in"),
            plan=plan,
            layout=layout,
            sizes=self.pattern.sizes,
            overlays=synthetic.bare(plan),
        )
        drawings = read_json(self.work / "drawings.json", list[Drawing])
        file.write_bytes(compose(print_file, drawings, (self.work / "drawings.pdf").read_bytes()))
        return file, plan


def build(folder: Path) -> Jacket:
    """The jacket in four sizes, one width a cloth, a second a lay: what is left is built as it stands under source/.

    Without its ledger: seven sizes less than were sold would be another garment.
    """
    jacket = Jacket(folder)
    aside = shutil.ignore_patterns("*.py", "__pycache__", "ledger.json")
    shutil.copytree(ROOT / "source/work-jacket", jacket.source, ignore=aside)
    description = jacket.source / "pattern.toml"
    text = description.read_text(encoding="utf-8")
    for size in load_pattern(jacket.source)[0].sizes:
        if size not in SIZES:
            text = re.sub(rf'"{size}"( = ("[^"]*"|\d+))?(, |(?= *[\]}}]))', "", text)
            shutil.rmtree(jacket.source / "sizes" / size)
    text = re.sub(r", *([\]}])", r"\1", text)
    text = re.sub(r"^base = .*$", f'base = "{SIZES[1]}"', text, flags=re.MULTILINE)
    text = re.sub(r'^widths = \[("[^"]+").*$', r"widths = [\1]", text, flags=re.MULTILINE)
    description.write_text(f"{text}\n[lays]\nseconds = 1\n", encoding="utf-8")
    where = f"source={folder / 'source'}", f"release={folder / 'release'}", f"work={folder / 'work'}"
    command = [sys.executable, "-m", "snakemake", "-s", str(ROOT / "Snakefile"), "--cores", "2", "--config", *where]
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    done = subprocess.run(command, cwd=folder, env=environment, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
    return jacket


Part = Callable[[Path, int, float, tuple[float, float, float, float]], Grey]
"""(file, page from 0, dpi, (left, top, width, height) in mm from the page's corner): that part of the page in grey."""


def pdfium_part(file: Path, page: int, dpi: float, box_mm: tuple[float, float, float, float]) -> Grey:
    scale, left, top, width, height = _pixels(dpi, box_mm)
    document = pypdfium2.PdfDocument(file)
    try:
        bitmap = pypdfium2.PdfBitmap.new_native(width, height, raw.FPDFBitmap_Gray)
        bitmap.fill_rect((255, 255, 255, 255), 0, 0, width, height)
        matrix = raw.FS_MATRIX(scale, 0, 0, scale, -left, -top)
        whole = raw.FS_RECTF(0, 0, width, height)
        raw.FPDF_RenderPageBitmapWithMatrix(bitmap, document[page], matrix, whole, raw.FPDF_ANNOT)
        return np.array(bitmap.to_numpy()).reshape(height, width)
    finally:
        document.close()


def poppler_part(file: Path, page: int, dpi: float, box_mm: tuple[float, float, float, float]) -> Grey:
    _, left, top, width, height = _pixels(dpi, box_mm)
    number = str(page + 1)
    part = [f"-{name}={value}" for name, value in zip("xyWH", (left, top, width, height), strict=True)]
    part = [word for option in part for word in option.split("=")]
    command = [tool("pdftoppm"), "-r", f"{dpi}", "-gray", "-f", number, "-l", number, *part, str(file)]
    data = subprocess.run(command, check=True, capture_output=True).stdout
    return np.frombuffer(data[-width * height :], np.uint8).reshape(height, width)


PARTS: dict[str, Part] = {"pdfium": pdfium_part, "poppler": poppler_part}


def _pixels(dpi: float, box_mm: tuple[float, float, float, float]) -> tuple[float, int, int, int, int]:
    left, top, width, height = (round(value * dpi / 25.4) for value in box_mm)
    return dpi / 72, left, top, width, height


def stroke_widths_mm(stream: Any, reader: Any, scale: float = 1.0) -> Iterator[float]:
    """The width of every stroked line of a content stream and the forms that it shows, in mm on paper."""
    width, kept = 1.0, []
    for operands, operator in ContentStream(stream, reader).operations:
        match operator:
            case b"q":
                kept.append((scale, width))
            case b"Q":
                scale, width = kept.pop()
            case b"cm":
                a, b, c, d = (float(value) for value in operands[:4])
                scale *= math.sqrt(abs(a * d - b * c))
            case b"w":
                width = float(operands[0])
            case b"S" | b"s" | b"B" | b"b" | b"B*" | b"b*":
                yield width * scale * MM_PER_POINT


def layers_on(page: PageObject) -> set[str]:
    """The layers that show something on a page: by themselves, or as one of those that a drawing belongs to."""
    marked = [one.get_object() for one in page["/Resources"].get("/Properties", {}).values()]
    layers = [layer for one in marked for layer in (one["/OCGs"] if one["/Type"] == "/OCMD" else [one])]
    return {layer.get_object()["/Name"] for layer in layers}


def pdfs(jacket: Jacket, folder: str = ".") -> list[Path]:
    return sorted((jacket.bundle / folder).rglob("*.pdf"))


def stitched(jacket: Jacket, file: Path, plan: PagePlan, renderer: str, dpi: float) -> Grey:
    layout = json.loads((jacket.work / "layout.json").read_text())
    return proof.stitched(file, plan, layout["width_mm"], layout["height_mm"], proof.RENDERERS[renderer], dpi)


def whole_pixels(plan: PagePlan, dpi: float) -> bool:
    windows = [page.window for page in plan.pages if page.window is not None]
    sides = [value * dpi / 25.4 for window in windows for value in (window.left_mm, window.top_mm)]
    return all(abs(side - round(side)) < 1e-6 for side in sides)


def differing(a: Grey, b: Grey) -> int:
    """Strip by strip: the sheet has some 60 million pixels."""
    assert a.shape == b.shape
    return sum(proof.differing(a[row : row + 500], b[row : row + 500]) for row in range(0, len(a), 500))
