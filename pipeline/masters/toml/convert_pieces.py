"""The `[pieces]` of `pattern.toml` as the model's piece specs."""

from collections.abc import Mapping

from msgspec import UNSET

from pipeline.masters.toml.convert_cuts import convert_cuts
from pipeline.masters.toml.convert_edges import convert_edge
from pipeline.masters.toml.convert_parts import edges_of_part, part_of
from pipeline.masters.toml.document import LineTable, PieceTable, PointTable
from pipeline.masters.toml.faults import KeyPath, shown
from pipeline.masters.toml.leaves import Leaves, given
from pipeline.model.piece_specs import EdgeSpec, MarkSpec, PieceSpec, Side


def convert_pieces(leaves: Leaves) -> dict[str, PieceSpec]:
    """All pieces, in the order of the file."""
    tables = leaves.document.pieces
    pieces: dict[str, PieceSpec] = {}
    for position, (name, table) in enumerate(tables.items()):
        path = ("pieces", name)
        if name == "body":
            message, remedy = "is no name for a piece: sums know body measures by it.", "Give the piece another name."
            leaves.faults.tell(path, "bad-name", message, remedy, found=name)
        if not leaves.faults.spoiled(path):
            pieces[name] = _piece(leaves, path, name, table, position + 1)
    _check_numbers(leaves, pieces)
    return pieces


def _piece(leaves: Leaves, path: KeyPath, name: str, table: PieceTable, position: int) -> PieceSpec:
    source, part = _source(leaves, path, table), part_of(leaves, path, table)
    sizes, sizes_at = _sizes(leaves, path, table, source)
    edges: dict[str, EdgeSpec] = {}
    if source is None:
        edges = {edge: convert_edge(leaves, (*path, "edges", edge), edge, told) for edge, told in table.edges.items()}
        _check_corners(leaves, path, edges)
        _check_one_fold(leaves, path, edges)
    else:
        edges = edges_of_part(leaves, path, table, part)
    on_fold = any(edge.fold for edge in (source or table).edges.values())
    lost = source is None and (table.outline_of is not UNSET or leaves.faults.spoiled((*path, "outline_of")))
    says_own = any(entry.side is not UNSET for entry in table.cut)
    inherits = source is not None and table.side is UNSET and not says_own
    side: Side | None = given(source.side if source is not None and inherits else table.side)
    _check_sides(leaves, path, table, side)
    return PieceSpec(
        name=name,
        title=leaves.texts((*path, "title"), table.title),
        number=position if table.number is UNSET else table.number,
        sizes=sizes,
        views=_views(leaves, path, table, source),
        cut=convert_cuts(leaves, (*path, "cut"), table.cut, sizes, sizes_at, pairs=not on_fold and not lost, side=side),
        allowance_mm=None
        if table.allowance is UNSET or source
        else leaves.allowance((*path, "allowance"), table.allowance),
        edges=edges,
        lines={line: told.kind for line, told in table.lines.items()},
        line_marks=_marks(leaves, (*path, "lines"), table.lines, sizes, sizes_at),
        point_marks=_marks(leaves, (*path, "points"), table.points, sizes, sizes_at),
        notches=dict(table.notches),
        grain=table.grain,
        cord=given(table.cord),
        clips=given(table.clips),
        source=given(table.outline_of),
        trim_mm=None if table.trim is UNSET else leaves.allowance((*path, "trim"), table.trim),
        past_seam_mm=None if table.past_seam is UNSET else leaves.allowance((*path, "past_seam"), table.past_seam),
        part=part,
        around=_around(leaves, path, table),
        start=given(table.start),
        corners=table.corners,
    )


def _source(leaves: Leaves, path: KeyPath, table: PieceTable) -> PieceTable | None:
    """The table of the piece whose outline is taken; the rules of derived pieces are told here."""
    tell = leaves.faults.tell
    if leaves.faults.spoiled((*path, "outline_of")):
        return None
    both = table.trim is not UNSET and table.past_seam is not UNSET
    if both:
        message, remedy = "stands beside trim; only one of them can be.", "Keep trim or past_seam."
        tell(
            (*path, "past_seam"),
            "trim-and-past-seam",
            message,
            remedy,
            found="trim and past_seam",
            allowed="one of them",
        )
    if table.outline_of is UNSET:
        for key in ("trim", "past_seam", "upto", "between"):
            if getattr(table, key) is not UNSET:
                message = "is for a piece that takes its outline from another one."
                remedy = 'Add outline_of = "…", or take it out.'
                tell((*path, key), "only-derived", message, remedy, found=key, allowed="with outline_of")
        return None
    ways = ("upto", "between")
    part = any(getattr(table, key) is not UNSET or leaves.faults.spoiled((*path, key)) for key in ways)
    for key, told in (("allowance", table.allowance is not UNSET), ("edges", bool(table.edges) and not part)):
        if told:
            message = f'does not go with outline_of: allowances are those of "{table.outline_of}".'
            remedy = "Take it out; trim and past_seam move the cut line."
            tell((*path, key), "not-on-derived", message, remedy, found=key, allowed="none")
    below = (*path, "outline_of")
    if not leaves.known(below, table.outline_of, leaves.document.pieces, ("pieces",), "piece"):
        return None
    source = leaves.document.pieces[table.outline_of]
    if source.outline_of is not UNSET:
        message = f"names {shown(table.outline_of)}, which is not drawn itself."
        remedy = "Name the piece that has the masters."
        tell(below, "derived-of-derived", message, remedy, found=table.outline_of, allowed="a drawn piece")
        return None
    return source


def _around(leaves: Leaves, path: KeyPath, table: PieceTable) -> tuple[str, ...]:
    """The names of the edges round a closed outline. One name may stand for neighbours: they are joined."""
    tell, around = leaves.faults.tell, table.around
    if table.corners and table.outline_of is not UNSET:
        message = "names corners of an outline that is another piece's."
        tell((*path, "corners"), "not-on-derived", message, "Take it out.", found="corners", allowed="none")
    if around and table.outline_of is not UNSET:
        message = f"does not go with outline_of: the edges are those of {shown(table.outline_of)}."
        tell((*path, "around"), "not-on-derived", message, "Take it out.", found="around", allowed="none")
    if leaves.faults.spoiled((*path, "around")):
        return around
    if table.start is not UNSET and not around:
        message, remedy = "says where `around` begins, which is not there.", "Write around, or take start out."
        tell((*path, "start"), "only-with-around", message, remedy, found=table.start, allowed="with around")
    runs = [name for name, before in zip(around, (*around[-1:], *around[:-1]), strict=True) if name != before]
    for name in dict.fromkeys(name for name in runs if runs.count(name) > 1):
        message = f"has {shown(name)} in {runs.count(name)} places that do not follow each other."
        remedy = "Give each edge a name of its own; only neighbours may share one, and are joined."
        tell((*path, "around"), "twice", message, remedy, found=name, allowed="each edge once")
    if around and len(runs) < 2:
        message, remedy = "names one edge.", "Name at least two edges, clockwise; mark corners where there are none."
        tell((*path, "around"), "too-few", message, remedy, found=", ".join(around), allowed="two edges or more")
    return around


def _sizes(
    leaves: Leaves, path: KeyPath, table: PieceTable, source: PieceTable | None
) -> tuple[tuple[str, ...], KeyPath]:
    """The sizes that a piece is made in, smallest first, and the key that says so.

    A derived piece that says nothing is made where its source is.
    """
    below = (*path, "sizes")
    made, made_at = leaves.sizes, below
    if source is not None and source.sizes is not UNSET:
        made, made_at = leaves.sizes_of(source.sizes), ("pieces", str(table.outline_of), "sizes")
    if table.sizes is UNSET:
        return made, made_at
    return _among(leaves, below, table.sizes, str(table.outline_of), made, made_at), below


def _among(
    leaves: Leaves, path: KeyPath, names: tuple[str, ...], piece: str, made: tuple[str, ...], made_at: KeyPath
) -> tuple[str, ...]:
    """Sizes of a list, each of those that a piece is made in, which the key `made_at` says."""

    def check(place: KeyPath, size: str) -> None:
        known = leaves.size_or_value(place, size)
        if known and not set(leaves.sizes_of((size,))) <= set(made) and leaves.faults.whole(made_at):
            message, allowed = f"is a size that {shown(piece)} is not drawn in.", ", ".join(made)
            leaves.faults.tell(place, "size-not-made", message, "Take it out.", found=size, allowed=allowed)

    return leaves.sizes_of(leaves.each_once(path, names, check))


def _views(leaves: Leaves, path: KeyPath, table: PieceTable, source: PieceTable | None) -> tuple[str, ...]:
    """The views that a piece is limited to: the source's where a derived piece says nothing."""
    if table.views is UNSET and source is not None:
        return given(source.views) or ()
    return leaves.views((*path, "views"), table.views)


def _marks(
    leaves: Leaves,
    path: KeyPath,
    tables: Mapping[str, LineTable | PointTable],
    made: tuple[str, ...],
    made_at: KeyPath,
) -> dict[str, MarkSpec]:
    """Names, sides and sizes of lines or points, of those that say any."""
    return {
        name: MarkSpec(
            title={} if told.title is UNSET else leaves.texts((*path, name, "title"), told.title),
            side=given(told.side),
            sizes=()
            if told.sizes is UNSET
            else _among(leaves, (*path, name, "sizes"), told.sizes, path[1], made, made_at),
        )
        for name, told in tables.items()
        if (told.title, told.side, told.sizes) != (UNSET, UNSET, UNSET)
    }


def _check_sides(leaves: Leaves, path: KeyPath, table: PieceTable, side: Side | None) -> None:
    """Marks for the one side of the wearer on a piece that the other side has."""
    groups: tuple[tuple[str, Mapping[str, LineTable | PointTable]], ...]
    groups = (("lines", table.lines), ("points", table.points))
    for group, marks in groups:
        for name, told in marks.items():
            if side is not None and told.side is not UNSET and told.side != side:
                message = f"is {shown(told.side)}, on a piece that is for the {side}."
                place = (*path, group, name, "side")
                remedy = "Correct one of the two."
                leaves.faults.tell(place, "other-side", message, remedy, found=told.side, allowed=side)


def _check_one_fold(leaves: Leaves, path: KeyPath, edges: dict[str, EdgeSpec]) -> None:
    folds = [name for name, edge in edges.items() if edge.fold]
    if len(folds) > 1:
        found = ", ".join(folds)
        message, remedy = f"has {len(folds)} edges on the fold: {found}.", "Draw the piece with one fold."
        leaves.faults.tell((*path, "edges"), "two-folds", message, remedy, found=found, allowed="one")


def _check_corners(leaves: Leaves, path: KeyPath, edges: dict[str, EdgeSpec]) -> None:
    """Two edges that name each other's corner cannot both ask for `turned`, or both for `square`."""
    for name, edge in edges.items():
        for neighbour, rule in edge.corner_beside.items():
            other = edges.get(neighbour)
            theirs = other.corner_beside.get(name, other.corner) if other else None
            told_before = other is not None and name in other.corner_beside and neighbour < name
            if rule != "mitre" and rule == theirs and not told_before:
                message = f'asks for "{rule}" beside "{neighbour}", which asks for the same.'
                remedy = "One of the two edges gives way: take it out of one."
                place = (*path, "edges", name, "corner", neighbour)
                leaves.faults.tell(
                    place, "corner-conflict", message, remedy, found=rule, allowed="at one of the two edges"
                )


def _check_numbers(leaves: Leaves, pieces: dict[str, PieceSpec]) -> None:
    first: dict[int, str] = {}
    for name, piece in pieces.items():
        path = ("pieces", name, "number")
        if leaves.faults.spoiled(path):
            continue
        if piece.number in first:
            message = (
                f'is {piece.number}, as that of "{first[piece.number]}"; without the key it is the place in this file.'
            )
            leaves.faults.tell(
                path, "number-twice", message, "Give each piece a number of its own.", found=str(piece.number)
            )
        first.setdefault(piece.number, name)
