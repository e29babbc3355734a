"""The cut line of one piece: the seam line's region, the strips of its edges and the corners, made one.

The union of regions is used rather than offset curves, since it stays right where offsets cross.
"""

import msgspec
import numpy as np
import shapely

from pipeline.cutting.bands import band, offset_points
from pipeline.cutting.corners import Corner, Side, beside_fold, mitred, squared
from pipeline.cutting.folds import Fold
from pipeline.cutting.hairlines import without_hairlines
from pipeline.cutting.rules import PieceRules
from pipeline.cutting.runs import GRID_MM, Run, make_run
from pipeline.cutting.tapers import side_at, widths_along
from pipeline.cutting.telling import Teller, mm
from pipeline.cutting.turned import TurnedEnd, cutter, mirrored_end, run_on, smoothed
from pipeline.geometry.chains import Array
from pipeline.model.turns import Turns, highest_mm, turns_of

CRUMB_MM2 = 0.01
_SUNK_MM = 1e-3
FOLD = -1


class Parts(msgspec.Struct, frozen=True):
    """All that the cut line is made of. `widths[k]` is the allowance at each point of run k, `corners[k]` where run k
    ends, `lines[k]` its offset line with its tails, `regions[k]` what it adds outside the seam line (None where
    nothing)."""

    runs: tuple[Run, ...]
    widths: tuple[Array, ...]
    rules: PieceRules
    seam: shapely.Geometry
    corners: tuple[Corner, ...]
    offsets: tuple[Array, ...]
    lines: tuple[Array, ...]
    regions: tuple[shapely.Geometry | None, ...]
    turned: tuple[TurnedEnd, ...]
    fold: Fold | None


class CutLine(msgspec.Struct, frozen=True):
    """The cut line as one ring, clockwise on the page, first point not repeated, shape (n, 2).

    `edges[i]` is the edge that the segment from point i to the next belongs to, or FOLD.
    """

    ring: Array
    edges: np.ndarray


def make_parts(runs: tuple[Run, ...], rules: PieceRules, fold: Fold | None, seam: shapely.Geometry) -> Parts:
    """Offsets, corners and regions of all runs."""
    widths = widths_along(runs, rules.edges)
    corners, turned = _corners(runs, widths, rules)
    offsets, lines, regions = [], [], []
    for index, run in enumerate(runs):
        offset = offset_points(run, widths[index])
        head, tail = corners[index - 1].tails[1], corners[index].tails[0]
        lines.append(np.vstack([part for part in (head, offset, tail) if part is not None]))
        offsets.append(offset)
        regions.append(_region(run, offset, widths[index], corners[index - 1], corners[index]))
    return Parts(runs, widths, rules, seam, corners, tuple(offsets), tuple(lines), tuple(regions), turned, fold)


def _region(run: Run, offset: Array, widths: Array, before: Corner, after: Corner) -> shapely.Geometry | None:
    if widths.max() <= 0:
        pieces: list[shapely.Geometry] = []
    else:
        strip = band(run, offset, widths)
        for trim in (before.trims[1], after.trims[0]):
            if trim is not None:
                strip = shapely.difference(strip, shapely.polygons(trim), grid_size=GRID_MM)
        pieces = [strip]
    pieces += [shapely.polygons(fill) for fill in (before.fills[1], after.fills[0]) if fill is not None]
    if not pieces:
        return None
    return pieces[0] if len(pieces) == 1 else shapely.geometrycollections(pieces)


def _corners(
    runs: tuple[Run, ...], widths: tuple[Array, ...], rules: PieceRules
) -> tuple[tuple[Corner, ...], tuple[TurnedEnd, ...]]:
    corners: list[Corner] = []
    turned: list[TurnedEnd] = []
    for index, run in enumerate(runs):
        after = runs[(index + 1) % len(runs)]
        one, two = rules.edges[run.edge], rules.edges[after.edge]
        place = run.points[-1]
        ending = side_at(run, widths[index], True)
        starting = side_at(after, widths[(index + 1) % len(runs)], False)
        within = run.edge == after.edge and index + 1 < len(runs) and len(runs) > 1
        rule = rules.corners[run.edge]
        if one.fold or two.fold:
            corners.append(beside_fold(place, ending, starting, 0 if one.fold else 1))
        elif within or rule.kind == "mitre":
            corners.append(mitred(place, ending, starting))
        elif rule.kind == "square":
            corners.append(squared(place, ending, starting, rule.owner))
        else:
            corner, end = _turned_corner(place, ending, starting, rule.owner, run.edge, after.edge)
            corners.append(corner)
            turned.append(end)
    return tuple(corners), tuple(turned)


def _turned_corner(
    place: Array, ending: Side, starting: Side, owner: int, edge: int, after: int
) -> tuple[Corner, TurnedEnd]:
    """The neighbour runs on to the hem's line; the hem's own end is made once the neighbour's cut line is known."""
    bare = [ending, starting]
    bare[owner] = Side(bare[owner].normal, bare[owner].past, 0.0)
    corner = mitred(place, bare[0], bare[1])
    hem, beside = (edge, after) if owner == 0 else (after, edge)
    start: Array | None = place if bare[1 - owner].width_mm == 0 else None
    tail = corner.tails[1 - owner]
    if start is None and corner.turn_rad > 0 and tail is not None and not corner.stepped:
        start = tail[0] if owner == 0 else tail[-1]
    kept = Corner(
        fills=_without(corner.fills, owner),
        trims=_without(corner.trims, owner),
        tails=_without(corner.tails, owner),
        turn_rad=corner.turn_rad,
    )
    return kept, TurnedEnd(hem, owner == 0, start, beside)


def _without(both: tuple[Array | None, Array | None], owner: int) -> tuple[Array | None, Array | None]:
    return (None, both[1]) if owner == 0 else (both[0], None)


def join_parts(parts: Parts, teller: Teller) -> tuple[shapely.Geometry, list[tuple[int, Array]]]:
    """The region inside the cut line, and the mirrored ends of turned hems with the edge that each belongs to."""
    hems = {end.hem for end in parts.turned}
    plain = [
        region
        for run, region in zip(parts.runs, parts.regions, strict=True)
        if region is not None and run.edge not in hems
    ]
    whole = shapely.union_all([parts.seam, *_flat(plain)], grid_size=GRID_MM)
    ends: list[tuple[int, Array]] = []
    if hems:
        strips: dict[int, shapely.Geometry] = {}
        for hem in _in_order(parts.turned):
            near = [strips[end.beside] for end in parts.turned if end.hem == hem and end.beside in strips]
            base = largest(shapely.union_all([whole, *near], grid_size=GRID_MM) if near else whole)
            strips[hem] = _turned_strip(parts, hem, base, ends, teller)
        whole = shapely.union_all([whole, *strips.values()], grid_size=GRID_MM)
    if parts.fold is not None:
        bounds = shapely.bounds(whole)
        size = float(np.hypot(bounds[2] - bounds[0], bounds[3] - bounds[1])) * 2 + 10
        whole = shapely.intersection(whole, parts.fold.half_plane(size), grid_size=GRID_MM)
    return without_hairlines(whole), ends


def _in_order(turned: tuple[TurnedEnd, ...]) -> list[int]:
    """The turned hems, one that is turned about another's cut line after that one."""
    left, order = {end.hem for end in turned}, list[int]()
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
    depth, name = parts.rules.edges[hem].width_mm, parts.rules.edges[hem].name
    turns = turns_of(parts.rules.edges[hem].folds_mm, depth)
    ring = shapely.get_coordinates(shapely.get_exterior_ring(base))[:-1]
    regions = {index: parts.regions[index] for index in indices}
    cuts = []
    for end in parts.turned:
        if end.hem != hem or depth <= 0:
            continue
        mirrored = None if end.start is None else mirrored_end(chain, ring, end.start, end.at_end, turns)
        if mirrored is None:
            teller.tell(
                "turned-too-deep",
                "block",
                f"its allowance of {mm(depth)} cannot be turned up{_so_high(turns, depth)}: the piece beside its "
                f"{'last' if end.at_end else 'first'} point does not reach that far.",
                "Make the allowance smaller, or give this corner the rule mitre or square.",
                where=name,
                found=mm(depth),
                allowed="no more than the piece is deep there",
            )
            continue
        curve, inner = mirrored
        ends.append((hem, curve))
        corner = chain[-1] if end.at_end else chain[0]
        size = float(np.hypot(*(curve - corner).T).max()) + 2 * depth
        which = indices[-1] if end.at_end else indices[0]
        run = make_run(hem, run_on(parts.runs[which].points, end.at_end, size))
        # It starts a little inside, so that no hairline is left between it and the piece.
        sunk = make_run(hem, offset_points(run, -_SUNK_MM))
        extended = band(sunk, offset_points(run, depth), depth + _SUNK_MM)
        regions[which] = _with(regions[which], extended)
        cuts.append(cutter(curve, inner, chain, end.at_end, 3 * size))
    strip = shapely.union_all(_flat([region for region in regions.values() if region is not None]), grid_size=GRID_MM)
    for cut in cuts:
        strip = shapely.difference(strip, shapely.make_valid(cut), grid_size=GRID_MM)
    return strip


def _so_high(turns: Turns, depth_mm: float) -> str:
    return "" if highest_mm(turns) == depth_mm else f" by {mm(highest_mm(turns))} and folded back"


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
