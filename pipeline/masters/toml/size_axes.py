"""Sizes on more than one ladder: the points of `[size-axes]`, the sets that share values, what is refused."""

import math
from collections.abc import Iterable
from typing import NamedTuple

from msgspec import UNSET

from pipeline.masters.toml.document import MOST_SIZES, Document
from pipeline.masters.toml.faults import Faults, KeyPath, did_you_mean, item, shown
from pipeline.model.sizes import JOIN, product_of, shared_by_values

WITHOUT = "without"
AXES: KeyPath = ("size-axes",)
ONE_LADDER: KeyPath = ("pattern", "sizes")
_MOST_AXES = 4
_LONGEST_NAME = 40
_MOST_SHOWN = 12


class Sizes(NamedTuple):
    """All sizes, smallest first; the key that says them; where there are axes these, and the sets by their values."""

    sizes: tuple[str, ...]
    said_at: KeyPath
    axes: dict[str, tuple[str, ...]]
    by_value: dict[str, tuple[str, ...]]


def read_sizes(document: Document) -> Sizes:
    """The sizes as far as they can be used: axes of which there are too many points, or that are named twice, not."""
    listed = () if document.pattern.sizes is UNSET else tuple(dict.fromkeys(document.pattern.sizes))
    axes = {name: tuple(dict.fromkeys(values)) for name, values in document.size_axes.items() if name != WITHOUT}
    if not axes:
        return Sizes(listed, ONE_LADDER, {}, {})
    left_out = document.size_axes.get(WITHOUT, ())
    if not 1 < len(axes) <= _MOST_AXES or math.prod(map(len, axes.values())) > MOST_SIZES + len(left_out):
        return Sizes(listed, AXES, {}, {})
    sizes = tuple(point for point in dict.fromkeys(product_of(axes)) if point not in left_out)
    return Sizes(sizes, AXES, axes, dict(shared_by_values(axes, sizes)))


def check_sizes(document: Document, sizes: Sizes, faults: Faults) -> None:
    """Tell what is wrong with `[size-axes]`, and where it and `sizes` are at odds; spoils what cannot be used."""
    if sizes.said_at == ONE_LADDER:
        if document.pattern.sizes is UNSET and not faults.spoiled(ONE_LADDER):
            allowed = "a list of at least one entry, each a name of 1 to 40 ASCII letters, digits, - and _"
            faults.tell(
                ONE_LADDER, "missing-key", "is missing.", f"Write it: {allowed}.", found="nothing", allowed=allowed
            )
            faults.spoil(ONE_LADDER)
        if WITHOUT in document.size_axes:
            message, remedy = "is said beside no axis.", 'Name two axes or more, as size = ["36", "38"].'
            faults.tell((*AXES, WITHOUT), "too-few-axes", message, remedy, found="no axis", allowed="two axes or more")
        return
    if not faults.whole(AXES):
        return
    before = len(faults.findings)
    axes = {name: values for name, values in document.size_axes.items() if name != WITHOUT}
    _check_count(axes, document, faults)
    if len(faults.findings) == before:
        _check_values(axes, faults)
    if len(faults.findings) == before:
        _check_points(axes, document, faults)
    if len(faults.findings) == before:
        _check_listed(document, sizes, faults)
    if len(faults.findings) > before:
        faults.spoil(AXES)


def _check_count(axes: dict[str, tuple[str, ...]], document: Document, faults: Faults) -> None:
    if len(axes) < 2:
        message, remedy = "has one axis.", "Say it as `sizes` in [pattern], which is one ladder; or name another axis."
        faults.tell(AXES, "too-few-axes", message, remedy, found=", ".join(axes), allowed="two axes or more")
    elif len(axes) > _MOST_AXES:
        found, allowed = f"{len(axes)} axes", f"at most {_MOST_AXES}"
        faults.tell(AXES, "too-many", f"has {found}.", "Make patterns of their own.", found=found, allowed=allowed)
    else:
        count = math.prod(map(len, axes.values())) - len(set(document.size_axes.get(WITHOUT, ())))
        if count > MOST_SIZES:
            found, allowed = f"{count:,} points", f"at most {MOST_SIZES}"
            remedy = "Offer fewer values, leave points out with `without`, or make patterns of their own."
            faults.tell(AXES, "too-many", f"comes to {found}.", remedy, found=found, allowed=allowed)


def _check_values(axes: dict[str, tuple[str, ...]], faults: Faults) -> None:
    """Each value once in all axes: it is a folder, and the name of a layer."""
    first: dict[str, str] = {}
    for axis, values in axes.items():
        for position, value in enumerate(values):
            path = (*AXES, axis, item(position))
            if value == "all":
                message, remedy = 'is "all": sizes/all/ holds masters for every size.', "Give it another name."
                faults.tell(path, "bad-name", message, remedy, found=value)
            elif value in first:
                message = f"is {shown(value)}, which stands in {first[value]} already."
                remedy = "Take one of the two out, or give one another name, as size-8 and age-8."
                faults.tell(path, "twice", message, remedy, found=value, allowed="each value once, in one axis")
            first.setdefault(value, axis)


def _check_points(axes: dict[str, tuple[str, ...]], document: Document, faults: Faults) -> None:
    """Names of points: short enough, none of two points, none of a value or several; and `without` leaves such out."""
    points = product_of(axes)
    names = [*points, *(name for name, _ in shared_by_values(axes, points))]
    for name in dict.fromkeys(name for name in names if names.count(name) > 1):
        message = f"makes {shown(name)} in more than one way."
        remedy = f"Rename a value: values of a point are joined with {JOIN}."
        faults.tell(AXES, "name-twice", message, remedy, found=name, allowed="names that differ")
    for name in (name for name in points if len(name) > _LONGEST_NAME):
        message, remedy = f"makes {shown(name)}, of {len(name)} letters.", "Shorten the values."
        faults.tell(AXES, "bad-name", message, remedy, found=name, allowed=f"at most {_LONGEST_NAME}")
        return
    left_out = document.size_axes.get(WITHOUT, ())
    for position, name in enumerate(left_out):
        path = (*AXES, WITHOUT, item(position))
        if name not in points:
            message = f"is {shown(name)}, which is no point of the axes."
            faults.tell(path, "unknown-size", message, did_you_mean(name, points), found=name, allowed=_some(points))
        elif name in left_out[:position]:
            message = f"is {shown(name)}, which stands in the list already."
            faults.tell(path, "twice", message, "Take one of the two out.", found=name, allowed="each once")
    shared = dict(shared_by_values(axes, points))
    for axis, values in axes.items():
        for value in values:
            if set(shared[value]) <= set(left_out):
                message, remedy = f"leaves no point of {shown(value)}.", f"Take the value out of {axis}."
                faults.tell((*AXES, WITHOUT), "value-unused", message, remedy, found=value, allowed="one point or more")


def _check_listed(document: Document, sizes: Sizes, faults: Faults) -> None:
    """`sizes` beside axes says nothing else than they do."""
    listed = document.pattern.sizes
    if listed is UNSET or not faults.whole(ONE_LADDER) or listed == sizes.sizes:
        return
    more, fewer = set(listed) - set(sizes.sizes), set(sizes.sizes) - set(listed)
    told = [f"has {_some(sorted(more))}, no point of them"] if more else []
    told += [f"lacks {_some(size for size in sizes.sizes if size in fewer)}"] if fewer else []
    message = f"is at odds with [size-axes]: it {' and '.join(told) or 'has the points in another order'}."
    remedy = "Take `sizes` out: [size-axes] says the sizes; `without` leaves points out."
    faults.tell(ONE_LADDER, "sizes-and-axes", message, remedy, found=_some(listed), allowed=_some(sizes.sizes))


def _some(names: Iterable[str]) -> str:
    listed = list(names)
    more = f" and {len(listed) - _MOST_SHOWN} more" if len(listed) > _MOST_SHOWN else ""
    return f"{', '.join(listed[:_MOST_SHOWN])}{more}"
