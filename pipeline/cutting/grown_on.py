"""What is cut in one with a piece along parts of an edge, a fly or a placket: where on the edge it lies."""

from pipeline.cutting.along import ends_of
from pipeline.cutting.telling import Teller, mm
from pipeline.geometry.curves import path_length_mm
from pipeline.model.edge_places import SAME_MM, Places, named_places, places_once
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import DrawnPiece, Edge, GrownPart

_WHAT = "grown-on part"


def grown_parts(drawn: DrawnPiece, edge: Edge, spec: EdgeSpec, teller: Teller) -> tuple[GrownPart, ...]:
    """What is grown onto an edge, in order along it; none where a place is not clear or two things are said of one.

    Names that are not drawn are told where references are checked, once for all sizes, and not here.
    """
    if not spec.grown_on:
        return ()
    places, length_mm = named_places(drawn, edge.name), path_length_mm(edge.path)
    found = []
    for said in spec.grown_on:
        ends = ends_of(places, edge.name, said.of, _WHAT, teller)
        if ends is None:
            return ()
        (start, first_mm), (end, last_mm) = sorted(zip((at / length_mm for at in ends), said.widths_mm, strict=True))
        cut_mm = first_mm + said.turn_in_mm
        found.append(GrownPart(start, end, first_mm, cut_mm, said.radius_mm, last_mm - first_mm))
    found.sort(key=lambda part: part.start)
    return () if _overlap(found, spec, places, edge.name, length_mm, teller) else tuple(found)


def _overlap(
    parts: list[GrownPart], spec: EdgeSpec, places: Places, edge: str, length_mm: float, teller: Teller
) -> bool:
    """Tells of the first two things that are said of one stretch of an edge."""
    spans = [(part.start * length_mm, part.end * length_mm, _WHAT) for part in parts]
    others = [(part.of, "part with an allowance of its own") for part in spec.along]
    for of, what in (*others, *((take.of, take.kind) for take in spec.takes)):
        at = places_once(places, of)
        spans += [(min(at), max(at), what)] if at is not None else []
    for index, (start, end, _) in enumerate(spans[: len(parts)]):
        for low, high, what in spans[index + 1 :]:
            both_mm = min(end, high) - max(start, low)
            if both_mm > SAME_MM:
                teller.tell(
                    "grown-overlap",
                    "block",
                    f"its {_WHAT} and its {what} overlap by {mm(both_mm)}.",
                    "Let one end where the other begins.",
                    where=edge,
                    found=mm(both_mm),
                    allowed="no overlap",
                )
                return True
    return False


def grown_between(parts: tuple[GrownPart, ...], low: float, high: float) -> tuple[GrownPart, ...]:
    """What of it lies between two shares of an edge, at shares of what lies between."""
    kept = []
    for part in parts:
        start, end = max(part.start, low), min(part.end, high)
        if end > start:
            shares = ((start - low) / (high - low), (end - low) / (high - low))
            before_mm, after_mm = part.wider_mm(start), part.wider_mm(end)
            widths = part.width_mm + before_mm, part.cut_mm + before_mm
            kept.append(GrownPart(*shares, *widths, part.radius_mm, after_mm - before_mm))
    return tuple(kept)
