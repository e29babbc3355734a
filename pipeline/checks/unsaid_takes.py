"""A side of a seam that is too long by just what lies between two notches: perhaps a dart that nobody said."""

from itertools import pairwise

from pipeline.checks.garment import Garment
from pipeline.model.pattern import SideEdge

_LIKE_MM = 1.5
"""Two notches that lie so nearly as far apart as a side is too long may hold what is too much of it."""


def unsaid_take(garment: Garment, side: tuple[SideEdge, ...], size: str, excess_mm: float) -> str:
    """What to write in `pattern.toml` if it is one; "" where no two notches of the side lie so far apart."""
    for step in side:
        cut = garment.cut(step.piece, size)
        if cut is None or step.part is not None or garment.takes(step.piece, step.edge):
            continue
        notches = sorted((notch for notch in cut.drawn.notches if notch.edge == step.edge), key=lambda each: each.at_mm)
        for one, two in pairwise(notches):
            if abs(two.at_mm - one.at_mm - excess_mm) <= _LIKE_MM:
                names = "" if one.name and two.name else ", once both notches have names"
                start, end = one.name or "…", two.name or "…"
                take = f'{{ from = "{start}", to = "{end}", kind = "dart" }}'
                return (
                    f"if a dart or a pleat lies between the two notches of {step.piece}.{step.edge} that are"
                    f" {two.at_mm - one.at_mm:.1f} mm apart, say so: "
                    f"edges.{step.edge} = {{ takes = [{take}] }}{names}; else "
                )
    return ""
