"""Cut pieces of all sizes in; the better of the layouts saved so far and those found now stays beside the source."""

from collections.abc import Iterator, Sequence
from pathlib import Path

import msgspec

from pipeline.bundle.promised import print_files, sizes_alone, tiled_formats, views_alone
from pipeline.lays.engine import Engine, EngineError, EngineItem
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts
from pipeline.sheets.layout import SavedLayout, saved_layout_json, saved_view
from pipeline.sheets.papers import PAPERS, tile_of, tiles_of
from pipeline.sheets.search import PackStrip, StripItem, StripPlace, search_large, search_layout
from pipeline.sheets.stacks import Stack, stacks_of, views_of
from pipeline.sheets.whole import Turn, turns_of
from pipeline.steps.inputs import cuts_by_piece, read_saved
from pipeline.work.files import write

_ALONE_SHARE = 5
"""A size alone gets a fifth of the seconds: there are as many such files as sizes and papers."""


def main(folder: Path, pieces: list[Path], seconds: int) -> None:
    """Search each width of the tiles' layout `seconds` long, each sheet and roll, then each size and view alone.

    What is found is saved after each, so that a search that is stopped keeps what it had.
    """
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    place = folder / "layout.json"
    saved = read_saved(place, SavedLayout) if place.is_file() else None
    cuts = cuts_by_piece(pieces)
    with Engine() as engine:
        stacks, pack = stacks_of(pattern, cuts), _packer(engine, seconds)
        best = search_layout(stacks, pack, tiles_of(pattern.print), saved)
        saved = msgspec.structs.replace(saved, layout=best) if saved else SavedLayout(layout=best)
        write(place, saved_layout_json(saved))
        for known in _large(pattern, stacks, saved, pack):
            write(place, saved_layout_json(saved := known))
        for known in _alone(pattern, cuts, saved, _packer(engine, max(1, seconds // _ALONE_SHARE))):
            write(place, saved_layout_json(known))


def _packer(engine: Engine, seconds: int) -> PackStrip:
    def pack(width_mm: float, items: Sequence[StripItem], seed: int) -> list[StripPlace] | None:
        shapes = tuple(EngineItem(shape=item.shape, demand=1, angles=item.angles) for item in items)
        try:
            found = engine.solve(width_mm, 0.0, shapes, seconds, seed)
        except EngineError:
            return None
        return [StripPlace(p.x_mm, p.y_mm, p.angle_deg) for p in sorted(found, key=lambda p: p.item)]

    return pack


def _large(pattern: Pattern, stacks: Sequence[Stack], saved: SavedLayout, pack: PackStrip) -> Iterator[SavedLayout]:
    """What is saved after each sheet and roll of all sizes, and nothing of files that are no longer made."""
    names, drawn = _not_tiled(pattern), turns_of(saved.layout)
    files = [*names, *(f"{part}-{name}" for part in _parts(pattern) for name in names)]
    large = {name: layout for name, layout in saved.large.items() if name in files}
    for name in names:
        large[name] = search_large(stacks, pack, PAPERS[name], large.get(name), drawn)
        drawn |= turns_of(large[name].layout)
        yield msgspec.structs.replace(saved, large={name: large[name] for name in files if name in large})


def _not_tiled(pattern: Pattern) -> list[str]:
    return [name for name in print_files(pattern) if PAPERS[name].kind != "tiled"]


def _parts(pattern: Pattern) -> tuple[str, ...]:
    """What has files of its own, as its layouts are saved: sizes and views."""
    return (*sizes_alone(pattern), *map(saved_view, views_alone(pattern)))


def _alone(pattern: Pattern, cuts: Cuts, saved: SavedLayout, pack: PackStrip) -> Iterator[SavedLayout]:
    """What is saved after the files of each size and view, and nothing of files that are no longer made."""
    margin, overlap, tiled = pattern.print.margin_mm, pattern.print.overlap_mm, tiled_formats(pattern)
    names = [f"{part}-{paper}" for part in _parts(pattern) for paper in tiled]
    alone = {name: layout for name, layout in saved.alone.items() if name in names}
    large = dict(saved.large)
    for part in _parts(pattern):
        stacks = stacks_of(pattern, _shown(pattern, part, cuts))
        drawn: frozenset[Turn] = frozenset()
        for paper in tiled:
            name = f"{part}-{paper}"
            former = SavedLayout(layout=alone[name]) if name in alone else None
            alone[name] = search_layout(stacks, pack, (tile_of(PAPERS[paper], margin, overlap),), former)
            drawn |= turns_of(alone[name])
        for paper in _not_tiled(pattern):
            name = f"{part}-{paper}"
            large[name] = search_large(stacks, pack, PAPERS[paper], large.get(name), drawn)
            drawn |= turns_of(large[name].layout)
        yield msgspec.structs.replace(saved, alone={name: alone[name] for name in names if name in alone}, large=large)


def _shown(pattern: Pattern, part: str, cuts: Cuts) -> Cuts:
    """The pieces of a size or a view."""
    if part in pattern.sizes:
        return {piece: {part: cut[part]} for piece, cut in cuts.items() if part in cut}
    return {piece: cut for piece, cut in cuts.items() if part in map(saved_view, views_of(pattern, piece))}
