"""What becomes of hostile and fuzzed masters and pattern files; prints a table. `python -m tests.bench.hostile`.

Every file is read in a child of its own with 5 s of processor time and 1 GB of memory beyond what the imports take:

- hostile: files that were made to be refused or to exhaust the reader, through reading, cutting and all checks;
- mutated: bytes, numbers and lines of the demos' files changed by lot, through reading and cutting; some of the small
  test pattern through all checks;
- told otherwise: demo masters written so that they mean the same.

`wrong` counts files that were read as something else than they say, as far as that can be told: a file told otherwise
whose piece is not the demo's, or any master whose piece is another one when it is written out plainly and read again.
"""

import argparse
import json
import math
import os
import random
import resource
import shutil
import signal
import sys
import tempfile
import traceback
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path as FilePath

from pipeline.cutting.cut import cut_pieces
from pipeline.geometry.curves import Arc, Cubic, Path, path_length_mm
from pipeline.masters.read_piece import read_piece
from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import PieceSpec
from pipeline.model.pieces import DrawnPiece
from pipeline.rules.sources import RefusalError
from tests.bench.hostile_files import Mutation, hostile_files, mutated_master, mutated_text, told_otherwise
from tests.bench.masters import master_text, replace
from tests.release.test_bad_input import SMALL, blocking, findings_of

SOURCE = FilePath(__file__).resolve().parents[2] / "source"
SECONDS, MEMORY_BYTES = 5, 1_000_000_000
SAME_MM = 0.002
"""Plain files have four decimals of a millimetre, and an edge may have many segments."""
OUTCOMES = ("read", "refused", "traceback", "over time", "over memory", "wrong")
Master = tuple[Pattern, PieceSpec, str, bytes]


def main() -> None:
    """Read the command line, run every group, print the table and every traceback."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--fuzz", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    chance = random.Random(asked.seed)
    table: dict[str, Counter[str]] = {}
    for group, name, run in _cases(asked.fuzz, chance):
        outcome, told = in_child(run)
        table.setdefault(group, Counter())[outcome] += 1
        if outcome not in ("read", "refused"):
            print(f"{group}: {name}: {outcome}\n{told}", file=sys.stderr, flush=True)
    print(f"| files | number | {' | '.join(OUTCOMES)} |\n| --- |{' ---: |' * (len(OUTCOMES) + 1)}")
    for group, counts in {**table, "all": sum(table.values(), Counter())}.items():
        print(f"| {group} | {counts.total():,} | {' | '.join(f'{counts[outcome]:,}' for outcome in OUTCOMES)} |")


def _cases(fuzz: int, chance: random.Random) -> Iterator[tuple[str, str, Callable[[], str]]]:
    for name, file, make in hostile_files():
        yield "hostile", name, lambda file=file, make=make: through_checks(file, make)
    masters = list(demo_masters())
    texts = [(SOURCE / name / "pattern.toml").read_bytes() for name in sorted(os.listdir(SOURCE)) if _is_pattern(name)]
    shares: list[tuple[str, int, Callable[[int], Callable[[], str]]]] = [
        ("masters, mutated", fuzz * 5 // 10, lambda n: _master_case(masters, n, mutated_master)),
        ("masters, told otherwise", fuzz * 2 // 10, lambda n: _master_case(masters, n, told_otherwise)),
        ("pattern.toml, mutated", fuzz * 27 // 100, lambda n: _text_case(texts, n)),
        ("masters, mutated, through the checks", fuzz * 3 // 100, _checked_case),
    ]
    for group, count, case in shares:
        for _ in range(count):
            number = chance.getrandbits(48)
            yield group, str(number), case(number)


def _is_pattern(name: str) -> bool:
    return (SOURCE / name / "pattern.toml").is_file()


def demo_masters() -> Iterator[Master]:
    """Every drawn master of the demos, with its piece."""
    for name in sorted(filter(_is_pattern, os.listdir(SOURCE))):
        pattern, _ = load_pattern(SOURCE / name)
        assert pattern is not None
        for file in sorted((SOURCE / name / "sizes").glob("*/*.svg")):
            spec = pattern.pieces[file.stem]
            size = file.parent.name if file.parent.name in spec.sizes else spec.sizes[0]
            yield pattern, spec, size, file.read_bytes()


def _master_case(masters: list[Master], number: int, mutate: Mutation) -> Callable[[], str]:
    def run() -> str:
        chance = random.Random(number)
        pattern, spec, size, data = chance.choice(masters)
        drawn, _ = read_piece(pattern, spec, size, "x.svg", mutate(data, chance))
        if drawn is None:
            return "refused"
        meant = read_piece(pattern, spec, size, "x.svg", data)[0] if mutate is told_otherwise else drawn
        again, _ = read_piece(pattern, spec, size, "x.svg", master_text(without_arcs(drawn)).encode())
        cut_pieces(pattern, size, (drawn,))
        return "read" if same(drawn, meant) and same(drawn, again) else "wrong"

    return run


def _text_case(texts: list[bytes], number: int) -> Callable[[], str]:
    def run() -> str:
        chance = random.Random(number)
        with tempfile.TemporaryDirectory() as place:
            folder = FilePath(place) / "coat"
            folder.mkdir()
            (folder / "pattern.toml").write_bytes(mutated_text(chance.choice(texts), chance))
            return "refused" if load_pattern(folder)[0] is None else "read"

    return run


def _checked_case(number: int) -> Callable[[], str]:
    chance = random.Random(number)
    file = chance.choice(sorted(path.relative_to(SMALL).as_posix() for path in SMALL.glob("sizes/*/*.svg")))
    data = mutated_master((SMALL / file).read_bytes(), chance)
    return lambda: through_checks(file, lambda target: target.write_bytes(data))


def through_checks(file: str, make: Callable[[FilePath], object]) -> str:
    """A hostile file in a copy of the small pattern: read, cut and checked by the steps of a run."""
    with tempfile.TemporaryDirectory() as place:
        source = FilePath(place) / "source"
        shutil.copytree(SMALL, source / "tea-apron")
        target = source / "tea-apron" / file
        target.unlink(missing_ok=True)
        make(target)
        try:
            return "refused" if blocking(findings_of(source, FilePath(place) / "work")) else "read"
        except RefusalError:
            return "refused"


def same(one: DrawnPiece, other: DrawnPiece | None) -> bool:
    """Whether two readings have the same edges and notches, wherever they lie on the page."""
    return other is not None and _measured(one) == _measured(other)


def without_arcs(drawn: DrawnPiece) -> DrawnPiece:
    """The piece with arcs as cubics of a sixteenth of a turn, which stray less than a millionth of the radius."""

    def plain(path: Path) -> Path:
        return tuple(part for segment in path for part in (_cubics(segment) if isinstance(segment, Arc) else [segment]))

    edges = tuple(replace(edge, path=plain(edge.path)) for edge in drawn.edges)
    return replace(drawn, edges=edges, inside=tuple(replace(line, path=plain(line.path)) for line in drawn.inside))


def _cubics(arc: Arc) -> Iterator[Cubic]:
    count = max(1, math.ceil(abs(arc.sweep_rad) / (math.pi / 8)))
    reach = 4 / 3 * math.tan(arc.sweep_rad / count / 4) / arc.sweep_rad
    for i in range(count):
        start, end = i / count, (i + 1) / count
        first, last = arc.derivative(start).scaled(reach), arc.derivative(end).scaled(-reach)
        yield Cubic(arc.at(start), arc.at(start).plus(first), arc.at(end).plus(last), arc.at(end))


class _Near(float):
    def __eq__(self, other: object) -> bool:
        return isinstance(other, float) and abs(self - other) <= SAME_MM * (1 + abs(float(self)) * 1e-5)

    __hash__ = float.__hash__


def _measured(piece: DrawnPiece) -> list[object]:
    edges = {edge.name: _Near(path_length_mm(edge.path)) for edge in piece.edges}
    # A notch is found again on either side of a corner, and of two without a name in either order.
    notches = sorted((notch.edge, notch.name or "") for notch in piece.notches)
    inside = sorted((line.name or "", line.kind, len(line.path)) for line in piece.inside)
    return [edges, notches, [each[:2] for each in inside], len(piece.points)]


def in_child(run: Callable[[], str]) -> tuple[str, str]:
    """What a child of its own made of it, within the limits, and its trace where there is one."""
    reader, writer = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(reader)
        os.write(writer, json.dumps(_limited(run)).encode()[:60_000])
        os._exit(0)
    os.close(writer)
    with os.fdopen(reader, "rb") as stream:
        answer = stream.read()
    _, status = os.waitpid(child, 0)
    if answer:
        outcome, told = json.loads(answer)
        return outcome, told
    killed = os.WTERMSIG(status) if os.WIFSIGNALED(status) else 0
    return ("over time" if killed in (signal.SIGXCPU, signal.SIGKILL) else "traceback"), f"ended by signal {killed}"


def _limited(run: Callable[[], str]) -> tuple[str, str]:
    used = int(FilePath("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
    resource.setrlimit(resource.RLIMIT_AS, (used + MEMORY_BYTES, used + MEMORY_BYTES))
    spent = int(resource.getrusage(resource.RUSAGE_SELF).ru_utime) + 1
    resource.setrlimit(resource.RLIMIT_CPU, (spent + SECONDS, spent + SECONDS + 1))
    try:
        return run(), ""
    except MemoryError:
        return "over memory", ""
    except BaseException:
        return "traceback", traceback.format_exc()[-3000:]


if __name__ == "__main__":
    main()
