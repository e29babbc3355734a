"""Lengths to buy: every size, width and material, from its proven lay."""

from collections.abc import Iterable

import msgspec
from msgspec import UNSET, UnsetType

from pipeline.lays.items import LayRequest
from pipeline.lays.lay import Folded, folded_as
from pipeline.lays.lengths_to_buy import imperial_length, metric_length, metric_length_mm, needed_mm
from pipeline.lays.repeats import extra_mm
from pipeline.lays.saved import Chosen
from pipeline.model.findings import Finding, Severity
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import Pattern
from pipeline.model.questions import match_lines
from pipeline.model.sizes import ladders
from pipeline.model.stages import Stage

STAGE = Stage(
    id="cloth-lengths",
    title="Lengths to buy rise with the sizes and suit the area that is cut",
    rationale="A length that is out of its row is a lay that went wrong, or cloth bought in vain.",
    severity="warn",
)
CHECK = STAGE.id
AREA_BAND = (0.90, 1.11)
"""Length x width against the narrowest cloth.

Calculated from the published table of equal yardage between widths (yards; read second-hand on a public board;
attributed to Rutgers Cooperative Extension, from memory), there against the 36 in column.
"""


class ClothRow(msgspec.Struct, frozen=True, kw_only=True):
    """One line of the table. `width_mm` is the full cloth, `fold` and `one_way` as really laid.

    `fold`: true on one fold, false in one layer, else the name of the way.

    `lay_length_mm` is before shrinkage; `utilisation` the area of the pieces over that of the cloth of that length.
    Of cloth with a repeat on which lines are matched, `repeat_extra_mm` is what the lay may become longer by, and
    `repeat_…` what is then bought, never less for a larger size.
    """

    view: str | None
    size: str
    material: str
    width_mm: float
    fold: Folded
    one_way: bool
    lay_length_mm: float
    length_to_buy_mm: float
    metric: str
    imperial: str
    utilisation: float
    repeat_extra_mm: float | UnsetType = UNSET
    repeat_to_buy_mm: float | UnsetType = UNSET
    repeat_metric: str | UnsetType = UNSET
    repeat_imperial: str | UnsetType = UNSET


class ClothLine(msgspec.Struct, frozen=True, kw_only=True):
    """A row and what is told beside it: the smaller size whose length it was raised to, the area bound, and what the
    piece that is longest along the cloth takes of it."""

    row: ClothRow
    raised_to: str | None
    bound_mm: float
    longest_mm: float


def area_bound_mm(request: LayRequest) -> float:
    """No lay can be shorter than the pieces' area over the usable width."""
    return request.area_mm2 / request.usable_mm


def cloth_lines(pattern: Pattern, chosen: Iterable[Chosen]) -> tuple[ClothLine, ...]:
    """The table, by view, material, width, nap and size: never less for a larger size at the same width.

    Where sizes stand on several ladders, larger is what comes later on one of these.
    """
    rows = ladders(pattern)
    groups: dict[tuple[object, ...], dict[str, Chosen]] = {}
    for each in chosen:
        request = each.request
        groups.setdefault((request.view, request.material, request.width_mm, request.one_way), {})[request.size] = each
    lines = []
    for by_size in groups.values():
        bought: dict[str, tuple[float, str | None]] = {}
        matched: dict[str, float] = {}
        for size in pattern.sizes:
            if size in by_size:
                before = [[other for other in row.sizes if other in by_size] for row in rows if size in row.sizes]
                smaller = [sizes[sizes.index(size) - 1] for sizes in before if sizes.index(size)]
                most, of_size = max((bought[other] for other in smaller), key=lambda of: of[0], default=(0.0, None))
                needed = needed_mm(by_size[size].lay.length_mm, pattern.materials[by_size[size].request.material])
                raised = metric_length(most) != metric_length(needed) or imperial_length(most) != imperial_length(
                    needed
                )
                if needed >= most:
                    most, of_size, raised = needed, size, False
                bought[size] = most, of_size
                line = _line(by_size[size], most, of_size if raised else None)
                if (extra := _extra_mm(pattern, by_size[size])) is not None:
                    material = pattern.materials[by_size[size].request.material]
                    asked = needed_mm(by_size[size].lay.length_mm + extra, material)
                    matched[size] = max([asked, most, *(matched[other] for other in smaller)])
                    line = _with_repeat(line, extra, matched[size])
                lines.append(line)
    return tuple(lines)


def _extra_mm(pattern: Pattern, chosen: Chosen) -> float | None:
    """By how much a lay may become longer on cloth that is matched; None where none of its pieces is."""
    material = pattern.materials[chosen.request.material]
    matched = {item.name for item in chosen.request.items if match_lines(pattern, item.name)}
    if not material.has_repeat or not matched:
        return None
    across = material.repeat_width_mm is not None
    return extra_mm(chosen.request, chosen.lay, matched, material.repeat_length_mm or 0.0, across)


def _with_repeat(line: ClothLine, extra: float, needed: float) -> ClothLine:
    told = msgspec.structs.replace(
        line.row,
        repeat_extra_mm=round(extra, 1),
        repeat_to_buy_mm=metric_length_mm(needed),
        repeat_metric=metric_length(needed),
        repeat_imperial=imperial_length(needed),
    )
    return msgspec.structs.replace(line, row=told)


def _line(chosen: Chosen, needed: float, raised_to: str | None) -> ClothLine:
    request, length = chosen.request, chosen.lay.length_mm
    row = ClothRow(
        view=request.view,
        size=request.size,
        material=request.material,
        width_mm=request.width_mm,
        fold=folded_as(request.way),
        one_way=request.one_way,
        lay_length_mm=round(length, 1),
        length_to_buy_mm=metric_length_mm(needed),
        metric=metric_length(needed),
        imperial=imperial_length(needed),
        utilisation=round(request.area_mm2 / (request.width_mm * length), 4),
    )
    longest = max((float(item.points[:, 0].max()) for item in request.items), default=0.0)
    return ClothLine(row=row, raised_to=raised_to, bound_mm=area_bound_mm(request), longest_mm=longest)


def cloth_findings(pattern: Pattern, lines: tuple[ClothLine, ...]) -> tuple[Finding, ...]:
    """Lengths that were raised, lengths below the area bound, and widths that do not go together."""
    found = []
    for line in lines:
        row = line.row
        if line.raised_to is not None:
            found.append(
                _finding(
                    pattern,
                    row,
                    "raised",
                    "info",
                    f"{row.lay_length_mm:.0f} mm laid",
                    f"no less than size {line.raised_to}",
                    f"{_what(pattern, row)} has a shorter lay than size {line.raised_to}: its length to buy is"
                    f" raised to {row.metric}.",
                    'Nothing need be done; "snakemake --cores all lays" may find a shorter lay for the smaller size.',
                )
            )
        if row.lay_length_mm < line.bound_mm - 0.1:
            found.append(
                _finding(
                    pattern,
                    row,
                    "below-area",
                    "block",
                    f"{row.lay_length_mm:.1f} mm",
                    f"at least {line.bound_mm:.1f} mm, the pieces' area over the usable width",
                    f"{_what(pattern, row)} has a lay that is shorter than its pieces' area allows.",
                    "A fault of the pipeline: keep the source and report it.",
                )
            )
    return (*found, *_implausible(pattern, lines))


def _implausible(pattern: Pattern, lines: tuple[ClothLine, ...]) -> list[Finding]:
    """Widths that are folded alike, against the narrowest of them. One piece more or less side by side is no fault."""
    narrowest: dict[tuple[object, ...], ClothRow] = {}
    for row in sorted((line.row for line in lines), key=lambda row: row.width_mm):
        narrowest.setdefault(_compared(row), row)
    found = []
    for line in lines:
        row, base = line.row, narrowest[_compared(line.row)]
        ratio = row.lay_length_mm * row.width_mm / (base.lay_length_mm * base.width_mm)
        off_mm = abs(row.lay_length_mm - base.lay_length_mm * base.width_mm / row.width_mm)
        if not AREA_BAND[0] <= ratio <= AREA_BAND[1] and off_mm > line.longest_mm:
            found.append(
                _finding(
                    pattern,
                    row,
                    "implausible",
                    "info",  # large pieces gain little from width, and that is no fault
                    f"{ratio:.2f} of the area on {cloth_width(base.width_mm, pattern.units)}",
                    f"{AREA_BAND[0]:.2f} to {AREA_BAND[1]:.2f}",
                    f"{_what(pattern, row)} takes an unusual length for its width.",
                    'Look at the lay; "snakemake --cores all lays" may find a shorter one. Large pieces explain some.',
                )
            )
    return found


def _compared(row: ClothRow) -> tuple[object, ...]:
    """What rows have in common that differ by their width alone."""
    return row.view, row.size, row.material, row.one_way, row.fold


def _what(pattern: Pattern, row: ClothRow) -> str:
    view = f", view {row.view}" if row.view else ""
    return f"{row.material} of {cloth_width(row.width_mm, pattern.units)} in size {row.size}{view}"


def _finding(
    pattern: Pattern, row: ClothRow, code: str, severity: Severity, found: str, allowed: str, message: str, remedy: str
) -> Finding:
    return Finding(
        check=CHECK,
        code=code,
        severity=severity,
        pattern=pattern.name,
        size=row.size,
        where=f"materials.{row.material}",
        object=f"materials.{row.material}",
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )
