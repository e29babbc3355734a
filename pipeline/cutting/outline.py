"""The cut line of one piece: the seam line's region, the strips of its edges and the corners, made one.

The union of regions is used rather than offset curves, since it stays right where offsets cross.
"""

import msgspec
import numpy as np
import shapely

from pipeline.cutting.bands import band, offset_points
from pipeline.cutting.grown_doubts import tell_beyond
from pipeline.cutting.hairlines import without_hairlines
from pipeline.cutting.parts import Parts
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.runs import GRID_MM, Run, make_run
from pipeline.cutting.telling import Teller, mm
from pipeline.cutting.turned import TurnedEnd, cutter, mirrored_end, run_on, smoothed
from pipeline.geometry.chains import Array
from pipeline.model.turns import Turns, highest_mm, turns_of

CRUMB_MM2 = 0.01
_SUNK_MM = 1e-3
_SLANT = 2.0
"""Past its end a strip that tapers gets deeper by its slope for each mm: as far as a neighbour that stands within 63
degrees of square comes to lie beside it."""
FOLD = -1


class CutLine(msgspec.Struct, frozen=True):
    """The cut line as one ring, clockwise on the page, first point not repeated, shape (n, 2).

    `edges[i]` is the edge that the segment from point i to the next belongs to, or FOLD.
    """

    ring: Array
    edges: np.ndarray


def join_parts(parts: Parts, teller: Teller) -> tuple[shapely.Geometry, list[tuple[int, Array]]]:
    """The region inside the cut line, and the mirrored ends of turned hems with the edge that each belongs to."""
    hems = {end.hem for end in parts.turned} | {i for i, e in enumerate(parts.rules.edges) if e.extension is not None}
    plain = [
        region
        for run, region in zip(parts.runs, parts.regions, strict=True)
        if region is not None and run.edge not in hems
    ]
    whole = shapely.union_all([parts.seam, *_flat(plain)], grid_size=GRID_MM)
    ends: list[tuple[int, Array]] = []
    if hems:
        strips: dict[int, shapely.Geometry] = {}
        for hem in _in_order(hems, parts.turned):
            near = [strips[end.beside] for end in parts.turned if end.hem == hem and end.beside in strips]
            base = largest(shapely.union_all([whole, *near], grid_size=GRID_MM) if near else whole)
            strips[hem] = _turned_strip(parts, hem, base, ends, teller)
        whole = shapely.union_all([whole, *strips.values()], grid_size=GRID_MM)
    if parts.fold is not None:
        bounds = shapely.bounds(whole)
        size = float(np.hypot(bounds[2] - bounds[0], bounds[3] - bounds[1])) * 2 + 10
        whole = shapely.intersection(whole, parts.fold.half_plane(size), grid_size=GRID_MM)
    return without_hairlines(whole), ends


def _in_order(hems: set[int], turned: tuple[TurnedEnd, ...]) -> list[int]:
    """The turned hems, one that is turned about another's cut line after that one."""
    left, order = set(hems), list[int]()
    while left:
        waits = {end.hem for end in turned if end.hem in left and end.beside in left}
        order.append(min(left - waits or left))
        left.remove(order[-1])
    return order


def _flat(regions: list[shapely.Geometry]) -> list[shapely.Geometry]:
    return list(shapely.get_parts(shapely.get_parts(np.array(regions, dtype=object))))


def largest(region: shapely.Geometry) -> shapely.Geometry:
    """The largest polygon of a region, clockwise on the page."""
    polygons = shapely.get_parts(region)
    return shapely.orient_polygons(polygons[int(np.argmax(shapely.area(polygons)))])


def _turned_strip(
    parts: Parts, hem: int, base: shapely.Geometry, ends: list[tuple[int, Array]], teller: Teller
) -> shapely.Geometry:
    """The strip of a turned hem: run on past its turned ends, and cut there along the mirror of its neighbours."""
    indices = [index for index, run in enumerate(parts.runs) if run.edge == hem]
    chain = np.vstack([smoothed(parts.runs[index].points)[bool(n) :] for n, index in enumerate(indices)])
    rule = parts.rules.edges[hem]
    ring = shapely.get_coordinates(shapely.get_exterior_ring(base))[:-1]
    regions = {index: parts.regions[index] for index in indices}
    cuts = []
    for end in parts.turned:
        which = indices[-1] if end.at_end else indices[0]
        depth, slope = _depth_at(parts, which, end.at_end)
        if end.hem != hem or depth <= 0:
            continue
        turns = turns_of(rule.folds_mm, depth * (1 + _SLANT * abs(slope)))
        mirrored = None if end.start is None else mirrored_end(chain, ring, end.start, end.at_end, turns)
        if mirrored is None:
            if rule.extension is not None and end.start is None:
                _tell_inward(rule, end.at_end, teller)
            else:
                _tell_too_deep(rule, turns, end.at_end, teller)
            continue
        curve, inner = mirrored
        ends.append((hem, curve))
        corner = chain[-1] if end.at_end else chain[0]
        size = float(np.hypot(*(curve - corner).T).max()) + 2 * depth
        beyond = size if slope >= 0 else min(size, -depth / slope)  # there its raw edge meets the fold
        run = make_run(hem, run_on(parts.runs[which].points, end.at_end, beyond))
        widths = _run_on_widths(parts.widths[which], end.at_end, slope * beyond)
        # It starts a little inside, so that no hairline is left between it and the piece.
        sunk = make_run(hem, offset_points(run, -_SUNK_MM))
        extended = band(sunk, offset_points(run, widths), widths + _SUNK_MM)
        trim = parts.corners[which - 1].trims[1] if end.at_end else parts.corners[which].trims[0]
        if trim is not None:
            extended = shapely.difference(extended, shapely.polygons(trim), grid_size=GRID_MM)
        regions[which] = _with(regions[which], extended)
        cuts.append(cutter(curve, inner, chain, end.at_end, 3 * size))
    strip = shapely.union_all(_flat([region for region in regions.values() if region is not None]), grid_size=GRID_MM)
    for cut in cuts:
        strip = shapely.difference(strip, shapely.make_valid(cut), grid_size=GRID_MM)
    if rule.extension is not None:
        cloth = base if parts.fold is None else shapely.union(base, shapely.transform(base, parts.fold.mirrored))
        tell_beyond(rule.name, rule.extension, chain, strip, cloth, teller)
    return strip


def _depth_at(parts: Parts, index: int, at_end: bool) -> tuple[float, float]:
    """How deep the strip of a run is at its end (or start), and how much deeper for each mm past that."""
    widths, lengths = parts.widths[index], parts.runs[index].lengths
    depth, before, length = (widths[-1], widths[-2], lengths[-1]) if at_end else (widths[0], widths[1], lengths[0])
    return float(depth), float(depth - before) / float(length)


def _run_on_widths(widths: Array, at_end: bool, more_mm: float) -> Array:
    """Widths at the points of a run that was run on past its end (or start), where it is so much wider."""
    past = max(0.0, float(widths[-1 if at_end else 0]) + more_mm)
    return np.append(widths, past) if at_end else np.insert(widths, 0, past)


def _tell_inward(rule: EdgeRule, at_end: bool, teller: Teller) -> None:
    teller.tell(
        "grown-corner",
        "block",
        f"at its {'last' if at_end else 'first'} point the outline turns inward: the line beside it does not meet the "
        "fold there, and nothing tells how what is grown on ends.",
        "Let it end within the edge, before that corner.",
        where=rule.name,
        found="a corner that turns inward",
        allowed="one that turns outward",
    )


def _tell_too_deep(rule: EdgeRule, turns: Turns, at_end: bool, teller: Teller) -> None:
    depth_mm, high_mm = rule.width_mm, highest_mm(turns)
    what = f"its allowance of {mm(depth_mm)} cannot be turned up"
    remedy = "Make the allowance smaller, or give this corner the rule mitre or square."
    if rule.extension is not None:
        what = f"its grown-on part of {mm(high_mm)} cannot be folded back"
        remedy = "Make it narrower, or let it end before this corner."
    elif high_mm != depth_mm:
        what += f" by {mm(high_mm)} and folded back"
    teller.tell(
        "turned-too-deep",
        "block",
        f"{what}: the piece beside its {'last' if at_end else 'first'} point does not reach that far.",
        remedy,
        where=rule.name,
        found=mm(high_mm if rule.extension is not None else depth_mm),
        allowed="no more than the piece is deep there",
    )


def _with(region: shapely.Geometry | None, more: shapely.Geometry) -> shapely.Geometry:
    return (
        more if region is None else shapely.geometrycollections([*shapely.get_parts(region), *shapely.get_parts(more)])
    )


def label(ring: Array, lines: list[tuple[int, Array]], near_mm: float) -> np.ndarray:
    """For every segment of a closed ring the edge whose line it lies on, else that of the nearest line; shape (n,)."""
    segments = np.concatenate([np.stack((line[:-1], line[1:]), axis=1) for _, line in lines])
    owners = np.concatenate([np.full(len(line) - 1, edge) for edge, line in lines])
    middles = shapely.points((ring + np.roll(ring, -1, axis=0)) / 2)
    tree = shapely.STRtree(shapely.linestrings(segments))
    found = np.full(len(ring), FOLD - 1)
    places, nearest = tree.query_nearest(middles, max_distance=near_mm, all_matches=False)
    found[places] = owners[nearest]
    rest = np.flatnonzero(found == FOLD - 1)
    if len(rest):
        places, nearest = tree.query_nearest(middles[rest], all_matches=False)
        found[rest[places]] = owners[nearest]
    return found


def cut_line(parts: Parts, polygon: shapely.Geometry, ends: list[tuple[int, Array]]) -> CutLine:
    """The outer ring of the region inside the cut line, from the first edge on, each segment with its edge."""
    ring = shapely.get_coordinates(shapely.get_exterior_ring(shapely.orient_polygons(polygon)))[:-1]
    lines = [(run.edge, line) for run, line in zip(parts.runs, parts.lines, strict=True) if not _is_fold(parts, run)]
    lines += ends
    if parts.fold is not None:
        ring = parts.fold.snapped(ring)
    edges = label(ring, lines, 1e-3) if lines else np.full(len(ring), FOLD)
    if parts.fold is not None:
        on = np.abs(parts.fold.beyond_mm(ring)) < 1e-4
        edges[on & np.roll(on, -1)] = FOLD
    return rotated(ring, edges)


def rotated(ring: Array, edges: np.ndarray) -> CutLine:
    """The ring from the first segment of its lowest edge on, so that no part is torn, without straight points."""
    starts = np.flatnonzero(edges != np.roll(edges, 1))
    if len(starts):
        first = int(starts[np.lexsort((starts, np.where(edges[starts] == FOLD, len(ring), edges[starts])))[0]])
        ring, edges = np.roll(ring, -first, axis=0), np.roll(edges, -first)
    apart = np.hypot(*(np.roll(ring, -1, axis=0) - ring).T) > 10 * GRID_MM
    ring, edges = ring[apart], edges[apart]
    while (drop := _every_other(_straight(ring) & (edges == np.roll(edges, 1)))).any():
        ring, edges = ring[~drop], edges[~drop]
    return CutLine(ring, edges)


def _every_other(marked: np.ndarray) -> np.ndarray:
    """Of marked points never two neighbours: a bend that lies on two close points is straight at either alone."""
    places = np.arange(len(marked))
    begins = np.maximum.accumulate(np.where(marked & ~np.roll(marked, 1), places, -1))
    chosen = marked & ((places - begins) % 2 == 0)
    if chosen[0] and chosen[-1]:
        chosen[-1] = False
    return np.asarray(chosen)


def _straight(ring: Array) -> np.ndarray:
    """Which points lie on the line between their neighbours, to within the grid."""
    before, after = ring - np.roll(ring, 1, axis=0), np.roll(ring, -1, axis=0) - ring
    chord = before + after
    off = np.abs(before[:, 0] * after[:, 1] - before[:, 1] * after[:, 0])
    forward = np.einsum("ij,ij->i", before, after) > 0
    return np.asarray(forward & (off <= 2 * GRID_MM * np.hypot(*chord.T)))


def _is_fold(parts: Parts, run: Run) -> bool:
    return parts.rules.edges[run.edge].fold
