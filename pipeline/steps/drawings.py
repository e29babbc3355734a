"""Cut pieces, layouts and pages in; every drawing as one page of a PDF, their index, and what they leave out, out."""

from functools import partial
from pathlib import Path

import msgspec

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.nest.page_joints import Joints, joints_in_nest
from pipeline.drawing.pages.overlays import Told
from pipeline.drawing.pages.piece_doubts import piece_findings
from pipeline.drawing.panels.map import map_pieces
from pipeline.drawing.piece.pieces import draw_nest
from pipeline.model.findings import FindingsFile
from pipeline.press.ready import make_ready
from pipeline.sheets.layout import Layout, PagePlan
from pipeline.steps.inputs import cuts_by_piece, strips_by_size
from pipeline.steps.printed import printed_pattern
from pipeline.work.cache import Cache
from pipeline.work.files import read_json, write, write_json


def main(
    folder: Path,
    work: Path,
    languages: list[str],
    pieces: list[Path],
    layouts: Path,
    page_plans: Path,
    index: Path,
    pages: Path,
    map: Path,
    findings: Path,
) -> None:
    """Draw the nest of every stack in each turn in which a print file has it, its texts off the joints of the pages, in
    the languages of these files."""
    make_ready(work / ".run")
    from pipeline.press.forms import render_drawings  # cairo reads where fonts are when it is loaded

    pattern = msgspec.structs.replace(printed_pattern(folder), languages=tuple(languages))
    arranged, cuts = read_json(layouts, dict[str, Layout]), cuts_by_piece(pieces)
    joints: dict[tuple[str, int], list[Joints]] = {}  # files in which a piece is turned alike share its drawing
    for plan in read_json(page_plans, list[PagePlan]):
        for place in arranged[plan.format].placements:
            joints.setdefault((place.piece, place.quarter_turns % 4), []).append(joints_in_nest(plan, place))
    cache = Cache(index.with_name("cache") / index.stem, draw_nest.__module__)
    drawings: list[Drawing] = []
    for (piece, turns), files in joints.items():
        made_from = pattern, cuts[piece], turns, tuple(files)
        drawings += cache.value_of(made_from, partial(draw_nest, *made_from[:3], joints=files), tuple[Drawing, ...])
    cache.forget_others()
    write_json(index, drawings)
    write_json(findings, FindingsFile(findings=tuple(piece_findings(pattern, cuts, drawings))))
    told = Told(
        pieces={name: map_pieces(pattern, layout, cuts) for name, layout in arranged.items()},
        strips=strips_by_size(pattern, cuts),
    )
    write_json(map, told)
    write(pages, render_drawings(drawings))
