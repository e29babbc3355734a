"""Of the ways in which a cloth may be laid: which is told, and what a way that is not allowed would save."""

from collections.abc import Iterable
from typing import get_args

import msgspec

from pipeline.lays.fit import CHECK
from pipeline.lays.items import LayRequest
from pipeline.lays.kept import Chosen
from pipeline.lays.lengths_to_buy import imperial_steps, metric_steps, needed_mm
from pipeline.lays.plain import plain_lay
from pipeline.model.findings import Finding
from pipeline.model.lengths import both_units
from pipeline.model.pattern import Pattern, Way

SAVES = 0.2
"""What another way must save to be told."""


def of_one_lay(request: LayRequest) -> tuple[object, ...]:
    """What is the same of requests that differ in their way alone."""
    return request.view, request.size, request.material, request.width_mm, request.one_way


def least_to_buy(pattern: Pattern, chosen: Iterable[Chosen]) -> tuple[Chosen, ...]:
    """Of the lays that differ in their way alone, the one of which the least is bought; of equal ones the way that the
    designer named first, since a few millimetres are no reason to lay cloth in a less usual way."""
    groups: dict[tuple[object, ...], list[Chosen]] = {}
    for each in chosen:
        groups.setdefault(of_one_lay(each.request), []).append(each)
    return tuple(min(group, key=lambda each: _steps(pattern, each)) for group in groups.values())


def would_save(pattern: Pattern, told: Iterable[Chosen]) -> tuple[Finding, ...]:
    """Where cloth that may not be laid open would take a fifth less so, in the base size.

    Asked of a plain lay, which takes no time and is seldom the shortest, and of the open cloth alone: whatever is
    folded can be opened out, so that no other way saves where this one does not.
    """
    found = []
    for each in told:
        request, ways = each.request, pattern.materials[each.request.material].ways
        if request.size != pattern.base or request.way == "open":
            continue
        lay = None if "open" in ways else plain_lay(msgspec.structs.replace(request, way="open"))
        if lay is not None and lay.length_mm <= (1 - SAVES) * each.lay.length_mm:
            found.append(_would_save(pattern, each, lay.length_mm))
    return tuple(found)


def _would_save(pattern: Pattern, told: Chosen, open_mm: float) -> Finding:
    request, length = told.request, told.lay.length_mm
    view = f", view {request.view}" if request.view else ""
    allowed = pattern.materials[request.material].ways
    ways = ", ".join(f'"{way}"' for way in allowed)
    others = " or ".join(f'"{way}"' for way in get_args(Way) if way not in allowed)
    return Finding(
        check=CHECK,
        code="other-way",
        severity="info",
        pattern=pattern.name,
        size=request.size,
        object=f"materials.{request.material}",
        found=f"{length:.0f} mm",
        allowed=f"{open_mm:.0f} mm in one layer",
        message=f"{request.material} of {both_units(request.width_mm, pattern.units)} in size {request.size}{view}"
        f" takes {length:.0f} mm, and laid open {1 - open_mm / length:.0%} less at least.",
        remedy=f"Nothing need be done. If buyers may also lay it {others}, add that to its ways = [{ways}].",
    )


def _steps(pattern: Pattern, chosen: Chosen) -> tuple[int, int]:
    needed = needed_mm(chosen.lay.length_mm, pattern.materials[chosen.request.material])
    return metric_steps(needed), imperial_steps(needed)
