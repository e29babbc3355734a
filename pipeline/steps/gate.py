"""Findings of every pattern in, the names of those that have nothing that blocks out."""

from pathlib import Path

from pipeline.model.findings import FindingsFile, blocks
from pipeline.steps.run import read_json, run, write_json


def main(checked: list[Path], gate: Path) -> None:
    """Let on what may be built; never fail."""
    clean = [path for path in checked if not any(map(blocks, read_json(path, FindingsFile).findings))]
    write_json(gate, [path.parent.name for path in clean])


if __name__ == "__main__":
    run(main)
