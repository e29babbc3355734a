"""What drawings hold before anything is said of them: which sizes and pieces the names of their layers tell of.

A word is a size where it is written as one (34, XL, 3XL, 6-12, small), the rest of a name is a piece. All is proposed.
"""

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence

import msgspec

from pipeline.masters.drawings.by_shape import is_outline
from pipeline.masters.drawings.layers import CORNERS, ROLES, SIZE_WORDS, layer_name, object_name, words
from pipeline.masters.drawings.sorted_objects import OF_DRAWING, DrawingReading, clean_name
from pipeline.masters.lookup import EVERY_SIZE
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.reading import FileUnusableError
from pipeline.masters.svg.tree import Node, parse_svg
from pipeline.masters.svg.walk import Shape, drawn_objects
from pipeline.masters.svg.words import Words
from pipeline.model.findings import Finding

_SIZE = re.compile(r"(?i)\d{1,3}(-\d{1,3})?|\d?x{0,5}[sml]|\d{1,2}xl|small|medium|large")
_LETTERS = {"s": -1, "m": 0, "l": 1}
_RANGE = re.compile(r"(?<![^\W_])(\d{1,3})\s?[-–/]\s?(\d{1,3})(?![^\W_])")
_PART = re.compile(r"\d+-\d+|[^\W_]+")
_WORDED = ("small", "medium", "large")
ONE_SIZE = "one-size"


class Look(msgspec.Struct, frozen=True):
    """The sizes in order, and the pieces with their titles by name.

    `ways` are the layers of seam lines of which no size, or no piece, could be told; `roles` how many objects say each
    role; `starts` a corner of a piece that has a name, where its edges may begin; `names` all that stands on the way to
    seam lines; `by_shape` whether no group is called seam, and closed outlines lie in layers of a size or piece.
    """

    sizes: tuple[str, ...]
    pieces: dict[str, str]
    ways: tuple[str, ...]
    roles: dict[str, int]
    starts: dict[str, str]
    names: tuple[str, ...]
    findings: tuple[Finding, ...]
    by_shape: bool = False


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
    sizes, pieces, unknown = _sorted_names(ways)
    if not sizes and pieces and len(set(ways)) == len(pieces):
        sizes, unknown = {ONE_SIZE}, ()  # each piece is there once
    starts = {piece: mark for mark, there in marks.items() for piece in _pieces_of(there) if piece in pieces}
    on_the_way = dict.fromkeys(name for way in ways for name in way)
    in_order = tuple(sorted(sizes, key=_size_order))
    return Look(in_order, pieces, unknown, dict(roles), starts, tuple(on_the_way), tuple(findings), by_shape)


def _bare_way(within: tuple[Node, ...], own: str) -> tuple[str, ...] | None:
    """The names on the way to an outline without a role; its own where no layer says what piece it is.

    None where two layers say more than a size: one of them may be the piece, the other is something that is not read.
    """
    layers = tuple(name for node in within[1:] if (name := object_name(node)))
    said = sum(bool(_without_size(name)) for name in layers)
    if said > 1:
        return None
    return layers if said or not own else (*layers, own)


def _pieces_of(ways: Iterable[tuple[str, ...]]) -> set[str]:
    """Every name on the way to a mark, as a piece may be called."""
    return {_name(_without_size(name)) for way in ways for name in way}


def _objects(file: str, data: bytes, reading: DrawingReading) -> tuple[Sequence[Shape], Sequence[Words]]:
    if not file.endswith(".dxf"):
        return drawn_objects(parse_svg(data, OF_DRAWING), reading, None, OF_DRAWING)
    from pipeline.masters.drawings.dxf import dxf_objects  # and its libraries: few drawings are DXF

    return dxf_objects(data, reading, OF_DRAWING)


def _sorted_names(ways: list[tuple[str, ...]]) -> tuple[set[str], dict[str, str], tuple[str, ...]]:
    sizes: set[str] = set()
    pieces: dict[str, str] = {}
    unknown: dict[str, None] = {}
    rests: list[list[str]] = [[rest for name in way if (rest := _without_size(name))] for way in ways]
    everywhere = set(rests[0]).intersection(*map(set, rests)) if rests else set()
    several = len({tuple(rest) for rest in rests}) > 1
    for way, left in zip(ways, rests, strict=True):
        size = next((part for name in reversed(way) if (part := _size_in(name))), None)
        own = [name for name in left if name not in everywhere or not several]
        if size:
            sizes.add(size)
        if own:
            pieces.setdefault(_name(own[-1]), own[-1])
        if not own or not (size or any(EVERY_SIZE in words(name) for name in way)):
            unknown.setdefault(" / ".join(way))
    sets = {size for size in sizes if size.casefold() in _WORDED}
    if sets and any(size[0].isdigit() for size in sizes):  # beside 34 and 36, "large" is a set of sizes
        sizes -= sets
        unknown |= {" / ".join(way): None for way in ways if any(_size_in(name) in sets for name in way)}
    return sizes, pieces, tuple(unknown)


def _size_in(name: str) -> str | None:
    found = [part for part in _parts(name) if _SIZE.fullmatch(part)]
    return found[0] if len(found) == 1 else None


def _without_size(name: str) -> str:
    """What a name says besides its size and role."""
    parts = [part for part in _parts(name) if part.casefold() not in SIZE_WORDS and not _SIZE.fullmatch(part)]
    return " ".join(parts[:-1] if parts and parts[-1].casefold() in ROLES else parts)  # an "inside pocket" is no line


def _parts(name: str) -> list[str]:
    """Its words and numbers, a range of numbers as one."""
    return _PART.findall(_RANGE.sub(r"\1-\2", name))


def _size_order(size: str) -> tuple[int, float, str]:
    """Numbers as numbers, letters from small to large."""
    if size.replace("-", "").isdigit():
        return 0, float(size.partition("-")[0]), size
    if size.casefold() in (*_WORDED, ONE_SIZE):
        return 1, _LETTERS.get(size[0].casefold(), 0), size
    letter = size[-1].casefold()
    times = int(size[0]) if size[0].isdigit() else size.casefold().count("x")
    return 1, _LETTERS[letter] * (1 + times), size


def _name(title: str) -> str:
    """A title as a name: ASCII letters and digits with hyphens."""
    spelled = title.casefold()
    for letter, ascii_ in (("ä", "ae"), ("ö", "oe"), ("ü", "ue"), ("ß", "ss"), ("å", "a"), ("é", "e"), ("è", "e")):
        spelled = spelled.replace(letter, ascii_)
    name = re.sub(r"[^a-z0-9]+", "-", spelled).strip("-")[:40] or "piece"
    return f"{name}-piece" if name == "body" else name


def listed_roles(roles: Mapping[str, int]) -> str:
    """The roles found, for people."""
    return ", ".join(f"{count} in {role}" for role, count in roles.items()) or "none"


def missing_roles(roles: Iterable[str]) -> list[str]:
    """What most patterns have, and these drawings have not."""
    return [role for role in ("seam", "grain", "notches") if role not in roles]
