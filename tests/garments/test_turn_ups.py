"""The trousers again, with turn-ups 4 cm high, and a hem of 2 cm that is caught inside them."""

import shutil
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest
import shapely
from PIL import Image

from pipeline.booklet.figures.draw import draw_figure
from pipeline.booklet.figures.figure import USUAL
from pipeline.checks.garment import Garment
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.drawing.scene import Shape, of
from pipeline.exchange.document import exchange_dxf
from pipeline.ledger.measure import shape_of
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts
from pipeline.press.preview import png
from tests.drawing.seen import texts
from tests.garments.cut_again import cuts_of
from tests.garments.test_first_checks import GARMENTS, KNOWN
from tests.release.test_bad_input import findings_of_pattern

HEM = 'edges.hem = { allowance = "5 cm", corner = "turned", hem = true }'
TURN_UP = HEM.replace("5 cm", "10 cm").replace(" }", ', folds = ["4 cm", "8 cm"], turn_up = true }')
SIZES = ("44", "52", "60")
ROOT = Path(__file__).resolve().parents[2]
GOLDEN = Path(__file__).parent / "turn_up.png"
NEARLY = 1.0
"""Mean difference of grey, of 255: what versions of a painter may differ by at the edges of lines."""


def turned_up(folder: Path) -> Path:
    shutil.copytree(GARMENTS / "suit-trousers", folder / "suit-trousers")
    file = folder / "suit-trousers/pattern.toml"
    text = file.read_text(encoding="utf-8")
    assert text.count(HEM) == 3
    file.write_text(text.replace(HEM, TURN_UP), encoding="utf-8")
    return folder


def made(place: Path) -> tuple[Pattern, Cuts]:
    return cuts_of(turned_up(place) / "suit-trousers", "back", SIZES)


@pytest.fixture(scope="module")
def trousers(tmp_path_factory):
    return made(tmp_path_factory.mktemp("turned-up"))


def test_nothing_more_is_found(tmp_path):
    found = findings_of_pattern(turned_up(tmp_path), "suit-trousers", tmp_path / "work")
    told = {(f["check"], f["code"], f["piece"] or "pattern", f["severity"]) for f in found if f["severity"] != "skip"}
    assert told == {
        (check, code, place.split(".")[0], severity) for check, code, place, severity in KNOWN["suit-trousers"]
    }


@pytest.mark.parametrize("size", SIZES)
def test_folded_at_the_corners_of_the_leg_its_fold_lines_end_on_the_cut_line(size, trousers):
    """Turned about the hem's tangent there: 40 mm out lies 40 mm up, 80 mm out on the hem line. The hem is a shallow
    curve, past whose end it runs on straight."""
    _, cuts = trousers
    back = cuts["back"][size]
    sides = shapely.MultiLineString([line for e in back.edges if e.name != "hem" for line in e.cut_line])
    seam = np.array([place for one in back.drawn.edge("hem").path for place in (one.start, one.at(0.02), one.end)])
    for corner, along in (
        (seam[0], seam[0] - seam[1]),
        (seam[-1], seam[-1] - back.drawn.edge("hem").path[-1].at(0.98)),
    ):
        along = along / np.hypot(*along)
        for line, height in zip(back.turns, (40.0, 0.0), strict=True):
            ends = np.array([line.path[0].start, line.path[-1].end])
            end = ends[np.argmin(np.hypot(*(ends - corner).T))] - corner
            beside = end @ along * along
            up = -(end - beside) / np.hypot(*(end - beside)) * height
            assert sides.distance(shapely.Point(corner + beside + up)) < 0.3


def test_pieces_say_which_line_is_folded_first_and_what_it_is(trousers):
    pattern, cuts = trousers
    said = {text.content for text in texts(draw_nest(pattern, cuts["back"], 0))}
    assert any(text.startswith("turn-up: fold 1") for text in said)
    assert any(text.startswith("turn-up: fold 2") for text in said)


def test_a_file_for_machines_and_the_ledger_have_them_as_inside_lines(trousers):
    pattern, cuts = trousers
    data = exchange_dxf(pattern, cuts)
    assert data.count(b"LINE: hem-fold-1") == data.count(b"LINE: hem-fold-2") == len(SIZES)
    assert {"hem-fold-1", "hem-fold-2"} <= set(shape_of(cuts["back"]["44"]).marks)


def test_the_figure_shows_each_turn_and_reads_them_out(trousers):
    pattern, cuts = trousers
    found = draw_figure(("hem", "back.hem"), Garment(pattern, cuts), "en", USUAL)
    assert "Fold to the wrong side, 4 cm" in found.alt
    assert "Turn it up to the right side along the hem line" in found.alt


def paint(place: Path) -> None:
    """The lower end of the leg, all sizes on each other, as `turn_up.png`."""
    use_own_fonts(place)
    pattern, cuts = made(place)
    shapes: list[Shape] = [shape for drawing in draw_nest(pattern, cuts["back"], 0) for shape in drawing.shapes]
    boxes = [shapely.Polygon(cut.cut_outline).bounds for cut in cuts["back"].values()]
    anchors = [cut.drawn.anchor for cut in cuts["back"].values()]
    left = min(box[0] - anchor.x for box, anchor in zip(boxes, anchors, strict=True))
    right = max(box[2] - anchor.x for box, anchor in zip(boxes, anchors, strict=True))
    low = max(box[3] - anchor.y for box, anchor in zip(boxes, anchors, strict=True))
    (place / GOLDEN.name).write_bytes(png(of(left - 5, low - 260, right - left + 10, 270, shapes)))


def _grey(file: Path) -> np.ndarray:
    return np.asarray(Image.open(file).convert("L"), dtype=float)


def test_it_looks_as_it_did_when_it_was_looked_at(tmp_path):
    """In a process of its own: fonts are chosen before a process draws its first text."""
    code = f"from pathlib import Path; from tests.garments.test_turn_ups import paint; paint(Path({str(tmp_path)!r}))"
    subprocess.run([sys.executable, "-c", code], check=True, cwd=ROOT)
    now, then = _grey(tmp_path / GOLDEN.name), _grey(GOLDEN)
    assert now.shape == then.shape
    assert np.abs(now - then).mean() < NEARLY
