"""What `pattern.toml` says of edges, lines and notches, held against the masters of all sizes."""

import re
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from pipeline.masters.stages import REFERENCES
from pipeline.masters.toml.faults import KeyPath, did_you_mean, item, key_text, nearest, shown
from pipeline.model.edge_places import named_places
from pipeline.model.findings import Finding, Severity
from pipeline.model.pattern import Casing, Pattern, Reference, Sum
from pipeline.model.piece_specs import EdgePart, MarkSpec
from pipeline.model.pieces import DrawnPiece

_LINE, _POINT = "inside line", "point"


class _Asked(NamedTuple):
    """One name that `pattern.toml` uses: where, of which piece, what it should be, and what there is of that kind."""

    path: KeyPath
    piece: str
    name: str
    kind: str
    there: Callable[[DrawnPiece], Iterable[str | None]]
    sizes: tuple[str, ...] = ()
    """Those that alone should have it; none: all."""
    severity: Severity = "block"
    anywhere: bool = False
    """Whether one master that has it is enough."""


def check_references(pattern: Pattern, sizes: Mapping[str, Sequence[DrawnPiece]]) -> tuple[Finding, ...]:
    """A finding for every edge, line and notch that is named but not drawn; pieces that were not read are left out.

    A name that most masters of its piece lack is told at its key, once; what fewer lack, at the master, all in one.
    """
    drawn: dict[str, list[DrawnPiece]] = {}
    for size in pattern.sizes:
        for piece in sizes.get(size, ()):
            drawn.setdefault(piece.piece, []).append(piece)
    findings: list[Finding] = []
    lost: dict[tuple[str, str], _Lost] = {}
    for asked in _all_asked(pattern):
        there = drawn.get(asked.piece, [])
        masters = _masters(piece for piece in there if not asked.sizes or piece.size in asked.sizes)
        if asked.sizes:
            others = _masters(piece for piece in there if piece.size not in asked.sizes)
            findings.extend(_besides(pattern, asked, other) for other in others if asked.name in _names(asked, other))
        lacking = [master for master in masters if asked.name not in _names(asked, master)]
        if asked.anywhere and len(lacking) < len(masters):
            continue
        if 2 * len(lacking) > len(masters):
            findings.append(_unknown(pattern, asked, masters, len(lacking)))
        elif asked.severity == "block":
            for master in lacking:
                entry = lost.setdefault((master.file, _code(asked)), _Lost(asked, master, masters, []))
                entry.names.append(asked.name)
    findings.extend(_lost(pattern, entry) for entry in lost.values())
    return tuple(dict.fromkeys(findings))


def _masters(pieces: Iterable[DrawnPiece]) -> tuple[DrawnPiece, ...]:
    """The first of each drawing: sizes that share a file, and pieces that share an outline, are one."""
    found: dict[str, DrawnPiece] = {}
    for piece in pieces:
        found.setdefault(piece.file, piece)
    return tuple(found.values())


class _Lost(NamedTuple):
    """What one master lacks that others of its piece have."""

    asked: _Asked
    master: DrawnPiece
    masters: tuple[DrawnPiece, ...]
    names: list[str]


def _names(asked: _Asked, master: DrawnPiece) -> set[str]:
    return {name for name in asked.there(master) if name is not None}


def _code(asked: _Asked) -> str:
    return f"unknown-{asked.kind.split()[0]}"


def _besides(pattern: Pattern, asked: _Asked, master: DrawnPiece) -> Finding:
    """What a size has that `sizes` of its mark does not name."""
    key, allowed = key_text((*asked.path, "sizes")), ", ".join(asked.sizes)
    return Finding(
        check=REFERENCES.id,
        code="size-not-named",
        severity="block",
        pattern=pattern.name,
        size=master.size,
        piece=asked.piece,
        where=asked.name,
        file=master.file,
        object=asked.name,
        found=master.size,
        allowed=allowed,
        message=f"{master.file} has {asked.name}, which {key} says size {master.size} has not.",
        remedy=f"Name size {master.size} there too, or take {asked.name} out of this drawing.",
    )


def _unknown(pattern: Pattern, asked: _Asked, masters: tuple[DrawnPiece, ...], lacking: int) -> Finding:
    key, known = key_text(asked.path), sorted(set().union(*(_names(asked, master) for master in masters)))
    having = [master for master in masters if asked.name in _names(asked, master)]
    only = f": only {', '.join(master.file for master in having)} has one" if having else ""
    others = [name for name in known if name != asked.name]
    some = f" in {', '.join(asked.sizes)}" if asked.sizes else ""
    remedy = did_you_mean(asked.name, others)
    if having and not asked.sizes and asked.kind in (_LINE, _POINT):
        remedy = f"Where only some sizes have it, name them: {key}.sizes."
    apart = asked.path[0] in ("seams", "strips", "notions")
    return Finding(
        check=REFERENCES.id,
        code=_code(asked),
        severity=asked.severity,
        pattern=pattern.name,
        piece=None if apart else asked.piece,
        where=f"{asked.path[0]}.{asked.path[1]}" if apart else None,
        file="pattern.toml",
        object=key,
        found=asked.name,
        allowed=", ".join(others) or "none is drawn",
        message=f"{key} names {shown(asked.name)}: {asked.piece} has no such {asked.kind}{some}{only}.",
        remedy=f"{remedy} Names stand in {masters[0].file}.",
    )


def _lost(pattern: Pattern, lost: _Lost) -> Finding:
    asked, master = lost.asked, lost.master
    names, there = list(dict.fromkeys(lost.names)), _names(lost.asked, lost.master)
    elsewhere = set().union(*(_names(asked, other) for other in lost.masters if other is not master))
    strange = sorted(there - elsewhere)
    kind = asked.kind if len(names) == 1 else asked.kind.replace("edge", "edges").replace("line", "lines")
    kind = kind if len(names) == 1 or asked.kind != "notch" else "notches"
    one_path = len(master.edges) == 1 and asked.there in (_edges, _edges_and_lines)
    has = "it is one closed path" if one_path else f"it has {', '.join(strange or sorted(there)) or 'none'}"
    close = {
        name: nearest(name, strange) or (strange[0] if len(strange) == len(names) == 1 else None) for name in names
    }
    renamed = ", ".join(f"{found} to {name}" for name, found in close.items() if found)
    remedy = f"Rename {renamed}." if renamed else f"Give what is {', '.join(names)} in other sizes its name here."
    if one_path:
        remedy = (
            f"Break the outline apart at its corners and name the paths: {', '.join(names)}; or name its edges"
            f' clockwise from its top left corner in pattern.toml: pieces.{asked.piece}.around = ["…"].'
        )
    return Finding(
        check=REFERENCES.id,
        code=_code(asked),
        severity=asked.severity,
        pattern=pattern.name,
        size=master.size,
        piece=asked.piece,
        where=names[0] if len(names) == 1 else None,
        file=master.file,
        object=", ".join(names),
        found=", ".join(sorted(there)) or "none",
        allowed=", ".join(names),
        message=f"{master.file} has no {kind} {', '.join(names)}; {has}. It is named at {key_text(asked.path)}.",
        remedy=remedy,
    )


def _all_asked(pattern: Pattern) -> Iterator[_Asked]:
    for name, piece in pattern.pieces.items():
        for edge, spec in piece.edges.items():
            yield _Asked(("pieces", name, "edges", edge), name, edge, "edge", _edges)
            for position, part in enumerate(spec.along):
                yield from _of_part(("pieces", name, "edges", edge, "along", item(position)), name, edge, part.of)
            for position, grown in enumerate(spec.grown_on):
                yield from _of_part(("pieces", name, "edges", edge, "grown_on", item(position)), name, edge, grown.of)
            if isinstance(spec.blend, EdgePart):
                yield from _of_part(("pieces", name, "edges", edge, "blend"), name, edge, spec.blend)
        for line in piece.lines:
            yield _Asked(("pieces", name, "lines", line), name, line, _LINE, _lines, _sizes(piece.line_marks, line))
        for point in piece.point_marks:
            yield _Asked(
                ("pieces", name, "points", point), name, point, _POINT, _points, _sizes(piece.point_marks, point)
            )
        for notch in piece.notches:
            yield _Asked(("pieces", name, "notches", notch), name, notch, "notch", _notches)
    for name, seam in pattern.seams.items():
        for key, side in (("a", seam.a), ("b", seam.b)):
            for position, place in enumerate(side):
                yield _Asked(("seams", name, key, item(position)), place.piece, place.edge, "edge", _edges)
                if place.part is not None:
                    yield from _of_part(("seams", name, key, item(position)), place.piece, place.edge, place.part)
    for name, strip in pattern.strips.items():
        for key in ("length", "opening", "goes_round", "opens_to"):
            yield from _of_sum(("strips", name, key), getattr(strip, key))
        yield from _of_casings(("strips", name, "casing"), strip.casings)
    for name, measure in pattern.finished.items():
        yield from _of_sum(("finished", name, "sum"), measure.sum)
    for name, notion in pattern.notions.items():
        lengths, path = notion.length or {}, ("notions", name, "length")
        one_for_all = len({total.text for total in lengths.values()}) == 1
        for size, total in list(lengths.items())[: 1 if one_for_all else None]:
            yield from _of_sum(path if one_for_all else (*path, size), total)
        for key in ("opening", "goes_round", "opens_to"):
            yield from _of_sum(("notions", name, key), getattr(notion, key))
        yield from _of_casings(("notions", name, "casing"), notion.casings)
        for piece_name, mark in notion.marks.named if notion.marks else ():
            yield _Asked(("notions", name, "count"), piece_name, mark, _POINT, _counted, anywhere=True)
    for position, waiver in enumerate(pattern.waivers):
        piece_name, _, place_name = waiver.where.partition(".")
        if place_name and piece_name in pattern.pieces:
            path = ("waivers", item(position), "where")
            yield _Asked(path, piece_name, place_name, "mark or edge", _marks, severity="warn")


def _of_casings(path: KeyPath, casings: Iterable[Casing]) -> Iterator[_Asked]:
    for casing in casings:
        if casing.line is not None:
            yield _Asked(path, casing.owner, casing.line, "edge or inside line", _edges_and_lines)


def _sizes(marks: Mapping[str, MarkSpec], name: str) -> tuple[str, ...]:
    return marks[name].sizes if name in marks else ()


def _of_sum(path: KeyPath, total: Sum | None) -> Iterator[_Asked]:
    for term in total.terms if total else ():
        if isinstance(term.of, Reference) and term.of.piece != "body":
            whole = not term.of.gross and term.of.part is None
            kind, there = ("edge or inside line", _edges_and_lines) if whole else ("edge", _edges)
            yield _Asked(path, term.of.piece, term.of.line, kind, there)
            if term.of.part is not None:
                yield from _of_part(path, term.of.piece, term.of.line, term.of.part)


def _of_part(path: KeyPath, piece: str, edge: str, of: EdgePart) -> Iterator[_Asked]:
    """Both places that a part of an edge lies between. Of an edge that is not drawn, that alone is told."""

    def places(drawn: DrawnPiece) -> Iterable[str | None]:
        return named_places(drawn, edge) if edge in _edges(drawn) else (of.start, of.end)

    for key, name in (("from", of.start), ("to", of.end)):
        below = (*path, key) if path[0] == "pieces" else path
        yield _Asked(below, piece, name, f"notch or neighbour on {edge}", places)


def _edges(drawn: DrawnPiece) -> Iterable[str | None]:
    return [edge.name for edge in drawn.edges]


def _lines(drawn: DrawnPiece) -> Iterable[str | None]:
    return [line.name for line in drawn.inside]


def _edges_and_lines(drawn: DrawnPiece) -> Iterable[str | None]:
    return [*_edges(drawn), *_lines(drawn)]


def _notches(drawn: DrawnPiece) -> Iterable[str | None]:
    return [notch.name for notch in drawn.notches]


def _points(drawn: DrawnPiece) -> Iterable[str | None]:
    return [point.name for point in drawn.points]


def _counted(drawn: DrawnPiece) -> Iterable[str | None]:
    """What points can be counted by: their names, and those of numbered ones without the number."""
    names = [point.name for point in drawn.points if point.name]
    return [*names, *(re.sub(r"-\d+$", "", name) for name in names)]


def _marks(drawn: DrawnPiece) -> Iterable[str | None]:
    return ["grain", *_edges_and_lines(drawn), *_notches(drawn), *(point.name for point in drawn.points)]
