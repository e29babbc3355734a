"""The edges of a piece in `pattern.toml` as the model's edge specs."""

from itertools import pairwise

from msgspec import UNSET

from pipeline.masters.toml.convert_grown_on import convert_grown_on
from pipeline.masters.toml.convert_topstitch import convert_rows
from pipeline.masters.toml.document_edges import BlendTable, EdgeTable, PartTable
from pipeline.masters.toml.faults import KeyPath, item, shown
from pipeline.masters.toml.leaves import Leaves, given
from pipeline.model.lengths import metric_text
from pipeline.model.piece_specs import AllowancePart, Corner, EdgePart, EdgeSpec, Take
from pipeline.model.turns import turns_of

_LEAST_BAND_MM = 1.0
"""No narrower band can be folded."""
_LOW_MM = 0.01
_ON_LINE_MM = 1.0


def convert_edge(leaves: Leaves, path: KeyPath, name: str, table: EdgeTable) -> EdgeSpec:
    """One edge of a piece that is drawn."""
    corner: Corner | None = None
    beside: dict[str, Corner] = {}
    if isinstance(table.corner, dict):
        beside = dict(table.corner)
        if name in beside:
            message, remedy = "is this edge itself.", "Name the neighbouring edge at that corner."
            leaves.faults.tell((*path, "corner", name), "own-corner", message, remedy, found=name)
    elif table.corner is not UNSET:
        corner = table.corner
    if table.fold:
        _check_fold(leaves, path, table)
    elif table.half is not UNSET and not leaves.faults.spoiled((*path, "fold")):
        message, remedy = "is said of an edge that is no fold: it is whole.", "Add fold = true, or take it out."
        leaves.faults.tell((*path, "half"), "only-on-fold", message, remedy, found=table.half, allowed="with fold")
    allowance_mm, allowance_end_mm = None, None
    if table.allowance is not UNSET:
        allowance_mm, allowance_end_mm = leaves.taper((*path, "allowance"), table.allowance)
    key = "along" if table.along else "allowance" if allowance_end_mm is not None else None
    if key is not None and "turned" in (corner, *beside.values()):
        found = str(table.allowance) if key == "allowance" else "parts"
        message = f'is {shown(found)}, beside corner = "turned": a turned hem is as deep all along.'
        remedy = 'Give one allowance, or corner = "mitre".'
        leaves.faults.tell((*path, key), "taper-turned", message, remedy, found=found, allowed="one allowance")
    if table.along and allowance_end_mm is not None:
        message = "stands beside an allowance that tapers along the whole edge."
        remedy = "Give allowance one value, for what no part names, and taper it in a part."
        told = {"found": str(table.allowance), "allowed": "one allowance beside parts"}
        leaves.faults.tell((*path, "along"), "taper-and-parts", message, remedy, **told)
    takes = []
    for position, take in enumerate(table.takes):
        below = (*path, "takes", item(position))
        if take.start == take.end and leaves.faults.whole(below):
            message, remedy = f"begins and ends at {shown(take.start)}.", "Name the two notches that it lies between."
            leaves.faults.tell(below, "take-of-one-notch", message, remedy, found=take.start, allowed="two notches")
        takes.append(Take(take.start, take.end, take.kind))
    return EdgeSpec(
        allowance_mm=allowance_mm,
        allowance_end_mm=allowance_end_mm,
        along=_parts(leaves, (*path, "along"), table.along),
        corner=corner,
        corner_beside=beside,
        hem=table.hem,
        fold=table.fold,
        half=given(table.half),
        clips=given(table.clips),
        takes=tuple(takes),
        folds_mm=_folds(leaves, path, table, allowance_mm, "turned" in (corner, *beside.values())),
        turn_up=table.turn_up,
        grown_on=convert_grown_on(leaves, path, table, "turned" in (corner, *beside.values())),
        topstitch_mm=convert_rows(leaves, (*path, "topstitch"), table.topstitch),
        blend=_blend(leaves, (*path, "blend"), table.blend),
    )


def _folds(leaves: Leaves, path: KeyPath, table: EdgeTable, depth_mm: float | None, turned: bool) -> tuple[float, ...]:
    """Where the allowance of a turned hem is folded again. `depth_mm`: the edge's own allowance, where it says one."""
    below = (*path, "folds")
    if leaves.faults.spoiled(below):
        return ()
    if not table.folds:
        if table.turn_up:
            message, remedy = "says nothing without folds.", 'Add folds = ["…"], or take it out.'
            leaves.faults.tell((*path, "turn_up"), "only-with-folds", message, remedy, allowed="with folds")
        return ()
    folds_mm = tuple(leaves.length((*below, item(k)), text, _LEAST_BAND_MM) for k, text in enumerate(table.folds))
    if table.fold or not leaves.faults.whole(path):
        return folds_mm
    found = ", ".join(table.folds)

    def tell(key: str, code: str, message: str, remedy: str, allowed: str) -> tuple[float, ...]:
        leaves.faults.tell((*path, key), code, message, remedy, found=found, allowed=allowed)
        return folds_mm

    if not turned:
        message = "is said of a hem whose ends are not turned: folded so often it would not lie on the piece."
        return tell("folds", "folds-not-turned", message, 'Add corner = "turned", or take folds out.', "turned corners")
    if depth_mm is None:
        message, remedy = "needs the allowance in which it is folded.", 'Add allowance = "…" to the edge.'
        return tell("folds", "folds-without-allowance", message, remedy, "an allowance of the edge itself")
    if any(after - before < _LEAST_BAND_MM for before, after in pairwise((*folds_mm, depth_mm))):
        message = f"has {shown(found)} in an allowance of {metric_text(depth_mm)}: each lies farther out than the last."
        remedy = "Say the folds from the seam line outward, all within the allowance."
        allowed = f"rising, and less than {metric_text(depth_mm)}"
        return tell("folds", "folds-order", message, remedy, allowed)
    low_mm, low_at_mm = min((height, at) for at, height in turns_of(folds_mm, depth_mm))
    if low_mm < -_LOW_MM:
        message = (
            f"lets the allowance hang out {metric_text(-low_mm)} below the seam line, {metric_text(low_at_mm)} out."
        )
        remedy = "Put the fold before it farther out, or fold again at the seam line."
        return tell("folds", "folds-hang-out", message, remedy, "every band lies on the piece")
    on_line = len(folds_mm) == 1 or (len(folds_mm) == 2 and abs(folds_mm[1] - 2 * folds_mm[0]) <= _ON_LINE_MM)
    if table.turn_up and not on_line:
        message = f"has {shown(found)}; a turn-up is folded at its upper edge, and again at the seam line."
        remedy = 'Say its depth, and twice its depth, as folds = ["4 cm", "8 cm"].'
        return tell("folds", "folds-of-turn-up", message, remedy, f"{metric_text(2 * folds_mm[0])} as the second")
    return folds_mm


def _blend(leaves: Leaves, path: KeyPath, table: BlendTable | bool) -> EdgePart | bool:
    if isinstance(table, bool):
        return table
    if table.start == table.end and leaves.faults.whole(path):
        message, remedy = f"begins and ends at {shown(table.start)}.", "Name the two places that it lies between."
        leaves.faults.tell(path, "part-of-one-place", message, remedy, found=table.start, allowed="two places")
    return EdgePart(table.start, table.end)


def _parts(leaves: Leaves, path: KeyPath, tables: tuple[PartTable, ...]) -> tuple[AllowancePart, ...]:
    """The parts of an edge that have an allowance of their own."""
    parts = []
    for position, table in enumerate(tables):
        below = (*path, item(position))
        if leaves.faults.spoiled(below):
            continue
        if table.start == table.end and leaves.faults.whole(below):
            message, remedy = f"begins and ends at {shown(table.start)}.", "Name the two places that it lies between."
            leaves.faults.tell(below, "part-of-one-place", message, remedy, found=table.start, allowed="two places")
        start_mm, end_mm = leaves.taper((*below, "allowance"), table.allowance)
        taper_mm = None if table.taper is UNSET else leaves.length((*below, "taper"), table.taper, 1.0)
        of = EdgePart(table.start, table.end)
        end_mm = start_mm if end_mm is None else end_mm
        parts.append(AllowancePart(of=of, start_mm=start_mm, end_mm=end_mm, taper_mm=taper_mm))
    return tuple(parts)


def _check_fold(leaves: Leaves, path: KeyPath, table: EdgeTable) -> None:
    """An edge on the fold is not cut: what speaks of its cut line contradicts it."""
    given_keys = {"allowance": table.allowance is not UNSET, "along": bool(table.along)}
    given_keys |= {"corner": table.corner is not UNSET, "hem": table.hem, "folds": bool(table.folds)}
    given_keys |= {"topstitch": bool(table.topstitch)}
    given_keys |= {"blend": table.blend is not False, "grown_on": bool(table.grown_on)}
    for key in (key for key, told in given_keys.items() if told):
        message, remedy = "contradicts fold = true: this edge is not cut.", f"Take out {key}, or fold."
        leaves.faults.tell((*path, key), "fold-contradiction", message, remedy, found=key, allowed="none beside fold")
