"""Seam line to cut line: the pieces of one size as they are cut."""

from itertools import pairwise

import numpy as np
import shapely
from msgspec import structs

from pipeline.cutting.clips import clip_marks, polyline
from pipeline.cutting.derived import trimmed
from pipeline.cutting.doubts import tell_far_points, tell_lost_stretches, tell_parts_and_holes, tell_steps
from pipeline.cutting.folds import unfolded
from pipeline.cutting.grown_doubts import tell_grown
from pipeline.cutting.notches import notch_slits
from pipeline.cutting.outline import CutLine, cut_line, join_parts, largest
from pipeline.cutting.parts import Parts, make_parts
from pipeline.cutting.places import EdgePlaces
from pipeline.cutting.rules import PieceRules, piece_rules
from pipeline.cutting.runs import Run
from pipeline.cutting.seam_line import closed_runs, fold_of, seam_region
from pipeline.cutting.stretches import in_stretches
from pipeline.cutting.strips import drawn_strips
from pipeline.cutting.tapers import knotted
from pipeline.cutting.telling import Teller
from pipeline.cutting.topstitch_lines import topstitch_lines
from pipeline.cutting.turn_lines import turn_lines
from pipeline.geometry.chains import Array
from pipeline.geometry.curves import Line, Segment, nearest_on_path, path_area_mm2, path_length_mm
from pipeline.geometry.points import Point
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import CutEdge, CutPiece, DrawnPiece, Notch, Polyline


def cut_pieces(
    pattern: Pattern, size: str, drawn: tuple[DrawnPiece, ...]
) -> tuple[tuple[CutPiece, ...], tuple[Finding, ...]]:
    """All cut pieces of one size in the order given, then its drawn strips, and what there is to tell.

    A piece whose cut line cannot be made is left out, with a finding that blocks.
    """
    pieces: list[CutPiece] = []
    findings: list[Finding] = []
    by_name = {piece.piece: piece for piece in drawn}
    for piece in drawn:
        spec = pattern.pieces.get(piece.piece)
        whole = by_name.get(spec.source or "") if spec is not None and spec.part is not None else None
        cut, told = cut_piece(pattern, piece, whole)
        findings += told
        if cut is not None:
            pieces.append(cut)
    strips, told = drawn_strips(pattern, size, tuple(pieces))
    return (*pieces, *strips), (*findings, *told)


def cut_piece(
    pattern: Pattern, drawn: DrawnPiece, whole: DrawnPiece | None = None
) -> tuple[CutPiece | None, tuple[Finding, ...]]:
    """One piece as it is cut, and what there is to tell of it; None where no cut line can be made.

    `whole`: the source, as drawn, of a piece that is a part of one.
    """
    teller = Teller(pattern.name, drawn)
    rules = piece_rules(pattern, drawn, teller, whole)
    try:
        # GEOS leaves floating-point flags behind where it is asked for intersections of parallels; they mean nothing.
        with np.errstate(divide="ignore", invalid="ignore"):
            cut = None if rules is None else _cut(pattern, drawn, rules, teller)
    except (shapely.errors.GEOSException, np.linalg.LinAlgError) as fault:
        teller.tell(
            "not-computed",
            "block",
            f"its cut line could not be computed ({fault}).",
            "Simplify the seam line: remove crossing, repeated and very short segments.",
        )
        cut = None
    return cut, tuple(teller.findings)


def _cut(pattern: Pattern, drawn: DrawnPiece, rules: PieceRules, teller: Teller) -> CutPiece | None:
    stretches = in_stretches(drawn, rules, teller)
    parted = stretches.rules
    by_stretch = closed_runs(stretches.drawn, parted, teller)
    if by_stretch is None:
        return None
    fold = fold_of(stretches.drawn, parted, by_stretch, teller)
    runs = tuple(run for runs in by_stretch for run in runs)
    seam_ring = np.vstack([run.points[:-1] for run in runs])
    seam = seam_region(seam_ring, fold, teller)
    if seam is None or (fold is None and any(rule.fold for rule in rules.edges)):
        return None
    knots = tuple(run for runs, rule in zip(by_stretch, parted.edges, strict=True) for run in knotted(runs, rule))
    parts = make_parts(knots, parted, fold, seam)
    # A trimmed piece starts from its source's cut line, whose doubts are told of the source.
    doubts = Teller(pattern.name, drawn) if rules.trim_mm else teller
    tell_steps(parts, doubts)
    tell_grown(parts, doubts)
    region, ends = join_parts(parts, doubts)
    if not tell_parts_and_holes(region, teller):
        return None
    line = cut_line(parts, largest(region), ends)
    tell_lost_stretches(parts, line, doubts)
    tell_far_points(parts, line, doubts)
    line = stretches.line_by_edge(line)
    if rules.trim_mm:
        region, moved = trimmed(line, fold, rules.trim_mm)
        if not tell_parts_and_holes(region, teller) or moved is None:
            return None
        line = moved
    whole = line.ring if fold is None else unfolded(fold, line.ring)
    whole_seam = seam_ring if fold is None else unfolded(fold, fold.snapped(seam_ring))
    if whole is None or whole_seam is None:
        teller.tell(
            "fold-left",
            "block",
            "its outline touches the fold in more than one stretch, so it cannot be opened.",
            "Keep the half on one side of the fold, away from it everywhere but along it.",
            where=_fold_name(rules),
        )
        return None
    by_edge = stretches.runs_by_edge(by_stretch)
    return _assembled(pattern, drawn, rules, parts, by_edge, line, (seam_ring, whole_seam, whole), teller)


def _fold_name(rules: PieceRules) -> str | None:
    return next((rule.name for rule in rules.edges if rule.fold), None)


def _assembled(
    pattern: Pattern,
    drawn: DrawnPiece,
    rules: PieceRules,
    parts: Parts,
    by_edge: tuple[tuple[Run, ...], ...],
    line: CutLine,
    rings: tuple[Array, Array, Array],
    teller: Teller,
) -> CutPiece:
    fold = parts.fold
    seam_ring, whole_seam, whole = rings
    gross = [_gross_mm(drawn, index, rules) for index in range(len(rules.edges))]
    spec, of_a_part = _source_spec(pattern, drawn), pattern.pieces[drawn.piece].part is not None
    edges = tuple(
        CutEdge(
            name=rule.name,
            length_mm=gross[index] - _taken_mm(drawn, index, spec, of_a_part, teller),
            gross_length_mm=gross[index],
            allowance_mm=0.0 if rule.fold else rule.width_mm - rules.trim_mm,
            allowance_end_mm=rule.end_mm - rules.trim_mm if rule.tapers else None,
            allowance_between=tuple((share, width - rules.trim_mm) for share, width in rule.between),
            grown_on=tuple(structs.replace(part, cut_mm=part.cut_mm - rules.trim_mm) for part in rule.grown),
            fold=rule.fold,
            hem=rule.hem,
            cut_line=(stretches := _stretches(line, index)),
            cut_length_mm=sum(a.distance(b) for stretch in stretches for a, b in pairwise(stretch)),
        )
        for index, rule in enumerate(rules.edges)
    )
    places = {rule.name: (rule, EdgePlaces(by_edge[index])) for index, rule in enumerate(rules.edges)}
    lengths = {rule.name: gross[index] for index, rule in enumerate(rules.edges)}
    slits = notch_slits(_on_cloth(pattern, drawn, rules), places, lengths, rules.trim_mm, line, teller)
    seam_area = _exact_area_mm2(drawn, rules)
    # Chords cut both lines short by nearly the same area: what the seam line lacks is given to the cut line too.
    lacking = seam_area - float(shapely.area(shapely.polygons(seam_ring)))
    layers = 1 if fold is None else 2
    return CutPiece(
        drawn=drawn,
        edges=edges,
        seam_drawn=polyline(seam_ring),
        cut_drawn=polyline(line.ring),
        seam_outline=polyline(whole_seam),
        cut_outline=polyline(whole),
        seam_area_mm2=seam_area * layers,
        cut_area_mm2=(float(shapely.area(shapely.polygons(line.ring))) + lacking) * layers,
        fold=None if fold is None else (Point(*fold.start.tolist()), Point(*fold.end.tolist())),
        slits=slits,
        clips=clip_marks(parts, slits) if not rules.trim_mm else (),
        turns=turn_lines(drawn, parts, line.ring, teller),
        rows=topstitch_lines(pattern, drawn, parts, seam_ring, teller),
    )


def _on_cloth(pattern: Pattern, drawn: DrawnPiece, rules: PieceRules) -> tuple[Notch, ...]:
    """The notches of a piece, of a part without those that a trimmed edge along a line leaves no cloth."""
    part = pattern.pieces[drawn.piece].part
    lost = [
        (drawn.edge(rule.name).path, rules.trim_mm - rule.width_mm)
        for rule in rules.edges
        if part is not None and rule.name in part.lines and rules.trim_mm > rule.width_mm
    ]
    return tuple(
        notch for notch in drawn.notches if all(nearest_on_path(path, notch.place)[0] > mm for path, mm in lost)
    )


def _source_spec(pattern: Pattern, drawn: DrawnPiece) -> dict[str, EdgeSpec]:
    spec = pattern.pieces[drawn.piece]
    while spec.source is not None:
        spec = pattern.pieces[spec.source]
    return spec.edges


def _gross_mm(drawn: DrawnPiece, index: int, rules: PieceRules) -> float:
    path = drawn.edges[index].path
    return path[0].start.distance(path[-1].end) if rules.edges[index].fold else path_length_mm(path)


def _taken_mm(drawn: DrawnPiece, index: int, specs: dict[str, EdgeSpec], part: bool, teller: Teller) -> float:
    """What darts, pleats and tucks take up of an edge; of a part of a piece those that lie on it."""
    edge = drawn.edges[index]
    taken = 0.0
    for take in specs.get(edge.name, EdgeSpec()).takes:
        ends = []
        if part and not {take.start_notch, take.end_notch} <= {n.name for n in drawn.notches if n.edge == edge.name}:
            continue
        for name in (take.start_notch, take.end_notch):
            found = [notch.at_mm for notch in drawn.notches if notch.edge == edge.name and notch.name == name]
            if not found:
                teller.tell(
                    "take-notch",
                    "block",
                    f"its {take.kind} runs to a notch {name}, which this edge does not have.",
                    f"Name a notch on {edge.name}, or draw one of that name.",
                    where=edge.name,
                    found="none",
                    allowed=name,
                )
            ends += found[:1]
        if len(ends) == 2:
            taken += abs(ends[1] - ends[0])
    return taken


def _stretches(line: CutLine, edge: int) -> tuple[Polyline, ...]:
    mine = line.edges == edge
    if not mine.any():
        return ()
    if mine.all():
        return (polyline(np.vstack((line.ring, line.ring[:1]))),)
    closed = np.vstack((line.ring, line.ring[:1]))
    starts = np.flatnonzero(mine & ~np.roll(mine, 1))
    stops = np.flatnonzero(mine & ~np.roll(mine, -1)) + 1
    if stops[0] <= starts[0]:
        stops = np.roll(stops, -1)
    parts = []
    for start, stop in zip(starts.tolist(), stops.tolist(), strict=True):
        parts.append(closed[start : stop + 1] if stop > start else np.vstack((line.ring[start:], closed[: stop + 1])))
    return tuple(polyline(part) for part in parts)


def _exact_area_mm2(drawn: DrawnPiece, rules: PieceRules) -> float:
    """Area inside the seam line on the curves themselves, a fold taken as its chord."""
    path: list[Segment] = []
    for edge, rule in zip(drawn.edges, rules.edges, strict=True):
        segments = (Line(edge.path[0].start, edge.path[-1].end),) if rule.fold else edge.path
        if path and path[-1].end != segments[0].start:
            path.append(Line(path[-1].end, segments[0].start))
        path += segments
    return path_area_mm2((*path, Line(path[-1].end, path[0].start)))
