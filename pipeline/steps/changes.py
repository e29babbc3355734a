"""What is built and the version that was sold before in; what changed, and whether the number says so, out."""

from pathlib import Path

from pipeline.correction.number import number_findings
from pipeline.ledger.before import Former
from pipeline.ledger.changes import ChangesFile, next_version
from pipeline.ledger.compare import compare
from pipeline.masters.toml.load import load_pattern
from pipeline.model.findings import FindingsFile
from pipeline.steps.measured import built_files, measured
from pipeline.work.files import read_json, write_json


def main(
    folder: Path, work: Path, pieces: list[Path], former: Path, processes: int, changes: Path, findings: Path
) -> None:
    """Hold the build against what was sold before it."""
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    before = read_json(former, Former)
    now = measured(pattern, folder, work, pieces, built_files(pattern, work / pattern.name), processes)
    found = compare(before.facts, now.facts, {**before.shapes, **now.shapes})
    file = ChangesFile(
        pattern=pattern.name,
        since=before.version,
        version=pattern.version,
        next_version=next_version(before.version, found),
        changes=found,
    )
    write_json(changes, file)
    write_json(findings, FindingsFile(findings=number_findings(file)))
