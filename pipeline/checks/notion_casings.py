"""Casings are wide enough; elastic has the share that is said, and what it gathers lets the wearer in."""

from collections.abc import Iterable, Iterator
from itertools import pairwise

import numpy as np
import shapely

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.knits import share_off
from pipeline.checks.notions import amount_of, notion_outcome
from pipeline.checks.registry import Outcome
from pipeline.checks.strips import strip_outcome
from pipeline.checks.topstitch import turned_depth_mm
from pipeline.checks.totals import total_mm
from pipeline.model.pattern import Casing, Notion, Reference, Sum
from pipeline.model.pieces import CutPiece

EASE_MM = 3.0
"""What a casing is wider than its elastic or drawstring, which else rolls or does not go through (common practice)."""
_TOLERANCE_MM = 1.0
_SAME_MM = 0.05
_SAMPLES = np.linspace(0.25, 0.75, 11)
"""Where along a fold its width is measured: away from its ends, which may be shaped."""


@CHECKS.register(
    id="casing-fits",
    title="A casing is wider than what is drawn into it",
    rationale="Elastic or a drawstring as wide as its casing does not go through it, or rolls over in it.",
    remedy="deepen the casing, or say a narrower elastic or strip",
    severity="block",
    source=f"{EASE_MM:g} mm wider: common practice",
)
def casing_fits(garment: Garment) -> Iterator[Outcome]:
    """`width` against the room in each `casing`, in every size that has it."""
    for notion in garment.pattern.notions.values():
        if notion.width_mm is not None:
            for told in _too_narrow(garment, notion.casings, notion.width_mm, "elastic"):
                yield notion_outcome(notion, "casing-too-narrow", *told)
    for strip in garment.pattern.strips.values():
        for told in _too_narrow(garment, strip.casings, strip.width_mm, "strip"):
            yield strip_outcome(strip, "casing-too-narrow", *told)


def _too_narrow(
    garment: Garment, casings: Iterable[Casing], width_mm: float, what: str
) -> Iterator[tuple[str, str, str, str]]:
    """The size, what was found there, what is allowed, and how it is told."""
    for casing in casings:
        for size in garment.pattern.sizes:
            room_mm = casing_mm(garment, casing, size)
            if room_mm is None or room_mm >= width_mm + EASE_MM - _SAME_MM:
                continue
            name = f"{casing.owner}.{casing.line}" if casing.line else casing.owner
            text = f"its casing {name} is {room_mm:.1f} mm wide, and the {what} {width_mm:g} mm"
            yield size, f"{room_mm:.1f} mm", f"at least {width_mm + EASE_MM:g} mm", text


def casing_mm(garment: Garment, casing: Casing, size: str) -> float | None:
    """How wide a casing is once it is sewn; None where the size has none.

    A strip by its finished width; a fold by what lies beside it, on its narrower side; a hem by what is turned up, of
    which rows of topstitching leave the widest stretch between two of them.
    """
    if casing.line is None:
        return garment.pattern.strips[casing.owner].width_mm
    cut = garment.cut(casing.owner, size)
    if cut is None:
        return None
    edge = next((edge for edge in cut.edges if edge.name == casing.line), None)
    if edge is None or edge.fold:
        return _beside_fold_mm(cut, casing.line)
    spec = garment.edge_spec(casing.owner, casing.line)
    turned_mm = turned_depth_mm(edge, spec.folds_mm)
    rows_mm = [row for row in spec.topstitch_mm if row <= turned_mm + _SAME_MM]
    return max((after - before for before, after in pairwise((0.0, *rows_mm))), default=turned_mm)


def _beside_fold_mm(cut: CutPiece, name: str) -> float | None:
    """From a fold, an edge or a line, straight across to the seam line: the least along its middle half."""
    fold = cut.fold if any(edge.name == name and edge.fold for edge in cut.edges) else None
    line = next((line for line in cut.drawn.inside if line.name == name), None)
    if fold is None and line is None:
        return None
    ends = fold or ((line.path[0].start, line.path[-1].end) if line is not None else None)
    start, end = (np.array(place) for place in ends or ())
    along = (end - start) / np.hypot(*(end - start))
    piece, found = shapely.polygons(cut.seam_drawn), []
    left, top, right, bottom = shapely.bounds(piece)
    far = float(np.hypot(right - left, bottom - top))
    for across in (np.array([along[1], -along[0]]), np.array([-along[1], along[0]])):
        for share in _SAMPLES:
            place = start + share * (end - start)
            inside = shapely.intersection(piece, shapely.linestrings([place, place + far * across]))
            parts = [part for part in shapely.get_parts(inside) if shapely.length(part) > _SAME_MM]
            nearest = min(parts, key=lambda part: float(shapely.distance(part, shapely.points(place))), default=None)
            found += [float(shapely.length(nearest))] if nearest is not None else []
    return min(found, default=None)


@CHECKS.register(
    id="elastic-lengths",
    title="Elastic has its share of what it goes round, and what it gathers lets the wearer in",
    rationale="Elastic that is too long holds nothing up, one too short cuts in; a waist below the hips stays off.",
    remedy="correct the elastic's length, its share, or the edge that it gathers",
    severity="block",
    source="the designer's own share, within half a percent; pulled flat, what it goes round x (1 + stretch), geometry",
)
def elastic_lengths(garment: Garment) -> Iterator[Outcome]:
    """`length` against `stretched` of `goes_round`; and that against `opens_to`, with what a knit gives across."""
    for notion in garment.pattern.notions.values():
        for size in garment.pattern.sizes if notion.goes_round is not None else ():
            yield from _elastic(garment, notion, size)


def _elastic(garment: Garment, notion: Notion, size: str) -> Iterator[Outcome]:
    length_mm = amount_of(garment, notion, size)
    round_mm = total_mm(garment, notion.goes_round, size) if notion.goes_round is not None else None
    if length_mm is None or not round_mm:
        return
    if notion.stretched is not None:
        if off := share_off(notion.stretched, length_mm, round_mm):
            yield notion_outcome(notion, "other-share", size, *off)
    elif length_mm > round_mm + _TOLERANCE_MM:
        text = f"it is {length_mm - round_mm:.1f} mm longer than what it goes round"
        yield notion_outcome(notion, "slack", size, f"{length_mm:.1f} mm", f"at most {round_mm:.1f} mm", text)
    wanted_mm = total_mm(garment, notion.opens_to, size) if notion.opens_to is not None else None
    opens_mm = round_mm * (1 + _gives(garment, notion.goes_round))
    if wanted_mm is not None and wanted_mm > opens_mm + _TOLERANCE_MM:
        text = f"what it goes round opens to {opens_mm:.0f} mm, and {wanted_mm:.0f} mm must pass"
        yield notion_outcome(notion, "does-not-open", size, f"{opens_mm:.1f} mm", f"at least {wanted_mm:.1f} mm", text)


def _gives(garment: Garment, total: Sum | None) -> float:
    """What the cloths of a sum's pieces give across, as a share: the least of them."""
    pattern, terms = garment.pattern, total.terms if total is not None else ()
    pieces = {term.of.piece for term in terms if isinstance(term.of, Reference)} & set(pattern.pieces)
    cloths = {entry.material for piece in pieces for entry in pattern.pieces[piece].cut}
    return min((pattern.materials[cloth].stretch_width or 0.0 for cloth in cloths), default=0.0)
