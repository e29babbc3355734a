"""What `pattern.toml` says of edges, lines and notches, held against the masters of all sizes."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from pipeline.masters.faults import KeyPath, did_you_mean, item, key_text, shown
from pipeline.model.findings import Finding, Severity
from pipeline.model.pattern import Pattern, Reference, Sum
from pipeline.model.pieces import DrawnPiece


class _Asked(NamedTuple):
    """One name that `pattern.toml` uses: where, of which piece, what it should be, and what there is of that kind."""

    path: KeyPath
    piece: str
    name: str
    kind: str
    there: Callable[[DrawnPiece], Iterable[str | None]]
    severity: Severity = "block"


def check_references(pattern: Pattern, sizes: Mapping[str, Sequence[DrawnPiece]]) -> tuple[Finding, ...]:
    """A finding for every edge, line and notch that is named but not drawn; pieces that were not read are left out.

    A name that is missing wherever its piece was read is told once, else once for each size that lacks it.
    """
    drawn: dict[str, dict[str, DrawnPiece]] = {}
    for size in pattern.sizes:
        for piece in sizes.get(size, ()):
            drawn.setdefault(piece.piece, {})[size] = piece
    findings: list[Finding] = []
    for asked in _all_asked(pattern):
        findings.extend(_missing(pattern, asked, drawn.get(asked.piece, {})))
    return tuple(dict.fromkeys(findings))


def _missing(pattern: Pattern, asked: _Asked, read: dict[str, DrawnPiece]) -> Iterator[Finding]:
    names = {size: {name for name in asked.there(piece) if name is not None} for size, piece in read.items()}
    lacking = [size for size, known in names.items() if asked.name not in known]
    everywhere = len(lacking) == len(read)
    for size in lacking[:1] if everywhere else lacking:
        known, key = sorted(names[size]), key_text(asked.path)
        in_size = "" if everywhere else f" in size {size}"
        yield Finding(
            check="references",
            code=f"unknown-{asked.kind.split()[0]}",
            severity=asked.severity,
            pattern=pattern.name,
            size=None if everywhere else size,
            piece=None if asked.path[0] in ("seams", "strips", "notions") else asked.piece,
            where=f"{asked.path[0]}.{asked.path[1]}" if asked.path[0] in ("seams", "strips", "notions") else None,
            file="pattern.toml",
            object=key,
            found=asked.name,
            allowed=", ".join(known) or "none is drawn",
            message=f"{key} names {shown(asked.name)}: {asked.piece} has no such {asked.kind}{in_size}.",
            remedy=f"{did_you_mean(asked.name, known)} Names stand in {read[size].file}.",
        )


def _all_asked(pattern: Pattern) -> Iterator[_Asked]:
    for name, piece in pattern.pieces.items():
        for edge in piece.edges:
            yield _Asked(("pieces", name, "edges", edge), name, edge, "edge", _edges)
        for line in piece.lines:
            yield _Asked(("pieces", name, "lines", line), name, line, "inside line", _lines)
        for notch in piece.notches:
            yield _Asked(("pieces", name, "notches", notch), name, notch, "notch", _notches)
    for name, seam in pattern.seams.items():
        for key, side in (("a", seam.a), ("b", seam.b)):
            for position, place in enumerate(side):
                yield _Asked(("seams", name, key, item(position)), place.piece, place.edge, "edge", _edges)
    for name, strip in pattern.strips.items():
        for key, total in (("length", strip.length), ("opening", strip.opening), ("goes_round", strip.goes_round)):
            yield from _of_sum(("strips", name, key), total)
    for name, measure in pattern.finished.items():
        yield from _of_sum(("finished", name, "sum"), measure.sum)
    for name, notion in pattern.notions.items():
        yield from _of_sum(("notions", name, "length"), notion.length)
    for position, waiver in enumerate(pattern.waivers):
        piece_name, _, place_name = waiver.where.partition(".")
        if place_name and piece_name in pattern.pieces:
            path = ("waivers", item(position), "where")
            yield _Asked(path, piece_name, place_name, "mark or edge", _marks, "warn")


def _of_sum(path: KeyPath, total: Sum | None) -> Iterator[_Asked]:
    for term in total.terms if total else ():
        if isinstance(term.of, Reference) and term.of.piece != "body":
            kind, there = ("edge", _edges) if term.of.gross else ("edge or inside line", _edges_and_lines)
            yield _Asked(path, term.of.piece, term.of.line, kind, there)


def _edges(drawn: DrawnPiece) -> Iterable[str | None]:
    return [edge.name for edge in drawn.edges]


def _lines(drawn: DrawnPiece) -> Iterable[str | None]:
    return [line.name for line in drawn.inside]


def _edges_and_lines(drawn: DrawnPiece) -> Iterable[str | None]:
    return [*_edges(drawn), *_lines(drawn)]


def _notches(drawn: DrawnPiece) -> Iterable[str | None]:
    return [notch.name for notch in drawn.notches]


def _marks(drawn: DrawnPiece) -> Iterable[str | None]:
    return [*_edges_and_lines(drawn), *_notches(drawn), *(point.name for point in drawn.points)]
