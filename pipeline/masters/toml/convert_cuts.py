"""How often a piece or strip is cut of which material, as the model's cuts."""

from msgspec import UNSET

from pipeline.masters.toml.document import CutTable
from pipeline.masters.toml.faults import KeyPath, item, shown
from pipeline.masters.toml.leaves import Leaves, given
from pipeline.model.piece_specs import Cut, Side


def convert_cuts(
    leaves: Leaves,
    path: KeyPath,
    tables: tuple[CutTable, ...],
    sizes: tuple[str, ...],
    declared: KeyPath | None = None,
    *,
    pairs: bool,
    side: Side | None = None,
) -> tuple[Cut, ...]:
    """The cut entries of a piece or strip in its sizes, which are declared at a key.

    `pairs`: half of an even count are mirror images where nothing else is said, and an odd one must say it; but for
    what one side of the wearer has in one layer. `side`: what the whole piece says of it.
    """
    cuts = []
    for position, table in enumerate(tables):
        below = (*path, item(position))
        if leaves.faults.spoiled(below):
            continue
        leaves.known((*below, "material"), table.material, leaves.document.materials, ("materials",), "material")
        count = leaves.counts((*below, "count"), table.count, sizes, declared)
        layers = given(table.layers) or 1
        _check_layers(leaves, (*below, "layers"), count, layers)
        own: Side | None = given(table.side)
        if side is not None and own is not None:
            message = f"stands beside side = {shown(side)} of the whole piece."
            remedy = "Say it of the piece, or of each entry."
            leaves.faults.tell((*below, "side"), "side-twice", message, remedy, found=own, allowed="one of them")
        if table.mirrored is UNSET:
            paired = pairs and ((own or side) is None or layers > 1)
            mirrored = _default_mirrored(leaves, (*below, "mirrored"), count, paired)
        else:
            mirrored = leaves.counts((*below, "mirrored"), table.mirrored, sizes, declared)
            _check_mirrored(leaves, (*below, "mirrored"), count, mirrored)
        cuts.append(Cut(table.material, count, mirrored, side=own or side, layers=layers))
    return tuple(cuts)


def _check_layers(leaves: Leaves, path: KeyPath, count: dict[str, int], layers: int) -> None:
    odd = next((number for number in count.values() if number % layers), None)
    if odd is not None and not leaves.faults.spoiled(path):
        message = f"is {layers}, and {odd} pieces do not lie on each other by {layers}."
        remedy = "Count every layer, or correct layers."
        allowed = f"a multiple of {layers} as the count"
        leaves.faults.tell(path, "layers-left-over", message, remedy, found=str(odd), allowed=allowed)


def _default_mirrored(leaves: Leaves, path: KeyPath, count: dict[str, int], pairs: bool) -> dict[str, int]:
    odd = [number for number in count.values() if number > 1 and number % 2]
    if pairs and odd and not leaves.faults.spoiled(path):
        message = f"is missing: {odd[0]} pieces do not split into pairs."
        remedy = "Say how many of them are mirror images, as mirrored = 0."
        leaves.faults.tell(path, "mirrored-missing", message, remedy, found="nothing", allowed="0 to the count")
    return {size: number // 2 if pairs else 0 for size, number in count.items()}


def _check_mirrored(leaves: Leaves, path: KeyPath, count: dict[str, int], mirrored: dict[str, int]) -> None:
    for size, number in mirrored.items():
        if number > count.get(size, number):
            message = f"is {number}, more than the count of {count[size]}."
            remedy, allowed = "Mirror at most as many as are cut.", f"0 to {count[size]}"
            leaves.faults.tell(path, "mirrored-too-many", message, remedy, found=str(number), allowed=allowed)
            return
