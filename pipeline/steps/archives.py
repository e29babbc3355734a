"""All that is built in; the archives of every place of sale, and what finds no room in them, out."""

from pathlib import Path

from pipeline.bundle.archives import README, shared_out, sold_file, zipped
from pipeline.bundle.readme import readme
from pipeline.model.findings import Finding, FindingsFile
from pipeline.steps.inputs import told_changes
from pipeline.steps.measured import built_files
from pipeline.steps.printed import printed_pattern
from pipeline.work.files import write, write_json


def main(folder: Path, work: Path, former: list[Path], archives: Path, findings: Path) -> None:
    """Share the buyers' files out, use by use, with a text that says which is for what."""
    pattern = printed_pattern(folder)
    changes = {name: folder / name for name in told_changes(pattern, folder)}
    files = {**changes, **built_files(pattern, work / pattern.name, bool(former))}
    sold = {path: file for path, file in files.items() if file.is_file() and sold_file(pattern, path)}
    archives.mkdir(parents=True, exist_ok=True)
    found: list[Finding] = []
    for channel in pattern.channels.values():
        lengths = {path: file.stat().st_size for path, file in sold.items()}
        text = readme(pattern, [*sold], channel.archives).encode()  # no text is longer: counts have few digits
        planned, lacking = shared_out(pattern, channel, {README: len(text), **lengths})
        found += lacking
        inside = [path for archive in planned for path in archive.paths if path != README]
        told = readme(pattern, inside, len(planned)).encode()
        for archive in planned:
            data = [(path, told if path == README else sold[path].read_bytes()) for path in archive.paths]
            write(archives / archive.name, zipped(pattern, data))
    write_json(findings, FindingsFile(findings=tuple(found)))
