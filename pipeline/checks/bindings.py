"""Bindings: what is laid round a curved raw edge must give, so it is cut on the bias, or across a knitted cloth."""

import math
from collections.abc import Iterator
from itertools import pairwise

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.geometry.curves import direction
from pipeline.model.pattern import Reference, Strip
from pipeline.model.pieces import CutPiece

CURVED_DEG = 30.0
_STEPS = 16
_BINDS = ("edges-to-centre", "thirds", "quarters")


@CHECKS.register(
    id="strip-grain",
    title="What binds a curved edge is cut so that it gives",
    rationale="A straight strip is as long at both its edges: round a neck it pulls at one and puckers at the other.",
    remedy='say grain = "bias" for the strip, or "across" where the cloth is knitted',
    severity="warn",
    source=(
        f"folded strips round raw edges that turn by {CURVED_DEG:g} degrees and more; woven cloth gives on the bias, "
        "knitted cloth across: common practice, the limit from memory"
    ),
    needs=("strips",),
)
def strip_grain(garment: Garment) -> Iterator[Outcome]:
    """Strips that are folded round edges without allowance, and lie along the cloth, or any way."""
    for strip in garment.pattern.strips.values():
        if strip.make not in _BINDS or strip.grain not in ("along", "any"):
            continue
        turned = [(of, turn_deg(cut, of.line)) for of in bound_edges(strip) if (cut := _raw(garment, of)) is not None]
        of, most = max(turned, key=lambda item: item[1], default=(None, 0.0))
        if of is not None and most >= CURVED_DEG:
            yield Outcome(
                code="does-not-give",
                where=f"strips.{strip.name}",
                file="pattern.toml",
                object=f"strips.{strip.name}.grain",
                found=f"{strip.grain}, round {of.piece}.{of.line}, which turns by {most:.0f} degrees",
                allowed="bias, or across",
                message=f"{strip.name} binds a curve, and cut {strip.grain} the cloth it cannot follow one",
            )


def bound_edges(strip: Strip) -> list[Reference]:
    """The edges that a strip's sums name, each once."""
    terms = [term.of for total in (strip.goes_round, strip.length) if total for term in total.terms]
    return list(dict.fromkeys(of for of in terms if isinstance(of, Reference) and of.piece != "body"))


def turn_deg(cut: CutPiece, edge: str) -> float:
    """How far an edge turns in all between its ends, left and right turns added up."""
    places = [
        direction(segment, index / _STEPS) for segment in cut.drawn.edge(edge).path for index in range(_STEPS + 1)
    ]
    return math.degrees(sum(abs(one.turn_rad(two)) for one, two in pairwise(places)))


def _raw(garment: Garment, of: Reference) -> CutPiece | None:
    """The piece of an edge that has no allowance, in the first size that has it."""
    cut = next(iter(garment.cuts.get(of.piece, {}).values()), None)
    raw = cut is not None and any(edge.name == of.line and edge.widest_mm == 0 for edge in cut.edges)
    return cut if raw else None
