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
    source=(
        f"one cloth for all linings, where {_LEAST} others and more agree, or the one other is of a cloth that linings"
        " alone are cut of and this one is not: common practice"
    ),
)
def cut_linings(garment: Garment) -> Iterator[Outcome]:
    """Pieces with `lining` in their name or English title that have no layer of the material that all others have. One
    other tells where the cloth of each says which of the two is the slip."""
    linings = [spec for spec in garment.pattern.pieces.values() if spec.source is None and _is_called_lining(spec)]
    outer = {entry.material for spec in garment.pattern.pieces.values() if spec not in linings for entry in spec.cut}
    for spec in linings:
        others = [{entry.material for entry in other.cut} for other in linings if other is not spec]
        common = set.intersection(*others) if others else set()
        own = [entry.material for entry in spec.cut]
        sure = len(others) >= _LEAST or (outer.issuperset(own) and common.isdisjoint(outer))
        if own and common and common.isdisjoint(own) and sure:
            yield Outcome(
                code="other-material",
                piece=spec.name,
                file="pattern.toml",
                object=f"pieces.{spec.name}.cut",
                found=" and ".join(own),
                allowed=f"{' or '.join(sorted(common))}, as {_others_text(len(others))}",
                message=f"{spec.name} is called a lining, and is not cut of what {_others_are(len(others))} cut of",
            )


def _others_are(count: int) -> str:
    return "the other linings are" if count > 1 else "the other lining is"


def _others_text(count: int) -> str:
    return f"all {count} other linings" if count > 1 else "the one other lining"


def _is_called_lining(spec: PieceSpec) -> bool:
    """By a part of its name, or a word of its English title."""
    said = f"{spec.name.replace('_', '-').replace('-', ' ')} {spec.title.get('en', '')}".lower()
    return "lining" in said.split()
