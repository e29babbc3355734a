"""Allowances that taper the wrong way: exchanged, their two widths are those of the lines that they meet."""

from collections.abc import Iterator
from typing import NamedTuple

from pipeline.checks.allowances import EQUAL_MM
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.checks.seam_ends import lie
from pipeline.checks.seam_way import walked_seams
from pipeline.checks.side_ends import SideEnd, seam_end
from pipeline.model.lengths import metric_text

Place = tuple[str, str]


class Met(NamedTuple):
    """What a tapered edge meets where a seam crosses it at one of its ends."""

    seam: str
    end: SideEnd
    other: SideEnd

    @property
    def widths_mm(self) -> tuple[float, float]:
        """The tapered edge's allowance there, and that at its other end."""
        here = 0.0 if self.end.last else 1.0
        return self.end.beside.allowance_at(here), self.end.beside.allowance_at(1 - here)


def reversed_tapers(garment: Garment, bent_deg: float) -> Iterator[tuple[Place, Outcome]]:
    """Tapered edges that go on alike at none of their ends, and would at all of them the other way round.

    Two edges that taper alike and are sewn to each other agree whichever way they are written; what crosses their
    ends tells. Seams whose corners bend by more than `bent_deg` say nothing, nor does another taper, which may be the
    one that is wrong.
    """
    for place, meetings in _met(garment, bent_deg).items():
        as_written = [abs(met.widths_mm[0] - met.other.beside_mm) <= EQUAL_MM for met in meetings]
        exchanged = [abs(met.widths_mm[1] - met.other.beside_mm) <= EQUAL_MM for met in meetings]
        if not any(as_written) and all(exchanged):
            yield place, _told(place, meetings)


def _met(garment: Garment, bent_deg: float) -> dict[Place, list[Met]]:
    """By tapered edge: what it meets at its ends, in one size."""
    found: dict[Place, list[Met]] = {}
    looked = set()
    for seam, way, size in walked_seams(garment):
        if seam.kind != "sewn" or seam.name in looked:
            continue
        looked.add(seam.name)
        for at_end in (False, True):
            one, two = seam_end(garment, seam, way, size, at_end)
            flat = abs(one.deg + two.deg - 180) <= bent_deg and one.at_corner and two.at_corner
            if not flat or one.place == two.place or lie(garment, seam, way, size, at_end) == "lies on":
                continue
            for end, other in ((one, two), (two, one)):
                says = garment.edge_spec(*end.place)
                if says.allowance_end_mm is not None and not (says.along or other.beside.fold or other.beside.tapers):
                    found.setdefault(end.place, []).append(Met(seam.name, end, other))
    return found


def _told(place: Place, meetings: list[Met]) -> Outcome:
    piece, edge = place
    edge_cut = meetings[0].end.beside
    first_mm, last_mm = edge_cut.allowance_at(0.0), edge_cut.allowance_at(1.0)
    first, last = metric_text(first_mm), metric_text(last_mm)
    written, turned = f"{first} .. {last}", f"{last} .. {first}"
    by_end = {met.end.edge: met for met in reversed(meetings)}.values()
    texts = [
        f"{metric_text(met.widths_mm[0])} at {met.end.edge}, where {met.other.cut.piece}.{met.other.beside.name} "
        f"across seam {met.seam} has {metric_text(met.other.beside_mm)}"
        for met in by_end
    ]
    return Outcome(
        code="reversed",
        piece=piece,
        where=edge,
        file="pattern.toml",
        object=f"pieces.{piece}.edges.{edge}",
        found=written,
        allowed=turned,
        message=f"the taper may be the wrong way round: {piece}.{edge} has {', and '.join(texts)}",
        remedy=f'write allowance = "{turned}": the width at the first point of the edge comes first',
    )
