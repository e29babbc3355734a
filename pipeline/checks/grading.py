"""Grading: how lengths and places change from size to size."""

import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from operator import sub
from statistics import median

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.corners import across_grain
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.size_groups import followed, groups_of
from pipeline.checks.size_rows import Row, edge_order, rows, triples_of, within_sets
from pipeline.checks.smooth import STEP_ALLOWED, STEP_SOURCE, Break, Triple, Value, bands, off_line, uneven
from pipeline.geometry.chains import coordinates
from pipeline.geometry.curves import flattened
from pipeline.geometry.points import Point, Vector
from pipeline.model.pieces import CutPiece, inside_length_mm

_FALL_MM = 1.0
_CONSTANT_MM = 0.05
_STILL_MM = 0.1
_GROWS_MM = 1.0
_FOLLOWS_MM = 1.0
_SIDES = {
    f"{rise} {run}".strip(): (dx, dy)
    for rise, dy in (("top", -1), ("", 0), ("bottom", 1))
    for run, dx in (("left", -1), ("", 0), ("right", 1))
    if dx or dy
}
_NUMBER = re.compile(r"[ -]?\d+$")


@CHECKS.register(
    id="grading-lengths",
    title="Girths rise, lengths do not fall and constants stay from size to size",
    rationale="A larger size that is shorter somewhere, or as wide as the smaller one, was drawn from the wrong size.",
    remedy="compare that edge with the sizes beside it, or waive this where the change is meant",
    severity="warn",
    source="girths rise, lengths never fall, constants stay: common practice",
)
def grading_lengths(garment: Garment) -> Iterator[Outcome]:
    """Steps of every edge within a band. An edge that falls in most of a band's sizes is meant to and is only noted."""
    for row in rows(garment):
        for edge, all_lengths in _edge_lengths(row).items():
            if (groups := groups_of(garment, row)) is not None:
                all_lengths = [length for (length,) in groups.levelled([(length,) for length in all_lengths])]
            shrinks: dict[str, tuple[float, CutPiece]] = {}
            for rungs in row.rungs:
                lengths, cuts = [all_lengths[i] for i in rungs.at], [row.cuts[i] for i in rungs.at]
                for start, stop in bands(rungs.sizes, rungs.ends):
                    steps = [lengths[i + 1] - lengths[i] for i in range(start, stop)]
                    usual = median(steps) if steps else 0.0
                    if usual < -_FALL_MM:
                        least = min(usual, shrinks[rungs.along][0]) if rungs.along in shrinks else usual
                        shrinks[rungs.along] = least, cuts[-1]
                    for i, step in enumerate(steps, start):
                        told = _step_fault(row, edge, step, usual, len(steps))
                        if told is not None:
                            at = max((i, i + 1), key=lambda index: abs(off_line(lengths, index)))
                            change = f"{step:+.2f} mm from size {rungs.sizes[i]} to {rungs.sizes[i + 1]}{rungs.along}"
                            message = f"changes by {change}, elsewhere by {usual:+.2f} mm"
                            yield _outcome(cuts[at], told[0], edge, f"{step:+.2f} mm", told[1], message)
            for along, (least, cut) in shrinks.items():
                message = f"becomes shorter as sizes grow{along}"
                yield _outcome(cut, "shrinks", edge, f"{least:+.2f} mm a size", "0 mm or more", message, "info")


def _step_fault(row: Row, edge: str, step: float, usual: float, count: int) -> tuple[str, str] | None:
    """What is wrong with one step of an edge's length: a code, and what is allowed."""
    if count < 2:
        return None
    if step < -_FALL_MM and usual > _FALL_MM:
        return "falls", "no fall"
    if abs(usual) < _CONSTANT_MM and abs(step) > _FALL_MM:
        return "not-constant", "no change"
    if usual >= _GROWS_MM and abs(step) <= _STILL_MM and across_grain(row.cuts[0], edge):
        return "stands-still", "a rise"
    return None


@CHECKS.register(
    id="grading-steps",
    title="Edge lengths grow in even steps within a band",
    rationale="A step that is larger or smaller than its neighbours is a size that was drawn, exported or read wrong.",
    remedy="look at that size; where the step is meant, name the last size of the band in bands",
    severity="warn",
    source=STEP_SOURCE,
)
def grading_steps(garment: Garment) -> Iterator[Outcome]:
    """Second differences of the lengths of edges and named inside lines.

    A line that is as long as an edge of another piece in every size shows where that is sewn on: its steps are told of
    that piece, if they are to be told. Any other placement line may step where a size set ends.
    """
    if (few := _too_few(garment)) is not None:
        yield few
        return
    for row in rows(garment):
        own = {name: lengths for name, lengths in _line_lengths(row).items() if not _follows(garment, row, lengths)}
        outer, kinds = triples_of(row.rungs), garment.pattern.pieces[row.piece].lines
        inner = within_sets(garment, row, outer)
        for edge, lengths in {**_edge_lengths(row), **own}.items():
            middles = inner if kinds.get(edge) == "place" else outer
            for item in _uneven(garment, row, edge, [(length,) for length in lengths], middles):
                yield _broken(row, edge, item, "grading of its length")


@CHECKS.register(
    id="grading-paths",
    title="Corners, notches and points move evenly from size to size",
    rationale="Nested sizes fan out in even steps; a place that leaves its path has slipped in one size.",
    remedy="put it back on its path, or name the last size of the band in bands where the step is meant",
    severity="warn",
    source=f"places relative to their piece: {STEP_SOURCE}",
)
def grading_paths(garment: Garment) -> Iterator[Outcome]:
    """Second differences of places, seen from the middle of the piece's corners: its place on the page is no matter.

    Points and lines within the piece may jump where a size set ends: buttonholes and pockets change there. Levels of
    the body do not. Of numbered marks, places are held only against sizes that have as many.
    """
    if (few := _too_few(garment)) is not None:
        yield few
        return
    for row in rows(garment):
        if len({edge_order(cut) for cut in row.cuts}) > 1:
            continue  # told as a size set that is not whole
        outer = triples_of(row.rungs)
        inner = within_sets(garment, row, outer)
        kinds = garment.pattern.pieces[row.piece].lines
        levels = {name for name, kind in kinds.items() if kind in ("level", "adjust", "match")}
        for tables, middles in (
            ([_outer_places(cut) | _line_ends(cut, levels, row.cuts[0]) for cut in row.cuts], outer),
            ([_inner_places(cut, levels, row.cuts[0]) for cut in row.cuts], inner),
        ):
            counts = [Counter(map(_family, table)) for table in tables]
            for key in (key for key in tables[0] if all(key in table for table in tables)):
                alike = _as_many(middles, [count[_family(key)] for count in counts])
                for item in _uneven(garment, row, key, [table[key] for table in tables], alike, outer):
                    yield _broken(row, key, item, "path over the sizes")


def _uneven(
    garment: Garment,
    row: Row,
    key: str,
    values: Sequence[Value],
    middles: tuple[Triple, ...],
    beside: Sequence[Triple] = (),
) -> Iterable[Break]:
    """What breaks a row of values but the steps of a piece that is the same in groups of sizes, and of its marks."""
    if not uneven(values, middles):
        return ()
    groups = groups_of(garment, row)
    name = key.split(", notch ")[-1].split(",")[0]
    own = groups.levelled(values) if groups else followed(garment, row, name, values, middles)
    return uneven(own, middles, beside=beside)


def _family(key: str) -> str:
    """What numbered marks have in common: `buttonhole, point` of `buttonhole-3, point` and of `buttonhole, point 2`."""
    return ", ".join(_NUMBER.sub("", part) for part in key.split(", "))


def _as_many(middles: tuple[Triple, ...], counts: list[int]) -> tuple[Triple, ...]:
    """The neighbours that have as many marks of a family: one more sets all of them closer."""
    return tuple(three for three in middles if counts[three.before] == counts[three.at] == counts[three.after])


def _too_few(garment: Garment) -> Outcome | None:
    if any(len(ladder.sizes) >= 3 for ladder in garment.ladders):
        return None
    text = "steps between sizes are not compared: it takes 3 sizes, and there are fewer"
    return Outcome(code="too-few-sizes", severity="skip", message=text)


def _broken(row: Row, name: str, item: Break, what: str) -> Outcome:
    cut = row.cuts[item.index]
    here = "breaks" if item.alone else "changes"
    return _outcome(
        cut,
        "off" if item.alone else "step",
        name,
        item.found,
        STEP_ALLOWED,
        f"{here} the {what} by {item.off_mm:.1f} mm{item.along}",
    )


def _edge_lengths(row: Row) -> dict[str, list[float]]:
    """Net lengths by edge, of the edges that all sizes have."""
    tables = [{edge.name: edge.length_mm for edge in cut.edges} for cut in row.cuts]
    return {name: [t[name] for t in tables] for name in tables[0] if all(name in t for t in tables)}


def _line_lengths(row: Row) -> dict[str, list[float]]:
    tables = [{line.name: inside_length_mm(line) for line in cut.drawn.inside if line.name} for cut in row.cuts]
    return {name: [t[name] for t in tables] for name in tables[0] if all(name in t for t in tables)}


def _follows(garment: Garment, row: Row, lengths: list[float]) -> bool:
    """Whether another piece has an edge of these lengths in all sizes of a row."""
    for piece, by_size in garment.cuts.items():
        if piece == row.cuts[0].piece or not set(row.sizes) <= set(by_size):
            continue
        for edge in by_size[row.sizes[0]].edges:
            theirs = [one.length_mm for size in row.sizes for one in by_size[size].edges if one.name == edge.name]
            if len(theirs) == len(lengths) and max(map(abs, map(sub, theirs, lengths))) <= _FOLLOWS_MM:
                return True
    return False


def _middle(cut: CutPiece) -> Vector:
    corners = [edge.path[0].start for edge in cut.drawn.edges]
    return Vector(sum(place.x for place in corners) / len(corners), sum(place.y for place in corners) / len(corners))


def _outer_places(cut: CutPiece) -> dict[str, Value]:
    """Corners and notches by name, from the middle of the corners."""
    middle, edges = _middle(cut), cut.drawn.edges
    places = {f"{edge.name}, its start": edge.path[0].start for edge in edges} if len(edges) > 1 else {}
    counts: dict[str, int] = {}
    for notch in cut.drawn.notches:
        key = f"{notch.edge}, notch {notch.name or 'unnamed'}"
        counts[key] = counts.get(key, 0) + 1
        places[key if counts[key] == 1 else f"{key} {counts[key]}"] = notch.place
    return {name: (place.x - middle.dx, place.y - middle.dy) for name, place in places.items()}


def _inner_places(cut: CutPiece, levels: set[str], like: CutPiece) -> dict[str, Value]:
    """Named points, of one name in their order, ends of lines but levels, and how far closed lines reach, all from the
    middle of the corners."""
    middle = _middle(cut)
    places: dict[str, Point] = {}
    counts: dict[str, int] = {}
    for point in cut.drawn.points:
        if point.name:
            counts[point.name] = counts.get(point.name, 0) + 1
            number = f" {counts[point.name]}" if counts[point.name] > 1 else ""
            places[f"{point.name}, point{number}"] = point.place
    found: dict[str, Value] = {name: (place.x - middle.dx, place.y - middle.dy) for name, place in places.items()}
    names = {line.name for line in cut.drawn.inside if line.name} - levels
    return found | _line_ends(cut, names, like) | _reaches(cut)


def _line_ends(cut: CutPiece, names: set[str], like: CutPiece) -> dict[str, Value]:
    """Both ends of the open inside lines of these names, from the middle of the corners; drawn whichever way, they run
    as in another size."""
    middle = _middle(cut)
    runs = {line.name: line.path[0].start.to(line.path[-1].end) for line in like.drawn.inside}
    ends: dict[str, Point] = {}
    for line in cut.drawn.inside:
        if line.name in names and not line.closed:
            start, end = line.path[0].start, line.path[-1].end
            back = line.name in runs and start.to(end).dot(runs[line.name]) < 0
            ends[f"{line.name}, its start"], ends[f"{line.name}, its end"] = (end, start) if back else (start, end)
    return {name: (place.x - middle.dx, place.y - middle.dy) for name, place in ends.items()}


def _reaches(cut: CutPiece) -> dict[str, Value]:
    """How far each closed inside line reaches to every side and corner of the page: it has no ends, and may be drawn
    from any of its corners. Turned over, a line that is not symmetric reaches elsewhere."""
    middle = _middle(cut)
    found: dict[str, Value] = {}
    for line in (line for line in cut.drawn.inside if line.closed and line.name):
        places = coordinates(flattened(line.path)) - (middle.dx, middle.dy)
        for side, towards in _SIDES.items():
            found[f"{line.name}, its {side}"] = (float((places @ towards).max()) / math.hypot(*towards),)
    return found


def _outcome(
    cut: CutPiece, code: str, where: str, found: str, allowed: str, message: str, severity: str | None = None
) -> Outcome:
    return Outcome(
        code=code,
        severity="info" if severity == "info" else None,
        size=cut.size,
        piece=cut.piece,
        where=where.split(",")[0],
        file=cut.drawn.file,
        object=where,
        found=found,
        allowed=allowed,
        message=f"{cut.piece}: {where} {message}",
    )
