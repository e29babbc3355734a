"""Findings of every pattern in, the names of those that have nothing that blocks out."""

from pathlib import Path

from pipeline.model.findings import FindingsFile, blocks
from pipeline.work.files import read_json, write_json
from pipeline.work.stale import restore_all


def main(checked: list[Path], gate: Path, work: Path, former: Path) -> None:
    """Let on what may be built; never fail. What would be made again of equal inputs is taken back at once: the
    engine looks at what is there once it knows which patterns go on.

    `former` says what each job that was set aside depends on by now, by pattern and job.
    """
    clean = [path.parent.name for path in checked if not any(map(blocks, read_json(path, FindingsFile).findings))]
    depends = read_json(former, dict[str, dict[str, str]])
    for name in clean:
        restore_all(work, name, depends.get(name, {}))
    write_json(gate, clean)
