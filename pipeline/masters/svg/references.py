"""Ids and `use`: what a file refers to must stand in it once, and lead nowhere in a circle."""

from collections.abc import Iterable

from pipeline.masters.svg.fault import excerpt
from pipeline.masters.svg.reading import Reading
from pipeline.masters.svg.tree import XLINK_HREF, Node


def href_of(use: Node) -> str:
    """What a `use` refers to, as written."""
    return use.attributes.get("href", use.attributes.get(XLINK_HREF, "")).strip()


def nodes_by_id(nodes: Iterable[Node], reading: Reading) -> dict[str, Node]:
    """Those of all elements that carry an id; one that stands twice is a fault."""
    by_id: dict[str, Node] = {}
    for node in nodes:
        name = node.attributes.get("id")
        if name is None:
            continue
        if name in by_id:
            reading.tell(
                "duplicate-id",
                f"The id {excerpt(name, 40)!r} stands on line {by_id[name].line} and again on line {node.line}.",
                "Give one of the two objects another id.",
                node=node,
                found=name,
                allowed="every id once",
            )
        else:
            by_id[name] = node
    return by_id


def circular_targets(nodes: Iterable[Node], by_id: dict[str, Node], reading: Reading) -> frozenset[Node]:
    """Elements that `use` themselves, by whatever way; and every `use` that points outside the file, told."""
    used: dict[Node, list[Node]] = {}
    for node in nodes:
        target = _target(node, by_id, reading) if node.tag == "use" else None
        if target is None:
            continue
        inside: Node | None = node
        while inside is not None:
            used.setdefault(inside, []).append(target)
            inside = inside.parent
    return frozenset(_on_circles(used, reading))


def _target(use: Node, by_id: dict[str, Node], reading: Reading) -> Node | None:
    href = href_of(use)
    remedy = "Replace the copy by what it shows (unlink the clone), or delete it."
    if not href.startswith("#"):
        reading.tell(
            "use-outside",
            f"The <use> refers to {excerpt(href, 40)!r}, outside the file." if href else "The <use> refers to nothing.",
            remedy,
            node=use,
            found=href,
            allowed="#id of an element in this file",
        )
        return None
    if href[1:] not in by_id:
        reading.tell(
            "use-missing",
            f"The <use> refers to {excerpt(href, 40)!r}, but no element has that id.",
            remedy,
            node=use,
            found=href,
            allowed="#id of an element in this file",
        )
        return None
    return by_id[href[1:]]


def _on_circles(used: dict[Node, list[Node]], reading: Reading) -> set[Node]:
    """Nodes from which a way of `use` leads back to them; depth first, without recursion."""
    circular: set[Node] = set()
    done: set[Node] = set()
    for first in used:
        trail: list[Node] = []
        on_trail: set[Node] = set()
        waiting: list[tuple[Node, int]] = [(first, 0)]
        while waiting:
            node, index = waiting.pop()
            if index == 0:
                if node in done:
                    continue
                trail.append(node)
                on_trail.add(node)
            targets = used.get(node, [])
            if index < len(targets):
                waiting.append((node, index + 1))
                target = targets[index]
                if target in on_trail:
                    circular.add(target)
                    circle = trail[trail.index(target) :]
                    first_in_file = min(range(len(circle)), key=lambda i: circle[i].line)
                    _tell_circle(circle[first_in_file:] + circle[:first_in_file], reading)
                elif target not in done:
                    waiting.append((target, 0))
                continue
            done.add(node)
            on_trail.discard(trail.pop())
    return circular


def _tell_circle(circle: list[Node], reading: Reading) -> None:
    names = [f"#{excerpt(node.attributes.get('id', ''), 20)}" for node in circle]
    shown = " uses ".join([*names[:5], *(["…"] if len(names) > 5 else []), names[0]])
    reading.tell(
        "use-circle",
        f"Elements repeat each other in a circle: {shown}.",
        "Replace one of the copies by what it shows (unlink the clone).",
        node=circle[0],
        found=shown,
        allowed="no circles",
    )
