"""The sizes of a pattern: on which ladders they stand, which of them a value holds, and how they are told in few words.

Where `size_axes` names several ladders, as heights beside sizes, every size is a point of them, called by its values
with - between: "36-petite". Points that share a value are a set of that name, as the designer's own sets are.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import combinations, permutations, product

import msgspec

from pipeline.model.pattern import Pattern, in_language

JOIN = "-"


class Ladder(msgspec.Struct, frozen=True):
    """Sizes that differ along one axis alone, smallest first; `ends` are the last sizes of its grading bands.

    `axis` is None where a pattern has one ladder. A point that is not offered parts a ladder in two.
    """

    axis: str | None
    sizes: tuple[str, ...]
    ends: tuple[str, ...]

    @property
    def along(self) -> str:
        """The end of a sentence: " along height"; nothing where there is one ladder."""
        return f" along {self.axis}" if self.axis is not None else ""


def ladders(pattern: Pattern) -> tuple[Ladder, ...]:
    """Every ladder of a pattern's sizes: what grades from one size to the next does so along these."""
    if not pattern.size_axes:
        return (Ladder(None, pattern.sizes, pattern.bands),)
    at = places(pattern)
    found: list[Ladder] = []
    for number, (axis, values) in enumerate(pattern.size_axes.items()):
        rows: dict[tuple[int, ...], list[str]] = {}
        for size in sorted(pattern.sizes, key=lambda size: at[size][number]):
            rows.setdefault(at[size][:number] + at[size][number + 1 :], []).append(size)
        for row in rows.values():
            for run in _runs(row, [at[size][number] for size in row]):
                ends = tuple(size for size in run if values[at[size][number]] in pattern.bands)
                found += [Ladder(axis, tuple(run), ends)] if len(run) > 1 else []
    return tuple(found)


def places(pattern: Pattern) -> dict[str, tuple[int, ...]]:
    """Where each size stands on every axis, counted from 0."""
    if len(pattern.size_axes) < 2:
        return {size: (place,) for place, size in enumerate(pattern.sizes)}
    return {
        size: tuple(
            next(place for place, value in enumerate(values) if size in pattern.size_sets[value])
            for values in pattern.size_axes.values()
        )
        for size in pattern.sizes
    }


def product_of(axes: Mapping[str, Sequence[str]]) -> tuple[str, ...]:
    """The names of all points of the axes, the first axis turning slowest."""
    return tuple(JOIN.join(values) for values in product(*axes.values()))


def shared_by_values(
    axes: Mapping[str, Sequence[str]], sizes: Collection[str]
) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Every set of sizes that share values of some axes but not of all, by these values: "36", "petite"."""
    names = list(axes)
    points = [(values, JOIN.join(values)) for values in product(*axes.values())]
    for count in range(1, len(names)):
        for chosen in combinations(range(len(names)), count):
            for values in product(*(axes[names[axis]] for axis in chosen)):
                own = (
                    point
                    for at, point in points
                    if all(at[axis] == value for axis, value in zip(chosen, values, strict=True))
                )
                yield JOIN.join(values), tuple(point for point in own if point in sizes)


def designer_sets(pattern: Pattern) -> dict[str, tuple[str, ...]]:
    """The sets of sizes but those that axes make."""
    made = {name for name, _ in shared_by_values(pattern.size_axes, pattern.sizes)}
    return {name: sizes for name, sizes in pattern.size_sets.items() if name not in made}


def common_size(pattern: Pattern, names: Sequence[str]) -> str | None:
    """What several names of sizes and sets say together where there are axes: "36" and "petite" are "36-petite"."""
    if not pattern.size_axes:
        return None
    sets = {size: (size,) for size in pattern.sizes} | pattern.size_sets
    common = set(pattern.sizes).intersection(*(sets.get(name, pattern.sizes) for name in names))
    return next((name for name, sizes in sets.items() if common and set(sizes) == common), None)


def values_in_any_order(pattern: Pattern) -> Iterator[tuple[str, str]]:
    """Every size that is a point with its values in each order, as names of layers may have them: "petite 36"."""
    at, axes = places(pattern), list(pattern.size_axes.values())
    for size in pattern.sizes if len(axes) > 1 else ():
        values = [axis[place] for axis, place in zip(axes, at[size], strict=True)]
        yield from ((size, " ".join(order)) for order in permutations(values))


def size_runs(pattern: Pattern, sizes: Collection[str]) -> list[list[str]]:
    """Sizes in few words, as runs of neighbours: [["34", "36", "38"], ["42"]].

    Where there are axes, values stand for all their sizes, and the rest for itself: [["36", "38"], ["40-petite"]].
    """
    if len(pattern.size_axes) < 2:
        return neighbours([size for size in pattern.sizes if size in sizes], pattern.sizes)
    left = [size for size in pattern.sizes if size in sizes]
    if len(left) == 1:
        return [left]
    if len(left) == len(pattern.sizes):
        return [list(values) for values in pattern.size_axes.values()]
    found: list[list[str]] = []
    for values in sorted(pattern.size_axes.values(), key=lambda values: -len(_held(pattern, values, left))):
        whole = _whole(pattern, values, left)
        found += neighbours(whole, values)
        held = {size for value in whole for size in pattern.size_sets[value]}
        left = [size for size in left if size not in held]
    every, rest = ladders(pattern) if left else (), []
    while left:
        rows = (neighbours([size for size in row.sizes if size in left], row.sizes) for row in every)
        run = max((run for row in rows for run in row), key=len, default=[left[0]])
        rest.append(run)
        left = [size for size in left if size not in run]
    return found + sorted(rest, key=lambda run: pattern.sizes.index(run[0]))


def _whole(pattern: Pattern, values: Sequence[str], sizes: Collection[str]) -> list[str]:
    """The values of which all sizes are there; one that holds a single size says less than its name."""
    sets, there = pattern.size_sets, set(sizes)
    return [value for value in values if len(sets[value]) > 1 and there.issuperset(sets[value])]


def _held(pattern: Pattern, values: Sequence[str], sizes: Collection[str]) -> set[str]:
    return {size for value in _whole(pattern, values, sizes) for size in pattern.size_sets[value]}


def neighbours(some: Sequence[str], order: Sequence[str]) -> list[list[str]]:
    """Names parted where they do not follow each other in an order that has them all."""
    places = {name: place for place, name in enumerate(order)}
    return _runs(some, [places[name] for name in some])


def _runs(names: Sequence[str], at: Sequence[int]) -> list[list[str]]:
    """Names parted where their places do not follow each other."""
    found: list[list[str]] = []
    for position, name in enumerate(names):
        if position and at[position] == at[position - 1] + 1:
            found[-1].append(name)
        else:
            found.append([name])
    return found


def size_title(pattern: Pattern, name: str, language: str) -> str:
    """What a size, or a value, is called where buyers choose it: its title, of a point those of its values."""
    if name in pattern.size_titles:
        return in_language(pattern.size_titles[name], language)
    named = [value for axis in pattern.size_axes.values() for value in axis]
    values = [value for value in named if name in pattern.size_sets.get(value, ())]
    if not values or pattern.size_titles.keys().isdisjoint(named):
        return name
    return ", ".join(size_title(pattern, value, language) for value in values)
