"""Pictures for a shop: everything on its place, on white."""

import io

import numpy as np
import pytest
from PIL import Image

from pipeline.press.preview import LONG_SIDE_PX, preview_piece, preview_sheet
from tests.press import synthetic


def picture(png: bytes) -> np.ndarray:
    return np.asarray(Image.open(io.BytesIO(png)).convert("L"))


def test_the_whole_sheet_shows_each_piece_on_its_place() -> None:
    layout, drawings = synthetic.sheet()
    grey = picture(preview_sheet(drawings, layout))
    assert max(grey.shape) == LONG_SIDE_PX
    scale = LONG_SIDE_PX / (layout.height_mm + 24)
    for placement in layout.placements:
        box = next(d for d in drawings if d.piece == placement.piece and d.sizes == ("40",))
        left = (placement.x_mm + box.left_mm + 12) * scale
        y = round((placement.y_mm + 12) * scale)
        around = grey[y - 20 : y + 20, round(left) : round(left + 8 * scale)]
        assert around.min() < 200, f"the left side of {placement.piece} is not where it lies"
    assert grey[0].min() == 255


def test_a_piece_fills_its_picture() -> None:
    _, drawings = synthetic.sheet()
    grey = picture(preview_piece(d for d in drawings if d.piece == "pocket"))
    inked = np.argwhere(grey < 200)
    (top, left), (bottom, right) = inked.min(axis=0), inked.max(axis=0)
    room = 14 / (90 + 18 + 4 + 24)
    assert left / grey.shape[1] == pytest.approx(room, abs=0.01)
    assert (grey.shape[1] - right) / grey.shape[1] == pytest.approx(room, abs=0.01)
    assert bottom > top
