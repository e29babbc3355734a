"""Every way in which a cut line can be valid and wrong: each is looked for, and told."""

import math

import numpy as np
import shapely

from pipeline.cutting.bands import turned_back
from pipeline.cutting.outline import CRUMB_MM2, CutLine
from pipeline.cutting.parts import Parts
from pipeline.cutting.telling import Teller, mm
from pipeline.geometry.chains import Array, chords_at, foot_shares, passed, turn_rad

_ON_LINE_MM = 0.02
_SAMPLE_MM = 3.0
_LOST_MM = 0.5
_SHORT = 2.0
_BACK_RAD = math.radians(150)
_FAR = math.sqrt(5.0)
"""A blunted mitre's ends lie at most √5 x the allowance from the corner, as the interior angle nears 0."""


def tell_parts_and_holes(region: shapely.Geometry, teller: Teller) -> bool:
    """Tells of several parts, and of holes left where a mouth closed; False where there is no single part."""
    polygons = [polygon for polygon in shapely.get_parts(region) if shapely.area(polygon) > CRUMB_MM2]
    if len(polygons) != 1:
        teller.tell(
            "several-parts" if polygons else "nothing-left",
            "block",
            f"the cut line falls into {len(polygons)} parts.",
            "Look at the seam line and at the allowances (or the trim) where the piece is narrow.",
            found=f"{len(polygons)} parts",
            allowed="1 part",
        )
        return False
    holes = [hole for hole in shapely.get_rings(polygons[0])[1:] if shapely.area(shapely.polygons(hole)) > CRUMB_MM2]
    for hole in holes:
        at = shapely.get_coordinates(shapely.centroid(shapely.polygons(hole)))[0]
        teller.tell(
            "mouth-closed",
            "block",
            f"the allowances close the mouth of a slot and leave a hole near x {at[0]:.0f}, y {at[1]:.0f} mm.",
            "Make the allowances at the mouth smaller, or the slot wider.",
            found=f"a hole of {shapely.area(shapely.polygons(hole)):.1f} mm²",
            allowed="no hole",
        )
    return True


def tell_steps(parts: Parts, teller: Teller) -> None:
    """Tells where two widths meet on a nearly straight run, so that the cut line has a step."""
    for index, corner in enumerate(parts.corners):
        if corner.stepped:
            one = parts.rules.edges[parts.runs[index].edge]
            two = parts.rules.edges[parts.runs[(index + 1) % len(parts.runs)].edge]
            teller.tell(
                "width-step",
                "warn",
                f"where it runs on into {two.name} its allowance of {mm(one.end_mm)} steps to {mm(two.width_mm)}.",
                "Give both edges one allowance, or let the step stand if it is meant.",
                where=one.name,
                found=f"{mm(one.end_mm)} and {mm(two.width_mm)}",
                allowed="one width",
            )


def tell_lost_stretches(parts: Parts, line: CutLine, teller: Teller) -> None:
    """Tells where an edge's offset is not on the cut line, though no concave corner, trim or turned end explains it."""
    ring = shapely.linestrings(np.vstack((line.ring, line.ring[:1])))
    shapely.prepare(ring)
    covered = dict.fromkeys(range(len(parts.rules.edges)), False)
    told: set[tuple[str, str]] = set()
    around = _Surroundings(parts)
    for index, run in enumerate(parts.runs):
        rule = parts.rules.edges[run.edge]
        if rule.fold:
            covered[run.edge] = True
            continue
        places, on_seam, samples = _samples(run.lengths, run.points, parts.offsets[index])
        lost = ~shapely.dwithin(ring, shapely.points(samples), _ON_LINE_MM)
        covered[run.edge] |= not lost.all() or len(samples) == 0
        if rule.widest_mm > 0:
            for group in np.split(np.flatnonzero(lost), np.flatnonzero(np.diff(np.flatnonzero(lost)) > 1) + 1):
                if len(group) and (places[group[-1]] - places[group[0]] > _LOST_MM or len(group) == len(samples)):
                    _tell_stretch(parts, around, index, group, on_seam, samples, teller, told)
    for edge, seen in covered.items():
        rule = parts.rules.edges[edge]
        if not seen and edge not in line.edges:
            teller.tell(
                "edge-vanished",
                "block",
                "nothing of its cut line is left: the allowances around it cover it.",
                "Make the allowances smaller, or join the edge to a neighbour.",
                where=rule.name,
                found="0 mm",
                allowed="more than 0 mm",
            )


def _samples(lengths: Array, points: Array, offset: Array) -> tuple[Array, Array, Array]:
    """Places along a run, the points there and the offset's points, about 3 mm apart and off both ends."""
    along = passed(lengths)
    count = max(2, min(200, int(along[-1] / _SAMPLE_MM)))
    places = (np.arange(count) + 0.5) / count * along[-1]
    chord = chords_at(along, places)
    # The offset of a place is taken along its own chord, not between mitred vertices, so that bends do not matter.
    share = ((places - along[chord]) / lengths[chord])[:, None]
    on_seam = points[chord] + (points[chord + 1] - points[chord]) * share
    step = offset[chord + 1] - offset[chord]
    return places, on_seam, offset[chord] + step * foot_shares(on_seam, offset[chord], step)[:, None]


class _Surroundings:
    """What lies beside each run: trees of all strips and seam lines, so that no stretch is held against every run."""

    def __init__(self, parts: Parts) -> None:
        self.lengths_mm = [float(run.lengths.sum()) for run in parts.runs]
        self._with_strip = np.array([i for i, region in enumerate(parts.regions) if region is not None], dtype=int)
        self._strips = shapely.STRtree([region for region in parts.regions if region is not None])
        self._seams = shapely.STRtree([shapely.linestrings(run.points) for run in parts.runs])

    def hiding(self, places: np.ndarray, on_seam: Array) -> list[int]:
        """The runs whose strip covers a lost place, or whose seam line lies between it and its own."""
        from_seam = shapely.linestrings(np.stack((on_seam, shapely.get_coordinates(places)), axis=1))
        covering = self._strips.query(places, predicate="dwithin", distance=_ON_LINE_MM)[1]
        between = self._seams.query(from_seam, predicate="intersects")[1]
        return sorted({*self._with_strip[covering].tolist(), *between.tolist()})


def _tell_stretch(
    parts: Parts,
    around: _Surroundings,
    index: int,
    group: np.ndarray,
    on_seam: Array,
    samples: Array,
    teller: Teller,
    told: set[tuple[str, str]],
) -> None:
    run, runs, count = parts.runs[index], parts.runs, len(samples)
    rule = parts.rules.edges[run.edge]
    places = shapely.points(samples[group])
    before, after = (index - 1) % len(runs), (index + 1) % len(runs)
    touching = []
    if group[0] == 0:
        touching.append((before, parts.corners[before], 1))
    if group[-1] == count - 1:
        touching.append((after, parts.corners[index], 0))
    for neighbour, corner, side in touching:
        other = parts.rules.edges[runs[neighbour].edge]
        turned = any(end.hem in (run.edge, runs[neighbour].edge) for end in parts.turned)
        if other.fold or turned or corner.trims[side] is not None or corner.stepped:
            return
    concave = [neighbour for neighbour, corner, _ in touching if corner.turn_rad < 0]
    near = {index}
    for neighbour in concave:
        near |= _around(parts, around.lengths_mm, index, neighbour, rule.widest_mm)
    apart = [other for other in around.hiding(places, on_seam[group]) if other not in near]
    if apart:
        _tell_overlap(rule.name, parts.rules.edges[runs[apart[0]].edge].name, teller, told)
    elif not concave:
        radius, width = _least_radius_mm(parts, index)
        if radius < width:
            if ("radius", rule.name) not in told:
                told.add(("radius", rule.name))
                teller.tell(
                    "concave-radius",
                    "warn",
                    f"it bends inward with a radius of {mm(radius)}, less than its allowance of {mm(width)}.",
                    "Make the allowance smaller than the radius, or the curve wider.",
                    where=rule.name,
                    found=mm(radius),
                    allowed=f"at least {mm(width)}",
                )
        else:
            _tell_overlap(rule.name, rule.name, teller, told)


def _around(parts: Parts, lengths_mm: list[float], index: int, neighbour: int, width: float) -> set[int]:
    """The runs that a concave corner consists of, seen from one run: its neighbour, and more while they are short and
    the outline does not turn back on itself."""
    count = len(parts.runs)
    step = 1 if neighbour == (index + 1) % count else -1
    found = {neighbour}
    turned = parts.corners[index if step == 1 else neighbour].turn_rad
    while len(found) < count and lengths_mm[neighbour] < _SHORT * width:
        turned += parts.corners[neighbour if step == 1 else neighbour - 1].turn_rad
        if turned <= -_BACK_RAD:
            break
        neighbour = (neighbour + step) % count
        found.add(neighbour)
    return found


def _tell_overlap(one: str, two: str, teller: Teller, told: set[tuple[str, str]]) -> None:
    first, second = sorted((one, two))
    if (first, second) in told:
        return
    told.add((first, second))
    other = second if first != second else "another stretch of itself"
    teller.tell(
        "allowances-overlap",
        "block",
        f"its allowance runs into that of {other}: there is no room for both, so the cut line leaves its distance.",
        "Make the allowances smaller, or the gap between the edges wider.",
        where=first,
        found=f"{first} and {second}",
        allowed="no overlap",
    )


def _least_radius_mm(parts: Parts, index: int) -> tuple[float, float]:
    """Least radius of the stretch of a run whose offset runs backwards, infinite where none does; the width there."""
    run = parts.runs[index]
    back = np.flatnonzero(turned_back(run, parts.offsets[index]))
    inner = [k for k in back if 0 < k < len(run.normals) - 1]
    if not inner:
        return math.inf, 0.0
    lengths = run.lengths
    radii = []
    for k in inner:
        one, two = run.normals[k - 1], run.normals[k + 1]
        bend = abs(turn_rad(one, two))
        length = lengths[k] + (lengths[k - 1] + lengths[k + 1]) / 2
        radii.append(length / bend if bend > 0 else math.inf)
    radius, k = min(zip(radii, inner, strict=True))
    return float(radius), float(parts.widths[index][k : k + 2].max())


def tell_far_points(parts: Parts, line: CutLine, teller: Teller) -> None:
    """Tells where the cut line lies farther from its own edge than any corner may reach."""
    edges = parts.rules.edges
    count = len(edges)
    for index, rule in enumerate(edges):
        if rule.fold:
            continue
        mine = line.ring[(line.edges == index) | (np.roll(line.edges, 1) == index)]
        if not len(mine):
            continue
        widths = [edges[(index + step) % count].widest_mm for step in (-1, 0, 1)]
        limit = _FAR * max(widths) + 0.01
        seam = shapely.multilinestrings([shapely.linestrings(run.points) for run in parts.runs if run.edge == index])
        shapely.prepare(seam)
        points = shapely.points(mine)
        if not shapely.dwithin(seam, points, limit).all():
            far = float(shapely.distance(seam, points).max())
            teller.tell(
                "too-far",
                "block",
                f"its cut line lies up to {mm(far)} away from it.",
                "Look at the edge's corners: another corner rule may suit them, or the outline has a flaw there.",
                where=rule.name,
                found=mm(far),
                allowed=f"at most {mm(limit)}",
            )
