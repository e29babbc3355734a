"""Print files as pictures in two independent renderers, and what is measured on them.

Every picture is grey, 0 black to 255 white. A renderer or checker that is missing fails the test that needs it.
"""

import math
import shutil
import subprocess
from collections.abc import Callable, Collection, Mapping
from pathlib import Path

import numpy as np
import numpy.typing as npt
import pypdfium2
import pypdfium2.raw as raw
import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, NameObject

from pipeline.press.compose import window_corner
from pipeline.sheets.layout import PagePlan

Grey = npt.NDArray[np.uint8]
Renderer = Callable[[Path, int, float], Grey]
STITCH_DPI = 127.0
"""5 pixels to the millimetre, so that tiles are whole pixels."""


def tool(name: str) -> str:
    """The path of a program. Fails the test where it is not installed."""
    found = shutil.which(name)
    if found is None:
        pytest.fail(f"{name} is missing: install {'qpdf' if name == 'qpdf' else 'poppler-utils'}", pytrace=False)
    return found


def pdfium(file: Path, page: int, dpi: float) -> Grey:
    """A page, counted from 0, as pdfium draws it for the screen.

    By a matrix of its own: the plain call rounds a page up to whole pixels and stretches it by that.
    """
    scale = dpi / 72
    document = pypdfium2.PdfDocument(file)
    try:
        shown = document[page]
        width, height = (math.ceil(round(side * scale, 3)) for side in shown.get_size())
        bitmap = pypdfium2.PdfBitmap.new_native(width, height, raw.FPDFBitmap_Gray)
        bitmap.fill_rect((255, 255, 255, 255), 0, 0, width, height)
        matrix, whole = raw.FS_MATRIX(scale, 0, 0, scale, 0, 0), raw.FS_RECTF(0, 0, width, height)
        raw.FPDF_RenderPageBitmapWithMatrix(bitmap, shown, matrix, whole, raw.FPDF_ANNOT)
        return np.array(bitmap.to_numpy()).reshape(height, width)
    finally:
        document.close()


def poppler(file: Path, page: int, dpi: float) -> Grey:
    """A page, counted from 0, as poppler draws it."""
    number = str(page + 1)
    command = [tool("pdftoppm"), "-r", f"{dpi}", "-gray", "-f", number, "-l", number, str(file)]
    return _pgm(subprocess.run(command, check=True, capture_output=True).stdout)


def _pgm(data: bytes) -> Grey:
    magic, width, height, _ = data.split(maxsplit=4)[:4]
    assert magic == b"P5"
    return np.frombuffer(data[-int(width) * int(height) :], np.uint8).reshape(int(height), int(width))


RENDERERS: Mapping[str, Renderer] = {"pdfium": pdfium, "poppler": poppler}


def measured_mm(grey: Grey, dpi: float, across_mm: float, from_mm: float, to_mm: float, upright: bool) -> float:
    """Distance of the first and the last dark line that a scan meets, at the lines' centres of darkness.

    The scan runs between two places of one row (`upright` false) or column of the page, `across_mm` from its edge.
    """
    scale = dpi / 25.4
    if upright:
        grey = grey.T
    row = grey[round(across_mm * scale), :].astype(float)
    ink = 255 - row
    start, end = round(from_mm * scale), round(to_mm * scale)
    dark = np.flatnonzero(ink[start:end] > 40) + start
    assert dark.size, "the scan met no line"
    return (_centre(ink, int(dark[-1]), -1) - _centre(ink, int(dark[0]), 1)) / scale


def _centre(ink: npt.NDArray[np.float64], first: int, step: int) -> float:
    """Centre of darkness of the line that begins at a pixel, walking inward."""
    last = first
    while ink[last + step] > 2:
        last += step
    while ink[first - step] > 2:
        first -= step
    low, high = min(first, last), max(first, last)
    pixels = np.arange(low, high + 1)
    return float((pixels * ink[low : high + 1]).sum() / ink[low : high + 1].sum())


def stitched(
    file: Path,
    plan: PagePlan,
    width_mm: float,
    height_mm: float,
    render: Renderer,
    dpi: float,
    first_on_top: bool = False,
) -> Grey:
    """The sheet from a file's pages, each cut out at its window and laid down where the window lies.

    Where windows overlap, the later page lies on top, or the earlier one.
    """
    scale = dpi / 25.4
    sheet = np.full((round(height_mm * scale), round(width_mm * scale)), 255, np.uint8)
    left, top = (round(value * scale) for value in window_corner(plan))
    indexed = list(enumerate(plan.pages))
    for index, page in reversed(indexed) if first_on_top else indexed:
        if page.window is None:
            continue
        x, y = round(page.window.left_mm * scale), round(page.window.top_mm * scale)
        wide, high = round(page.window.width_mm * scale), round(page.window.height_mm * scale)
        cut = render(file, index, dpi)[top : top + high, left : left + wide]
        first_row, first_column = max(0, -y), max(0, -x)
        cut = cut[first_row : sheet.shape[0] - y, first_column : sheet.shape[1] - x]
        sheet[y + first_row : y + first_row + cut.shape[0], x + first_column : x + first_column + cut.shape[1]] = cut
    return sheet


def differing(a: Grey, b: Grey, levels: int = 32) -> int:
    """How many pixels differ by more than some levels."""
    assert a.shape == b.shape
    return int((np.abs(a.astype(int) - b.astype(int)) > levels).sum())


def switched_off(pdf: Path, names: Collection[str], target: Path) -> Path:
    """A copy whose layers of these names are off when it is opened."""
    writer = PdfWriter(clone_from=PdfReader(pdf))
    properties = writer.root_object["/OCProperties"]
    layers = [reference for reference in properties["/OCGs"] if reference.get_object()["/Name"] in names]
    assert len(layers) == len(names), "a layer of that name is missing"
    properties["/D"][NameObject("/OFF")] = ArrayObject(layers)
    writer.write(target)
    return target


def qpdf_complaints(file: Path) -> str:
    """What `qpdf --check` has to say against a file; empty where it is clean."""
    told = subprocess.run([tool("qpdf"), "--check", str(file)], capture_output=True, text=True, check=False)
    return "" if told.returncode == 0 and not told.stderr else told.stdout + told.stderr


def font_names(file: Path) -> set[str]:
    """The base fonts of a file. Fails where one is not embedded."""
    told = subprocess.run([tool("pdffonts"), str(file)], capture_output=True, text=True, check=True).stdout
    rows = [line for line in told.splitlines()[2:] if line.strip()]
    found = set()
    for row in rows:
        emb, sub, _ = row.split()[-5:-2]
        assert (emb, sub) == ("yes", "yes"), f"not embedded as a subset: {row}"
        found.add(row.split()[0].partition("+")[2])
    return found
