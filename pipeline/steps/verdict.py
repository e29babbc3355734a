"""Findings of every pattern in, an exit status out: 1 where something blocks. The summary of the run tells what."""

from pathlib import Path

from pipeline.model.findings import FindingsFile, blocks
from pipeline.work.files import read_json, write_json


def main(findings: list[Path], released: list[Path]) -> None:
    """Fail where a finding blocks; else leave word that all is released, where it is asked for."""
    if any(blocks(finding) for path in findings for finding in read_json(path, FindingsFile).findings):
        raise SystemExit(1)
    for path in released:
        write_json(path, sorted(file.parent.name for file in findings))
