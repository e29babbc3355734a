"""Lengths of a pattern's lays by the engine's seconds a lay.

    python tests/bench/lays_seconds.py source/work-jacket --sizes 40 --seconds 3 10 20 60

One line a lay: millimetres at each budget, and by how much each exceeds the last. CPU over wall time is told at the
end: on a loaded machine the engine gets less done in the same seconds.
"""

import argparse
import os
import time
from pathlib import Path

from pipeline.cutting.cut import cut_pieces
from pipeline.drawing.lay_names import lay_file_name
from pipeline.lays.demand import lay_requests
from pipeline.lays.search import search_lays
from pipeline.masters.read_size import read_size
from pipeline.masters.toml.load import load_pattern


def main() -> None:
    """Search every lay of some sizes at every budget, two side by side."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("pattern", type=Path, help="the folder of a pattern")
    parser.add_argument("--sizes", nargs="+", required=True)
    parser.add_argument("--seconds", type=int, nargs="+", default=[3, 10, 20, 60])
    asked = parser.parse_args()
    pattern, _ = load_pattern(asked.pattern)
    if pattern is None:
        parser.error(f"{asked.pattern}/pattern.toml was refused")
    requests = []
    for size in asked.sizes:
        pieces, _ = cut_pieces(pattern, size, read_size(pattern, asked.pattern, size)[0])
        requests += lay_requests(pattern, size, pieces)
    lengths: dict[int, list[float]] = {}
    for seconds in asked.seconds:
        began, used = time.monotonic(), sum(os.times()[:4])
        lengths[seconds] = [
            found.lay.length_mm if found.lay else float("nan") for found in search_lays(requests, seconds)
        ]
        wall, cpu = time.monotonic() - began, sum(os.times()[:4]) - used
        print(f"{seconds} s a lay: {wall:.0f} s for {len(requests)} lays, {cpu / wall:.2f} CPU over wall", flush=True)
    for number, request in enumerate(requests):
        last = lengths[asked.seconds[-1]][number]
        told = (f"{each[number]:7.0f} ({each[number] / last - 1:+.1%})" for each in lengths.values())
        print(f"{lay_file_name(request):28}", *told)


if __name__ == "__main__":
    main()
