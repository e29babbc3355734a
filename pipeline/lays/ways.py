"""Of the ways in which a cloth may be laid: which is told, and what a way that is not allowed would save."""

from collections.abc import Iterable
from typing import get_args

import msgspec

from pipeline.lays.fit import CHECK
from pipeline.lays.items import LayRequest
from pipeline.lays.lengths_to_buy import imperial_steps, metric_steps, needed_mm
from pipeline.lays.saved import Chosen
from pipeline.lays.sharing import least_along_mm
from pipeline.model.findings import Finding
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import Pattern, Way

SAVES = 0.2
"""What another way must save to be told."""
USUAL = 0.70
"""How much of its usable cloth an open lay of several pieces covers: 0.70 to 0.78 in the demo pinafore, measured."""


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
    """Where cloth that may not be laid open would take about a fifth less so, in the base size.

    No lay is searched for it: the length is that of an open lay which uses the cloth as usual, and no less than the
    longest piece. Of the open cloth alone, since whatever is folded can be opened out: no other way saves where it does
    not.
    """
    found = []
    for each in told:
        request = each.request
        if request.size == pattern.base and "open" not in pattern.materials[request.material].ways:
            open_mm = _about_open_mm(request)
            if request.way != "open" and open_mm <= (1 - SAVES) * each.lay.length_mm:
                found.append(_would_save(pattern, each, open_mm))
    return tuple(found)


def _about_open_mm(request: LayRequest) -> float:
    asked = msgspec.structs.replace(request, way="open")
    longest = max(least_along_mm(asked, item) for item in asked.items)
    return max(longest, asked.area_mm2 / asked.usable_mm / USUAL)


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
        allowed=f"about {open_mm:.0f} mm in one layer",
        message=f"{request.material} of {cloth_width(request.width_mm, pattern.units)} in size {request.size}{view}"
        f" takes {length:.0f} mm, and laid open about {1 - open_mm / length:.0%} less.",
        remedy=f"Nothing need be done. If buyers may also lay it {others}, add that to its ways = [{ways}] and search:"
        " what takes the least is told.",
    )


def _steps(pattern: Pattern, chosen: Chosen) -> tuple[int, int]:
    needed = needed_mm(chosen.lay.length_mm, pattern.materials[chosen.request.material])
    return metric_steps(needed), imperial_steps(needed)
