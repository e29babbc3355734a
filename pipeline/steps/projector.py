"""Cut pieces of all sizes in; what is cut of one material, for a projector, on both grounds, out."""

from pathlib import Path
from typing import get_args

from pipeline.drawing.fonts import use_own_fonts
from pipeline.drawing.page_projector import projector_page, projector_plan
from pipeline.drawing.pieces import Ground, draw_projector_stack, in_white
from pipeline.masters.load import load_pattern
from pipeline.model.pattern import in_language
from pipeline.sheets.projector import arrange_projector, projector_stacks
from pipeline.steps.inputs import cuts_by_piece
from pipeline.steps.run import run, write


def main(folder: Path, work: Path, pieces: list[Path], material: str, project: Path) -> None:
    """Arrange once, draw for each ground; `project` is the folder of the files."""
    use_own_fonts(work / "fonts")
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.forms import render_drawings
    from pipeline.press.imprint import imprint_of

    pattern, _ = load_pattern(folder)
    assert pattern is not None
    cuts, cloth = cuts_by_piece(pieces), pattern.materials[material]
    stacks = projector_stacks(pattern, cuts, material)
    layout = arrange_projector(stacks, pattern.projector.width_mm, cloth.one_way is True)
    plan = projector_plan(layout, pattern.sizes, tuple(pattern.views))
    black = [
        drawing
        for place in layout.placements
        for drawing in draw_projector_stack(pattern, cuts[place.piece], place.quarter_turns)
    ]
    for ground in get_args(Ground):
        drawings = black if ground == "black-on-white" else [in_white(drawing) for drawing in black]
        print_file = PrintFile(
            imprint=imprint_of(pattern, "projector", in_language(cloth.title, pattern.languages[0])),
            plan=plan,
            layout=layout,
            sizes=pattern.sizes,
            overlays=(projector_page(pattern, plan, material, ground),),
        )
        write(project / f"{material}-{ground}.pdf", compose(print_file, drawings, render_drawings(drawings)))


if __name__ == "__main__":
    run(main)
