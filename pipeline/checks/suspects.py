"""Which edge of a seam, or which notch, is the likeliest to be wrong: what lies off the row of its sizes."""

from collections.abc import Mapping
from statistics import median

from pipeline.checks.garment import Garment
from pipeline.checks.seam_parts import ends_within, reach_mm, step_text
from pipeline.checks.seam_walk import WalkedNotch, length_mm
from pipeline.checks.size_groups import groups_of
from pipeline.checks.size_rows import rows
from pipeline.checks.smooth import off_line
from pipeline.model.edge_places import place_mm
from pipeline.model.pattern import Seam, SideEdge


def suspect_of(garment: Garment, seam: Seam, size: str, excess_mm: float) -> SideEdge | None:
    """The one edge of a seam that lies off the line of its neighbouring sizes by most of what is too long."""
    off = {step: abs(_off_line_mm(garment, step, size)) for step in dict.fromkeys((*seam.a, *seam.b))}
    ranked = sorted(off, key=lambda step: -off[step])
    if off[ranked[0]] < excess_mm / 2 or (len(ranked) > 1 and off[ranked[1]] > off[ranked[0]] / 2):
        return None
    return ranked[0]


def _off_line_mm(garment: Garment, step: SideEdge, size: str) -> float:
    """How far an edge's length lies off the line through the sizes beside it, on the ladder where it is most."""
    by_size = garment.cuts[step.piece]
    if any(reach_mm(cut, step) is None for cut in by_size.values()):
        return 0.0
    beside = ([s for s in ladder.sizes if s in by_size] for ladder in garment.ladders if size in ladder.sizes)
    lengths = {s: length_mm(garment, step, s) for s in by_size}
    usual = _usual_of_groups(garment, step.piece, lengths)
    rows_mm = (([lengths[s] - usual[s] for s in sizes], sizes.index(size)) for sizes in beside)
    return max((off_line(row, place) for row, place in rows_mm), key=abs, default=0.0)


def _usual_of_groups(garment: Garment, piece: str, lengths: Mapping[str, float]) -> dict[str, float]:
    """By size the usual length of its group, of a piece that is the same in groups of sizes; 0 of any other."""
    row = next((row for row in rows(garment) if row.piece == piece), None)
    groups = groups_of(garment, row) if row is not None else None
    if groups is None:
        return dict.fromkeys(lengths, 0.0)
    by_group = {number: [lengths[s] for s, own in groups.by_size.items() if own == number] for number in groups.of}
    return {size: median(by_group[groups.by_size[size]]) for size in lengths}


def strayed_notch_mm(garment: Garment, notch: WalkedNotch, size: str) -> float:
    """How far a notch lies off the line through its places in the sizes beside it; 0 for one without a name."""
    return abs(_place_off_mm(garment, notch.piece, notch.edge, notch.name, size)) if notch.name else 0.0


def _place_off_mm(garment: Garment, piece: str, edge: str, name: str, size: str) -> float:
    found = {s: place_mm(cut.drawn, edge, name) for s, cut in garment.cuts[piece].items()}
    places = {s: place for s, place in found.items() if place is not None}
    rows = ([s for s in ladder.sizes if s in places] for ladder in garment.ladders if size in ladder.sizes)
    return max((off_line([places[s] for s in row], row.index(size)) for row in rows), key=abs, default=0.0)


def likeliest(
    garment: Garment, seam: Seam, size: str, suspect: SideEdge | None, excess_mm: float, is_longer: bool
) -> str:
    """What to mend first, as the beginning of a remedy: a notch that moved and ends a part of an edge, an edge that
    leaves its row of sizes; nothing where neither is known."""
    parts = [step for step in dict.fromkeys((*seam.a, *seam.b)) if step.part is not None]
    steps = [suspect] if suspect in parts else [] if suspect else parts
    ends = [(step, name) for step in steps for name in _inner_ends(garment, step, size)]
    if suspect is not None and ends:
        off = {end: abs(_place_off_mm(garment, suspect.piece, suspect.edge, end[1], size)) for end in ends}
        ends = [max(ends, key=off.__getitem__)] if max(off.values()) >= excess_mm / 2 else []
    if ends:
        notches = " or ".join(f"{name} of {step.piece}.{step.edge}" for step, name in ends)
        return f"put notch {notches} back if it has moved, by {excess_mm:.1f} mm; else "
    if suspect is None:
        return ""
    takes = " (or what is taken up there)" if garment.takes(suspect.piece, suspect.edge) else ""
    return (
        f"look at {step_text(suspect)}{takes} first, {excess_mm:.1f} mm too {'long' if is_longer else 'short'}; else "
    )


def _inner_ends(garment: Garment, step: SideEdge, size: str) -> list[str]:
    """The notches within its edge at which a part ends."""
    cut, reach = garment.cuts[step.piece][size], reach_mm(garment.cuts[step.piece][size], step)
    if step.part is None or reach is None:
        return []
    names = (step.part.start, step.part.end) if reach[0] <= reach[1] else (step.part.end, step.part.start)
    return [name for name, last in zip(names, (False, True), strict=True) if ends_within(cut, step, last)]
