"""Whether a version's number rises as much as its changes ask for."""

from pipeline.ledger.before import number
from pipeline.ledger.changes import ChangesFile
from pipeline.model.findings import Finding
from pipeline.model.stages import Stage

STAGE = Stage(
    id="next-version",
    title="The number rises as much as what changed",
    rationale="A buyer sees by the number whether the garment is another (first part), whether pieces of two versions"
    " must not be mixed (second), or whether nothing is lost with the older file (third).",
    severity="warn",
)


def number_findings(file: ChangesFile) -> tuple[Finding, ...]:
    """What is told where the number is below the one that the changes ask for."""
    if number(file.version) >= number(file.next_version):
        return ()
    return (
        Finding(
            check=STAGE.id,
            code="too-small",
            severity="warn",
            pattern=file.pattern,
            where="pattern",
            file="pattern.toml",
            object="version",
            found=file.version,
            allowed=f"{file.next_version} or more",
            message=f"version {file.version} is less above {file.since}, which was sold, than what changed since",
            remedy=f'set version = "{file.next_version}" in pattern.toml and in the heading of CHANGES.md',
        ),
    )
