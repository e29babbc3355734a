"""Marks that are named after a strip: which strip, and whether two that mirror each other are both ends of one."""

import re

from pipeline.checks.edge_seams import sewn_to_itself
from pipeline.checks.garment import Garment
from pipeline.checks.totals import total_mm
from pipeline.geometry.curves import Path, nearest_on_path
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern, Strip
from pipeline.model.pieces import CutPiece

ON_FOLD_MM = 1.0
_LOOP_MM = 150.0
"""A strip no longer than this is a loop or a tab, both ends of which are caught: from memory."""


def strip_of_mark(pattern: Pattern, name: str) -> str | None:
    """The strip that a mark is named after: `loop`, `loop-2`, `loop-end`; of several the one with the longest name."""
    return max((s for s in pattern.strips if name == s or name.startswith(f"{s}-")), key=len, default=None)


def number_of_mark(strip: str, name: str) -> str:
    """Which of a piece's places for a strip a mark belongs to: other endings are ends of one."""
    match = re.match(rf"{re.escape(strip)}-\d+(?=-|$)", name)
    return match[0] if match else strip


def mirror_line(garment: Garment, cut: CutPiece) -> Path | None:
    """What a piece and its mirror image meet in: its fold, or a single edge that a seam sews to itself."""
    fold = next((edge.name for edge in cut.edges if edge.fold), None)
    sewn = [seam.a[0].edge for seam in sewn_to_itself(garment, cut.piece) if len(seam.a) == 1]
    edge = fold or (sewn[0] if len(sewn) == 1 else None)
    return cut.drawn.edge(edge).path if edge is not None else None


def may_end_on_both_sides(garment: Garment, strip: Strip, cut: CutPiece, place: Point) -> bool:
    """Whether one strip may be caught by one end at a mark and by the other at the mark's mirror image.

    It reaches from one to the other, and has no free end: it says that it is no cord, or is as short as a loop.
    """
    middle, length_mm = mirror_line(garment, cut), total_mm(garment, strip.length, cut.size)
    if middle is None or length_mm is None or strip.cord:
        return False
    apart_mm = 2 * nearest_on_path(middle, place)[0]
    return length_mm >= apart_mm and (strip.cord is False or length_mm <= _LOOP_MM)
