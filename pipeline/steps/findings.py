"""All that is known of a pattern before it is drawn in, its findings out."""

from pathlib import Path

from pipeline.masters.load import load_pattern
from pipeline.masters.lookup import check_files
from pipeline.model.findings import FindingsFile
from pipeline.steps.run import read_json, run, write_json


def main(folder: Path, findings: Path, read: list[Path], pieces: list[Path]) -> None:
    """Merge what was found on the way here with what the checks say. A fault in a pattern is no failure of the step."""
    pattern, told = load_pattern(folder)
    collected = list(told)
    if pattern is not None:
        collected.extend(check_files(pattern, folder))
        for path in read:
            collected.extend(read_json(path, FindingsFile).findings)
    write_json(findings, FindingsFile(findings=tuple(dict.fromkeys(collected))))


if __name__ == "__main__":
    run(main)
