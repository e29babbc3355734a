"""What an object is, from the group that it lies in."""

import re

from pipeline.masters.svg.fault import excerpt
from pipeline.masters.svg.reading import Reading
from pipeline.masters.svg.walk import Shape

GROUPS = ("seam", "notches", "grain", "inside", "points", "label", "anchor")
NAME = re.compile(r"[A-Za-z0-9_-]{1,40}")
NAME_RULE = "1 to 40 letters A to Z, digits, - and _"


def grouped(shapes: tuple[Shape, ...], reading: Reading) -> dict[str, list[Shape]]:
    """The shapes of every known group, in the order of the file; what lies under none is told."""
    groups: dict[str, list[Shape]] = {name: [] for name in GROUPS}
    for shape in shapes:
        group = _group_of(shape)
        if group is not None:
            groups[group].append(shape)
            continue
        reading.ignored("ungrouped", shape.node)
        own = (shape.name or "").lower()
        if own in GROUPS:
            reading.tell(
                "name-without-group",
                f'An object is called "{own}" but lies under no group of a known name, so it is not read.',
                f'Put it into a group (or layer) called "{own}".',
                node=shape.node,
                severity="warn",
                found=own,
                allowed=f"a group called {own}",
            )
    return groups


def _group_of(shape: Shape) -> str | None:
    for node in reversed(shape.within):
        name = (node.name or "").lower()
        if name in GROUPS:
            return name
    return None


def mark_name(shape: Shape, reading: Reading) -> str | None:
    """The object's own name, or None; one that breaks the rule for names is told."""
    name = shape.name
    if name is None or (name.lower() in GROUPS and any(node is shape.node for node in shape.within)):
        return None  # a <use> that is itself the group names no object
    if NAME.fullmatch(name):
        return name
    reading.tell(
        "bad-name",
        f"The name {excerpt(name, 50)!r} has characters or a length that names may not have.",
        f"Rename the object: {NAME_RULE}.",
        node=shape.node,
        found=name,
        allowed=NAME_RULE,
    )
    return None


def outermost_names(shapes: tuple[Shape, ...]) -> list[str]:
    """Names of the groups that the file has, for a message."""
    names = dict.fromkeys(node.name or "" for shape in shapes for node in shape.within[1:2])
    return [excerpt(name, 30) for name in names if name]
