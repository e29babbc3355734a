"""What is grown onto an edge in `pattern.toml`, as the model's values."""

from pipeline.masters.toml.document_edges import EdgeTable, GrownOnTable
from pipeline.masters.toml.faults import KeyPath, item, shown
from pipeline.masters.toml.leaves import LARGEST_ALLOWANCE_MM, Leaves
from pipeline.model.lengths import metric_text
from pipeline.model.piece_specs import EdgePart, GrownOn
from pipeline.model.turns import NIL_MM

_LEAST_MM = 1.0
"""Nothing narrower can be folded, or cut round."""


def convert_grown_on(leaves: Leaves, path: KeyPath, table: EdgeTable, turned: bool) -> tuple[GrownOn, ...]:
    """What is grown on along parts of an edge; `turned`: the edge asks for turned corners, as a hem does."""
    below = (*path, "grown_on")
    if not table.grown_on or leaves.faults.spoiled(below):
        return ()
    _check_beside(leaves, path, table, turned)
    return tuple(_one(leaves, (*below, item(position)), said) for position, said in enumerate(table.grown_on))


def _check_beside(leaves: Leaves, path: KeyPath, table: EdgeTable, turned: bool) -> None:
    """What cannot be said of an edge onto which something is grown: along it the edge is a fold, and no hem."""
    told = {"hem": table.hem, "corner": turned, "folds": bool(table.folds), "blend": table.blend is not False}
    remedies = {
        "hem": "Take out hem: what is grown on is folded back by itself.",
        "corner": "Take out corner: what is grown on mirrors the piece at its corners by itself.",
        "folds": 'Say what is turned in as turn_in = "…" of that part, and take out folds.',
        "blend": "Blend edges beside it alone.",
    }
    for key in (key for key, said in told.items() if said):
        message = "contradicts grown_on: along that part the edge is a fold."
        leaves.faults.tell((*path, key), "grown-contradiction", message, remedies[key], found=key, allowed="grown_on")


def _one(leaves: Leaves, path: KeyPath, table: GrownOnTable) -> GrownOn:
    if table.start == table.end and leaves.faults.whole(path):
        message, remedy = f"begins and ends at {shown(table.start)}.", "Name the two places that it lies between."
        leaves.faults.tell(path, "part-of-one-place", message, remedy, found=table.start, allowed="two places")
    width_mm, end_width_mm = _widths(leaves, (*path, "width"), table.width)
    turn_in_mm = leaves.allowance((*path, "turn_in"), table.turn_in)
    radius_mm = None
    if isinstance(table.radius, str):
        radius_mm = leaves.length((*path, "radius"), table.radius, _LEAST_MM, LARGEST_ALLOWANCE_MM)
    if leaves.faults.whole(path):
        narrowest_mm = width_mm if end_width_mm is None else min(width_mm, end_width_mm)
        _check_measures(leaves, path, table, (narrowest_mm, turn_in_mm, radius_mm))
        if end_width_mm is not None and turn_in_mm > 0:
            message = "is turned in along a raw edge that is not parallel to the fold."
            remedy = "Take out turn_in: neaten or bind that edge; or let the width be one all along."
            told = {"found": table.turn_in, "allowed": "one width"}
            leaves.faults.tell((*path, "turn_in"), "turn-in-tapering", message, remedy, **told)
    of = EdgePart(table.start, table.end)
    return GrownOn(of=of, width_mm=width_mm, turn_in_mm=turn_in_mm, radius_mm=radius_mm, end_width_mm=end_width_mm)


def _widths(leaves: Leaves, path: KeyPath, text: str) -> tuple[float, float | None]:
    """The width at the first place, and at the second where it is another."""
    if leaves.faults.spoiled(path):
        return _LEAST_MM, None
    start_mm, *rest = (leaves.length(path, part.strip(), _LEAST_MM, LARGEST_ALLOWANCE_MM) for part in text.split(".."))
    return start_mm, rest[0] if rest and rest[0] != start_mm else None


def _check_measures(
    leaves: Leaves, path: KeyPath, table: GrownOnTable, measures_mm: tuple[float, float, float | None]
) -> None:
    width_mm, turn_in_mm, radius_mm = measures_mm
    if turn_in_mm > width_mm + NIL_MM:
        message = f"is {shown(table.turn_in)}, more than the width of {metric_text(width_mm)}: it would hang out."
        remedy, allowed = "Turn in no more than the width.", f"0 mm to {metric_text(width_mm)}"
        leaves.faults.tell((*path, "turn_in"), "turn-in-wide", message, remedy, found=table.turn_in, allowed=allowed)
    if radius_mm is None:
        return
    if turn_in_mm > 0:
        message, remedy = "rounds a raw edge that is turned in.", "Take out turn_in, or radius."
        told = {"found": str(table.radius), "allowed": "a raw edge that is neatened or bound"}
        leaves.faults.tell((*path, "radius"), "radius-turned-in", message, remedy, **told)
    if radius_mm > width_mm + NIL_MM:
        message = f"is {shown(str(table.radius))}, more than the width of {metric_text(width_mm)}."
        remedy, allowed = "Make it no larger than the width.", f"up to {metric_text(width_mm)}"
        leaves.faults.tell((*path, "radius"), "radius-wide", message, remedy, found=str(table.radius), allowed=allowed)
