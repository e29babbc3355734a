"""The text of a first `pattern.toml`: what was found, and what is proposed of it, each guess marked."""

import json
from collections.abc import Iterable, Mapping, Sequence

from pipeline.geometry.curves import path_length_mm
from pipeline.masters.outline import CHAIN_MM
from pipeline.masters.toml.document_outputs import MOST_GLOBS
from pipeline.model.pieces import DrawnPiece
from pipeline.starting.axes import OTHER
from pipeline.starting.languages import UNTOLD, language_of
from pipeline.starting.look import Look
from pipeline.starting.propose import Proposed, Take
from pipeline.words import own_languages

BY_SHAPE = (
    "a layer's largest closed outline is the seam line, an upright line in it the grain, small things on it notches"
)
NUMBERED = "edge-"
"""What edges without a name are called by, with their number."""
FEW_GLOBS = 5
"""Where drawings are not listed by name, so few lines say where they lie."""


def first_text(
    name: str,
    drawings: Mapping[str, bytes],
    look: Look,
    around: Mapping[str, tuple[str, ...]],
    edges: Mapping[str, DrawnPiece],
    proposed: Proposed,
) -> str:
    """The text: `around` names the edges of each piece, `edges` are its edges in the base size."""
    lines = [
        '# Written from the drawings. What is marked "proposed" is a guess: look at it, then take the mark away.',
        "# Every key is told in source/README.md.",
        "format = 1",
        "",
        "[pattern]",
        f'title = {_quoted(name)}  # proposed; as any title, one text, or one a language: {{ en = "…", fr = "…" }}',
        'version = "1.0.0"',
        'maker = "…"  # to write: who made it',
        'contact = "…"  # to write: where buyers turn to',
        *_sizes(look),
        _languages(look),
        'licence = "…"  # to write: what buyers may do with it',
        "",
        *_axes(look),
        "[masters]",
        f"drawings = [{_listed(_globs(drawings))}]",
        *(["by_shape = true  # proposed: " + BY_SHAPE] if look.by_shape else []),
        "",
        "[materials.shell]",
        _cloth(look),
        'widths = ["140 cm"]  # proposed',
        "",
    ]
    for piece, title in look.pieces.items():
        lines += [f"[pieces.{piece}]", f"title = {_quoted(title)}"]
        fold = proposed.folds.get(piece)
        once = ": once on the fold, as proposed below; 2 where it is none" if fold else ""
        lines.append(f'cut = [{{ material = "shell", count = {1 if fold else 2} }}]  # proposed{once}')
        lines.append('allowance = "1 cm"  # proposed')
        if piece in around:
            begun = f"the corner {look.starts[piece]}" if piece in look.starts else "the top left corner"
            lines.append(
                f"around = [{_listed(around[piece])}]  # proposed: clockwise from {begun}; {_to_name(around[piece])}"
            )
            lines += [f"start = {_quoted(look.starts[piece])}  # proposed"] if piece in look.starts else []
        if piece in edges:
            lines += [f"# {edge.name}: {_where(edges[piece], i)}" for i, edge in enumerate(edges[piece].edges)]
            lines += [] if edges[piece].grain.drawn else ["# no grain is drawn: the page's vertical is taken"]
        lines += [f"# edges.{fold} = {{ fold = true }}  # proposed: you drew half"] if fold else []
        for edge, takes in proposed.takes.items():
            if edge.split(".")[0] == piece:
                said = ", ".join(map(_taken, takes))
                lines.append(f"# edges.{edge.split('.')[1]} = {{ takes = [{said}] }}  # proposed: for its seam")
        lines.append("")
    for one, two in proposed.seams:
        both = f"{one} {two}".replace(".", "-").replace(" ", "--")[:40]
        lines += [
            f"# proposed: these edges are of equal length in every size{_once_taken(proposed, one)}",
            f"# [seams.{both}]",
            f'# a = ["{one}"]',
            f'# b = ["{two}"]',
            "",
        ]
    return "\n".join(lines)


def _languages(look: Look) -> str:
    """The language of the drawing's names where they tell, and what else there may be."""
    found = language_of(look.names)
    by = "by the names in the drawing" if found else "no name in the drawing tells"
    asked = f"which do you sell in, the first one first? {', '.join(own_languages())}, or one whose words you bring"
    return f'languages = ["{found or UNTOLD}"]  # proposed, {by}: {asked}'


def _cloth(look: Look) -> str:
    """What the cloth is called is said for those who read English alone: nothing in a drawing says it."""
    if language_of(look.names) in (None, UNTOLD):
        return 'title = "main cloth"  # proposed'
    return 'title = "…"  # to write: what buyers call this cloth'


def _sizes(look: Look) -> list[str]:
    base = look.axes.base if look.axes else look.sizes[len(look.sizes) // 2]
    listed = [] if look.axes else [f"sizes = [{_listed(look.sizes)}]  # proposed: in this order, smallest first"]
    return [*listed, f'base = "{base}"  # proposed: the size that the others are graded from']


def _axes(look: Look) -> list[str]:
    """The table of ladders, where there are several."""
    if look.axes is None:
        return []
    lines = ["[size-axes]"]
    for axis, values in look.axes.values.items():
        order = "as they are drawn; put the smallest first" if axis in look.axes.as_drawn else "smallest first"
        named = "; give this ladder its name" if axis == OTHER else ""
        lines.append(f"{axis} = [{_listed(values)}]  # proposed: {order}{named}")
    if look.axes.without:
        lines.append(f"without = [{_listed(look.axes.without)}]  # proposed: these are nowhere drawn")
    return [*lines, ""]


def _globs(drawings: Iterable[str]) -> list[str]:
    """The drawings by name; where they are more than a pattern may list, all of their folders, or of the folders'."""
    found = list(drawings)
    most = MOST_GLOBS
    for stars in range(1, 4):
        if len(found) <= most:
            break
        most = FEW_GLOBS
        parts = [file.split("/") for file in drawings]
        found = list(
            dict.fromkeys(
                "/".join((*part[:-stars], *("*" for _ in part[-stars:-1]), f"*.{part[-1].rpartition('.')[2]}"))
                for part in parts
            )
        )
    return found


def _listed(names: Iterable[str]) -> str:
    return ", ".join(map(_quoted, names))


def _to_name(edges: Sequence[str]) -> str:
    """What is to be done with names: those that are numbered wait for one, the others are the trade's usual ones."""
    usual = [edge for edge in edges if not edge.startswith(NUMBERED)]
    if not usual:
        return "give them their names"
    left = "; give the others their names" if len(usual) < len(edges) else ""
    return f"{', '.join(usual)} by where {'it lies' if len(usual) == 1 else 'they lie'}: look whether so{left}"


def _taken(take: Take) -> str:
    return f"{{ from = {_quoted(take.first)}, to = {_quoted(take.last)}, kind = {_quoted(take.kind)} }}"


def _once_taken(proposed: Proposed, edge: str) -> str:
    takes = proposed.takes.get(edge, ())
    said = " and ".join(f"the {take.kind} from {take.first} to {take.last}" for take in takes)
    return f", once {said} {'is' if len(takes) == 1 else 'are'} sewn" if takes else ""


def _quoted(text: str) -> str:
    """A text as TOML writes it; what JSON writes between quotes is that too."""
    return json.dumps(text, ensure_ascii=False)


def _where(piece: DrawnPiece, index: int) -> str:
    """How long an edge is in the base size, and on which side of the piece."""
    path = piece.edges[index].path
    a, b = path[0].start, path[-1].end
    if a.distance(b) <= CHAIN_MM:
        return f"{path_length_mm(path):.0f} mm, all round"
    run = a.to(b)
    side = ("top" if run.dx > 0 else "bottom") if abs(run.dx) > abs(run.dy) else "right" if run.dy > 0 else "left"
    return f"{path_length_mm(path):.0f} mm, {side}"
