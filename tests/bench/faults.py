"""How many random faults the checks catch and name, and how often they cry without one.

    python -m tests.bench.faults --count 1000 --clean 200 --seed 1
    python -m tests.bench.faults --pattern tests/garments/child-hoodie --count 30 --clean 0

Prints a Markdown table by kind of fault, then every fault that was missed or misnamed.
"""

import argparse
import tempfile
import time
from collections import defaultdict
from collections.abc import Callable
from pathlib import Path
from random import Random

from tests.bench import kinds_drawn as drawn
from tests.bench import kinds_marks
from tests.bench import kinds_said as said
from tests.bench.clean import variant
from tests.bench.seeding import DEMOS, SOURCE, Demo, Fault, is_first, names

Kind = Callable[[Demo, Random], Fault | None]
KINDS: dict[str, Kind] = {
    "side of a seam ±3 mm": drawn.side_length,
    "notch lost": drawn.notch_lost,
    "notch moved by 5 mm": drawn.notch_moved,
    "ease out of its band": drawn.cap_ease,
    "cut count wrong": said.cut_count,
    "allowance doubled or absent": said.allowance,
    "hem not turned": said.hem_flat,
    "grain off by 3° or 90°": drawn.grain_turned,
    "asymmetric piece flipped": drawn.flipped,
    "another size's piece": drawn.other_size,
    "edge missing or renamed": drawn.edge_lost,
    "corner moved by 4 mm": drawn.corner_moved,
    "dart legs unequal": drawn.dart_leg,
    "text emptied": said.text_empty,
    "notion missing for a size": said.notion_missing,
    "body measure with a wrong digit": said.body_typo,
    "strip too short": said.strip_short,
    "fold bent": drawn.fold_bent,
    "curve kinked": drawn.kinked,
    "edge doubled": drawn.edge_doubled,
    **kinds_marks.KINDS,
}
_TRIES = 1000
_WEIGHTS = (10, 3, 5)
"""How often each of DEMOS is taken: roughly as they have pieces (20, 3, 5), the jacket less for the time it takes."""


def seeded(demos: list[Demo], kind: Kind, lot: Random) -> Fault | None:
    """One fault of a kind, in a pattern to which it applies; None where it applies to none."""
    for _ in range(_TRIES):
        fault = kind(_drawn_by(lot, demos), lot)
        if fault is not None:
            return fault
    return None


def _drawn_by(lot: Random, demos: list[Demo]) -> Demo:
    return lot.choices(demos, _WEIGHTS)[0] if len(demos) == len(_WEIGHTS) else lot.choice(demos)


def main() -> None:
    """Seed, check, count."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--count", type=int, default=1000, help="faults, over all kinds")
    parser.add_argument("--clean", type=int, default=200, help="variants without a fault")
    parser.add_argument("--only", help="part of a kind's name")
    parser.add_argument("--pattern", type=Path, action="append", help="a pattern's folder in place of the demos")
    asked = parser.parse_args()
    lot, began = Random(asked.seed), time.process_time()
    kinds = {title: kind for title, kind in KINDS.items() if asked.only is None or asked.only in title}
    counts: dict[str, list[int]] = defaultdict(lambda: [0, 0, 0, 0, 0])
    missed: list[str] = []
    with tempfile.TemporaryDirectory() as room:
        demos = [Demo(folder, Path(room)) for folder in asked.pattern or [SOURCE / name for name in DEMOS]]
        by_name = {demo.name: demo for demo in demos}
        for title in _in_turn(kinds, demos, asked.count):
            fault = seeded(demos, kinds[title], lot)
            if fault is None:
                continue
            demo = by_name[fault.demo]
            found = demo.told(fault.changes)
            named = any(names(finding, fault, demo.pattern) for finding in found)
            blocked = any(finding.severity == "block" for finding in found)
            first = is_first(found, fault, demo.pattern)
            tally = (1, bool(found), blocked, named, first)
            counts[title] = [a + b for a, b in zip(counts[title], tally, strict=True)]
            if not first:
                told = "; ".join(f"{f.check}/{f.code} {f.size} {f.piece} {f.where}" for f in found[:4])
                how = "not told first" if named else "misnamed" if found else "missed"
                missed.append(f"{how}, {title}: {fault.told} — {told or 'nothing told'}")
        alarms = []
        for _ in range(asked.clean):
            demo = _drawn_by(lot, demos)
            told, changes = variant(demo, lot)
            if found := demo.told(changes):
                alarms.append(f"{told} — {'; '.join(f.message for f in found[:4])}")
    if counts:
        _print(counts, missed)
    print(f"\n{len(alarms)} false alarms on {asked.clean} clean variants")
    for line in alarms:
        print(f"- {line}")
    print(f"\n{time.process_time() - began:.0f} s of CPU, seed {asked.seed}")


def _in_turn(kinds: dict[str, Kind], demos: list[Demo], count: int) -> list[str]:
    """The kinds that apply to the patterns, in turn."""
    apply = [title for title, kind in kinds.items() if seeded(demos, kind, Random(0)) is not None]
    return [apply[number % len(apply)] for number in range(count if apply else 0)]


def _print(counts: dict[str, list[int]], missed: list[str]) -> None:
    print("| kind of fault | seeded | caught | of these blocked | named | told first | missed |")
    print("| --- | ---: | ---: | ---: | ---: | ---: | ---: |")
    for title, (count, caught, blocked, named, first) in counts.items():
        print(f"| {title} | {count} | {caught} | {blocked} | {named} | {first} | {count - caught} |")
    count, *rest = [sum(column) for column in zip(*counts.values(), strict=True)]
    shares = " | ".join(f"{value} ({value / count:.1%})" for value in rest)
    print(f"| all | {count} | {shares} | {count - rest[0]} |\n")
    for line in missed:
        print(f"- {line}")


if __name__ == "__main__":
    main()
