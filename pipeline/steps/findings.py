"""All that is known of a pattern before it is drawn in, its findings out."""

from pathlib import Path

from pipeline.checks.all import check_garment
from pipeline.checks.garment import Garment
from pipeline.checks.waivers import waive
from pipeline.lays.demand import lay_requests
from pipeline.lays.fit import too_wide
from pipeline.masters.load import load_pattern
from pipeline.masters.lookup import check_files
from pipeline.masters.references import check_references
from pipeline.model.findings import FindingsFile, blocks
from pipeline.model.pieces import SizeFile
from pipeline.steps.inputs import by_piece
from pipeline.steps.run import read_json, run, write_json


def main(folder: Path, checked: Path, read: list[Path], pieces: list[Path]) -> None:
    """Merge what was found on the way here with what the checks say. A fault in a pattern is no failure of the step."""
    pattern, told = load_pattern(folder)
    collected = list(told)
    if pattern is not None:
        sizes = [read_json(path, SizeFile) for path in pieces]
        collected.extend(check_files(pattern, folder))
        for path in read:
            collected.extend(read_json(path, FindingsFile).findings)
        drawn = {file.size: tuple(cut.drawn for cut in file.pieces) for file in sizes}
        collected.extend(check_references(pattern, drawn))
        if not any(map(blocks, collected)):
            changes = folder / "CHANGES.md"
            told_changes = changes.read_text(encoding="utf-8", errors="replace") if changes.is_file() else None
            collected.extend(check_garment(Garment(pattern, by_piece(sizes), told_changes)))
            requests = (request for file in sizes for request in lay_requests(pattern, file.size, file.pieces))
            collected.extend(finding for request in requests for finding in too_wide(pattern, request))
        collected = list(waive(pattern, tuple(collected)))
    for path in (
        checked,
        checked.with_name("findings.json"),
    ):  # a bundle adds to the second what is found on the way to it
        write_json(path, FindingsFile(findings=tuple(dict.fromkeys(collected))))


if __name__ == "__main__":
    run(main)
