"""Pieces that are called linings, and the cloth that linings are cut of."""

from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.model.piece_specs import PieceSpec

_LEAST = 2


@CHECKS.register(
    id="cut-linings",
    title="What is called a lining is cut of what the other linings are cut of",
    rationale="A lining sleeve that was copied from the sleeve keeps its cloth, and is cut of coating.",
    remedy="correct the material in the piece's cut, or waive this where this lining is of another cloth on purpose",
    severity="warn",
    source=f"one cloth for all linings, where {_LEAST} others and more agree: common practice",
)
def cut_linings(garment: Garment) -> Iterator[Outcome]:
    """Pieces with `lining` in their name or English title that have no layer of the material that all
    others have."""
    linings = [spec for spec in garment.pattern.pieces.values() if spec.source is None and _is_called_lining(spec)]
    for spec in linings:
        others = [{entry.material for entry in other.cut} for other in linings if other is not spec]
        common = set.intersection(*others) if len(others) >= _LEAST else set()
        own = [entry.material for entry in spec.cut]
        if own and common and common.isdisjoint(own):
            yield Outcome(
                code="other-material",
                piece=spec.name,
                file="pattern.toml",
                object=f"pieces.{spec.name}.cut",
                found=" and ".join(own),
                allowed=f"{' or '.join(sorted(common))}, as all {len(others)} other linings",
                message=f"{spec.name} is called a lining, and is not cut of what the other linings are cut of",
            )


def _is_called_lining(spec: PieceSpec) -> bool:
    """By a part of its name, or a word of its English title."""
    said = f"{spec.name.replace('_', '-').replace('-', ' ')} {spec.title.get('en', '')}".lower()
    return "lining" in said.split()
