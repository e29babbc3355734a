"""What is asked of each edge of a piece: its allowance, whether it is a fold, and the corner at each of its ends."""

from typing import Literal

import msgspec
import numpy as np

from pipeline.cutting.along import Knots, knots_between, widths_of_parts
from pipeline.cutting.grown_on import grown_between, grown_parts
from pipeline.cutting.telling import Teller
from pipeline.geometry.chains import Array
from pipeline.geometry.curves import nearest_on_path, path_length_mm
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Corner, EdgeSpec, PieceSpec
from pipeline.model.pieces import DrawnPiece, Edge, GrownPart
from pipeline.model.widths import width_at

_RANK: dict[Corner, int] = {"mitre": 0, "square": 1, "turned": 2}


class EdgeRule(msgspec.Struct, frozen=True):
    """One edge in walking order. `width_mm` is its allowance before any trim, `end_mm` that at its last point; 0 on a
    fold. `between`: shares of the edge, each with the allowance there, where it has parts. `clips`: may be
    clipped. `folds_mm`: how far out a turned hem is folded again. `grown`: parts along which something is grown on.
    `extension`: what is grown on all along it, where it is a stretch of an edge (`stretches.py`)."""

    name: str
    width_mm: float
    end_mm: float
    fold: bool
    hem: bool
    clips: bool = True
    between: Knots = ()
    folds_mm: tuple[float, ...] = ()
    grown: tuple[GrownPart, ...] = ()
    extension: GrownPart | None = None

    @property
    def lines_mm(self) -> tuple[float, ...]:
        """How far out the lines lie that are drawn for it to be folded on."""
        return self.folds_mm if self.extension is None else (0.0, *self.folds_mm)

    @property
    def tapers(self) -> bool:
        return self.width_mm != self.end_mm or bool(self.between)

    @property
    def widest_mm(self) -> float:
        return max(self.width_mm, self.end_mm, *(width for _, width in self.between))

    def widths_at(self, shares: Array) -> Array:
        """The allowance so far along the edge: at 0 its first point, at 1 its last."""
        if not self.between:
            return self.width_mm * (1 - shares) + self.end_mm * shares
        widths = [width_at(self.knots, share) for share in np.atleast_1d(shares)]
        return np.reshape(widths, np.shape(shares))

    @property
    def knots(self) -> Knots:
        """Shares of the edge, from its first to its last point, each with the allowance there."""
        return ((0.0, self.width_mm), *self.between, (1.0, self.end_mm))


class CornerRule(msgspec.Struct, frozen=True):
    """The corner where one edge ends and the next starts. `owner` is the edge that asks for it: ending or starting.

    "step" is where what is grown on ends within an edge."""

    kind: Corner | Literal["step"]
    owner: Literal[0, 1]


class PieceRules(msgspec.Struct, frozen=True):
    """Rules of all edges in walking order; `corners[i]` is where edge i ends. `trim_mm` moves the cut line inward."""

    edges: tuple[EdgeRule, ...]
    corners: tuple[CornerRule, ...]
    trim_mm: float


def piece_rules(
    pattern: Pattern, drawn: DrawnPiece, teller: Teller, whole: DrawnPiece | None = None
) -> PieceRules | None:
    """The rules of a drawn piece, those of its source where it is derived; None where a line cannot be drawn.

    `whole`: the source, as drawn, of a piece that is a part of one.
    """
    spec = pattern.pieces.get(drawn.piece)
    if spec is None:
        teller.tell(
            "unknown-piece",
            "block",
            "pattern.toml has no such piece.",
            f"Add [pieces.{drawn.piece}] to pattern.toml, or remove the drawing.",
        )
        return None
    base, trim_mm = _source_of(pattern, spec, teller)
    if base is None:
        return None
    said_of = base.edges | {name: _along_line(spec, name) for name in (spec.part.lines if spec.part else ())}
    specs = [said_of.get(edge.name, EdgeSpec()) for edge in drawn.edges]
    said = (spec.clips, base.clips, pattern.clips)
    clips = next(clips for clips in said if clips is not None)
    # What is wrong with parts of allowances, and with corner rules, is told of the piece that they stand in, and not
    # again of those derived from it.
    own = teller if spec.source is None else Teller(pattern.name, drawn)
    edges = _edge_rules(drawn, whole or drawn, base, spec, specs, clips, (teller, own))
    if edges is None:
        return None
    if spec.past_seam_mm is not None:
        return PieceRules(edges, tuple(CornerRule("mitre", 0) for _ in edges), 0.0)
    corners = _corner_rules(drawn, edges, specs, own)
    return PieceRules(edges, corners, trim_mm)


def _source_of(pattern: Pattern, spec: PieceSpec, teller: Teller) -> tuple[PieceSpec | None, float]:
    """The piece whose allowances count, and the trims on the way to it."""
    trim_mm, seen = 0.0, {spec.name}
    while spec.source is not None:
        trim_mm += spec.trim_mm or 0.0
        source = pattern.pieces.get(spec.source)
        if source is None or source.name in seen:
            fault = "goes round in a circle" if source is not None else "names no piece"
            teller.tell(
                "source",
                "block",
                f"outline_of {fault}.",
                "Let outline_of name a piece that has edges and allowances of its own.",
                found=spec.source,
            )
            return None, 0.0
        seen.add(source.name)
        spec = source
    return spec, trim_mm


def _edge_rules(
    drawn: DrawnPiece,
    whole: DrawnPiece,
    base: PieceSpec,
    own_spec: PieceSpec,
    specs: list[EdgeSpec],
    clips: bool,
    tellers: tuple[Teller, Teller],
) -> tuple[EdgeRule, ...] | None:
    """The second of the tellers is told what a derived piece need not tell again."""
    teller, own = tellers
    past_seam_mm = own_spec.past_seam_mm
    lines = own_spec.part.lines if own_spec.part else ()
    rules: list[EdgeRule] = []
    missing = False
    for edge, spec in zip(drawn.edges, specs, strict=True):
        width = spec.allowance_mm if spec.allowance_mm is not None else base.allowance_mm
        if past_seam_mm is not None and edge.name not in lines:
            width = past_seam_mm
        if spec.fold:
            width = 0.0
        told = past_seam_mm is None and not spec.fold
        source = edge if edge.name in lines else whole.edge(edge.name)
        knots = widths_of_parts(whole, source, spec.along, width, own) if told and spec.along else None
        if knots is None and width is not None:
            end = spec.allowance_end_mm if told and spec.allowance_end_mm is not None else width
            knots = ((0.0, width), (1.0, end))
        grown = grown_parts(whole, source, spec, own) if told else ()
        if knots is not None and source is not edge:
            low, high = _reach(source, edge)
            knots, grown = knots_between(knots, low, high), grown_between(grown, low, high)
        if knots is None:
            missing = True
            teller.tell(
                "no-allowance",
                "block",
                "no allowance is declared for this edge.",
                f'Give allowance = "…" in [pieces.{base.name}], or edges.{edge.name} = {{ allowance = "…" }}.',
                where=edge.name,
                found="none",
                allowed="0 to 200 mm",
            )
            continue
        clipped = clips if spec.clips is None else spec.clips
        (_, first), *between, (_, last) = knots
        folds_mm = spec.folds_mm if told else ()
        rules.append(EdgeRule(edge.name, first, last, spec.fold, spec.hem, clipped, tuple(between), folds_mm, grown))
    return None if missing else tuple(rules)


def _along_line(spec: PieceSpec, name: str) -> EdgeSpec:
    """What is said of the edge of a part along a line: there it ends, unless it says an allowance."""
    own = spec.edges.get(name, EdgeSpec())
    return own if own.allowance_mm is not None else msgspec.structs.replace(own, allowance_mm=0.0)


def _reach(whole: Edge, edge: Edge) -> tuple[float, float]:
    """Between which shares of a whole edge a part of it lies."""
    length_mm = path_length_mm(whole.path)
    low = nearest_on_path(whole.path, edge.path[0].start)[2] / length_mm
    return low, min(1.0, low + path_length_mm(edge.path) / length_mm)


def _corner_rules(
    drawn: DrawnPiece, edges: tuple[EdgeRule, ...], specs: list[EdgeSpec], teller: Teller
) -> tuple[CornerRule, ...]:
    corners: list[CornerRule] = []
    count = len(edges)
    for index, (edge, spec) in enumerate(zip(edges, specs, strict=True)):
        beside = {edges[index - 1].name, edges[(index + 1) % count].name}
        for other in sorted(set(spec.corner_beside) - beside):
            teller.tell(
                "not-a-neighbour",
                "block",
                f"its corner rule names {other}, which does not meet it.",
                f"Name one of its neighbours: {', '.join(sorted(beside))}.",
                where=edge.name,
                found=other,
                allowed=", ".join(sorted(beside)),
            )
        after = (index + 1) % count
        ending, starting = _asked(spec, edges[after], edge), _asked(specs[after], edge, edges[after])
        if ending == starting != "mitre" and count > 1:
            teller.tell(
                "corner-conflict",
                "block",
                f"both it and {edges[after].name} ask for a {ending} end at the corner that they share.",
                f"Say mitre there on one of the two, as edges.{edge.name} = "
                f'{{ corner = {{ {edges[after].name} = "mitre",'
                f' {edges[index - 1].name} = "{ending}" }} }}.',
                where=edge.name,
                found=f"{ending} and {starting}",
                allowed="one of the two",
            )
        corners.append(CornerRule(ending, 0) if _RANK[ending] >= _RANK[starting] else CornerRule(starting, 1))
    return tuple(corners)


def _asked(spec: EdgeSpec, neighbour: EdgeRule, own: EdgeRule) -> Corner:
    if own.fold:
        return "mitre"
    return spec.corner_beside.get(neighbour.name, spec.corner or "mitre")
