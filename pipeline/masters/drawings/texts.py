"""Which piece a text in a group of names belongs to: that which its layers say, else the one whose outline is near."""

from collections.abc import Mapping
from functools import partial

from pipeline.geometry.curves import nearest_on_path
from pipeline.masters.drawings.kept import Kept
from pipeline.masters.drawings.naming import NEARER
from pipeline.masters.drawings.pieces import Shown
from pipeline.masters.drawings.sorted_objects import DrawingReading, Sorted
from pipeline.masters.svg.words import Words
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern


def texts_by_piece(
    pattern: Pattern, drawings: list[Sorted], bases: Mapping[str, Shown], kept: Kept
) -> tuple[dict[str, list[Words]], tuple[Finding, ...]]:
    """The texts of every piece; one that stands about as near to two pieces, or beside none, is told."""
    found: dict[str, list[Words]] = {}
    findings: list[Finding] = []
    for drawing in drawings:
        reading = DrawingReading(pattern.name, None, None, drawing.file)
        near = {
            name: shown
            for name, shown in bases.items()
            if shown.nameless and shown.outline and shown.drawn.file == drawing.file and not pattern.pieces[name].around
        }
        for said, text in drawing.words:
            piece = said or kept.beside(text, near, partial(_beside, text, near, reading))
            if piece is not None:
                found.setdefault(piece, []).append(text)
        findings += reading.findings()
    return found, tuple(findings)


def _beside(text: Words, near: Mapping[str, Shown], reading: DrawingReading) -> str | None:
    """The piece that a text stands nearest to; None where two are about as near, or there is none (told)."""
    outlines = {name: shown.outline for name, shown in near.items() if shown.outline is not None}
    away = sorted((nearest_on_path(outline.path, text.place)[0], name) for name, outline in outlines.items())
    if away and (len(away) == 1 or away[1][0] >= NEARER * away[0][0] + 1.0):
        return away[0][1]
    names = " and ".join(f"{name} ({mm:.1f} mm)" for mm, name in away[:2]) or "no piece whose edges need a name"
    reading.tell(
        "name-between" if away else "name-beside-nothing",
        f"The text {text.said[:40]!r} stands beside {names}.",
        "Move it close to its edge, or put it into a group that says the piece.",
        node=text.node,
        found=names,
        allowed="one piece that is nearest",
    )
    return None
