"""What a cut line is made of: every run of the seam line with its offset, its corners and the strip that it adds."""

import msgspec
import numpy as np
import shapely

from pipeline.cutting.bands import band, offset_points
from pipeline.cutting.corners import Corner, Side, beside_fold, mitred, squared
from pipeline.cutting.ends_within import end_within
from pipeline.cutting.folds import Fold
from pipeline.cutting.rules import PieceRules
from pipeline.cutting.runs import GRID_MM, Run
from pipeline.cutting.tapers import side_at, widths_along
from pipeline.cutting.turned import TurnedEnd
from pipeline.geometry.chains import Array


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
        elif rule.kind == "step":
            beside = widths[index], widths[(index + 1) % len(runs)]
            corners.append(end_within(place, (ending, starting), (run, after), beside, (one, two)))
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
