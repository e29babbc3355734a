"""The cut list: what is cut of which material, how often, and in which sizes that differs."""

from collections.abc import Iterator

import msgspec
from msgspec import UNSET, UnsetType

from pipeline.model.pattern import Pattern, StripGrain
from pipeline.model.piece_specs import Cut, Grain, Side
from pipeline.model.questions import Copies, copies, in_view, shown_views


class CutRow(msgspec.Struct, frozen=True, kw_only=True):
    """One piece of one material in the sizes that agree. A strip's `piece` is `strips.<name>` and has no number.

    What one side of the wearer has alone stands in a row of its own.
    """

    view: str | None
    material: str
    piece: str
    number: int | None
    sizes: tuple[str, ...]
    count: int
    mirrored: int
    on_fold: bool
    grain: Grain | StripGrain
    title: dict[str, str]
    side: Side | UnsetType = UNSET


def cut_rows(pattern: Pattern) -> tuple[CutRow, ...]:
    """By view, material and piece, in the order of `pattern.toml`; a row for each run of sizes with its own count."""
    return tuple(
        row
        for view in shown_views(pattern)
        for material in pattern.materials
        for row in (*_pieces(pattern, view, material), *_strips(pattern, view, material))
    )


def _pieces(pattern: Pattern, view: str | None, material: str) -> Iterator[CutRow]:
    for piece in pattern.pieces.values():
        drawn_as = pattern.pieces[piece.source] if piece.source else piece
        if not in_view(piece.views, view):
            continue
        sizes = tuple(size for size in pattern.sizes if size in piece.sizes)
        for side, (count, mirrored), of_sizes in _by_side(piece.cut, material, sizes):
            yield CutRow(
                view=view,
                material=material,
                piece=piece.name,
                number=piece.number,
                sizes=of_sizes,
                count=count,
                mirrored=mirrored,
                on_fold=any(edge.fold for edge in drawn_as.edges.values()),
                grain=piece.grain,
                title=piece.title,
                side=side,
            )


def _strips(pattern: Pattern, view: str | None, material: str) -> Iterator[CutRow]:
    for strip in pattern.strips.values():
        if not in_view(strip.views, view):
            continue
        for (count, _), of_sizes in _counts(strip.cut, material, pattern.sizes).items():
            yield CutRow(
                view=view,
                material=material,
                piece=f"strips.{strip.name}",
                number=None,
                sizes=of_sizes,
                count=count,
                mirrored=0,
                on_fold=False,
                grain=strip.grain,
                title=strip.title,
            )


def _by_side(
    cuts: tuple[Cut, ...], material: str, sizes: tuple[str, ...]
) -> Iterator[tuple[Side | UnsetType, Copies, tuple[str, ...]]]:
    """Counts of the entries that say nothing of a side first."""
    for side in dict.fromkeys((None, *(cut.side for cut in cuts))):
        own = tuple(cut for cut in cuts if cut.side == side)
        for found, of_sizes in _counts(own, material, sizes).items():
            yield side or UNSET, found, of_sizes


def _counts(cuts: tuple[Cut, ...], material: str, sizes: tuple[str, ...]) -> dict[Copies, tuple[str, ...]]:
    counts: dict[Copies, tuple[str, ...]] = {}
    for size in sizes:
        found = copies(cuts, size, material)
        if found.copies:
            counts[found] = (*counts.get(found, ()), size)
    return counts
