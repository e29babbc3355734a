"""What the masters hold that is not read (texts, images, hidden objects): counted once a pattern, not once a file."""

import msgspec

from pipeline.model.findings import Finding

_IGNORED = "ignored-"


def counted_once(findings: tuple[Finding, ...]) -> tuple[Finding, ...]:
    """The findings with one for each kind of thing that was not read, in the place of the first."""
    groups: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.check == "masters" and finding.code.startswith(_IGNORED):
            groups.setdefault(finding.code, []).append(finding)
    kept = []
    for finding in findings:
        group = groups.get(finding.code, [finding])
        if finding is group[0]:
            kept.append(finding if len(group) == 1 else _together(group))
    return tuple(kept)


def _together(group: list[Finding]) -> Finding:
    first, count = group[0], sum(int(finding.found) for finding in group)
    files = len({finding.file for finding in group})
    what = first.message.partition(": ")[2].rstrip(".")
    where = f"{count} objects in {files} files not read" if files > 1 else f"{count} objects not read"
    return msgspec.structs.replace(
        first, size=None, piece=None, found=str(count), message=f"{where}: {what}, in {first.file}."
    )
