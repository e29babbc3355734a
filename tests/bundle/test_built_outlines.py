"""What is drawn for a size is held against its cut line: lines moved, lost or of another size are told."""

import itertools
import math
import re

import numpy as np
import pytest
from pypdf import PdfWriter

from pipeline.bundle import built_outlines
from pipeline.bundle.built_files import check_built
from pipeline.bundle.built_outlines import OFF_MM
from pipeline.bundle.outline_match import Lines, Outline, match
from pipeline.model.findings import blocks
from pipeline.model.lengths import MM_PER_POINT
from tests.bundle.conftest import Copy

_POINT = re.compile(rb"(?<=\n)([\d.]+) ([\d.]+) ([ml])")


def _outlines(copy: Copy) -> list:
    return [finding for finding in copy.found() if finding.check == "built-outlines"]


def _forms(writer: PdfWriter, layer: str) -> list:
    """The drawings that show in one layer alone, those of most bytes first."""
    found = {}
    for page in writer.pages:
        properties = page["/Resources"].get("/Properties", {})
        keys = [key for key in properties if properties[key].get("/Name") == layer]
        for key in keys:
            shown = (
                page["/Contents"].get_object().get_data().partition(f"/OC {key} BDC".encode())[2].partition(b"EMC")[0]
            )
            for name in re.findall(rb"(/D\d+) Do", shown):
                form = page["/Resources"]["/XObject"][name.decode()]
                found[form.indirect_reference.idnum] = form.get_object()
    return sorted(found.values(), key=lambda form: -len(form.get_data()))


def _moved_down(data: bytes, by_mm: float) -> bytes:
    """Every level line of a drawing, moved."""
    places = re.compile(rb"([-\d.]+)\s+([-\d.]+)\s+m\s+([-\d.]+)\s+([-\d.]+)\s+l\b")

    def moved(found: re.Match[bytes]) -> bytes:
        x, y, u, v = map(float, found.groups())
        by = by_mm / MM_PER_POINT if abs(y - v) < 1e-3 < abs(x - u) else 0.0
        return f"{x:.3f} {y + by:.3f} m {u:.3f} {v + by:.3f} l".encode()

    return places.sub(moved, data)


def test_the_files_as_they_are_built_show_every_cut_line(copy: Copy):
    assert _outlines(copy) == []


@pytest.mark.parametrize(("by_mm", "codes"), [(0.13, set()), (0.6, {"off"})])
def test_a_line_of_one_size_that_is_drawn_elsewhere(copy: Copy, by_mm: float, codes: set):
    def change(writer: PdfWriter) -> None:
        for form in _forms(writer, "Size M"):
            form.set_data(_moved_down(form.get_data(), by_mm))

    found = _outlines(copy.edit(change))
    assert {finding.code for finding in found} == codes
    assert {finding.size for finding in found} == ({"M"} if codes else set())
    assert all(blocks(finding) for finding in found)


def test_lines_of_one_size_that_are_not_drawn(copy: Copy):
    def change(writer: PdfWriter) -> None:
        for form in _forms(writer, "Size S"):
            form.set_data(re.sub(rb"\bS\n", b"n\n", re.sub(rb"[-\d.]+\s+[-\d.]+\s+[ml]\b", b"", form.get_data())))

    found = _outlines(copy.edit(change))
    assert {(finding.code, finding.size) for finding in found} == {("lost", "S")}


def test_where_it_fails_by_itself_file_size_and_piece_are_told(copy: Copy, monkeypatch: pytest.MonkeyPatch):
    *_, last = copy.built.pieces.sizes["S"].pieces
    left = iter(copy.built.pieces.sizes["S"].pieces)

    def fails(*_: object) -> None:
        if next(left) == last:
            raise ZeroDivisionError

    monkeypatch.setattr(built_outlines, "match", fails)
    found = next(each for each in check_built(copy.built.pattern, copy.folder) if each.check == "built-outlines")
    assert (found.code, found.file, found.size, found.piece) == ("check-failed", "print/a4.pdf", "S", last)


# Where an outline lies among lines

PIECE = np.array([(0, 0), (120, 0), (150, 90), (90, 140), (0, 140)], dtype=float)
KITE = np.array([(50, 0), (100, 60), (80, 160), (20, 160), (0, 60)], dtype=float)


def _closed(ring: np.ndarray) -> np.ndarray:
    return np.vstack((ring, ring[:1]))


@pytest.mark.parametrize("turn", range(4))
def test_an_outline_is_found_in_every_quarter_turn(turn):
    turned = PIECE @ np.linalg.matrix_power(np.array(((0, 1), (-1, 0))), turn) + (1234, -77)
    found = match(Outline(PIECE, halved=False), [Lines([_closed(KITE)]), Lines([_closed(KITE), _closed(turned)])], 0.15)
    assert found is not None
    assert (found.shown, found.off_mm) == (1.0, pytest.approx(0, abs=1e-6))


def test_an_outline_is_found_though_it_is_drawn_in_parts_with_gaps_and_a_seam_line_runs_beside_it():
    ring = _closed(PIECE)
    parts = [np.stack((a + 0.1 * (b - a), a + 0.45 * (b - a))) for a, b in itertools.pairwise(ring)]
    parts += [np.stack((a + 0.55 * (b - a), b)) for a, b in itertools.pairwise(ring)]
    seam = (PIECE - PIECE.mean(axis=0)) * 0.9 + PIECE.mean(axis=0)
    found = match(Outline(PIECE, halved=False), [Lines([*parts, _closed(seam)])], 0.15)
    assert found is not None
    assert found.shown == pytest.approx(0.8, abs=0.03)
    assert found.off_mm == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize("angle", [0, 30, 90])
@pytest.mark.parametrize("side", [1, -1])
def test_of_a_piece_on_the_fold_one_half_is_looked_for_and_the_fold_is_no_cut(angle, side):
    """The fold of the kite is x = 50; the drawing has the half at one side of it, and the fold itself as a line."""
    half = np.array([(50, 0), (50 + side * 50, 60), (50 + side * 30, 160), (50, 160)], dtype=float)
    turn = np.array(
        (
            (math.cos(math.radians(angle)), math.sin(math.radians(angle))),
            (-math.sin(math.radians(angle)), math.cos(math.radians(angle))),
        )
    )
    found = match(
        Outline(KITE @ turn, halved=True), [Lines([half @ turn + (7, 9), half[[-1, 0]] @ turn + (7, 9)])], 0.15
    )
    assert found is not None
    assert found.shown > 0.98
    assert found.off_mm == pytest.approx(0, abs=1e-6)


@pytest.mark.parametrize(("off_mm", "told"), [(OFF_MM - 0.02, False), (OFF_MM + 0.02, True)])
def test_a_corner_that_is_drawn_elsewhere_is_measured(off_mm, told):
    """One corner of a piece whose other lines are right: the line beside it leaves its place by that much."""
    drawn = np.array([(0, 0), (60, 0), (62, off_mm), (64, off_mm), (66, 0), *PIECE[1:]], dtype=float)
    found = match(Outline(PIECE, halved=False), [Lines([_closed(drawn)])], 0.15)
    assert found is not None
    assert (found.off_mm > OFF_MM) == told
    assert found.off_mm == pytest.approx(off_mm, abs=0.01)


def test_an_outline_without_corners_cannot_be_laid_on_anything():
    angles = np.linspace(0, 2 * math.pi, 200, endpoint=False)
    assert (
        match(Outline(40 * np.column_stack((np.cos(angles), np.sin(angles))), halved=False), [Lines([])], 0.15) is None
    )


def test_an_outline_that_is_nowhere():
    found = match(Outline(PIECE, halved=False), [Lines([_closed(KITE)])], 0.15)
    assert found is not None
    assert found.shown < 0.5


def test_of_two_pieces_that_are_nearly_alike_each_is_held_against_its_own_lines():
    """A pocket bag's two sides: the other's lines, a little wider, lie first and fit at a glance."""
    wider = PIECE * (1 + 0.9 / np.ptp(PIECE[:, 0]))
    lines = Lines([_closed(wider), _closed(PIECE + 1000.0)])
    found = match(Outline(PIECE, halved=False), [lines], 0.15)
    assert found is not None
    assert found.off_mm < 0.01


@pytest.mark.parametrize("across", [False, True])
def test_a_band_on_the_fold_is_found_whichever_of_its_two_axes_is_the_fold(across):
    """A band is symmetric along and across: only one of the halves is drawn."""
    band = np.array([(-200, -25), (200, -25), (200, 25), (-200, 25)], dtype=float)
    half = np.array([(0, -25), (200, -25), (200, 25), (0, 25)], dtype=float)
    if across:
        half = np.array([(-200, 0), (200, 0), (200, 25), (-200, 25)], dtype=float)
    found = match(Outline(band, halved=True), [Lines([_closed(KITE), _closed(half + np.array((700, 40)))])], 0.15)
    assert found is not None
    assert (round(found.shown, 2), found.off_mm) == (1.0, pytest.approx(0, abs=1e-6))


def test_of_a_band_that_is_not_seen_whole_nothing_is_said():
    """Its corners are those of any other band: what seems to be its place may be another's."""
    band = np.array([(0, 0), (400, 0), (400, 50), (0, 50)], dtype=float)
    other = np.array([(0, 0), (180, 0), (180, 50), (0, 50)], dtype=float)
    assert match(Outline(band, halved=False), [Lines([_closed(other)])], 0.15) is None


@pytest.mark.parametrize("bent_mm", [0.08, 0.8])
def test_a_place_where_one_straight_side_lies_on_a_line_moves_the_outline_across_that_line_alone(bent_mm):
    """Side and line are bent by parts of a millimetre, not alike: that does not tell where along the line one lies."""
    t = np.linspace(0, 1, 90)[:, None]
    side = np.array((60, 0)) + t * np.array((137, 701.3)) + t * (1 - t) * (0.004, 0)
    piece = np.vstack(((0, 0), side, (0, 690), (-140, 340)))
    drawn = np.array((60, 0)) + t * np.array((137, 701.3)) + t * t * (1 - t) * (bent_mm, 0)
    found = match(Outline(piece, halved=False), [Lines([drawn + np.array((900.0, 50.0))])], 0.15)
    assert found is not None
    assert found.shown == pytest.approx(0.42, abs=0.01)
    assert found.off_mm < 0.2 * bent_mm
