"""What pieces are called in figures and in what is said of them."""

from collections.abc import Callable, Sequence

from pipeline.drawing.wording import length_words
from pipeline.model.pattern import Pattern, in_language
from pipeline.model.pieces import CutEdge
from pipeline.model.questions import edge_spec
from pipeline.model.topstitching import topstitched
from pipeline.words import say


def numbered(pattern: Pattern, piece: str, language: str) -> str:
    """A piece with its number: "3 Front facing"."""
    spec = pattern.pieces[piece]
    return f"{spec.number} {in_language(spec.title, language)}"


def and_list(names: Sequence[str], language: str) -> str:
    """Names in a sentence: "Front", "Front and Back", "Front, Back and Collar"."""
    if len(names) < 2:
        return names[0] if names else ""
    return say(language, "figure.and", first=", ".join(names[:-1]), last=names[-1])


def allowance_told(pattern: Pattern, edge: CutEdge, language: str) -> str:
    """The allowance of an edge, at both ends where it tapers; the smallest and the largest where it has parts."""
    wide, narrow = (
        length_words(language, allowance, pattern.units) for allowance in (edge.widest_mm, edge.narrowest_mm)
    )
    if wide == narrow:
        return wide
    return say(language, "piece.allowance-parts" if edge.allowance_between else "piece.taper", wide=wide, narrow=narrow)


def topstitch_told(pattern: Pattern, name: str, language: str, called: Callable[[str], str]) -> str:
    """Where the rows of stitching of a seam, or of an edge `piece.edge`, lie: "3 mm and 8 mm from the seam, on Back";
    `called` says how pieces are called there. Raises KeyError for what has no rows."""
    seam = pattern.seams.get(name)
    piece, _, edge = name.partition(".")
    rows_mm = seam.topstitch_mm if seam is not None else edge_spec(pattern, piece, edge).topstitch_mm
    if not rows_mm:
        raise KeyError(name)
    rows = and_list([length_words(language, row_mm, pattern.units) for row_mm in rows_mm], language)
    if seam is None:
        return say(language, "figure.topstitch-edge", rows=rows)
    if seam.pressed in ("left", "right"):
        return say(language, "figure.topstitch-side", rows=rows, side=say(language, f"mark-side.{seam.pressed}"))
    if seam.pressed == "open":
        return say(language, "figure.topstitch-open", rows=rows)
    pieces = dict.fromkeys(called(step.piece) for step in topstitched(seam))
    return say(language, "figure.topstitch-on", rows=rows, pieces=and_list(list(pieces), language))
