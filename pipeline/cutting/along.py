"""The allowance of an edge whose parts have widths of their own: how they run into each other without a jog.

Parts and what lies between them follow each other along the edge. Where two meet whose widths differ, the wider keeps
its width up to the place that was named, and the narrower gives way: from there on the allowance runs down to the
narrower one's own, smoothly (`model/widths.py`). So it is nowhere less than was asked for. Where nothing else is said
it does so over 8 times the difference, at 7 degrees on the whole and at most 11 (as a line is drawn by hand from one
width to the other: a judgement, not a published value), or over what room there is. More than 1 in 2 on the whole would
be a jog, and is told instead.
"""

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

from pipeline.cutting.telling import Teller, mm
from pipeline.geometry.curves import path_length_mm
from pipeline.model.edge_places import SAME_MM, Places, named_places
from pipeline.model.piece_specs import AllowancePart, EdgePart
from pipeline.model.pieces import DrawnPiece, Edge
from pipeline.model.widths import width_at

Knots = tuple[tuple[float, float], ...]
"""Shares of an edge, in order, each with the allowance there; between them it changes smoothly."""
TAPER_SHARE = 8.0
STEEPEST = 0.5
_SAME_WIDTH_MM = 1e-9


class _Part(NamedTuple):
    """A stretch of an edge in mm from its first point, with the widths at both of its ends."""

    start: float
    end: float
    start_mm: float
    end_mm: float
    taper_mm: float | None = None

    def width_at(self, place: float) -> float:
        share = (place - self.start) / (self.end - self.start)
        return self.start_mm * (1 - share) + self.end_mm * share


def widths_of_parts(
    drawn: DrawnPiece, edge: Edge, parts: Sequence[AllowancePart], rest_mm: float | None, teller: Teller
) -> Knots | None:
    """The allowance all along an edge, `rest_mm` where no part lies; None where the parts cannot be so.

    Names that are not drawn are told where references are checked, once for all sizes, and not here.
    """
    length_mm = path_length_mm(edge.path)
    placed = _placed(drawn, edge.name, parts, teller)
    whole = placed and _filled(placed, length_mm, rest_mm, edge.name, teller)
    if not whole:
        return None
    knots = _run_together(whole)
    for (start, start_mm), (end, end_mm) in pairwise(knots):
        if abs(end_mm - start_mm) > STEEPEST * (end - start) * (1 + 1e-9):
            teller.tell(
                "taper-short",
                "block",
                f"its allowance goes from {mm(start_mm)} to {mm(end_mm)} within {mm(end - start)}: a jog.",
                "Let the part begin or end elsewhere, or give it a longer taper.",
                where=edge.name,
                found=f"{mm(abs(end_mm - start_mm))} within {mm(end - start)}",
                allowed=f"at least {mm(abs(end_mm - start_mm) / STEEPEST)} to do so",
            )
            return None
    return tuple((place / length_mm, width) for place, width in knots)


def _placed(drawn: DrawnPiece, edge: str, parts: Sequence[AllowancePart], teller: Teller) -> list[_Part]:
    """The parts in the order in which they lie on the edge; none where a name does not say one place."""
    places = named_places(drawn, edge)
    found: list[_Part] = []
    for part in parts:
        ends = ends_of(places, edge, part.of, "part of its allowance", teller)
        if ends is None:
            return []
        start, end = ends
        widths = (part.start_mm, part.end_mm) if start < end else (part.end_mm, part.start_mm)
        found.append(_Part(min(start, end), max(start, end), *widths, part.taper_mm))
    return sorted(found)


def ends_of(places: Places, edge: str, of: EdgePart, what: str, teller: Teller) -> tuple[float, float] | None:
    """Where a part of an edge begins and ends, in mm from its first point, as it is said; None where a name does not
    say one place, or the part has no length. `what` it is a part of, in the words of a finding."""
    ends = [places.get(name, ()) for name in (of.start, of.end)]
    for name, at in zip((of.start, of.end), ends, strict=True):
        if len(at) > 1:
            teller.tell(
                "place-unclear",
                "block",
                f"a {what} begins or ends at {name}, and {len(at)} places on it are called so.",
                "Rename the notch, so that no other and no neighbouring edge has its name.",
                where=edge,
                found=" and ".join(f"{mm(place)} from its first point" for place in at),
                allowed="one place",
            )
    if any(len(at) != 1 for at in ends):
        return None
    (start,), (end,) = ends
    if abs(end - start) <= SAME_MM:
        teller.tell(
            "part-of-nothing",
            "block",
            f"the {what} from {of.start} to {of.end} has no length.",
            "Name two places that lie apart.",
            where=edge,
            found=mm(abs(end - start)),
            allowed=f"more than {mm(SAME_MM)}",
        )
        return None
    return start, end


def knots_between(knots: Knots, low: float, high: float) -> Knots:
    """The allowances between two shares of an edge, at shares of what lies between."""
    inner = (((share - low) / (high - low), width) for share, width in knots if low < share < high)
    return ((0.0, width_at(knots, low)), *inner, (1.0, width_at(knots, high)))


def _filled(
    parts: list[_Part], length_mm: float, rest_mm: float | None, edge: str, teller: Teller
) -> list[_Part] | None:
    """The parts with what lies before, between and after them; None where they overlap, or the rest has no width."""
    whole: list[_Part] = []
    at = 0.0
    for part in (*parts, _Part(length_mm, length_mm, 0.0, 0.0)):
        if part.start < at - SAME_MM:
            teller.tell(
                "parts-overlap",
                "block",
                f"two parts of its allowance overlap by {mm(at - part.start)}.",
                "Let one end where the other begins.",
                where=edge,
                found=mm(at - part.start),
                allowed="no overlap",
            )
            return None
        if part.start > at + SAME_MM:
            if rest_mm is None:
                teller.tell(
                    "no-allowance",
                    "block",
                    f"no allowance is declared for it from {mm(at)} to {mm(part.start)}.",
                    'Give the edge allowance = "…", for all that no part names.',
                    where=edge,
                    found="none",
                    allowed="0 to 200 mm",
                )
                return None
            whole.append(_Part(at, part.start, rest_mm, rest_mm))
            at = part.start
        if part.end > part.start:
            whole.append(part._replace(start=at))
        at = part.end
    return whole


def _run_together(parts: Sequence[_Part]) -> list[tuple[float, float]]:
    """Places along the edge with their widths, parts run into each other."""
    knots: list[tuple[float, float]] = []
    for index, part in enumerate(parts):
        before = parts[index - 1] if index else None
        after = parts[index + 1] if index + 1 < len(parts) else None
        wishes = [
            _taper_mm(part, other, own_mm, other_mm)
            for other, own_mm, other_mm in (
                (before, part.start_mm, before.end_mm if before else 0.0),
                (after, part.end_mm, after.start_mm if after else 0.0),
            )
        ]
        room = part.end - part.start
        share = min(1.0, room / sum(wishes)) if any(wishes) else 1.0
        down, up = (wish * share for wish in wishes)
        if down and before:
            knots.append((part.start, before.end_mm))
        knots.append((part.start + down, part.width_at(part.start + down)))
        knots.append((part.end - up, part.width_at(part.end - up)))
        if up and after:
            knots.append((part.end, after.start_mm))
    return _tidied(knots)


def _taper_mm(own: _Part, other: _Part | None, own_mm: float, other_mm: float) -> float:
    """Over which length a part gives way to a wider neighbour: 0 to one that is not wider."""
    if other is None or other_mm - own_mm <= _SAME_WIDTH_MM:
        return 0.0
    said = next((part.taper_mm for part in (other, own) if part.taper_mm is not None), None)
    return TAPER_SHARE * (other_mm - own_mm) if said is None else said


def _tidied(knots: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """Each place once, and none that lies on the line between its neighbours."""
    kept: list[tuple[float, float]] = []
    for place, width in knots:
        if kept and place - kept[-1][0] < SAME_MM / 100:
            continue
        while len(kept) > 1 and _on_line(kept[-2], kept[-1], (place, width)):
            kept.pop()
        kept.append((place, width))
    return [*kept[:-1], (knots[-1][0], kept[-1][1])]


def _on_line(one: tuple[float, float], middle: tuple[float, float], two: tuple[float, float]) -> bool:
    share = (middle[0] - one[0]) / (two[0] - one[0])
    return abs(one[1] * (1 - share) + two[1] * share - middle[1]) <= _SAME_WIDTH_MM
