"""Print files of a part of the pattern, one size or one view: arranged for themselves on every paper, and composed."""

from collections.abc import Iterator, Mapping
from typing import NamedTuple

from pipeline.bundle.promised import print_files
from pipeline.drawing.drawing import shown_signs
from pipeline.drawing.nest.page_joints import Joints, joints_in_nest
from pipeline.drawing.pages.overlays import page_overlays
from pipeline.drawing.panels.map import map_pieces
from pipeline.drawing.panels.strip_list import StripSizes
from pipeline.drawing.piece.pieces import NestStyle, draw_nest
from pipeline.model.logo import Logo
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.pieces import Cuts
from pipeline.model.questions import spoken
from pipeline.sheets.arrange import arrange
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import Layout, PagePlan, SavedLayout
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.stacks import stacks_of
from pipeline.sheets.stay import Before, areas_of
from pipeline.sheets.tile import plan_pages
from pipeline.sheets.whole import arrange_large, turns_of

EFFORT = 0.25
"""Of what the layout of the whole pattern may cost: there are many of these files."""


class Part(NamedTuple):
    """What some files show, and no other: `name`, a size's or a view's, begins theirs.

    `kept_as` begins the names of its layouts in layout.json; `strips` are told on its pages. `alone`: they are of one
    size, plain and without layers; a view has its layers though the pattern have a single size.
    """

    name: str
    kept_as: str
    sizes: tuple[str, ...]
    strips: StripSizes
    views: tuple[str, ...]
    alone: bool
    logo: Logo | None = None


Arranged = Mapping[str, tuple[Layout, PagePlan]]
"""The layout and the pages of each paper."""


def arranged(pattern: Pattern, part: Part, cuts: Cuts, saved: SavedLayout | None) -> tuple[Arranged, SavedLayout]:
    """Where pieces lie, as was saved of each file as long as that holds; and the same as the ledger keeps it."""
    stacks, found, before = stacks_of(pattern, cuts), {}, Before(saved)
    margin, overlap = pattern.print.margin_mm, pattern.print.overlap_mm
    drawn: frozenset[tuple[str, int]] = frozenset()
    alone, sheets = {}, {}
    for name in print_files(pattern):
        paper, kept_as = PAPERS[name], f"{part.kept_as}-{name}"
        grid = before.grid(kept_as)
        if paper.kind == "tiled":
            former = saved.alone.get(kept_as) if saved else None
            sold = before.tiles((kept_as,), part.kept_as, former)
            layout = arrange(stacks, (tile_of(paper, margin, overlap),), former, effort=EFFORT, sold=sold)
            plan = plan_pages(
                layout, placed_stacks(stacks, layout), paper, part.sizes, part.views, margin, overlap, sold=grid
            )
            alone[kept_as] = layout
        else:
            was = saved.large.get(kept_as) if saved else None
            large = arrange_large(stacks, paper, was, drawn, EFFORT, before.areas(part.kept_as))
            former, layout, sheets[kept_as] = was.layout if was else None, large.layout, large
            plan = plan_large(large, placed_stacks(stacks, layout), paper, part.sizes, part.views, grid)
        drawn |= turns_of(layout)
        found[name] = layout, before.told(plan, layout, former)
    areas = {part.kept_as: areas_of(stacks)}
    return found, SavedLayout(layout=Layout(0.0, 0.0, ()), alone=alone, large=sheets, areas=areas)


def printed(pattern: Pattern, part: Part, cuts: Cuts, places: Arranged) -> Iterator[tuple[str, bytes]]:
    """The file of each paper, or of each paper and language, by its name."""
    for ending, speaking in spoken(pattern).items():
        yield from _printed(speaking, ending, part, cuts, places)


def _printed(pattern: Pattern, ending: str, part: Part, cuts: Cuts, places: Arranged) -> Iterator[tuple[str, bytes]]:
    """Papers on which a piece is turned alike share its drawing."""
    from pipeline.press.compose import PrintFile, compose  # cairo reads where fonts are when it is loaded
    from pipeline.press.forms import render_drawings
    from pipeline.press.imprint import imprint_of

    joints: dict[tuple[str, int], list[Joints]] = {}
    for layout, plan in places.values():
        for place in layout.placements:
            joints.setdefault((place.piece, place.quarter_turns), []).append(joints_in_nest(plan, place))
    style: NestStyle = "plain" if part.alone else "nested"
    drawn = {
        (piece, turns): draw_nest(pattern, cuts[piece], turns, style, files) for (piece, turns), files in joints.items()
    }
    title = part.name if part.alone else in_language(pattern.views[part.name].title, pattern.languages[0])
    for name, (layout, plan) in places.items():
        drawings = [drawing for place in layout.placements for drawing in drawn[place.piece, place.quarter_turns]]
        file = f"{part.name}-{name}{ending}.pdf"
        print_file = PrintFile(
            imprint=imprint_of(pattern, name, title),
            plan=plan,
            layout=layout,
            sizes=part.sizes,
            overlays=page_overlays(
                pattern,
                plan,
                part.sizes,
                map_pieces(pattern, layout, cuts),
                shown_signs(drawings),
                file,
                part.strips,
                part.logo,
            ),
            layered=not part.alone,
        )
        yield file, compose(print_file, drawings, render_drawings(drawings))
