"""Cut pieces of all sizes in; the better of the layout kept so far and those found now stays beside the source."""

from collections.abc import Sequence
from pathlib import Path

import msgspec

from pipeline.lays.engine import Engine, EngineError, EngineItem
from pipeline.masters.load import load_pattern
from pipeline.sheets.layout import KeptLayout
from pipeline.sheets.papers import large_of, tiles_of
from pipeline.sheets.search import StripItem, StripPlace, search_layout
from pipeline.sheets.stacks import stacks_of
from pipeline.steps.inputs import cuts_by_piece
from pipeline.steps.run import read_json, run, write


def main(folder: Path, pieces: list[Path], seconds: int) -> None:
    """Search each width `seconds` long."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    place = folder / "layout.json"
    kept = read_json(place, KeptLayout) if place.is_file() else None
    engine = Engine()

    def pack(width_mm: float, items: Sequence[StripItem], seed: int) -> list[StripPlace] | None:
        shapes = tuple(EngineItem(shape=item.shape, demand=1, angles=item.angles) for item in items)
        try:
            found = engine.solve(width_mm, 0.0, shapes, seconds, seed)
        except EngineError:
            return None
        return [StripPlace(p.x_mm, p.y_mm, p.angle_deg) for p in sorted(found, key=lambda p: p.item)]

    try:
        stacks, tiles = stacks_of(pattern, cuts_by_piece(pieces)), tiles_of(pattern.print)
        best = search_layout(stacks, pack, tiles, kept, large=large_of(pattern.print))
    finally:
        engine.end()
    better = KeptLayout(layout=best, pinned=kept.pinned if kept else ())
    write(place, msgspec.json.format(msgspec.json.encode(better), indent=1) + b"\n")


if __name__ == "__main__":
    run(main)
