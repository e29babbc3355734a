"""A packing made better: stacks of the emptiest pages are picked up and laid down elsewhere."""

from collections.abc import Collection
from random import Random

from pipeline.sheets.packing import Packing, Taste
from pipeline.sheets.starts import Poses, place

_TASTES = (Taste(10_000.0), Taste(300.0), Taste(10_000.0, lower_end=False), Taste(50.0))
_NEIGHBOURS = 3


def quality(packing: Packing) -> tuple[float, float]:
    """What is compared, least first: pages of all papers, then length."""
    return packing.pages, round(packing.height_mm, 2)


def improve(packing: Packing, poses: Poses, placings: int, held: Collection[str] = ()) -> Packing:
    """The same packing with some stacks elsewhere, never on more pages, after `placings` tries of a stack.
    Those `held` stay.

    Each round picks up what lies on one scarcely used page, and a few neighbours, and lays it down largest first. The
    choice of neighbours is drawn from a fixed sequence: the result depends on the input alone.
    """
    draw = Random(1)
    best = packing.pages, packing.evenness
    round_number = 0
    while placings > 0 and len(packing.placed) > 1 + len(held):
        scarce = packing.scarce(round_number)
        victims = [piece for piece in scarce if piece not in held]
        near = [piece for piece in packing.nearest(scarce) if piece not in held][: 2 * _NEIGHBOURS]
        chosen = [*victims, *draw.sample(near, min(_NEIGHBOURS, len(near)))]
        before = {piece: packing.take(piece) for piece in chosen}
        order = sorted(chosen, key=lambda piece: -before[piece].pose.shape.area)
        if round_number % 3 == 2:
            draw.shuffle(order)
        for piece in order:
            place(packing, poses[piece], _TASTES[round_number % len(_TASTES)])
        placings -= max(1, len(order))
        after = packing.pages, packing.evenness
        if after > best:
            for piece in order:
                packing.take(piece)
            for one in before.values():
                packing.put(one.pose, one.left_mm, one.top_mm)
        best = min(best, after)
        round_number += 1
    return packing


def shorten(packing: Packing, poses: Poses, placings: int) -> Packing:
    """The same packing with some stacks elsewhere, never longer, after `placings` tries of a stack.

    Each round picks up what reaches lowest and a few others, near it and anywhere, drawn from a fixed sequence.
    """
    draw = Random(1)
    best, round_number = packing.height_mm, 0
    while placings > 0 and len(packing.placed) > 1:
        ends = {piece: one.top_mm + one.pose.height_mm for piece, one in packing.placed.items()}
        lowest = max(ends, key=lambda piece: (ends[piece], piece))
        others = packing.nearest([lowest])[: 2 * _NEIGHBOURS] if round_number % 2 else sorted(ends.keys() - {lowest})
        chosen = [lowest, *draw.sample(others, min(_NEIGHBOURS, len(others)))]
        before = {piece: packing.take(piece) for piece in chosen}
        draw.shuffle(chosen)
        if round_number % 3 == 0:
            chosen.sort(key=lambda piece: -before[piece].pose.shape.area)
        for piece in chosen:
            place(packing, poses[piece], Taste(0.0, lower_end=round_number % 2 == 0))
        placings -= len(chosen)
        if packing.height_mm > best:
            for piece in chosen:
                packing.take(piece)
            for one in before.values():
                packing.put(one.pose, one.left_mm, one.top_mm)
        best = min(best, packing.height_mm)
        round_number += 1
    return packing
