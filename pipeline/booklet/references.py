"""The small language between `{{` and `}}`: what a reference may say, and what it must name."""

from collections.abc import Iterable, Iterator
from typing import NamedTuple, get_args

from pipeline.booklet.glossary import terms
from pipeline.booklet.text import (
    AllowanceOf,
    FigureOf,
    GapOf,
    GrownOnOf,
    Named,
    OwnerKind,
    Reference,
    RowsOf,
    SumOf,
    TableOf,
)
from pipeline.masters.toml.sums import GrammarError, parse_side, parse_sum
from pipeline.model.pattern import Pattern
from pipeline.model.pattern import Reference as Measured
from pipeline.model.questions import grown_edges
from pipeline.model.topstitching import topstitched_names

LAYS = "lays"
TABLES = ("cloth", "sizes", "finished", "cut-list", "strips", "notions", "pages", LAYS)
OWNERS: tuple[str, ...] = get_args(OwnerKind)
FIGURES: dict[str, tuple[str, ...]] = {
    "seam": ("seam",),
    "strip": ("strip",),
    "hem": ("edge",),
    "place": ("mark", "on", "piece"),
    "dart": ("edge",),
    "pieces": ("material",),
    "allowances": (),
    "key": (),
}
"""What each kind of figure is told to show; `on` is said as it stands, and a mark is known by what draws it."""
_TOPSTITCH, _GAP = "topstitch", "turn_through"
_WORDS = (*OWNERS, "allowance", "grown-on", _TOPSTITCH, _GAP, "table", "figure")


class Wanted(NamedTuple):
    """One name that a reference uses: its kind, and the name. An edge is `piece.edge`, a place on it
    `piece.edge[place]`."""

    kind: str
    name: str


def parse_reference(text: str) -> Reference:
    """What stands between the braces. Raises GrammarError."""
    first, *rest = text.split()
    if first in OWNERS and len(rest) == 1:
        return Named(first, rest[0])  # type: ignore[arg-type]
    if first in ("allowance", "grown-on") and len(rest) == 1:
        side = parse_side(rest[0])
        return (AllowanceOf if first == "allowance" else GrownOnOf)(side.piece, side.edge)
    if first == _TOPSTITCH and len(rest) == 1:
        return RowsOf(rest[0])
    if first == _GAP and len(rest) == 1:
        return GapOf(rest[0])
    if first == "table" and len(rest) == 1:
        return TableOf(rest[0])
    if first == "figure":
        return _figure(text, tuple(rest))
    if first in _WORDS:
        raise GrammarError(text, f'one name after "{first}"', "bad-reference")
    try:
        return SumOf(parse_sum(text))
    except GrammarError as fault:
        expected = f'a sum, as "2 x front.hem + 3 cm", or one of {", ".join(_WORDS)} with a name after it'
        raise GrammarError(fault.found, expected, "bad-reference") from None


def _figure(text: str, words: tuple[str, ...]) -> FigureOf:
    wanted = FIGURES.get(words[0]) if words else None
    if wanted is None:
        raise GrammarError(text, f'after "figure" one of {", ".join(FIGURES)}', "bad-reference")
    fits = len(words) == len(wanted) + 1 and all(w != "on" or g == "on" for w, g in zip(wanted, words[1:], strict=True))
    if not fits:
        shape = " ".join(word if word == "on" else word.upper() for word in wanted)
        raise GrammarError(text, f'"figure {words[0]} {shape}"', "bad-reference")
    return FigureOf(words)


def wanted_names(reference: Reference) -> Iterator[Wanted]:
    """Every name that a reference uses."""
    match reference:
        case SumOf(total):
            for term in total.terms:
                if isinstance(term.of, Measured):
                    yield from _measured(term.of)
        case Named(owner, name):
            yield Wanted(owner, name)
        case AllowanceOf(piece, edge):
            yield Wanted("edge", f"{piece}.{edge}")
        case GrownOnOf(piece, edge):
            yield Wanted("grown-on", f"{piece}.{edge}")
        case RowsOf(name):
            yield Wanted(_TOPSTITCH, name)
        case GapOf(name):
            yield Wanted(_GAP, name)
        case TableOf(name):
            yield Wanted("table", name)
        case FigureOf(words):
            for kind, name in zip(FIGURES[words[0]], words[1:], strict=True):
                if kind not in ("on", "mark"):
                    yield Wanted(kind, name)


def _measured(of: Measured) -> Iterator[Wanted]:
    name = f"{of.piece}.{of.line}"
    if of.part is not None:
        yield Wanted("edge", name)
        yield from (Wanted("place", f"{name}[{place}]") for place in (of.part.start, of.part.end))
    else:
        yield Wanted("body" if of.piece == "body" else "line", name)


def known_names(
    pattern: Pattern, edges: Iterable[str], lines: Iterable[str], places: Iterable[str]
) -> dict[str, tuple[str, ...]]:
    """What there is of each kind; `edges`, `lines` (with edges) and `places` are those drawn, as `piece.name` and
    `piece.edge[place]`."""
    return {
        "piece": tuple(pattern.pieces),
        "seam": tuple(pattern.seams),
        "strip": tuple(pattern.strips),
        "notion": tuple(pattern.notions),
        "material": tuple(pattern.materials),
        "body": tuple(f"body.{name}" for name in pattern.body),
        _TOPSTITCH: topstitched_names(pattern),
        _GAP: tuple(name for name, seam in pattern.seams.items() if seam.turn_through_mm is not None),
        "table": TABLES,
        "term": terms(),
        "edge": tuple(edges),
        "grown-on": tuple(f"{of}.{edge}" for of in pattern.pieces for edge in grown_edges(pattern, of)),
        "line": tuple(lines),
        "place": tuple(places),
    }
