"""The demos' drawings as a build makes them: on the kept layout, one size on its own, or for a projector."""

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

from pipeline.bundle.promised import print_files, tiled_formats
from pipeline.cutting.cut import cut_pieces
from pipeline.drawing.drawing import Drawing
from pipeline.drawing.nest.page_joints import Joints, joints_in_nest
from pipeline.drawing.piece.pieces import NestStyle, draw_nest, draw_projector_nest
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.sheets.arrange import arrange
from pipeline.sheets.large import plan_large
from pipeline.sheets.layout import LargeLayout, Layout, SavedLayout
from pipeline.sheets.papers import PAPERS, tile_of
from pipeline.sheets.placed import placed_stacks
from pipeline.sheets.projector import arrange_projector, projector_cuts, projector_stacks
from pipeline.sheets.stacks import stacks_of
from pipeline.sheets.tile import plan_pages
from pipeline.steps.part_files import EFFORT
from pipeline.work.files import read_json

SOURCE = Path(__file__).resolve().parents[2] / "source"
DEMOS = ("work-jacket", "half-circle-skirt", "child-pinafore")

Cuts = Mapping[str, Mapping[str, CutPiece]]
"""Cut pieces by piece and size."""


class Drawn(NamedTuple):
    """One stack as it is printed; `joints` are those of the papers by name, in its nest coordinates."""

    pattern: str
    piece: str
    quarter_turns: int
    cuts: Mapping[str, CutPiece]
    drawings: tuple[Drawing, ...]
    joints: Mapping[str, Joints]


def demo(name: str) -> tuple[Pattern, Cuts]:
    """A demo pattern and its cut pieces in all sizes."""
    return cut_of(SOURCE / name)


@cache
def cut_of(folder: Path) -> tuple[Pattern, Cuts]:
    """The pattern of a folder and its cut pieces in all sizes."""
    pattern, findings = load_pattern(folder)
    assert pattern is not None, findings
    cuts: dict[str, dict[str, CutPiece]] = {}
    for size in pattern.sizes:
        for cut in cut_pieces(pattern, size, read_size(pattern, folder, size)[0])[0]:
            cuts.setdefault(cut.piece, {})[size] = cut
    return pattern, cuts


def nested(name: str) -> Iterator[Drawn]:
    """Every stack of all sizes where the layouts that are kept beside the source put it, in each of its turns."""
    pattern, cuts = demo(name)
    kept = read_json(SOURCE / name / "layout.json", SavedLayout)
    layouts = {paper: kept.large.get(paper, kept.layout) for paper in print_files(pattern)}
    return _drawn(pattern, cuts, layouts, "nested")


def alone(name: str, size: str) -> Iterator[Drawn]:
    """Every piece of one size, arranged for itself on each tiled paper."""
    pattern, every = demo(name)
    cuts = {piece: {size: sizes[size]} for piece, sizes in every.items() if size in sizes}
    stacks, spec = stacks_of(pattern, cuts), pattern.print
    layouts = {
        paper: arrange(stacks, (tile_of(PAPERS[paper], spec.margin_mm, spec.overlap_mm),), effort=EFFORT)
        for paper in tiled_formats(pattern)
    }
    return _drawn(pattern, cuts, layouts, "plain")


def projected(name: str) -> Iterator[Drawn]:
    """Every stack of all sizes as the projector's sheets turn it, material by material."""
    pattern, every = demo(name)
    for material, spec in pattern.materials.items():
        cuts = projector_cuts(pattern, every, material)
        layout = arrange_projector(projector_stacks(pattern, cuts), pattern.projector.width_mm, spec.nap == "one-way")
        for place in layout.placements:
            drawings = draw_projector_nest(pattern, cuts[place.piece], place.quarter_turns)
            yield Drawn(pattern.name, place.piece, place.quarter_turns, cuts[place.piece], drawings, {})


def _drawn(
    pattern: Pattern, cuts: Cuts, layouts: Mapping[str, Layout | LargeLayout], style: NestStyle
) -> Iterator[Drawn]:
    stacks, spec = stacks_of(pattern, cuts), pattern.print
    sizes = pattern.sizes if style == "nested" else tuple(next(iter(cuts.values())))
    passed: dict[tuple[str, int], dict[str, Joints]] = {}
    for paper, arranged in layouts.items():
        if isinstance(arranged, LargeLayout):
            layout = arranged.layout
            plan = plan_large(arranged, placed_stacks(stacks, layout), PAPERS[paper], sizes)
        else:
            layout, inks = arranged, placed_stacks(stacks, arranged)
            plan = plan_pages(layout, inks, PAPERS[paper], sizes, (), spec.margin_mm, spec.overlap_mm)
        for place in layout.placements:
            passed.setdefault((place.piece, place.quarter_turns % 4), {})[paper] = joints_in_nest(plan, place)
    for (piece, turns), joints in passed.items():
        drawings = draw_nest(pattern, cuts[piece], turns, style, tuple(joints.values()))
        yield Drawn(pattern.name, piece, turns, cuts[piece], drawings, joints)
