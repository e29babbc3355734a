"""Print files that several tests look at, written once."""

from collections.abc import Callable
from pathlib import Path

import pytest

from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.pages.overlays import page_overlays
from pipeline.press.compose import PrintFile, compose
from pipeline.press.forms import render_drawings
from pipeline.sheets.layout import PagePlan
from tests.press import synthetic

Written = Callable[..., Path]


@pytest.fixture(scope="session", autouse=True)
def own_fonts(tmp_path_factory: pytest.TempPathFactory) -> None:
    use_own_fonts(tmp_path_factory.mktemp("fonts"))


@pytest.fixture(scope="session")
def written(tmp_path_factory: pytest.TempPathFactory) -> Written:
    """Writes the invented sheet on a plan's pages, with all that stands around it."""
    folder = tmp_path_factory.mktemp("print")
    layout, drawings = synthetic.sheet()
    pdf = render_drawings(drawings)

    def write(plan: PagePlan, name: str, without: tuple[str, ...] = (), layered: bool = True) -> Path:
        overlays = page_overlays(
            synthetic.pattern(), plan, synthetic.SIZES, synthetic.map_pieces(), synthetic.SIGNS, name
        )
        file = PrintFile(
            imprint=synthetic.IMPRINT,
            plan=plan,
            layout=layout,
            sizes=synthetic.SIZES,
            overlays=overlays,
            layered=layered,
        )
        target = folder / name
        target.write_bytes(compose(file, drawings, pdf, without))
        return target

    return write


@pytest.fixture(scope="session")
def a4(written: Written) -> Path:
    return written(synthetic.tiles(synthetic.sheet()[0]), "a4.pdf")


@pytest.fixture(scope="session")
def letter(written: Written) -> Path:
    return written(synthetic.tiles(synthetic.sheet()[0], 215.9, 279.4, "letter"), "letter.pdf")


@pytest.fixture(scope="session")
def large(written: Written) -> Path:
    return written(synthetic.large_sheet(synthetic.sheet()[0]), "roll-36in.pdf")
