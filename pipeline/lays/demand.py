"""What is laid: the lays that a pattern asks for in one size, from its cut pieces and its strips."""

from collections.abc import Iterable, Mapping

import msgspec

from pipeline.cutting.strips import CutSize, strip_cut_size
from pipeline.geometry.points import Point
from pipeline.lays.items import HeldAgainst, LayItem, LayRequest, usable_width_mm
from pipeline.lays.outlines import in_grain_frame
from pipeline.lays.sharing import can_be_laid
from pipeline.lays.strip_pieces import strip_pieces
from pipeline.model.pattern import Material, Nap, Pattern, Strip, StripGrain
from pipeline.model.piece_specs import Cut, Grain
from pipeline.model.pieces import CutPiece, SizeFile
from pipeline.model.questions import copies, in_view, shown_views, side_of, turns_freely
from pipeline.model.sums import lengths_of, sum_mm

PARALLEL_DEG = 0.5
"""A fold edge that is turned against the grain by more than this cannot lie on the fold of the cloth."""

_STRIP_GRAIN: dict[StripGrain, HeldAgainst] = {"along": "warp", "across": "weft", "bias": "bias", "any": "any"}

_ONE_WAY: dict[Nap, tuple[bool, ...]] = {"none": (False,), "one-way": (True,), "either": (False, True)}
"""Which lays are worked out: with pieces end for end, with all tops one way, or both."""


def strip_sizes(pattern: Pattern, size: str, pieces: tuple[CutPiece, ...]) -> dict[str, CutSize]:
    """What every strip of one size measures as cut, in one piece; a strip without a length there is left out."""
    lengths = lengths_of(pattern, size, {piece.piece: piece for piece in pieces})
    measured = {name: sum_mm(strip.length, lengths) for name, strip in pattern.strips.items()}
    return {
        name: strip_cut_size(pattern.strips[name], length_mm)
        for name, length_mm in measured.items()
        if length_mm is not None and length_mm > 0
    }


def lay_requests(pattern: Pattern, size: str, pieces: tuple[CutPiece, ...]) -> tuple[LayRequest, ...]:
    """Every lay of one size: by view, material, width, with and without nap where both are worked out, and way.

    A view has its own lays; a pattern without views has one that has no name. A way in which a piece does not fit is
    left out; what fits in none of the ways that are allowed is asked for open. Strips are laid as `pattern.toml` has
    them, drawn or not.
    """
    requests: list[LayRequest] = []
    strips = strip_sizes(pattern, size, pieces)
    for view in shown_views(pattern):
        for name, material in pattern.materials.items():
            items = lay_items(pattern, size, name, view, pieces, strips)
            for width in material.widths_mm if items else ():
                for one_way in _ONE_WAY[material.nap]:
                    requests += _requests(size, name, view, material, width, one_way, items)
    return tuple(requests)


def fitting_requests(pattern: Pattern, sizes: Iterable[SizeFile]) -> tuple[LayRequest, ...]:
    """Every lay of several sizes whose pieces all fit across the cloth."""
    asked = (request for file in sizes for request in lay_requests(pattern, file.size, file.pieces))
    return tuple(request for request in asked if request.way != "open" or can_be_laid(request))


def _requests(
    size: str,
    name: str,
    view: str | None,
    material: Material,
    width_mm: float,
    one_way: bool,
    items: tuple[LayItem, ...],
) -> tuple[LayRequest, ...]:
    request = LayRequest(
        size=size,
        material=name,
        width_mm=width_mm,
        usable_mm=usable_width_mm(material, width_mm),
        way="open",
        one_way=one_way,
        free_turn=turns_freely(material),
        gap_mm=material.gap_mm,
        items=items,
        view=view,
        selvedge_mm=material.selvedge_mm,
    )
    ways = (msgspec.structs.replace(request, way=way) for way in material.ways)
    fitting = tuple(each for each in ways if each.way == "open" or can_be_laid(each))
    return fitting or (msgspec.structs.replace(request, tried_open=True),)


def lay_items(
    pattern: Pattern,
    size: str,
    material: str,
    view: str | None,
    pieces: tuple[CutPiece, ...],
    strips: Mapping[str, CutSize],
) -> tuple[LayItem, ...]:
    """What one view takes from one material in one size, in the order of `pattern.toml`, pieces before strips."""
    cut_pieces = {piece.piece: piece for piece in pieces}
    items = []
    for name, spec in pattern.pieces.items():
        cut = _cut_of(spec.cut, material, size)
        if cut is not None and in_view(spec.views, view) and name in cut_pieces:
            one_sided = side_of(entry for entry in spec.cut if entry.material == material) is not None
            items.append(_piece_item(cut_pieces[name], spec.grain, cut, size, one_sided))
    for name, strip in pattern.strips.items():
        cut = _cut_of(strip.cut, material, size)
        if cut is not None and in_view(strip.views, view) and name in strips:
            items.append(_strip_item(strip, cut.count[size], strips[name], pattern.materials[material]))
    return tuple(items)


def _cut_of(cuts: tuple[Cut, ...], material: str, size: str) -> Cut | None:
    """What is cut of a material in a size; several entries of one material add up."""
    count, mirrored = copies(cuts, size, material)
    return Cut(material, {size: count}, {size: mirrored}) if count else None


def _piece_item(piece: CutPiece, grain: Grain, cut: Cut, size: str, one_sided: bool) -> LayItem:
    """What one side of the wearer has alone lies with its printed side up: nothing is to be turned over in the mind."""
    line = piece.drawn.grain
    along, axis, symmetric = line.bottom.to(line.top), None, False
    if piece.fold is not None:
        start, end = piece.fold
        fold = start.to(end) if start.to(end).dot(along) > 0 else end.to(start)
        if abs(fold.turn_deg(along)) <= PARALLEL_DEG:
            along, axis, symmetric = fold, start, True
    return LayItem(
        name=piece.piece,
        outline=in_grain_frame(piece.cut_outline, along, axis),
        grain=grain,
        count=cut.count[size],
        mirrored=0 if symmetric else cut.mirrored.get(size, 0),
        symmetric=symmetric,
        on_fold=symmetric and grain == "warp",
        face="up" if one_sided and not symmetric else None,
    )


def _strip_item(strip: Strip, count: int, size: CutSize, material: Material) -> LayItem:
    """A strip has its length along its own x: what its grain is held against turns it on the cloth."""
    cut = strip_pieces(strip, size.width_mm, size.length_mm, material)
    half = cut.width_mm / 2
    corners = (Point(0, -half), Point(cut.length_mm, -half), Point(cut.length_mm, half), Point(0, half))
    return LayItem(
        name=f"strips.{strip.name}",
        outline=corners,
        grain=_STRIP_GRAIN[strip.grain],
        count=count * cut.pieces,
        symmetric=True,
    )
