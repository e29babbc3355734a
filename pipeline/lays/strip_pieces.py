"""In how many pieces a strip is cut, where it may be joined."""

import math

import msgspec

from pipeline.lays.items import usable_width_mm
from pipeline.model.pattern import Material, Strip


class StripPieces(msgspec.Struct, frozen=True, kw_only=True):
    """One strip as cut: `pieces` rectangles, each `width_mm` by `length_mm`, sewn to one at `pieces - 1` joins."""

    width_mm: float
    length_mm: float
    pieces: int

    @property
    def joins(self) -> int:
        """How many seams make it one."""
        return self.pieces - 1


def longest_piece_mm(strip: Strip, cut_width_mm: float, material: Material) -> float:
    """The longest piece of a strip that the narrowest cloth yields: calculated from the cloth's usable width.

    Across, that is the width; on the bias a rectangle L by w takes (L + w) / √2 of it; along the grain a strip that may
    be joined is not let run longer than the cloth is wide, so that no strip alone decides the length of a lay. On cloth
    laid folded, across and bias strips lie on half of it, and on a quarter where it is only laid on two folds.
    """
    usable = min(usable_width_mm(material, width) for width in material.widths_mm)
    if strip.grain == "along":
        return usable
    if material.ways == ("open",):
        layer = usable
    else:
        layer = usable / (2 if {"fold", "partial-fold"} & set(material.ways) else 4)
    return layer if strip.grain == "across" else layer * math.sqrt(2) - cut_width_mm


def strip_pieces(strip: Strip, cut_width_mm: float, cut_length_mm: float, material: Material) -> StripPieces:
    """One piece, or as few as can be where the strip may be joined and is too long.

    Each join takes its allowance from both ends that meet there: n pieces of length p make n p - 2 (n - 1) join.
    """
    longest = longest_piece_mm(strip, cut_width_mm, material)
    pieces = 1
    if strip.join_mm is not None and longest > 2 * strip.join_mm:
        lost = 2 * strip.join_mm
        pieces = max(1, math.ceil((cut_length_mm - lost) / (longest - lost) - 1e-9))
    lost_mm = 2 * (strip.join_mm or 0.0) * (pieces - 1)
    return StripPieces(width_mm=cut_width_mm, length_mm=(cut_length_mm + lost_mm) / pieces, pieces=pieces)
