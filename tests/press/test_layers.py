"""Layers: one a size, independent of each other, and nothing that must not vanish stands in one."""

import io
import re
from pathlib import Path

import msgspec
import numpy as np
import pytest
from pypdf import PdfReader

from pipeline.drawing.drawing import Drawing
from pipeline.press.compose import PrintFile, compose
from pipeline.press.forms import render_drawings
from pipeline.sheets.layout import Layout
from tests.press import proof, synthetic
from tests.press.conftest import Written

PLAN = synthetic.tiles(synthetic.sheet()[0])
OTHERS = synthetic.SIZES[1:]


def test_every_size_is_a_layer_named_in_the_first_language(a4: Path) -> None:
    properties = PdfReader(a4).trailer["/Root"]["/OCProperties"]
    names = [layer.get_object()["/Name"] for layer in properties["/OCGs"]]
    assert names == [f"Size {size}" for size in synthetic.SIZES]
    assert [layer.get_object()["/Name"] for layer in properties["/D"]["/Order"]] == names
    assert properties["/D"]["/BaseState"] == "/ON"


def test_nothing_makes_a_reader_choose_layers_for_itself(a4: Path) -> None:
    """ISO 32000-1, 8.11.4.4: /AS and /Usage let a reader switch layers by itself; /RBGroups shows one at a time."""
    reader = PdfReader(a4)
    default = reader.trailer["/Root"]["/OCProperties"]["/D"]
    assert not {"/AS", "/RBGroups"} & set(default)
    assert not any("/Usage" in layer.get_object() for layer in reader.trailer["/Root"]["/OCProperties"]["/OCGs"])


@pytest.mark.parametrize("renderer", proof.RENDERERS)
def test_switched_off_layers_look_as_if_they_had_been_left_out(
    renderer: str, a4: Path, written: Written, tmp_path: Path
) -> None:
    off = proof.switched_off(a4, {f"Size {size}" for size in OTHERS}, tmp_path / "off.pdf")
    left_out = written(PLAN, "a4-34.pdf", without=OTHERS)
    render = proof.RENDERERS[renderer]
    changed = 0
    for index in range(len(PLAN.pages)):
        one, other = render(off, index, 75), render(left_out, index, 75)
        assert np.array_equal(one, other), f"page {index + 1} differs"
        changed += not np.array_equal(one, render(a4, index, 75))
    assert changed >= 6, "switching layers off changed too few pages for the comparison to mean anything"


def test_what_is_of_two_sizes_together_shows_while_both_are_on(tmp_path: Path) -> None:
    """A guide between sizes, drawn beside what each has alone."""
    layout, drawings = synthetic.sheet()
    both = synthetic.SIZES[:2]
    guide = msgspec.structs.replace(drawings[0], sizes=both, together=True)
    pages = tuple(synthetic.scene.of(0, 0, PLAN.page_width_mm, PLAN.page_height_mm, []) for _ in PLAN.pages)
    file = PrintFile(imprint=synthetic.IMPRINT, plan=PLAN, layout=layout, sizes=synthetic.SIZES, overlays=pages)
    target = tmp_path / "guide.pdf"
    target.write_bytes(compose(file, [guide], render_drawings([guide])))
    page = next(number for number, each in enumerate(PLAN.pages) if each.window is not None)
    for render in proof.RENDERERS.values():
        shown = {}
        for off in ((), both[:1], both[1:], both, synthetic.SIZES[2:]):
            names = {f"Size {size}" for size in off}
            picture = proof.switched_off(target, names, tmp_path / "off.pdf") if off else target
            shown[off] = any((render(picture, k, 50) < 128).any() for k in range(page, len(PLAN.pages)))
        assert shown == {(): True, both[:1]: False, both[1:]: False, both: False, synthetic.SIZES[2:]: True}
    left_out = compose(file, [guide], render_drawings([guide]), without=both[:1])
    assert b"/AllOn" not in left_out


def test_what_several_sizes_share_stays_while_one_of_them_is_on(a4: Path, written: Written, tmp_path: Path) -> None:
    """The invented pieces share their grain line."""
    every = {f"Size {size}" for size in synthetic.SIZES}
    page = 1
    none = proof.pdfium(proof.switched_off(a4, every, tmp_path / "none.pdf"), page, 75)
    for size in synthetic.SIZES:
        one = proof.pdfium(proof.switched_off(a4, every - {f"Size {size}"}, tmp_path / f"{size}.pdf"), page, 75)
        x, y = round((10 + 100 + 20) * 75 / 25.4), round((10 + 200) * 75 / 25.4)
        assert one[y, x - 1 : x + 2].min() < 128 <= none[y, x - 1 : x + 2].min()


def test_frame_squares_and_labels_stand_outside_all_layers(a4: Path) -> None:
    for page in PdfReader(a4).pages:
        content = page.get_contents().get_data()
        assert content.startswith(b"q /Overlay Do Q")
        assert content.count(b"BDC") == content.count(b"EMC")
        assert b"/Overlay" not in content[content.find(b"BDC") :] or b"BDC" not in content


def test_a_file_of_one_size_needs_no_layers(written: Written) -> None:
    file = written(PLAN, "plain.pdf", layered=False)
    root = PdfReader(file).trailer["/Root"]
    assert "/OCProperties" not in root
    assert root["/PageMode"] == "/UseOutlines"
    assert proof.differing(proof.pdfium(file, 1, 75), proof.pdfium(file, 2, 75)) > 0


def test_of_a_piece_that_is_drawn_in_several_turns_a_file_shows_the_one_that_it_lies_in() -> None:
    layout, drawings = synthetic.sheet()
    turned = [msgspec.structs.replace(drawing, quarter_turns=1, left_mm=drawing.left_mm + 5) for drawing in drawings]
    on_end = msgspec.structs.replace(
        layout, placements=tuple(msgspec.structs.replace(place, quarter_turns=5) for place in layout.placements)
    )
    plan = synthetic.large_sheet(layout)

    def composed(places: Layout, drawn: list[Drawing]) -> bytes:
        overlays = synthetic.bare(plan)
        file = PrintFile(imprint=synthetic.IMPRINT, plan=plan, layout=places, sizes=synthetic.SIZES, overlays=overlays)
        document = PdfReader(io.BytesIO(compose(file, drawn, render_drawings(drawn))))
        return re.sub(rb"/D\d+", b"", document.pages[0].get_contents().get_data())

    both = [*drawings, *turned]
    assert composed(layout, both) == composed(layout, drawings)
    assert composed(on_end, both) == composed(on_end, turned)
    assert composed(layout, both) != composed(on_end, both)
