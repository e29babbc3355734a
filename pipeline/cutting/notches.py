"""Notches as strokes: slits from the cut line, or marks across the seam line where there is no room for one.

Common practice: a notch is less deep than half the allowance and leaves at least 3 mm to the seam.
"""

import numpy as np
import shapely

from pipeline.cutting.outline import CutLine
from pipeline.cutting.places import EdgePlaces, Place
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.telling import Teller, mm
from pipeline.geometry.chains import Array
from pipeline.geometry.points import Point
from pipeline.model.edge_places import SAME_MM
from pipeline.model.piece_specs import NotchStyle
from pipeline.model.pieces import GrownPart, Notch, Slit

SLIT_FROM_MM = 6.0
"""An edge with less allowance gets a mark across the seam line, never a slit."""
APART_MM = 8.0
_SHARE = 0.45
_LONGEST_MM = 5.0
_MARK_MM = 3.0
_STROKES: dict[NotchStyle, int] = {"single": 1, "double": 2, "triple": 3}


def notch_slits(
    notches: tuple[Notch, ...],
    edges: dict[str, tuple[EdgeRule, EdgePlaces]],
    lengths_mm: dict[str, float],
    trim_mm: float,
    line: CutLine,
    teller: Teller,
) -> tuple[Slit, ...]:
    """The strokes of all notches; `lengths_mm` are the edges' exact lengths. A fold has none: nothing is cut there."""
    ring = shapely.linestrings(np.vstack((line.ring, line.ring[:1])))
    shapely.prepare(ring)
    slits: list[Slit] = []
    for notch in notches:
        if notch.edge not in edges:
            teller.tell(
                "notch-without-edge",
                "block",
                f"a notch stands on {notch.edge}, which this piece does not have.",
                "Draw the notch on an edge of the seam line.",
                where=notch.name,
                found=notch.edge,
            )
            continue
        rule, places = edges[notch.edge]
        if rule.fold:
            _tell_on_fold(notch, lengths_mm[notch.edge], teller)
            continue
        scale = places.length_mm / lengths_mm[notch.edge] if lengths_mm[notch.edge] > 0 else 1.0
        for at_mm in _stroke_places(notch, lengths_mm[notch.edge], teller):
            place = places.at(at_mm * scale)
            width_mm = rule.width_mm
            if rule.tapers:
                width_mm = float(rule.widths_at(np.array(at_mm * scale / places.length_mm)))
            part = _grown_on(rule, at_mm / lengths_mm[notch.edge], lengths_mm[notch.edge])
            width_mm = width_mm if part is None else part.cut_at(at_mm / lengths_mm[notch.edge])
            slits.append(_slit(notch, place, width_mm - trim_mm, ring, part is None))
    return tuple(slits)


def _grown_on(rule: EdgeRule, share: float, length_mm: float) -> GrownPart | None:
    """What is grown on at a place, so that it stands on a fold; where that ends within the edge, allowances begin."""
    near = SAME_MM / length_mm
    for part in rule.grown:
        low = part.start + (-near if part.start == 0 else near)
        high = part.end + (near if part.end == 1 else -near)
        if low <= share <= high:
            return part
    return None


def _stroke_places(notch: Notch, length_mm: float, teller: Teller) -> list[float]:
    """Where the strokes stand along the edge; moved back onto it where the place is too near its end."""
    count = _STROKES[notch.style]
    half = (count - 1) * APART_MM / 2
    middle = min(max(notch.at_mm, half), max(length_mm - half, half))
    from_end_mm = min(notch.at_mm, length_mm - notch.at_mm)
    if abs(middle - notch.at_mm) > 0.01:
        teller.tell(
            "notch-near-end",
            "warn",
            f"the {notch.style} notch {notch.name or ''} on {notch.edge} stands {mm(from_end_mm)} from the edge's end, "
            "so its strokes were moved along the edge.",
            f"Keep it at least {mm(half)} from the end, or make it a single notch.",
            where=notch.name or notch.edge,
            found=mm(from_end_mm),
            allowed=f"at least {mm(half)}",
        )
    return [middle - half + APART_MM * stroke for stroke in range(count)]


def _tell_on_fold(notch: Notch, length_mm: float, teller: Teller) -> None:
    if 0.1 < notch.at_mm < length_mm - 0.1:
        teller.tell(
            "notch-on-fold",
            "warn",
            f"a notch stands on the fold {notch.edge}, where nothing is cut; no slit is drawn for it.",
            "Move the notch to an edge that is cut, or draw a point inside the piece.",
            where=notch.name or notch.edge,
            found=mm(notch.at_mm),
        )


def _slit(notch: Notch, place: Place, allowance_mm: float, ring: shapely.Geometry, cut: bool) -> Slit:
    """Not `cut`: on a line on which the cloth is folded, far from its raw edge."""
    outer = _on_cut_line(place, allowance_mm, ring)
    room = float((outer - place.point) @ place.normal)
    if not cut or allowance_mm < SLIT_FROM_MM or room < SLIT_FROM_MM - 1e-3:
        start = place.point + place.normal * min(room, _MARK_MM)
        end = place.point + place.normal * (min(room, 0.0) - _MARK_MM)
        return Slit(notch.name, notch.edge, _point(start), _point(end), cut=False)
    deep = min(_SHARE * min(allowance_mm, room), _LONGEST_MM)
    return Slit(notch.name, notch.edge, _point(outer), _point(outer - place.normal * deep))


def _on_cut_line(place: Place, allowance_mm: float, ring: shapely.Geometry) -> Array:
    """Where the seam line's normal meets the cut line: at the allowance, or nearest to it beside a corner."""
    expected = place.point + place.normal * allowance_mm
    if shapely.dwithin(ring, shapely.points(expected), 2e-3):
        return np.asarray(expected)
    reach = 3 * abs(allowance_mm) + 10
    ray = shapely.linestrings(np.array([place.point - place.normal * reach, place.point + place.normal * reach]))
    hits = shapely.get_coordinates(shapely.intersection(ring, ray))
    if not len(hits):
        return np.asarray(expected)
    return np.asarray(hits[int(np.argmin(np.hypot(*(hits - expected).T)))])


def _point(place: Array) -> Point:
    return Point(round(float(place[0]), 6), round(float(place[1]), 6))
