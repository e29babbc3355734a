"""Sizes on several ladders, as names say them before there is a `pattern.toml`: "36 petite", or "Height 164" in "36".

A second ladder is what known words say (petite, regular, tall), what stands beside a word that names a ladder
(Height, Cup), or a second number within the layer of a first. Whether it is one, the pieces tell: each that is drawn
by its values is drawn by two of them or more. All else is told, and nothing is proposed of it.
"""

import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import product
from typing import NamedTuple

from pipeline.masters.drawings.layers import AXIS_VALUES, AXIS_WORDS, ROLES
from pipeline.model.sizes import JOIN
from pipeline.starting.size_names import is_filler, is_size, parts_of, size_order

SIZE, CUP, OTHER = "size", "cup", "other"
SURE = ("petite", "regular", "tall")
"""Words that name a height also within the name of a piece: a "long sleeve" is a piece, a "front petite" is not."""
_OF_LADDER = {word: axis for axis, words in AXIS_WORDS.items() for word in words}
_KNOWN = {word for ranks in AXIS_VALUES.values() for words in ranks for word in words}
_NAME = re.compile(r"[A-Za-z0-9]+(-[0-9]+)?")
_CUP = re.compile(r"(?i)([a-z])\1?")


def without_values(name: str) -> str:
    """A name without what it says of further ladders."""
    rest, said, bare = _read(name)
    return rest if said or bare else name


class Split(NamedTuple):
    """The names on a way without the values of further ladders; these by ladder, and words whose ladder is open."""

    way: tuple[str, ...]
    values: dict[str, str]
    bare: tuple[str, ...] = ()


class Axes(NamedTuple):
    """The values of each ladder, smallest first, and the points of them that are nowhere drawn.

    `as_drawn` are ladders whose order no word tells: their values stand as they are drawn.
    """

    values: dict[str, tuple[str, ...]]
    without: tuple[str, ...]
    as_drawn: tuple[str, ...]

    @property
    def drawn(self) -> tuple[str, ...]:
        """All points but those that are nowhere drawn."""
        return tuple(point for point in map(JOIN.join, _points(self.values)) if point not in self.without)

    @property
    def base(self) -> str:
        """The point that is drawn and nearest to the middle of every ladder."""
        middle = [len(values) // 2 for values in self.values.values()]

        def steps(point: tuple[str, ...]) -> int:
            at = (values.index(value) for values, value in zip(self.values.values(), point, strict=True))
            return sum(abs(place - half) for place, half in zip(at, middle, strict=True))

        nearest = sorted(_points(self.values), key=steps)
        return next(name for point in nearest if (name := JOIN.join(point)) in self.drawn)


class Sized(NamedTuple):
    """An outline: its piece, and its value on each ladder that its names speak of."""

    piece: str
    values: dict[str, str]


def split_ways(ways: Sequence[tuple[str, ...]]) -> list[Split] | None:
    """The ways without values of further ladders; None where no name speaks of one, or not of which."""
    read = [_split(way, numbers) for way, numbers in zip(ways, _second_numbers(ways), strict=True)]
    said: dict[str, set[str]] = {}
    for split in read:
        for axis, value in split.values.items():
            said.setdefault(axis, set()).add(value.casefold())
    bare = {word.casefold() for split in read for word in split.bare}
    of = {word: [axis for axis, values in said.items() if word in values] for word in bare}
    left = {word for word in bare if len(of[word]) != 1}
    ladder = next(
        (axis for axis, ranks in AXIS_VALUES.items() if left <= {word for words in ranks for word in words}), None
    )
    if not (said or bare) or ladder is None:
        return None
    found = []
    for split in read:
        named = [(of[key][0] if key not in left else ladder, word) for word in split.bare if (key := _key(word))]
        values = {**split.values, **dict(named)}
        if len(values) < len(split.values) + len(named):
            return None  # two values of one ladder on a way
        found.append(Split(split.way, values))
    return _one_spelling(found)


def _one_spelling(splits: list[Split]) -> list[Split]:
    """Values that differ in capitals alone are one: as it is written first."""
    first: dict[tuple[str, str], str] = {}
    for split in splits:
        for axis, value in split.values.items():
            first.setdefault((axis, _key(value)), value)
    return [Split(s.way, {axis: first[axis, _key(value)] for axis, value in s.values.items()}) for s in splits]


def evident_axes(outlines: Sequence[Sized]) -> Axes | None:
    """The ladders, where each has two values or more and every piece drawn by one is drawn by two or more of it."""
    drawn: dict[str, dict[str, None]] = {}
    for outline in outlines:
        for axis, value in outline.values.items():
            drawn.setdefault(axis, {}).setdefault(value)
    if len(drawn) < 2 or not all(_is_ladder(axis, outlines) for axis in drawn):
        return None
    if not all(_NAME.fullmatch(value) for values in drawn.values() for value in values):
        return None
    if len({_key(value) for values in drawn.values() for value in values}) < sum(map(len, drawn.values())):
        return None  # a value of two ladders
    names = sorted(drawn, key=lambda axis: axis != SIZE)
    values = {axis: _in_order(axis, tuple(drawn[axis])) for axis in names}
    as_drawn = tuple(axis for axis in names if _order(axis, values[axis]) is None)
    return Axes(values, tuple(_undrawn(values, outlines)), as_drawn)


def _is_ladder(axis: str, outlines: Sequence[Sized]) -> bool:
    pieces: dict[str, set[str]] = {}
    for outline in outlines:
        if axis in outline.values:
            pieces.setdefault(outline.piece, set()).add(outline.values[axis])
    return all(len(values) > 1 for values in pieces.values())


def _undrawn(axes: Mapping[str, tuple[str, ...]], outlines: Sequence[Sized]) -> Iterator[str]:
    """Points whose values no outline has together, of ladders on which pieces depend together."""
    together: dict[tuple[str, ...], set[tuple[str, ...]]] = {}
    for outline in outlines:
        names = tuple(axis for axis in axes if axis in outline.values)
        if len(names) > 1:
            together.setdefault(names, set()).add(tuple(outline.values[axis] for axis in names))
    for point in _points(axes):
        at = dict(zip(axes, point, strict=True))
        if any(tuple(at[axis] for axis in names) not in there for names, there in together.items()):
            yield JOIN.join(point)


def _points(axes: Mapping[str, tuple[str, ...]]) -> list[tuple[str, ...]]:
    return list(product(*axes.values()))


def _in_order(axis: str, values: tuple[str, ...]) -> tuple[str, ...]:
    order = _order(axis, values)
    return values if order is None else tuple(sorted(values, key=order))


def _order(axis: str, values: tuple[str, ...]) -> Callable[[str], tuple[float, ...] | tuple[int, float, str]] | None:
    """What values are sorted by; None where not all of them are of a known order."""
    if all(map(is_size, values)):
        return size_order
    if axis == CUP and all(map(_CUP.fullmatch, values)):
        return _cup_order
    of = next(
        (ranks for ranks in AXIS_VALUES.values() if all(_rank(ranks, value) is not None for value in values)), None
    )
    if of is None or len({_rank(of, value) for value in values}) < len(values):
        return None
    return lambda value: (float(_rank(of, value) or 0),)


def _rank(ranks: Sequence[Sequence[str]], value: str) -> int | None:
    return next((rank for rank, words in enumerate(ranks) if _key(value) in words), None)


def _cup_order(cup: str) -> tuple[float, ...]:
    """AA before A, DD after D (common practice)."""
    letter = _key(cup)[0]
    return ord(letter), len(cup) if letter != "a" else -len(cup)


def _key(value: str) -> str:
    return value.casefold()


def _split(way: tuple[str, ...], numbers: Mapping[int, str]) -> Split:
    names: list[str] = []
    values: dict[str, str] = {}
    bare: dict[str, str] = {}
    for i, name in enumerate(way):
        if i in numbers:
            values[OTHER] = numbers[i]
            names.append("")
            continue
        rest, said, open_ = _read(name)
        values |= said
        bare |= {_key(word): word for word in open_}
        names.append(rest if said or open_ else name)
    return Split(tuple(names), values, tuple(bare.values()))


def _read(name: str) -> tuple[str, dict[str, str], list[str]]:
    """What is left of a name, the values beside a word for their ladder, and known words without one."""
    parts = parts_of(name)
    values: dict[str, str] = {}
    while (found := _beside_ladder(parts)) is not None:
        axis, value, first = found
        values[axis] = value
        parts = parts[:first] + parts[first + 2 :]
    alone = all(_is_plain(part) for part in parts)
    bare = [i for i, part in enumerate(parts) if _key(part) in _KNOWN and (alone or _is_sure(parts, i))]
    return " ".join(part for i, part in enumerate(parts) if i not in bare), values, [parts[i] for i in bare]


def _is_plain(part: str) -> bool:
    return _key(part) in _KNOWN or is_size(part) or is_filler(part) or _key(part) in ROLES


def _is_sure(parts: Sequence[str], at: int) -> bool:
    beside = [parts[i] for i in (at - 1, at + 1) if 0 <= i < len(parts)]
    return _key(parts[at]) in SURE and (at == len(parts) - 1 or any(map(is_size, beside)))


def _beside_ladder(parts: Sequence[str]) -> tuple[str, str, int] | None:
    """A ladder, its value, and where the two words begin: "Height 164", "Cup B", "B cup"."""
    for at, part in enumerate(parts):
        axis = _OF_LADDER.get(_key(part))
        if axis is None:
            continue
        for beside, first in ((at + 1, at), (at - 1, at - 1)):
            if 0 <= beside < len(parts) and _may_be_value(axis, parts[beside], len(parts) == 2):
                return axis, parts[beside], first
    return None


def _may_be_value(axis: str, part: str, alone: bool) -> bool:
    if axis == CUP:
        return _CUP.fullmatch(part) is not None
    return is_size(part) or _key(part) in _KNOWN or alone


def _second_numbers(ways: Sequence[tuple[str, ...]]) -> list[dict[int, str]]:
    """By place on each way, the numbers that are values of a second ladder: those within the layer of a first."""
    sizes = [{i: _number(name) for i, name in enumerate(way) if _is_size_alone(name)} for way in ways]
    both = [tuple(on_way.values()) for on_way in sizes if len(on_way) == 2]
    outer, inner = {pair[0] for pair in both}, {pair[1] for pair in both}
    within = {number: {pair[0] for pair in both if pair[1] == number} for number in inner}
    if len(inner) < 2 or outer & inner or any(len(layers) < 2 for layers in within.values()):
        return [{} for _ in ways]
    return [{i: number for i, number in on_way.items() if number in inner} for on_way in sizes]


def _is_size_alone(name: str) -> bool:
    parts = [part for part in parts_of(name) if not is_filler(part)]
    return len(parts) == 1 and is_size(parts[0])


def _number(name: str) -> str:
    return next(part for part in parts_of(name) if is_size(part))
