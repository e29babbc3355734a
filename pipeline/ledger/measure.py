"""What a version is, measured of its cut pieces, tables and pages."""

import hashlib
from collections.abc import Iterable, Mapping, Sequence

import shapely
from msgspec import UNSET

from pipeline.drawing.fonts import FONT_FILES
from pipeline.geometry.curves import flattened
from pipeline.lays.lay import Folded
from pipeline.ledger.facts import Facts, Measured, Parts, PieceFacts, Table
from pipeline.ledger.packed import STEP_MM, Line, Shape, packed, shape_digest
from pipeline.masters.copied import LOGO
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import EdgePart
from pipeline.model.pieces import CutEdge, CutPiece, Cuts, DrawnPiece, GrownPart, Polyline
from pipeline.model.questions import copies_of, owner_of
from pipeline.model.texts import customer_texts
from pipeline.tables.cloth import ClothRow
from pipeline.tables.notions import NotionRow
from pipeline.tables.write import TablesFile
from pipeline.work.files import hash_file

_DIGITS = 12
"""Of a digest that people compare."""


def measure(
    pattern: Pattern,
    cuts: Cuts,
    tables: TablesFile,
    pages: dict[str, tuple[tuple[str, str], ...]],
    booklet: dict[str, Parts] | None = None,
    logo: bytes | None = None,
) -> Measured:
    """What a pattern is as built; `cuts` are its cut pieces by piece and size, `logo` a file, the rest as in Facts."""
    shapes: dict[str, str] = {}
    pieces: dict[str, dict[str, PieceFacts]] = {}
    for piece, by_size in cuts.items():
        for size, cut in by_size.items():
            text = packed(shape_of(cut))
            shapes[shape_digest(text)] = text
            pieces.setdefault(piece, {})[size] = PieceFacts(shape_digest(text), _said(pattern, cut))
    facts = Facts(
        sizes=pattern.sizes,
        pieces=pieces,
        rows=table_rows(tables),
        texts=customer_texts(pattern),
        pages=pages,
        booklet=booklet,
        fonts={file.name: hash_file(file) for file in FONT_FILES.values()},
        shown=_shown(pattern, logo),
    )
    return Measured(facts, shapes)


def _shown(pattern: Pattern, logo: bytes | None) -> dict[str, str]:
    """The logo by the beginning of its SHA-256, and which edges, or parts of them, are blended."""
    found = {LOGO: hashlib.sha256(logo).hexdigest()[:_DIGITS]} if logo is not None else {}
    for piece in pattern.pieces.values():
        for name, edge in piece.edges.items():
            if edge.blend:
                part = edge.blend if isinstance(edge.blend, EdgePart) else None
                found[f"pieces.{piece.name}.edges.{name}.blend"] = part.text if part else "all of it"
    return found


def shape_of(cut: CutPiece) -> Shape:
    """The cut line by edges, a fold's own line for a fold; notches and marks by what they are called."""
    fold: tuple[Polyline, ...] = () if cut.fold is None else (cut.fold,)
    edges = {edge.name: thinned(fold if edge.fold else edge.cut_line) for edge in cut.edges}
    return Shape(edges=edges, notches=_notches(cut.drawn), marks=_marks(cut))


def thinned(lines: Iterable[Sequence[tuple[float, float]]]) -> tuple[Line, ...]:
    """Lines without the places that change them by less than a step, in whole steps."""
    return tuple(_thin(line) for line in lines)


def _thin(line: Sequence[tuple[float, float]]) -> Line:
    kept = shapely.LineString(line).simplify(STEP_MM).coords if len(line) > 2 else line
    return tuple((_stepped(x), _stepped(y)) for x, y in kept)


def _stepped(value: float) -> float:
    return round(round(value / STEP_MM) * STEP_MM, 2) + 0.0  # no minus before zero


def _notches(drawn: DrawnPiece) -> dict[str, dict[str, tuple[Line, ...]]]:
    """By edge and name; those without a name by their number on the edge."""
    found: dict[str, dict[str, tuple[Line, ...]]] = {}
    for notch in sorted(drawn.notches, key=lambda each: each.at_mm):
        on_edge = found.setdefault(notch.edge, {})
        on_edge[_free(notch.name or "", on_edge)] = thinned(((notch.place,),))
    return found


def _marks(cut: CutPiece) -> dict[str, tuple[Line, ...]]:
    drawn = cut.drawn
    found: dict[str, tuple[Line, ...]] = {"grain": thinned(((drawn.grain.bottom, drawn.grain.top),))}
    for line in cut.inside:
        found[_free(line.name or line.kind, found)] = thinned((flattened(line.path),))
    for point in drawn.points:
        found[_free(point.name or "point", found)] = thinned((point.slit or (point.place,),))
    return found


def _free(name: str, taken: Mapping[str, object]) -> str:
    """The name, with a number where it is taken or empty."""
    if name and name not in taken:
        return name
    number = next(number for number in range(1, len(taken) + 2) if f"{name} {number}".strip() not in taken)
    return f"{name} {number}".strip()


def _said(pattern: Pattern, cut: CutPiece) -> dict[str, str]:
    owner = owner_of(pattern, cut.piece)
    said = {"grain": str(owner.grain), "on the fold": "no" if cut.fold is None else "yes"}
    said |= {f"allowance of {edge.name}": _allowance(edge) for edge in cut.edges if not edge.fold}
    for edge in cut.edges:
        said |= {f"grown onto {edge.name}{_nth(k)}": _grown(part) for k, part in enumerate(edge.grown_on)}
    said |= {f"kind of {line.name}": line.kind for line in cut.drawn.inside if line.name}
    said |= {f"notch {notch.name} of {notch.edge}": notch.style for notch in cut.drawn.notches if notch.name}
    for entry in owner.cut:
        if cut.size in entry.count:
            count, mirrored = copies_of(entry, cut.size)
            side = f", wearer's {entry.side}" if entry.side else ""
            told = f"{count}" + f", {mirrored} mirrored" * bool(mirrored) + side
            key = f"count in {entry.material}"
            said[key] = f"{said[key]}; {told}" if entry.side and key in said else told
    return said


def table_rows(tables: TablesFile) -> dict[Table, dict[str, dict[str, str]]]:
    """What tables tell buyers, by table, by what a row is of, by size."""
    return {
        "cloth": _by_size(
            (
                row.view,
                f"{row.material} {_mm(row.width_mm)} wide{', one way' * row.one_way}",
                row.size,
                _length(row.metric, row.imperial) + _laid(row.fold) + _with_repeat(row),
            )
            for row in tables.cloth
        ),
        "strips": _by_size(
            (
                row.view,
                f"{row.strip} of {row.material}",
                row.size,
                f"{row.count} of {_mm(row.cut_width_mm)} x {_mm(row.cut_length_mm)}, {row.grain}",
            )
            for row in tables.strips
        ),
        "notions": _by_size(
            (
                row.view,
                row.notion,
                row.size,
                f"{row.count}"
                if row.count is not None
                else _length(row.sold_metric or row.metric, row.imperial) + _notion_width(row),
            )
            for row in tables.notions
        ),
        "measures": _by_size(
            (None, f"{row.of} {row.measure}", row.size, _length(row.metric, row.imperial)) for row in tables.sizes
        ),
    }


def _by_size(rows: Iterable[tuple[str | None, str, str, str]]) -> dict[str, dict[str, str]]:
    found: dict[str, dict[str, str]] = {}
    for view, name, size, text in rows:
        found.setdefault(f"{view}: {name}" if view else name, {})[size] = text
    return found


def _notion_width(row: NotionRow) -> str:
    """How wide elastic or tape is; nothing where nothing is said."""
    return "" if row.width_mm is UNSET else f", {_mm(row.width_mm)} wide"


def _laid(fold: Folded) -> str:
    """How cloth is laid; nothing where it lies in one layer."""
    return f", {'fold' if fold is True else fold}" if fold else ""


def _with_repeat(row: ClothRow) -> str:
    """What is bought of cloth with a repeat; nothing of any other."""
    if row.repeat_metric is UNSET or row.repeat_imperial is UNSET:
        return ""
    return f", with its repeat {_length(row.repeat_metric, row.repeat_imperial)}"


def _nth(index: int) -> str:
    return f", part {index + 1}" if index else ""


def _grown(part: GrownPart) -> str:
    """How deep it is once folded back, and what of it is turned in; at both ends where it changes."""
    if part.more_mm:
        return " .. ".join(map(_mm, part.widths_mm))
    return " + ".join(map(_mm, (part.width_mm, part.turn_in_mm) if part.turn_in_mm else (part.width_mm,)))


def _allowance(edge: CutEdge) -> str:
    between = [f"{_mm(width)} at {_mm(share * edge.gross_length_mm)}" for share, width in edge.allowance_between]
    start, end = (_mm(edge.allowance_at(share)) for share in (0.0, 1.0))
    return start if start == end and not between else " .. ".join((start, *between, end))


def _length(metric: str | None, imperial: str | None) -> str:
    return f"{metric} ({imperial})"


def _mm(length_mm: float) -> str:
    return f"{length_mm:.1f} mm".replace(".0 mm", " mm")
