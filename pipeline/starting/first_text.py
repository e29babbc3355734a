"""The text of a first `pattern.toml`: what was found, and what is proposed of it, each guess marked."""

import json
from collections.abc import Mapping

from pipeline.geometry.curves import path_length_mm
from pipeline.masters.outline import CHAIN_MM
from pipeline.model.pieces import DrawnPiece
from pipeline.starting.look import Look
from pipeline.starting.propose import Proposed, Take

BY_SHAPE = (
    "a layer's largest closed outline is the seam line, an upright line in it the grain, small things on it notches"
)


def first_text(
    name: str,
    drawings: Mapping[str, bytes],
    look: Look,
    around: Mapping[str, tuple[str, ...]],
    edges: Mapping[str, DrawnPiece],
    proposed: Proposed,
) -> str:
    """The text: `around` names the edges of each piece, `edges` are its edges in the base size."""
    sizes = ", ".join(f'"{size}"' for size in look.sizes)
    files = ", ".join(map(_quoted, drawings))
    lines = [
        '# Written from the drawings. What is marked "proposed" is a guess: look at it, then take the mark away.',
        "# Every key is told in source/README.md.",
        "format = 1",
        "",
        "[pattern]",
        f"title = {_quoted(name)}  # proposed",
        'version = "1.0.0"',
        'maker = "…"  # to write: who made it',
        'contact = "…"  # to write: where buyers turn to',
        f"sizes = [{sizes}]  # proposed: in this order, smallest first",
        f'base = "{look.sizes[len(look.sizes) // 2]}"  # proposed: the size that the others are graded from',
        'languages = ["en"]  # proposed',
        'licence = "…"  # to write: what buyers may do with it',
        "",
        "[masters]",
        f"drawings = [{files}]",
        *(["by_shape = true  # proposed: " + BY_SHAPE] if look.by_shape else []),
        "",
        "[materials.shell]",
        'title = "main cloth"  # proposed',
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
            names = ", ".join(f'"{edge}"' for edge in around[piece])
            begun = f"the corner {look.starts[piece]}" if piece in look.starts else "the top left corner"
            lines.append(f"around = [{names}]  # proposed: clockwise from {begun}; give them their names")
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
