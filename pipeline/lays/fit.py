"""Does it fit at all? Asked before any search, since the engine breaks on what is too wide."""

from pipeline.lays.items import FREE_STEP_DEG, LayItem, LayRequest, allowed_angles, usable_width_mm
from pipeline.lays.outlines import extent_across_mm
from pipeline.model.findings import Finding
from pipeline.model.lengths import cloth_width, imperial_text
from pipeline.model.pattern import Material, Pattern
from pipeline.model.stages import Stage

EXACT_MM = 0.02
"""What is this much too wide still fits: arithmetic, not cloth."""
STAGE = Stage(
    id="lays",
    title="Every piece fits every width of cloth, and saved lays fit the pieces",
    rationale="A length to buy is only told where a lay of it is proven.",
    severity="block",
)
CHECK = STAGE.id


def candidate_angles(item: LayItem, one_way: bool, free_turn: bool) -> tuple[float, ...]:
    """The angles that are tried, all of them allowed."""
    allowed = allowed_angles(item.grain, one_way, free_turn)
    return tuple(float(each) for each in range(0, 360, FREE_STEP_DEG)) if allowed is None else allowed


def fitting_angles(request: LayRequest, item: LayItem) -> tuple[float, ...]:
    """The angles tried at which the piece fits across the cloth; none where it is too wide."""
    return tuple(
        angle
        for angle in candidate_angles(item, request.one_way, request.free_turn)
        if extent_across_mm(item.points, angle) <= request.height_mm + EXACT_MM
    )


def lies_on_fold(request: LayRequest, item: LayItem) -> bool:
    """Whether a piece is laid with its middle on the fold of this lay."""
    return request.way != "open" and item.on_fold


def fits(request: LayRequest, item: LayItem) -> bool:
    """Whether a piece fits across the cloth of this lay, which is on one fold or open."""
    if lies_on_fold(request, item):
        return float(item.half[:, 1].max()) <= request.height_mm + EXACT_MM
    return bool(fitting_angles(request, item))


def needed_width_mm(item: LayItem, one_way: bool, free_turn: bool) -> float:
    """The narrowest usable width on which a piece can lie open."""
    return min(extent_across_mm(item.points, angle) for angle in candidate_angles(item, one_way, free_turn))


def too_wide(pattern: Pattern, request: LayRequest) -> tuple[Finding, ...]:
    """A finding that blocks for every piece that does not fit on the open cloth of a request."""
    material = pattern.materials[request.material]
    return tuple(
        _too_wide(pattern, material, request, item)
        for item in request.items
        if request.way == "open" and not fits(request, item)
    )


def _too_wide(pattern: Pattern, material: Material, request: LayRequest, item: LayItem) -> Finding:
    needed = needed_width_mm(item, request.one_way, request.free_turn)
    full = (needed + 2 * material.selvedge_mm) / (1 - material.shrinkage_width)
    wide_enough = [width for width in material.widths_mm if usable_width_mm(material, width) + EXACT_MM >= needed]

    def told(length_mm: float) -> str:
        return f"{length_mm:.1f} mm, or {imperial_text(length_mm)}"

    if wide_enough:
        width = cloth_width(min(wide_enough), pattern.units)
        remedy = f"Of the widths declared, {width} would do: leave out the narrower ones"
    else:
        remedy = f"None of the widths declared would do: declare one of {told(full)} or more"
    strip = item.name.startswith("strips.")
    return Finding(
        check=CHECK,
        code="too-wide",
        severity="block",
        pattern=pattern.name,
        size=request.size,
        piece=None if strip else item.name,
        where=item.name if strip else None,
        file="pattern.toml",
        object=f"materials.{request.material}",
        found=told(needed),
        allowed=told(request.usable_mm),
        message=f"{item.name} in size {request.size} is {needed - request.usable_mm:.1f} mm wider than the cloth:"
        f" it needs {needed:.1f} mm across, and {request.material} of {cloth_width(request.width_mm, pattern.units)}"
        f" has {request.usable_mm:.1f} mm between its selvedges{_shrunk(material)}.",
        remedy=f"{remedy}, or divide the piece.",
    )


def _shrunk(material: Material) -> str:
    return " after shrinking" if material.shrinkage_width else ""
