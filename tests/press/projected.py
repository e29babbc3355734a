"""Projector files as a build makes them, with the layer of one size alone, held against that size's outlines."""

from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from typing import NamedTuple

import numpy as np
import shapely

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.nest.one_size import in_nest
from pipeline.drawing.pages.projector import panel_width_mm, projector_page, projector_plan
from pipeline.drawing.pages.projector_panel import projector_panel
from pipeline.drawing.piece.pieces import draw_projector_nest
from pipeline.drawing.wording import size_label
from pipeline.model.pattern import Pattern
from pipeline.model.questions import may_have_nap
from pipeline.press.compose import PrintFile, compose
from pipeline.press.forms import render_drawings
from pipeline.press.imprint import imprint_of
from pipeline.sheets.layout import Layout
from pipeline.sheets.projector import BORDER_MM, arrange_projector, projector_cuts, projector_stacks
from tests.drawing.demo_nests import Cuts, cut_of
from tests.drawing.seen import texts
from tests.press import proof
from tests.press.proof import Grey

PIXELS = 2
"""To the millimetre: a line of 2 mm is 4 of them wide."""
_STEP_MM = 0.5
_CORNER_DEG = 20.0


class Projected(NamedTuple):
    """What is cut of one material, arranged and drawn for a projector."""

    pattern: Pattern
    material: str
    cuts: Cuts
    layout: Layout
    drawings: tuple[Drawing, ...]


class Gap(NamedTuple):
    """Where a cut line is not seen: from and to in mm along the chain that is `length_mm` long, and its middle."""

    piece: str
    start_mm: float
    end_mm: float
    length_mm: float
    nearest_corner_mm: float
    run: shapely.LineString


@cache
def projected(folder: Path, material: str) -> Projected:
    """The drawings of a pattern's projector file for a material."""
    pattern, every = cut_of(folder)
    cuts = projector_cuts(pattern, every, material)
    one_way = may_have_nap(pattern, material)
    layout = arrange_projector(projector_stacks(pattern, cuts), pattern.projector.width_mm, one_way)
    drawings = [
        drawing
        for place in layout.placements
        for drawing in draw_projector_nest(pattern, cuts[place.piece], place.quarter_turns)
    ]
    return Projected(pattern, material, cuts, layout, tuple(drawings))


def write_file(shown: Projected, target: Path) -> Path:
    """The projector file, black on white."""
    panel = projector_panel(
        shown.pattern, shown.material, shown.cuts, panel_width_mm(shown.layout), shown.pattern.sizes
    )
    plan = projector_plan(shown.layout, shown.pattern.sizes, (), panel.height_mm)
    file = PrintFile(
        imprint=imprint_of(shown.pattern, "projector"),
        plan=plan,
        layout=shown.layout,
        sizes=shown.pattern.sizes,
        overlays=(projector_page(plan, panel, "black-on-white"),),
    )
    target.write_bytes(compose(file, shown.drawings, render_drawings(shown.drawings)))
    return target


def with_one_layer(file: Path, shown: Projected, size: str, target: Path) -> Grey:
    """The file as a picture with the layer of one size alone."""
    word = file_word(shown.pattern)
    off = {f"{word} {other}" for other in shown.pattern.sizes if other != size}
    picture = proof.switched_off(file, off, target) if off else file
    return proof.pdfium(picture, 0, PIXELS * 25.4)


def file_word(pattern: Pattern) -> str:
    """What stands before a size in a layer's name."""
    return imprint_of(pattern, "projector").layer_word


def gaps(shown: Projected, size: str, grey: Grey) -> Iterator[Gap]:
    """Where the cut lines of a size are not seen in a picture, sampled twice a millimetre."""
    for place in shown.layout.placements:
        if (cut := shown.cuts[place.piece].get(size)) is None:
            continue
        piece = in_nest(cut, place.quarter_turns, shown.pattern.projector.unfold)
        for chain in piece.cut:
            line = shapely.LineString([(x + place.x_mm, y + place.y_mm) for x, y in chain.ring])
            along = np.arange(0.0, line.length, _STEP_MM)
            places = shapely.get_coordinates(shapely.line_interpolate_point(line, along))
            columns, rows = np.floor((places + BORDER_MM) * PIXELS).astype(int).T
            missing = np.flatnonzero(grey[rows, columns] > 127)
            corners = _corners_mm(line, chain.closed)
            for part in np.split(missing, np.flatnonzero(np.diff(missing) > 1) + 1) if len(missing) else ():
                start, end = float(along[part[0]]), float(along[part[-1]])
                near = min((max(start - at, at - end, 0.0) for at in corners), default=np.inf)
                run = shapely.LineString(places[[part[0], part[-1]]])
                yield Gap(place.piece, start, end, line.length, near, run)


def _corners_mm(line: shapely.LineString, closed: bool) -> list[float]:
    """Where along a line it turns, over 2 mm, by more than what a curve does."""
    along = np.arange(0.0, line.length, 1.0)
    ahead, behind = along + 1.0, along - 1.0
    if closed:
        ahead, behind = ahead % line.length, behind % line.length
    places, fore, aft = (
        shapely.get_coordinates(shapely.line_interpolate_point(line, at)) for at in (along, ahead, behind)
    )
    one, two = places - aft, fore - places
    turn = np.abs(np.degrees(np.arctan2(one[:, 0] * two[:, 1] - one[:, 1] * two[:, 0], (one * two).sum(axis=1))))
    return along[turn > _CORNER_DEG].tolist()


def own_labels(shown: Projected, size: str, piece: str) -> list[shapely.Polygon]:
    """The sizes that are written in the lines of a piece where one size is shown."""
    (place,) = (place for place in shown.layout.placements if place.piece == piece)
    mine: Sequence[Drawing] = [each for each in shown.drawings if each.piece == piece and size in each.sizes]
    return [
        shapely.affinity.translate(text.box, place.x_mm, place.y_mm)
        for text in texts(mine)
        if text.anchor == "middle" and text.content == size_label(text.sizes, shown.pattern)
    ]
