"""How often a strip is cut, against the edges that it goes round and the marks that are named after it."""

from collections.abc import Iterator

import msgspec

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.strip_marks import ON_FOLD_MM, may_end_on_both_sides, number_of_mark, strip_of_mark
from pipeline.geometry.points import Point
from pipeline.model.pattern import Reference, Strip
from pipeline.model.pieces import CutPiece
from pipeline.model.questions import mark_spec, share_a_view, worn_of


class _Use(msgspec.Struct, frozen=True):
    """So many strips are needed, or any of so many, and who says so."""

    times: tuple[float, ...]
    told: str


class _Mark(msgspec.Struct, frozen=True):
    """A mark named after a strip: by number, on the fold, on one side alone, one end of two of the same strip."""

    number: str
    on_fold: bool
    sided: bool
    may_be_end: bool


@CHECKS.register(
    id="strip-uses",
    title="Every strip is cut as often as there are edges and marks for it",
    rationale="Of two cuffs, ties or loops one is easily left out of a list: the second sleeve is found without it.",
    remedy="correct the strip's count, or what it goes round; waive this where more of it is meant",
    severity="warn",
    source="a strip for each edge it goes round and each mark named after it: common practice",
    needs=("strips",),
)
def strip_uses(garment: Garment) -> Iterator[Outcome]:
    """Whole factors of `goes_round` against the edges there are; notches and points called after the strip.

    Flat strips may lie in several layers: a whole multiple of them is let be.
    """
    for strip in garment.pattern.strips.values():
        for size in garment.pattern.sizes:
            counts = [count for cut in strip.cut if (count := worn_of(cut, size).copies)]
            for use in (*_round(garment, strip, size), *_marked(garment, strip, size)):
                layers = strip.make == "flat" and any(count % times == 0 for count in counts for times in use.times)
                if counts and not layers and set(use.times).isdisjoint(counts):
                    yield Outcome(
                        code="used-otherwise",
                        size=size,
                        where=f"strips.{strip.name}",
                        file="pattern.toml",
                        object=f"strips.{strip.name}.cut",
                        found=" and ".join(map(str, counts)),
                        allowed=" or ".join(f"{times:g}" for times in use.times),
                        message=f"{strip.name} is not cut as often as {use.told}",
                    )
                    break


def _round(garment: Garment, strip: Strip, size: str) -> Iterator[_Use]:
    """Edges that the strip goes round, divided by how many of them one strip takes."""
    for term in strip.goes_round.terms if strip.goes_round else ():
        if not isinstance(term.of, Reference) or term.of.piece == "body" or term.factor <= 0:
            continue
        cut = garment.cut(term.of.piece, size)
        if cut is None or not any(edge.name == term.of.line for edge in cut.edges):
            continue
        for there in _edges(garment, cut):
            if term.factor == round(term.factor) and there % term.factor == 0:
                text = f"{there} edges {term.of.piece}.{term.of.line} are there, {term.factor:g} for each strip"
                yield _Use((there / term.factor,), text)
                return


def _edges(garment: Garment, cut: CutPiece) -> list[int]:
    """How often an edge of a piece is there, in all materials together and in each: twice a piece on the fold."""
    counts = [worn_of(entry, cut.size).copies for entry in garment.pattern.pieces[cut.piece].cut]
    return [count * (1 if cut.fold is None else 2) for count in counts[:1] if count]


def _marked(garment: Garment, strip: Strip, size: str) -> Iterator[_Use]:
    """Marks called after the strip: `loop`, or `loop-1` and `loop-2` for two of them on one piece.

    A notch that both sides of a seam have is one place; a point that one side of the wearer has is there once for two.
    What may be both ends of one strip may be as many strips, or half as many.
    """
    places: dict[tuple[str, str], int] = {}
    ends: dict[tuple[str, str], bool] = {}
    for spec, cut in garment.each():
        if cut.size != size or spec.source is not None or not share_a_view(strip.views, spec.views):
            continue
        count = sum(worn_of(entry, size).copies for entry in spec.cut)
        for mark in _named_after(garment, strip, cut):
            there = count * (2 if cut.fold is not None and not mark.on_fold else 1)
            key = (spec.name, mark.number)
            places[key] = max(places.get(key, 0), -(-there // 2) if mark.sided else there)
            ends[key] = ends.get(key, True) and mark.may_be_end and there % 2 == 0
    if not places:
        return
    wanted = [
        (max(places[key] for key in group), all(ends[key] for key in group)) for group in _joined(garment, places)
    ]
    all_of, fewest = sum(there for there, _ in wanted), sum(there // 2 if is_end else there for there, is_end in wanted)
    text = f"there are marks for it: on {' and '.join(dict.fromkeys(piece for piece, _ in places))}"
    yield _Use(tuple(dict.fromkeys((all_of, fewest))), text)


def _named_after(garment: Garment, strip: Strip, cut: CutPiece) -> Iterator[_Mark]:
    """The marks of a piece that are named after a strip."""
    marks = [(notch.name or "", notch.place, False) for notch in cut.drawn.notches]
    for point in cut.drawn.points:
        sided = mark_spec(garment.pattern, cut.piece, point.name or "", "points").side is not None
        marks.append((point.name or "", point.place, sided))
    for name, place, sided in marks:
        if strip_of_mark(garment.pattern, name) == strip.name:
            on_fold = _on_fold(cut, place)
            both = not on_fold and not sided and may_end_on_both_sides(garment, strip, cut, place)
            yield _Mark(number_of_mark(strip.name, name), on_fold, sided, both)


def _on_fold(cut: CutPiece, place: Point) -> bool:
    if cut.fold is None:
        return False
    along = cut.fold[0].to(cut.fold[1]).unit()
    return abs(along.cross(cut.fold[0].to(place))) <= ON_FOLD_MM


def _joined(garment: Garment, places: dict[tuple[str, str], int]) -> list[set[tuple[str, str]]]:
    """Marks of pieces that are sewn to each other, where both have it, are one place."""
    groups: list[set[tuple[str, str]]] = [{key} for key in places]
    for seam in garment.pattern.seams.values():
        pieces = {step.piece for step in (*seam.a, *seam.b)} if seam.kind == "sewn" else set()
        for name in dict.fromkeys(name for _, name in places):
            together = {key for key in places if key[0] in pieces and key[1] == name and _is_notch(garment, key)}
            touched = [group for group in groups if group & together]
            if len(touched) > 1:
                groups = [group for group in groups if group not in touched] + [set().union(*touched)]
    return groups


def _is_notch(garment: Garment, key: tuple[str, str]) -> bool:
    cut = next(iter(garment.cuts[key[0]].values()))
    return any((notch.name or "").startswith(key[1]) for notch in cut.drawn.notches)
