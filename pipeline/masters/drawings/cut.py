"""Masters out of drawings: every piece in every size as a file of its own, in the form that all that follows reads."""

from collections.abc import Mapping
from pathlib import Path

from pipeline.masters.drawings.files import drawings_of
from pipeline.masters.drawings.kept import Kept, Master
from pipeline.masters.drawings.layers import Vocabulary
from pipeline.masters.drawings.naming import Named, as_split, doubt
from pipeline.masters.drawings.notch_names import NotchNames, named_notches
from pipeline.masters.drawings.pieces import Shown
from pipeline.masters.drawings.result import CutOut, Doubt, PieceFound, Seen
from pipeline.masters.drawings.sorted_objects import OF_DRAWING, DrawingReading, Drawn, Sorted, sort_objects
from pipeline.masters.drawings.texts import texts_by_piece
from pipeline.masters.drawings.write import Origin, Written, master_svg, path_stroke
from pipeline.masters.groups import GROUPS
from pipeline.masters.lookup import EVERY_SIZE, MASTERS
from pipeline.masters.source_file import FileFault, read_source
from pipeline.masters.svg.walk import Shape
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.sizes import places
from pipeline.work.cache import Answers

MOST_BYTES = 100_000_000
"""Of all drawings of a pattern together."""


def cut_drawings(pattern: Pattern, folder: Path, answers: Answers | None = None) -> CutOut:
    """Everything that the drawings of a pattern's folder show. Never raises for what is in them.

    `answers` are those of an earlier time: a size of which nothing changed is not solved again.
    """
    files = drawings_of(pattern, folder)
    vocabulary = Vocabulary(pattern, files)
    drawings: list[Sorted] = []
    findings: list[Finding] = []
    read = 0
    kept = Kept(answers)
    for file in files:
        reading = DrawingReading(pattern.name, None, None, file)
        data = read_source(folder / file, min(OF_DRAWING.characters, MOST_BYTES - read))
        if isinstance(data, FileFault):
            reading.tell(data.code, f"{file} {data.message}", data.remedy, found=data.found, allowed=data.allowed)
        else:
            read += len(data)
            sorted_ = sort_objects(pattern, vocabulary, file, data, reading, kept)
            drawings += [sorted_] if sorted_ is not None else []
        findings += reading.findings()
    cutting = _Cutting(pattern, drawings, kept)
    for spec in pattern.pieces.values():
        if spec.source is None:
            cutting.piece(spec)
    return CutOut(
        masters=cutting.masters,
        answered=tuple(cutting.answered),
        findings=(*findings, *cutting.findings),
        found=tuple(cutting.found),
        doubts=tuple(cutting.doubts),
        seen=tuple(Seen(each.file, tuple(each.unplaced.items()), each.hidden) for each in drawings),
    )


class _Cutting:
    def __init__(self, pattern: Pattern, drawings: list[Sorted], kept: Kept) -> None:
        self.pattern, self.drawings, self.kept = pattern, drawings, kept
        self.places = places(pattern)
        self.masters: dict[str, bytes] = {}
        self.answered: dict[str, None] = {}
        self.findings: list[Finding] = []
        self.found: list[PieceFound] = []
        self.doubts: list[Doubt] = []
        self.shown = {spec.name: self._shown(spec) for spec in pattern.pieces.values() if spec.source is None}
        bases = {name: shown[self._base(shown)] for name, shown in self.shown.items() if shown}
        self.texts, told = texts_by_piece(pattern, drawings, bases, kept)
        self.findings += told

    def _shown(self, spec: PieceSpec) -> dict[str, Shown]:
        """The piece by size, in the order of sizes; one that stands in two drawings is told."""
        found: dict[str, Shown] = {}
        for drawing in self.drawings:
            for (size, piece), drawn in drawing.drawn.items():
                if piece != spec.name:
                    continue
                self.answered.setdefault(f"{MASTERS}/{size}/{piece}.svg")
                if size in found:
                    self._twice(spec, found[size].drawn, drawn)
                else:
                    found[size] = self.kept.shown(self.pattern, spec, drawn)
        return dict(sorted(found.items(), key=lambda item: (self._index(item[0]), item[0])))

    def _twice(self, spec: PieceSpec, first: Drawn, second: Drawn) -> None:
        reading = DrawingReading(self.pattern.name, _size(self.pattern, second), spec.name, second.file)
        reading.tell(
            "two-masters",
            f"{spec.name} in size {second.size} is drawn in {first.file} ({first.way}) and in {second.file}"
            f" ({second.way}).",
            "Take one of them out, or out of [masters] drawings.",
            found=f"{first.file}, {second.file}",
            allowed="one drawing",
        )
        self.findings += reading.findings()

    def _index(self, size: str) -> tuple[float, ...]:
        """Where a size, or the middle of a set, stands on each axis."""
        sizes = self.pattern.sizes
        of = [size] if size in sizes else self.pattern.size_sets.get(size, sizes if size == EVERY_SIZE else ())
        return tuple(sum(on) / len(of) for on in zip(*(self.places[each] for each in of), strict=True))

    def _steps(self, one: str, other: str) -> float:
        """How many steps lie between two sizes, along all axes."""
        return sum(abs(a - b) for a, b in zip(self._index(one), self._index(other), strict=True))

    def _base(self, shown: Mapping[str, Shown]) -> str:
        """The base size, the set that holds it, or what is nearest to it."""
        base = self.pattern.base
        sets = [name for name, sizes in self.pattern.size_sets.items() if base in sizes]
        named = next((key for key in (base, *sets, EVERY_SIZE) if key in shown), None)
        return named or min(shown, key=lambda key: (self._steps(key, base), key))

    def piece(self, spec: PieceSpec) -> None:
        """Cuts one piece in all its sizes."""
        shown = self.shown[spec.name]
        if not shown:
            return
        base = self._base(shown)
        names = self._names(spec, shown, base)
        notches = self.kept.notch_names(spec, shown[base], names[base]) if base in names else {}
        for size, piece in shown.items():
            self._cut(spec, piece, names.get(size), notches if size != base else {})

    def _cut(self, spec: PieceSpec, piece: Shown, named: Named | None, notches: NotchNames) -> None:
        master = self.kept.master(piece, named, notches, lambda: _master(spec, piece, named, notches))
        self.findings += piece.reading.findings()
        if master is not None:
            self.masters[f"{MASTERS}/{piece.drawn.size}/{piece.drawn.piece}.svg"] = master.svg.encode()
            self.found.append(master.found)

    def _names(self, spec: PieceSpec, shown: dict[str, Shown], base: str) -> dict[str, Named]:
        """The named edges of every size whose outline can be read; nothing for a closed outline that stays whole."""
        split = {
            size: as_split(piece.outline, piece.names)
            for size, piece in shown.items()
            if not piece.nameless and piece.outline
        }
        nameless = [size for size, piece in shown.items() if piece.nameless]
        texts = self.texts.get(spec.name, [])
        if not nameless:
            return split
        if not (spec.around or texts or base in split):
            for size in nameless:
                if len(shown[size].drawn.shapes["seam"]) > 1:
                    _tell_nameless(shown[size], spec)
            return split
        if shown[base].outline is None:
            return {}
        first = self.kept.named_base(spec, shown[base], texts)
        if first is None:
            self.doubts.append(doubt(spec, shown[base], "base", None))
            return {}
        known = {**split, base: first}
        self._carry(spec, shown, base, known)
        return known

    def _carry(self, spec: PieceSpec, shown: dict[str, Shown], base: str, known: dict[str, Named]) -> None:
        """From the base on to both ends of the sizes, each from the one beside it that is known."""
        symmetrical: list[str] = []
        for size in sorted(shown, key=lambda size: (self._steps(size, base), size)):
            piece = shown[size]
            if size in known or piece.outline is None:
                continue
            beside = min(known, key=lambda other: (self._steps(size, other), other))
            named, answer = self.kept.carried((shown[beside], known[beside]), piece)
            if named is None:
                self.doubts.append(doubt(spec, piece, answer.code, known[beside]))
                piece.reading.tell(
                    answer.code,
                    f"The edges of {spec.name} in size {size} cannot be named as those of size {beside}: {answer.why}.",
                    f"{answer.remedy} The picture in proof/ shows both with their corners numbered.",
                    object=f"outline in {piece.drawn.way}",
                )
                continue
            known[size] = named
            if answer.code:
                symmetrical.append(size)
        if symmetrical:
            in_order = sorted(symmetrical, key=lambda size: (self._index(size), size))
            shown[base].reading.tell(
                "symmetrical",
                f"The outline fits nearly as well turned or mirrored, in size {', '.join(in_order)}: its edges are"
                " named as it lies on the page.",
                "Nothing, where all sizes lie alike.",
                severity="info",
            )


def _master(spec: PieceSpec, piece: Shown, named: Named | None, of_base: NotchNames) -> Master | None:
    """What is written of a piece in one size; None where anything of it blocks."""
    drawn = piece.drawn
    edges = named.edges() if named is not None else ()
    notches = drawn.shapes.get("notches", [])
    if edges and of_base:
        notches = named_notches(spec, of_base, piece, edges)
    if piece.reading.blocked:
        return None
    groups = {role: [_written(role, i, s, drawn) for i, s in enumerate(drawn.shapes.get(role, []))] for role in GROUPS}
    groups["notches"] = [_written("notches", i, shape, drawn) for i, shape in enumerate(notches)]
    if piece.nameless and edges:
        groups["seam"] = [
            Written(edge.name, f'edge "{edge.name}" of the outline in {drawn.way}', (path_stroke(edge.path),))
            for edge in edges
        ]
    kept = {role: objects for role, objects in groups.items() if objects}
    svg = master_svg(Origin(drawn.file, drawn.way), kept).decode()
    count = len(edges) if edges else len(groups["seam"])
    corners = sum(node.corner for node in piece.outline.nodes) if piece.nameless and piece.outline else 0
    grain = bool(groups["grain"])
    return Master(svg, PieceFound(drawn.file, drawn.piece, drawn.size, count, len(notches), grain, corners))


def _written(role: str, number: int, shape: Shape, drawn: Drawn) -> Written:
    name = f'"{shape.name}"' if shape.name else f"{number + 1}"
    cut_from = f"{shape.tag} {name} of {role} in {drawn.way}"
    return Written(shape.name, cut_from, shape.strokes, shape.tag == "rect" and role == "label")


def _tell_nameless(piece: Shown, spec: PieceSpec) -> None:
    piece.reading.tell(
        "edges-unnamed",
        f"The outline of {spec.name} is drawn in {len(piece.drawn.shapes['seam'])} parts, none of which has a name.",
        f'Name the edges in pattern.toml, clockwise from the top left corner: pieces.{spec.name}.around = ["…"]; or'
        " write a text beside each edge of the base size, in a group called names.",
        object=f"seam in {piece.drawn.way}",
        found="no name",
        allowed="names of edges",
    )


def _size(pattern: Pattern, drawn: Drawn) -> str | None:
    return drawn.size if drawn.size in pattern.sizes else None
