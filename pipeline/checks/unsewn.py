"""What no seam names of a piece, and what two name: a seam that was forgotten, or said twice, shows nowhere else."""

from collections.abc import Iterable, Iterator
from itertools import combinations

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.interfacing import is_fused
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_parts import known_reach_mm, reach_mm, step_text
from pipeline.model.edge_places import named_places
from pipeline.model.pattern import Reference, SideEdge, Sum
from pipeline.model.pieces import CutEdge, CutPiece

_LEAST_MM = 1.0
"""Parts of an edge that come this near to each other leave nothing between, and lie on nothing of each other."""


@CHECKS.register(
    id="seams-named",
    title="Every edge with an allowance is a hem, a fold, in a seam, topstitched, at a strip, or in a zip's opening",
    rationale="Only what a seam names is walked: one that was forgotten is held against nothing, and nobody is told.",
    remedy="say the seam of each; edges that are turned, faced by hand or sewn onto a piece may stay in this list",
    severity="info",
    source="an allowance is there to be sewn or turned: common practice",
)
def seams_named(garment: Garment) -> Iterator[Outcome]:
    """One list for the pattern: edges, and what is left of those of which seams name parts. Edges of derived pieces are
    their source's. What hangs in a shell is named by that (side a of a lining's seam); the shell is sewn elsewhere.
    What a strip goes round is sewn to it, as a zip is to its opening; an edge that has rows of its own is sewn on by
    them; an interfacing is fused."""
    pattern = garment.pattern
    hung = (seam for seam in pattern.seams.values() if seam.kind == "lining")
    steps = [step for step, _ in _sewn_steps(garment)]
    steps += [step for seam in hung for step in seam.a]
    steps += _summed(strip.goes_round for strip in pattern.strips.values())
    steps += _summed(notion.opening for notion in pattern.notions.values())
    unnamed: dict[str, None] = {}
    for spec, cut in garment.each():
        if spec.source is not None or is_fused(garment, spec):
            continue
        for edge in cut.edges:
            has_rows = bool(garment.edge_spec(spec.name, edge.name).topstitch_mm)
            if not edge.folded and not edge.hem and not has_rows and edge.widest_mm > 0:
                own = [step for step in steps if (step.piece, step.edge) == (spec.name, edge.name)]
                unnamed |= dict.fromkeys(_left_of(cut, edge, own))
    if unnamed and pattern.seams:
        yield Outcome(
            code="in-no-seam",
            file="pattern.toml",
            object="seams",
            found=", ".join(unnamed),
            allowed="every edge in a seam, or meant to be in none",
            message=f"{len(unnamed)} edge{'s are' if len(unnamed) > 1 else ' is'} in no seam",
        )


def _sewn_steps(garment: Garment) -> list[tuple[SideEdge, str]]:
    """Every edge, or part of one, in a sewn seam, and the seam."""
    seams = (seam for seam in garment.pattern.seams.values() if seam.is_sewn)
    return [(step, seam.name) for seam in seams for step in (*seam.a, *seam.b)]


def _summed(sums: Iterable[Sum | None]) -> list[SideEdge]:
    """The edges, or parts of them, that strips go round and that zips are sewn into; other lines do no harm."""
    terms = [term for total in sums if total is not None for term in total.terms if term.factor > 0]
    named = [term.of for term in terms if isinstance(term.of, Reference)]
    return [SideEdge(of.piece, of.line, part=of.part) for of in named]


def _left_of(cut: CutPiece, edge: CutEdge, steps: list[SideEdge]) -> Iterator[str]:
    """What no step names of an edge, and what is not folded of it, in the words of `pattern.toml`."""
    name, at_mm, length_mm = edge.name, 0.0, edge.gross_length_mm
    reaches = [known_reach_mm(cut, step) for step in steps if reach_mm(cut, step) is not None]
    reaches += [(part.start * length_mm, part.end * length_mm) for part in edge.grown_on]
    if not steps and not edge.grown_on:
        yield f"{cut.piece}.{name}"
        return
    for low, high in (*sorted(reaches), (length_mm, length_mm)):
        if low > at_mm + _LEAST_MM:
            yield f"{cut.piece}.{name}[{_name_at(cut, name, at_mm)}..{_name_at(cut, name, low)}]"
        at_mm = max(at_mm, high)


def _name_at(cut: CutPiece, edge: str, at_mm: float) -> str:
    """What a place of an edge is called, or lies nearest to."""
    places = named_places(cut.drawn, edge)
    return min(places, key=lambda name: min(abs(at_mm - place) for place in places[name]), default="?")


@CHECKS.register(
    id="seam-parts",
    title="Parts of an edge that are sewn in different seams do not overlap",
    rationale="Where two seams take the same stretch of an edge, one of them is said too long, and its partner is too.",
    remedy="let one part end where the other begins, or waive this where three layers are sewn there",
    severity="warn",
    source=f"up to {_LEAST_MM:g} mm, the tolerance of a seam: common practice",
    needs=("seams",),
)
def seam_parts(garment: Garment) -> Iterator[Outcome]:
    """Two steps on one edge of which one at least is a part; two of the same stretch are layers of one seam, as two
    whole edges are. Told of the first size."""
    told = set()
    for (one, first), (two, second) in combinations(dict.fromkeys(_sewn_steps(garment)), 2):
        if (one.piece, one.edge) != (two.piece, two.edge) or one.is_same_cloth(two) or (one, two) in told:
            continue
        for size, cut in garment.cuts.get(one.piece, {}).items():
            if reach_mm(cut, one) is None or reach_mm(cut, two) is None:
                continue
            (a, b), (c, d) = known_reach_mm(cut, one), known_reach_mm(cut, two)
            overlap_mm = min(b, d) - max(a, c)
            if overlap_mm > _LEAST_MM:
                told.add((one, two))
                yield Outcome(
                    code="overlap",
                    size=size,
                    piece=one.piece,
                    where=one.edge,
                    file="pattern.toml",
                    object=f"seams.{first} and seams.{second}",
                    found=f"{overlap_mm:.1f} mm in both",
                    allowed=f"up to {_LEAST_MM:g} mm",
                    message=f"{step_text(one)} of seam {first} and {step_text(two)} of seam {second} overlap",
                )
                break
