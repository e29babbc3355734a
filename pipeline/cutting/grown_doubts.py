"""What is doubtful of what is grown on: that it is wide enough to show, has room for a round end, and lies flat on the
piece once it is folded."""

import math

import numpy as np
import shapely

from pipeline.cutting.parts import Parts
from pipeline.cutting.rules import EdgeRule
from pipeline.cutting.telling import Teller, mm
from pipeline.cutting.turned import feet_on, run_on
from pipeline.geometry.chains import Array, turns_rad
from pipeline.model.pieces import GrownPart

FLAT_MM = 4.0
"""How much longer or shorter than the piece beneath it a raw edge may be and still be pressed flat: as much as is left
between two clips of a curve (`clips.py`; a judgement, not a published value)."""
_BEYOND_MM = 0.1
_STEP_MM = 2.0


def tell_grown(parts: Parts, teller: Teller) -> None:
    """Tells where what is grown on is no wider than what is beside it, where it cannot end round, and where its fold is
    not straight enough."""
    for index, rule in enumerate(parts.rules.edges):
        if rule.extension is not None:
            _tell_ends(parts, index, rule, rule.extension, teller)
            _tell_bent(parts, index, rule, rule.extension, teller)


def _tell_ends(parts: Parts, index: int, rule: EdgeRule, part: GrownPart, teller: Teller) -> None:
    own = [k for k, run in enumerate(parts.runs) if run.edge == index]
    steps = [parts.rules.corners[at].kind == "step" for at in (index - 1, index)]
    within = [corner for corner, step in zip((own[0] - 1, own[-1]), steps, strict=True) if step]
    for corner in within:
        ends = corner == own[-1]
        beside = parts.widths[(corner + 1) % len(parts.runs)][0] if ends else parts.widths[corner][-1]
        other = parts.rules.edges[parts.runs[(corner + 1) % len(parts.runs) if ends else corner].edge]
        cut_mm = rule.end_mm if ends else rule.width_mm
        if cut_mm <= beside and other.extension is None:
            teller.tell(
                "grown-narrow",
                "block",
                f"its grown-on part of {mm(cut_mm)} is no wider than the allowance beside it.",
                "Make it wider, or say the allowance of that part with along.",
                where=rule.name,
                found=mm(cut_mm),
                allowed=f"more than {mm(float(beside))}",
            )
        elif part.radius_mm is not None and cut_mm > beside and parts.corners[corner].trims[not ends] is None:
            teller.tell(
                "radius-no-room",
                "block",
                f"its grown-on part has no room for an end with a radius of {mm(part.radius_mm)}.",
                "Make the radius smaller, or let the part be longer; where the edge has a corner, end it there.",
                where=rule.name,
                found=mm(part.radius_mm),
                allowed=f"less than {mm(float(parts.runs[own[-1] if ends else own[0]].lengths.sum()))}",
            )
    if part.radius_mm is not None and not within:
        teller.tell(
            "radius-unused",
            "warn",
            "its grown-on part has a radius and ends within the edge nowhere: at corners it mirrors the piece.",
            "Take radius out, or let the part end within the edge.",
            where=rule.name,
            found=mm(part.radius_mm),
            allowed="an end within the edge",
        )


def _tell_bent(parts: Parts, index: int, rule: EdgeRule, part: GrownPart, teller: Teller) -> None:
    """Folded back along a line that turns by θ, a raw edge that was w θ longer lies where the piece is w θ shorter."""
    normals = np.vstack([run.normals for run in parts.runs if run.edge == index])
    heading = np.concatenate(([0.0], np.cumsum(turns_rad(normals[:-1], normals[1:]))))
    turn = float(np.ptp(heading))
    off_mm = 2 * max(part.widths_mm) * turn
    if off_mm > FLAT_MM:
        teller.tell(
            "grown-bent",
            "warn",
            f"its grown-on part is folded along a line that turns by {math.degrees(turn):.1f} degrees: its raw edge "
            f"does not fit the piece by up to {mm(off_mm)}.",
            "Straighten the edge along that part, make the part narrower, or cut a piece of its own to be sewn on.",
            where=rule.name,
            found=mm(off_mm),
            allowed=f"up to {mm(FLAT_MM)}",
        )


def tell_beyond(
    name: str, part: GrownPart, chain: Array, strip: shapely.Geometry, base: shapely.Geometry, teller: Teller
) -> None:
    """Tells where what is grown on, folded back, reaches beyond the piece (`base`, without it). `chain`: the fold."""
    wide_mm = max(part.cut_at(part.start), part.cut_at(part.end))
    line = run_on(run_on(chain, True, wide_mm), False, wide_mm)
    rim = shapely.get_coordinates(shapely.segmentize(strip, _STEP_MM))
    feet, inside = feet_on(line, rim)
    out, ways = np.maximum(-inside, 0.0), rim - feet
    # What is turned in lies back on what was folded.
    high = np.where(out > part.width_mm, 2 * part.width_mm - out, out) if part.turn_in_mm > 0 else out
    folded = feet - ways * (high / np.maximum(out, 1e-9))[:, None]
    beyond_mm = float(shapely.distance(base, shapely.points(folded)).max(initial=0.0))
    if beyond_mm > _BEYOND_MM:
        teller.tell(
            "grown-beyond",
            "block",
            f"its grown-on part of {mm(max(part.widths_mm))}, folded back, reaches {mm(beyond_mm)} beyond the piece.",
            "Make it narrower, or the piece as wide as it is.",
            where=name,
            found=mm(beyond_mm),
            allowed=f"up to {mm(_BEYOND_MM)}",
        )
