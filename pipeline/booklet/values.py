"""What references within a text come to: names, and lengths in both unit systems as the reader writes numbers."""

from collections.abc import Iterable

from pipeline.booklet.figures.naming import allowance_told, topstitch_told
from pipeline.booklet.glossary import term_text
from pipeline.booklet.model import Model
from pipeline.booklet.text import AllowanceOf, GapOf, GrownOnOf, Named, RowsOf, SumOf
from pipeline.booklet.unbroken import NO_BREAK
from pipeline.drawing.piece.words import grown_width
from pipeline.drawing.wording import in_decimals, length_words, size_range, told_of
from pipeline.model.lengths import imperial_text
from pipeline.model.pattern import Pattern, Reference, SideEdge, Sum, in_language
from pipeline.model.questions import edge_spec
from pipeline.model.sums import sum_mm
from pipeline.tables.measures import cm_text, half_cm, written_cm_text, written_in_inches, written_inches_text
from pipeline.words import say

_BETWEEN_SIZES = " · "


def value_text(model: Model, reference: SumOf | Named | AllowanceOf | GrownOnOf | RowsOf | GapOf) -> str:
    """The text that stands for a reference. Raises KeyError for a name that neither pattern nor glossary has."""
    match reference:
        case SumOf(total):
            return sum_text(model, total)
        case Named("seam", name):
            return seam_text(model, name)
        case Named("term", name):
            return term_text(model.language, name)
        case Named(kind, name):
            return _named(model, kind, name)
        case AllowanceOf(piece, edge):
            return allowance_text(model, piece, edge)
        case GrownOnOf(piece, edge):
            return grown_on_text(model, piece, edge)
        case RowsOf(name):
            return topstitch_told(model.pattern, name, model.language, lambda piece: piece_text(model, piece))
        case GapOf(seam):
            return gap_text(model, seam)


def grown_on_text(model: Model, piece: str, edge: str) -> str:
    """How wide what is grown onto an edge is, each width once. Raises KeyError where there is nothing."""
    widths = dict.fromkeys(grown.widths_mm for grown in edge_spec(model.pattern, piece, edge).grown_on)
    if not widths:
        raise KeyError(f"{piece}.{edge}")
    told = (grown_width(widths_mm, model.language, model.pattern.units) for widths_mm in widths)
    return _BETWEEN_SIZES.join(map(kept_together, told))


def sums_mm(model: Model, total: Sum) -> dict[str, float]:
    """Millimetres of a sum by size; sizes in which a piece is not cut are left out."""
    found = {size: sum_mm(total, lengths) for size, lengths in model.lengths.items()}
    return {size: length_mm for size, length_mm in found.items() if length_mm is not None}


def sum_text(model: Model, total: Sum) -> str:
    """One length where all sizes agree as it is written, else one for each run of sizes that does.

    Raises KeyError where it has no length in any size.
    """
    lengths = sums_mm(model, total)
    in_inches = written_in_inches(lengths.values())
    texts = {size: _sum_words(model, total, length_mm, in_inches) for size, length_mm in lengths.items()}
    if not texts:
        raise KeyError(total.text)
    groups: dict[str, list[str]] = {}
    for size, text in texts.items():
        groups.setdefault(text, []).append(size)
    if len(groups) == 1:
        return next(iter(groups))
    name = say(model.language, "size.name")
    return _BETWEEN_SIZES.join(
        told_of(
            model.language,
            f"{name}{NO_BREAK}{size_range(sizes, model.pattern, model.language).replace(' ', NO_BREAK)}",
            text,
        )
        for text, sizes in groups.items()
    )


def of_body(total: Sum) -> bool:
    """Whether a sum has body measures alone."""
    return all(isinstance(term.of, Reference) and term.of.piece == "body" for term in total.terms)


def is_finished(pattern: Pattern, total: Sum) -> bool:
    """Whether a sum is one of the finished measures, which tables tell to half a centimetre."""
    return any(measure.sum.terms == total.terms for measure in pattern.finished.values())


def _sum_words(model: Model, total: Sum, length_mm: float, in_inches: bool) -> str:
    """A sum in one size: measures of the wearer and of the garment as the size table tells them, never in m."""
    if of_body(total):
        return _in_both(model, written_cm_text(length_mm, in_inches), written_inches_text(length_mm))
    if is_finished(model.pattern, total):
        return _in_both(model, cm_text(half_cm(length_mm)), imperial_text(length_mm, 8))
    return kept_together(_length(model, length_mm))


def _in_both(model: Model, metric: str, imperial: str) -> str:
    metric = in_decimals(model.language, metric)
    first, second = (metric, imperial) if model.pattern.units == "metric" else (imperial, metric)
    return kept_together(f"{first} ({second})")


def _length(model: Model, length_mm: float) -> str:
    return length_words(model.language, length_mm, model.pattern.units)


def kept_together(text: str) -> str:
    """The text without a place where a line may end."""
    return text.replace(" ", NO_BREAK)


def piece_text(model: Model, name: str) -> str:
    """A piece's title and number: "Front (1)"; pieces are found on paper by either. Raises KeyError."""
    piece = model.pattern.pieces[name]
    return f"{in_language(piece.title, model.language)}{NO_BREAK}({piece.number})"


def seam_text(model: Model, name: str) -> str:
    """Both sides of a seam by their pieces, "Front (1) – Back (2)", after its title if it has one. Raises KeyError."""
    seam = model.pattern.seams[name]
    sides = dict.fromkeys(_pieces(model, side) for side in (seam.a, seam.b))
    told = " – ".join(sides)
    return told_of(model.language, in_language(seam.title, model.language), told) if seam.title else told


def gap_text(model: Model, name: str) -> str:
    """How long the gap is to turn a seam through. Raises KeyError for a seam without one."""
    gap_mm = model.pattern.seams[name].turn_through_mm
    if gap_mm is None:
        raise KeyError(name)
    return kept_together(_length(model, gap_mm))


def _pieces(model: Model, side: Iterable[SideEdge]) -> str:
    return ", ".join(dict.fromkeys(piece_text(model, place.piece) for place in side))


def _named(model: Model, kind: str, name: str) -> str:
    pattern, language = model.pattern, model.language
    if kind == "piece":
        return piece_text(model, name)
    if kind == "strip":
        return f"{in_language(pattern.strips[name].title, language)}{NO_BREAK}({model.names[f'strips.{name}'].short})"
    owner = pattern.notions[name] if kind == "notion" else pattern.materials[name]
    return in_language(owner.title, language)


def allowance_text(model: Model, piece: str, edge: str) -> str:
    """The allowance of an edge, at both ends where it changes. Raises KeyError where it is not drawn."""
    cut = next((each for each in model.cuts[piece].values() for own in each.edges if own.name == edge), None)
    if cut is None:
        raise KeyError(f"{piece}.{edge}")
    return kept_together(allowance_told(model.pattern, cut.edge(edge), model.language))
