"""A projector file composed: its pieces on their ground, brackets and numbers around them, the panel below."""

from collections.abc import Sequence

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.pages.projector import panel_width_mm, projector_page, projector_plan
from pipeline.drawing.pages.projector_names import names_beside
from pipeline.drawing.pages.projector_panel import projector_panel
from pipeline.drawing.panels.strip_list import StripSizes
from pipeline.drawing.piece.pieces import Ground, in_white
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.pieces import Cuts
from pipeline.model.questions import may_have_nap
from pipeline.sheets.layout import Layout, SavedLayout
from pipeline.sheets.projector import arrange_projector
from pipeline.sheets.stacks import Stack
from pipeline.sheets.stay import Before, areas_of


def thrown_layout(
    pattern: Pattern, material: str, stacks: Sequence[Stack], saved: SavedLayout | None, name: str
) -> tuple[Layout, dict[str, float]]:
    """Where what a projector file of that name shows lies, and the areas of its stacks."""
    one_way, before = may_have_nap(pattern, material), Before(saved).thrown(name)
    layout = arrange_projector(stacks, pattern.projector.width_mm, one_way, before)
    return layout, areas_of(stacks)


def projector_file(
    pattern: Pattern,
    material: str,
    ground: Ground,
    cuts: Cuts,
    strips: StripSizes,
    layout: Layout,
    black: Sequence[Drawing],
    alone: str | None = None,
) -> bytes:
    """The PDF of what is cut of a material, with a layer a size; or of one size `alone`, which needs none.

    `black` are the drawings in black on white, whatever the ground.
    """
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.forms import render_drawings
    from pipeline.press.imprint import imprint_of

    drawings = black if ground == "black-on-white" else [in_white(drawing) for drawing in black]
    sizes = pattern.sizes if alone is None else (alone,)
    panel = projector_panel(pattern, material, cuts, panel_width_mm(layout), sizes, strips)
    plan = projector_plan(layout, sizes, tuple(pattern.views), panel.height_mm)
    title = in_language(pattern.materials[material].title, pattern.languages[0])
    print_file = PrintFile(
        imprint=imprint_of(pattern, "projector", title if alone is None else f"{title} · {alone}"),
        plan=plan,
        layout=layout,
        sizes=sizes,
        overlays=(projector_page(plan, panel, ground, names_beside(pattern, cuts, layout, black)),),
        layered=alone is None,
    )
    return compose(print_file, drawings, render_drawings(drawings))
