"""What drawings hold before anything is said of them: which sizes and pieces the names of their layers tell of.

A word is a size where it is written as one (34, XL, 3XL, 6-12, small), the rest of a name is a piece. All is proposed.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

import msgspec

from pipeline.masters.drawings.by_shape import is_outline
from pipeline.masters.drawings.layers import CORNERS, ROLES, layer_name, object_name, words
from pipeline.masters.drawings.sorted_objects import OF_DRAWING, DrawingReading, clean_name
from pipeline.masters.lookup import EVERY_SIZE
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.reading import FileUnusableError
from pipeline.masters.svg.tree import Node, parse_svg
from pipeline.masters.svg.walk import Shape, drawn_objects
from pipeline.masters.svg.words import Words
from pipeline.model.findings import Finding
from pipeline.starting.axes import SIZE, Axes, Sized, evident_axes, split_ways, without_values
from pipeline.starting.size_names import ONE_SIZE, WORDED, as_name, size_in, size_order, without_size


class Look(msgspec.Struct, frozen=True):
    """The sizes in order, and the pieces with their titles by name.

    `ways` are the layers of seam lines of which no size, or no piece, could be told; `roles` how many objects say each
    role; `starts` a corner of a piece that has a name, where its edges may begin; `names` all that stands on the way to
    seam lines; `by_shape` whether no group is called seam, and closed outlines lie in layers of a size or piece; `axes`
    the ladders, where there are several; `twice` names that part outlines of one piece and size, where nothing says
    whether they are a ladder.
    """

    sizes: tuple[str, ...]
    pieces: dict[str, str]
    ways: tuple[str, ...]
    roles: dict[str, int]
    starts: dict[str, str]
    names: tuple[str, ...]
    findings: tuple[Finding, ...]
    by_shape: bool = False
    axes: Axes | None = None
    twice: tuple[str, ...] = ()


def look_at(drawings: Mapping[str, bytes]) -> Look:
    """Reads the names on the way to every object; faults of the files are told as they are of masters."""
    ways: list[tuple[str, ...]] = []
    bare: list[tuple[str, ...]] = []
    marks: dict[str, list[tuple[str, ...]]] = {}
    roles: Counter[str] = Counter()
    findings: list[Finding] = []
    for file, data in drawings.items():
        reading = DrawingReading("", None, None, file)
        shapes: Sequence[Shape] = ()
        texts: Sequence[Words] = ()
        try:
            shapes, texts = _objects(file, data, reading)
        except SvgFault as fault:
            reading.tell_fault(fault)
        except FileUnusableError:
            pass  # told
        findings += reading.findings()
        parts = tuple(file.removesuffix(".svg").removesuffix(".dxf").split("/"))
        named = [(shape.within, clean_name(shape), is_outline(shape)) for shape in shapes]
        for within, own, outline in (*named, *((text.within, "", False) for text in texts)):
            names = (*parts, *(layer_name(node) for node in within[1:]))
            role = next((said[-1] for name in reversed(names) if (said := words(name)) and said[-1] in ROLES), None)
            if role:
                roles[role] += 1
            if role == "seam":
                ways.append(tuple(name for name in names if name))
            if role == CORNERS and own:
                marks.setdefault(own, []).append(names)
            if role is None and outline and (way := _bare_way(within, own)) is not None:
                bare.append((*parts, *way))
    by_shape = bool(bare and not ways)
    ways = ways or bare
    found = _names_of(ways)
    sizes, pieces, unknown = found.sizes, found.pieces, found.unknown
    if not (sizes or found.axes) and pieces and len(set(ways)) == len(pieces):
        sizes, unknown = {ONE_SIZE}, ()  # each piece is there once
    starts = {piece: mark for mark, there in marks.items() for piece in _pieces_of(there) if piece in pieces}
    on_the_way = dict.fromkeys(name for way in ways for name in way)
    in_order = found.axes.drawn if found.axes else tuple(sorted(sizes, key=size_order))
    return Look(
        sizes=in_order,
        pieces=pieces,
        ways=unknown,
        roles=dict(roles),
        starts=starts,
        names=tuple(on_the_way),
        findings=tuple(findings),
        by_shape=by_shape,
        axes=found.axes,
        twice=_twice(found),
    )


def _bare_way(within: tuple[Node, ...], own: str) -> tuple[str, ...] | None:
    """The names on the way to an outline without a role; its own where no layer says what piece it is.

    None where two layers say more than a size: one of them may be the piece, the other is something that is not read.
    """
    layers = tuple(name for node in within[1:] if (name := object_name(node)))
    said = sum(bool(without_size(without_values(name))) for name in layers)
    if said > 1:
        return None
    return layers if said or not own else (*layers, own)


def _pieces_of(ways: Iterable[tuple[str, ...]]) -> set[str]:
    """Every name on the way to a mark, as a piece may be called."""
    return {as_name(without_size(name)) for way in ways for name in way}


def _objects(file: str, data: bytes, reading: DrawingReading) -> tuple[Sequence[Shape], Sequence[Words]]:
    if not file.endswith(".dxf"):
        return drawn_objects(parse_svg(data, OF_DRAWING), reading, None, OF_DRAWING)
    from pipeline.masters.drawings.dxf import dxf_objects  # and its libraries: few drawings are DXF

    return dxf_objects(data, reading, OF_DRAWING)


class _Names(msgspec.Struct, frozen=True):
    """What the ways say together, and of each its size, its piece, and what else it says of a size or piece."""

    sizes: set[str]
    pieces: dict[str, str]
    unknown: tuple[str, ...]
    outlines: tuple[tuple[str | None, str | None, tuple[str, ...]], ...]
    axes: Axes | None = None


def _names_of(ways: list[tuple[str, ...]]) -> _Names:
    """On several ladders where these are evident, else on one."""
    splits = split_ways(ways)
    if splits is not None:
        found = _sorted_names([split.way for split in splits], ways, [bool(split.values) for split in splits])
        sized = [
            Sized(piece, {SIZE: size, **split.values} if size in found.sizes else split.values)
            for split, (size, piece, _) in zip(splits, found.outlines, strict=True)
            if piece
        ]
        if (axes := evident_axes(sized)) is not None:
            return msgspec.structs.replace(found, axes=axes)
    return _sorted_names(ways, ways, [False] * len(ways))


def _sorted_names(ways: list[tuple[str, ...]], told: list[tuple[str, ...]], sized: list[bool]) -> _Names:
    """What names say; `told` are the ways as they are told, and those that are `sized` need not say a size."""
    sizes: set[str] = set()
    pieces: dict[str, str] = {}
    unknown: dict[str, None] = {}
    outlines: list[tuple[str | None, str | None, tuple[str, ...]]] = []
    rests: list[list[str]] = [[rest for name in way if (rest := without_size(name))] for way in ways]
    everywhere = set(rests[0]).intersection(*map(set, rests)) if rests else set()
    several = len({tuple(rest) for rest in rests}) > 1
    for way, as_told, left, known in zip(ways, told, rests, sized, strict=True):
        size = next((part for name in reversed(way) if (part := size_in(name))), None)
        own = [name for name in left if name not in everywhere or not several]
        if size:
            sizes.add(size)
        if own:
            pieces.setdefault(as_name(own[-1]), own[-1])
        if not own or not (size or known or any(EVERY_SIZE in words(name) for name in way)):
            unknown.setdefault(" / ".join(as_told))
        outlines.append((size, as_name(own[-1]) if own else None, tuple(own[:-1])))
    sets = {size for size in sizes if size.casefold() in WORDED}
    if sets and any(size[0].isdigit() for size in sizes):  # beside 34 and 36, "large" is a set of sizes
        sizes -= sets
        unknown |= {" / ".join(way): None for way in told if any(size_in(name) in sets for name in way)}
    return _Names(sizes, pieces, tuple(unknown), tuple(outlines))


def _twice(found: _Names) -> tuple[str, ...]:
    """Names besides size and piece on the ways to outlines of which several are of one piece in one size."""
    if found.axes is not None:
        return ()
    there: dict[tuple[str, str], dict[str, None]] = {}
    for size, piece, others in found.outlines:
        if size and piece and others:
            there.setdefault((size, piece), {}).setdefault(" / ".join(others))
    return tuple(dict.fromkeys(name for names in there.values() if len(names) > 1 for name in names))


def listed_roles(roles: Mapping[str, int]) -> str:
    """The roles found, for people."""
    return ", ".join(f"{count} in {role}" for role, count in roles.items()) or "none"


def missing_roles(roles: Iterable[str]) -> list[str]:
    """What most patterns have, and these drawings have not."""
    return [role for role in ("seam", "grain", "notches") if role not in roles]
