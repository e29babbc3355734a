"""Derived pieces: an interfacing lies in its piece as far as is declared, and never past the cloth."""

from collections.abc import Iterator

import shapely

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.geometry.chains import coordinates
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import CutPiece, Polyline

TOLERANCE_MM = 0.1
_CHORD_MM = 0.02
_MITRE = 2.0
_CORNERS = 4


@CHECKS.register(
    id="interfacing",
    title="A derived piece lies in its source as declared, and inside its cut line",
    rationale="Fusing that reaches past the cloth sticks to the iron; fusing that is too small leaves an edge limp.",
    remedy="change trim or past_seam of the derived piece, or the allowance of its source",
    severity="block",
    source="the distance that pattern.toml declares, within 0.1 mm: common practice, the limit from memory",
)
def interfacing(garment: Garment) -> Iterator[Outcome]:
    """How far out the derived cut line lies from the source's cut line (trim) or seam line (past_seam)."""
    for spec, cut in garment.each():
        source = garment.cut(spec.source or "", cut.size)
        if source is None or (spec.trim_mm is None and spec.past_seam_mm is None):
            continue
        cloth = _region(source.cut_outline)
        yield from _past_cloth(spec, cut, cloth)
        if spec.trim_mm is not None:
            yield from _distance(spec, cut, cloth, -spec.trim_mm)
        elif spec.past_seam_mm is not None:
            yield from _distance(spec, cut, _region(source.seam_outline), spec.past_seam_mm)


def is_fused(garment: Garment, spec: PieceSpec) -> bool:
    """Whether a piece is cut of interfacing alone: it is fused onto another and sewn to nothing."""
    fusing = garment.once("interfacings", lambda: _interfacings(garment))
    return bool(spec.cut) and {entry.material for entry in spec.cut} <= fusing


def _interfacings(garment: Garment) -> set[str]:
    """Materials of which a piece is cut that takes another's outline, trimmed or past its seam line; and of which
    nothing is cut that a seam names."""
    pieces, seams = garment.pattern.pieces.values(), garment.pattern.seams.values()
    sewn = {step.piece for seam in seams for step in (*seam.a, *seam.b)}
    laid_on = [one for one in pieces if one.source and (one.trim_mm is not None or one.past_seam_mm is not None)]
    found = {entry.material for one in laid_on for entry in one.cut}
    return found - {entry.material for one in pieces if one.name in sewn for entry in one.cut}


def _region(outline: Polyline) -> shapely.Polygon:
    return shapely.simplify(shapely.Polygon(coordinates(outline)), _CHORD_MM)


def _past_cloth(spec: PieceSpec, cut: CutPiece, cloth: shapely.Polygon) -> Iterator[Outcome]:
    corners = _region(cut.cut_outline).exterior.coords[:-1]
    outside = shapely.distance(shapely.points(corners), cloth)
    if outside.max() > TOLERANCE_MM:
        x, y = corners[int(outside.argmax())]
        yield _outcome(
            spec,
            cut,
            "past-cloth",
            f"{outside.max():.2f} mm outside it at x {x:.0f}, y {y:.0f} mm",
            f"inside the cut line of {spec.source}",
            f"{spec.name} reaches {outside.max():.1f} mm past the cut line of {spec.source}",
        )


def _distance(spec: PieceSpec, cut: CutPiece, region: shapely.Polygon, outward_mm: float) -> Iterator[Outcome]:
    """No corner farther out than declared, and no more left out than mitred corners leave."""
    mine = _region(cut.cut_outline)
    corners = mine.exterior.coords[:-1]
    places = shapely.points(corners)
    shapely.prepare(region)
    out_mm = shapely.distance(places, region.exterior)
    out_mm[shapely.covers(region, places)] *= -1.0
    name, distance_mm = ("trim", -outward_mm) if outward_mm < 0 else ("past_seam", outward_mm)
    limit_mm = outward_mm if outward_mm < 0 else _MITRE * outward_mm
    if out_mm.max() > limit_mm + TOLERANCE_MM:
        x, y = corners[int(out_mm.argmax())]
        side = "outside" if out_mm.max() > 0 else "inside"
        found = f"{abs(out_mm.max()):.2f} mm {side} the line at x {x:.0f}, y {y:.0f} mm"
        text = f"{spec.name} is larger than its {name} says"
        yield _outcome(spec, cut, "too-large", found, f"{distance_mm:g} mm", text)
    asked = region.buffer(outward_mm)
    if spec.part is not None:  # along a line it ends at the line, or as far inside it as it is trimmed
        asked = shapely.intersection(asked, _region(cut.seam_outline).buffer(min(outward_mm, 0.0)))
    missing_mm2 = shapely.difference(asked, mine).area
    if missing_mm2 > 2 * TOLERANCE_MM * asked.length + _CORNERS * distance_mm**2:
        text = f"{spec.name} is smaller than its {name} says"
        yield _outcome(spec, cut, "too-small", f"{missing_mm2:.0f} mm² left out", f"{distance_mm:g} mm all round", text)


def _outcome(spec: PieceSpec, cut: CutPiece, code: str, found: str, allowed: str, message: str) -> Outcome:
    return Outcome(
        code=code,
        size=cut.size,
        piece=cut.piece,
        file="pattern.toml",
        object=f"pieces.{spec.name}",
        found=found,
        allowed=allowed,
        message=message,
    )
