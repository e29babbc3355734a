"""Rows of stitching that are seen, of edges and of seams of `pattern.toml`."""

from collections.abc import Iterator
from itertools import pairwise

from msgspec import UNSET

from pipeline.masters.toml.document import SeamTable
from pipeline.masters.toml.faults import KeyPath, did_you_mean, item, shown
from pipeline.masters.toml.leaves import LARGEST_ALLOWANCE_MM, Leaves
from pipeline.model.pattern import Pressed, SideEdge

_LEAST_ROW_MM = 0.5
"""Nearer to a seam, or to another row, nobody can stitch (common practice)."""
_UNSEWN = ("lining", "bagged")
_OF_COPIES: dict[str, Pressed] = {"left": "left", "right": "right", "open": "open"}
_Side = tuple[SideEdge, ...]


def convert_rows(leaves: Leaves, path: KeyPath, told: str | tuple[str, ...]) -> tuple[float, ...]:
    """Distances of rows from the seam line, the nearest first."""
    if leaves.faults.spoiled(path) or not told:
        return ()
    texts, paths = ((told,), (path,)) if isinstance(told, str) else (told, [(*path, item(k)) for k in range(len(told))])
    pairs = zip(paths, texts, strict=True)
    rows_mm = tuple(leaves.length(below, text, _LEAST_ROW_MM, LARGEST_ALLOWANCE_MM) for below, text in pairs)
    if any(after - before < _LEAST_ROW_MM for before, after in pairwise(rows_mm)) and leaves.faults.whole(path):
        found = ", ".join(texts)
        message = f"has {shown(found)}: each row lies farther from the seam line than the one before."
        remedy = f"Say the rows from the seam line on, {_LEAST_ROW_MM:g} mm or more apart."
        leaves.faults.tell(path, "rows-order", message, remedy, found=found, allowed="rising")
    return rows_mm


def convert_pressed(leaves: Leaves, path: KeyPath, table: SeamTable, a: _Side, b: _Side) -> Pressed | None:
    """To where the allowances of a seam with rows are pressed; None where it has none, or where it is told."""
    below, said = (*path, "pressed"), table.pressed
    if not leaves.faults.whole(path):
        return None
    choices = _choices(a, b)
    listed = ", ".join(f'"{choice}"' for choice in choices)

    def tell(key: str, code: str, message: str, remedy: str, found: str, allowed: str) -> None:
        leaves.faults.tell((*path, key), code, message, remedy, found=found, allowed=allowed)

    if table.topstitch and table.kind in _UNSEWN:
        message, remedy = (
            f'is said beside kind = "{table.kind}": its allowances are pressed to no piece.',
            "Take it out.",
        )
        tell("topstitch", "rows-unsewn", message, remedy, "topstitch", "a seam that is pressed")
    elif said is UNSET:
        if table.topstitch:
            message = "needs to know on which side of the seam it lies."
            remedy = f"Say to where the allowances are pressed: pressed = {listed.replace(', ', ' or ')}."
            tell("topstitch", "rows-without-pressed", message, remedy, "no pressed", listed)
    elif not table.topstitch:
        message, remedy = "says nothing without topstitch.", 'Add topstitch = ["…"], or take it out.'
        tell("pressed", "only-with-topstitch", message, remedy, said, "with topstitch")
    elif said not in choices:
        message = f"is {shown(said)}, which is no side of this seam."
        leaves.faults.tell(below, "bad-pressed", message, did_you_mean(said, choices), found=said, allowed=listed)
    return choices.get(str(said))


def _choices(a: _Side, b: _Side) -> dict[str, Pressed]:
    """What may be said of a seam: its pieces, with an edge where a piece is on both sides; of one edge of two layers
    or copies its piece, or the wearer's left or right."""
    edges = [dict.fromkeys(f"{step.piece}.{step.edge}" for step in side) for side in (a, b)]
    if set(edges[0]) == set(edges[1]):
        return {**{name.partition(".")[0]: "a" for name in edges[0]}, **_OF_COPIES}
    pieces = [dict.fromkeys(step.piece for step in side) for side in (a, b)]
    return {
        **{name: "a" for name in pieces[0] if name not in pieces[1]},
        **{name: "b" for name in pieces[1] if name not in pieces[0]},
        **{name: "a" for name in edges[0] if name.partition(".")[0] in pieces[1] and name not in edges[1]},
        **{name: "b" for name in edges[1] if name.partition(".")[0] in pieces[0] and name not in edges[0]},
        "open": "open",
    }


def check_rows_of_edges(leaves: Leaves) -> None:
    """Tell of rows that an edge says, which is sewn as a whole: there the seam says on which side they lie."""
    for name, seam, piece, edge in _sewn_edges(leaves):
        path = ("pieces", piece, "edges", edge, "topstitch")
        if not leaves.faults.spoiled(path):
            message = f"is said of an edge that is sewn in the seam {shown(name)}, on either side of which it may lie."
            remedy = f"Say it of seams.{name}: topstitch, and pressed for the side on which the rows lie."
            leaves.faults.tell(path, "rows-of-sewn-edge", message, remedy, found=seam, allowed="an edge in no seam")


def _sewn_edges(leaves: Leaves) -> Iterator[tuple[str, str, str, str]]:
    pieces = leaves.document.pieces
    for name, table in leaves.document.seams.items():
        sewn = table.kind not in _UNSEWN and leaves.faults.whole(("seams", name))
        for text in (*table.a, *table.b) if sewn else ():
            piece, _, edge = text.lstrip("! ").partition(".")
            told = pieces[piece].edges.get(edge) if piece in pieces else None
            if told is not None and told.topstitch:
                yield name, f"seams.{name}", piece, edge
