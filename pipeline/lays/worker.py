"""The engine's own process: one job a line in, one answer a line out, until its input ends.

It writes no file, so it can be ended at any time. Whatever the engine raises becomes an answer: its panics are no
`Exception`, and its messages go nowhere.
"""

import os
import sys

import msgspec

WORKERS = 3
"""Threads of the engine. Three do better than one even on one core, and their number is part of the engine's path."""


class EngineItem(msgspec.Struct, frozen=True, kw_only=True):
    """A shape, how often, and the angles in degrees at which it may lie."""

    shape: tuple[tuple[float, float], ...]
    demand: int
    angles: tuple[float, ...]


class Job(msgspec.Struct, frozen=True, kw_only=True):
    """Lay items on a strip of a height, `gap_mm` apart, as short as the engine finds in whole seconds."""

    height_mm: float
    gap_mm: float
    items: tuple[EngineItem, ...]
    seconds: int
    seed: int


class EnginePlace(msgspec.Struct, frozen=True):
    """Item number `item` turned by `angle_deg` about (0, 0), then moved by (x, y)."""

    item: int
    x_mm: float
    y_mm: float
    angle_deg: float


class Answer(msgspec.Struct, frozen=True, kw_only=True):
    """Where everything lies, or what went wrong."""

    places: tuple[EnginePlace, ...] = ()
    error: str | None = None


def solve(job: Job) -> Answer:
    """Run the engine once."""
    import spyrrow

    items = [spyrrow.Item(str(number), item.shape, item.demand, item.angles) for number, item in enumerate(job.items)]
    config = spyrrow.StripPackingConfig(
        early_termination=False,
        total_computation_time=job.seconds,
        num_workers=WORKERS,
        seed=job.seed,
        min_items_separation=job.gap_mm or None,
    )
    # The engine keeps the gap from the strip's edges too: give it room there, and take it off again.
    found = spyrrow.StripPackingInstance("", job.height_mm + 2 * job.gap_mm, items).solve(config)
    return Answer(
        places=tuple(
            EnginePlace(
                int(place.id),
                place.translation[0] - job.gap_mm,
                place.translation[1] - job.gap_mm,
                _nearest(job.items[int(place.id)].angles, place.rotation),
            )
            for place in found.placed_items
        )
    )


def _nearest(angles: tuple[float, ...], rotation: float) -> float:
    """The exact angle that was asked for: the engine tells it in single precision and turned past a whole turn."""
    return min(angles, key=lambda angle: abs((rotation - angle + 180) % 360 - 180))


def main() -> None:
    """Answer every line of the input."""
    answers = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # the engine's own messages stay out of the answers
    for line in sys.stdin.buffer:
        try:
            answer = solve(msgspec.json.decode(line, type=Job))
        except BaseException as error:
            if isinstance(error, (KeyboardInterrupt, SystemExit)):
                raise
            answer = Answer(
                error=f"{type(error).__name__}: {str(error).splitlines()[0]}" if str(error) else repr(error)
            )
        answers.write(msgspec.json.encode(answer) + b"\n")
        answers.flush()


if __name__ == "__main__":
    main()
