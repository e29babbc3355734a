"""Pages by what they show: the version's number alone makes no other page, and a change counts where it lies."""

from collections.abc import Callable
from pathlib import Path

import msgspec
import pytest

from pipeline.drawing import scene
from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.scene import Scene
from pipeline.drawing.styles import size_colour
from pipeline.geometry.points import Point
from pipeline.ledger.pages import page_digests
from tests.press import synthetic

Pages = Callable[..., dict[str, str]]


@pytest.fixture
def pages(tmp_path: Path) -> Pages:
    """Digests by label of the invented sheet on A4, its pages with a line of text; its front with one more stroke."""
    use_own_fonts(tmp_path / "fonts")
    from pipeline.press.compose import PrintFile, compose
    from pipeline.press.forms import render_drawings

    layout, drawings = synthetic.sheet()
    plan = synthetic.tiles(layout)

    def overlay(text: str) -> Scene:
        return scene.of(0, 0, plan.page_width_mm, plan.page_height_mm, [scene.text(Point(20, 6), text, 3.0)])

    def digests(version: str, word: str = "Jacket", stroke: tuple[Point, Point] | None = None) -> dict[str, str]:
        shown = list(drawings)
        if stroke is not None:
            line = scene.polyline(stroke, size_colour(1), 0.4, ())
            shown[0] = msgspec.structs.replace(shown[0], shapes=(*shown[0].shapes, line))
        file = PrintFile(
            imprint=synthetic.IMPRINT,
            plan=plan,
            layout=layout,
            sizes=synthetic.SIZES,
            overlays=tuple(overlay(f"{word} {version} · {page.label}") for page in plan.pages),
        )
        target = tmp_path / "a4.pdf"
        target.write_bytes(compose(file, shown, render_drawings(shown)))
        return dict(page_digests(target, version))

    return digests


def differing(one: dict[str, str], other: dict[str, str]) -> list[str]:
    assert one.keys() == other.keys()
    return [label for label in one if one[label] != other[label]]


def test_another_version_number_is_no_other_page(pages):
    assert differing(pages("1.2.0"), pages("1.10.0")) == []


def test_another_word_is_another_page(pages):
    plain = pages("1.2.0")
    assert differing(plain, pages("1.2.0", word="Coat")) == list(plain)


@pytest.mark.parametrize(("y_mm", "label"), [(-20, "2A"), (100, "5B")])
def test_a_stroke_counts_on_the_page_on_which_it_lies(pages, y_mm: float, label: str):
    """The front's anchor lies 230 mm below the top of tiles that are 277 mm high: it goes over two pages."""
    assert differing(pages("1.2.0"), pages("1.2.0", stroke=(Point(-20, y_mm), Point(-10, y_mm)))) == [label]
