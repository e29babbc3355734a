"""Findings of every pattern in, an exit status out: 1 where something blocks. The summary of the run tells what."""

from pathlib import Path

from pipeline.model.findings import FindingsFile, blocks
from pipeline.steps.run import read_json, run


def main(findings: list[Path]) -> None:
    """Fail where a finding blocks."""
    if any(blocks(finding) for path in findings for finding in read_json(path, FindingsFile).findings):
        raise SystemExit(1)


if __name__ == "__main__":
    run(main)
