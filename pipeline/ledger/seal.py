"""What may be entered in the ledger, and what a build of a sealed version is told."""

import datetime
import re
from collections.abc import Mapping

import msgspec

from pipeline.ledger.before import number
from pipeline.ledger.book import Entry, Ledger, entry_digest
from pipeline.ledger.changes import ChangesFile
from pipeline.ledger.facts import Measured
from pipeline.model.findings import Finding
from pipeline.model.stages import Stage
from pipeline.model.texts import told_versions

STAGE = Stage(
    id="sealed",
    title="A sealed version keeps its bytes",
    rationale="Two files of one name that are not the same cannot be told apart by whoever bought one of them.",
    severity="block",
)
_NAMED = 5


def sealing_date(environment: Mapping[str, str]) -> str:
    """Today, or the day of SOURCE_DATE_EPOCH (reproducible-builds.org: seconds since 1970, UTC) where that is set."""
    epoch = environment.get("SOURCE_DATE_EPOCH", "")
    if re.fullmatch(r"\d{1,11}", epoch):
        return datetime.datetime.fromtimestamp(int(epoch), datetime.UTC).date().isoformat()
    return datetime.date.today().isoformat()


def sealed(ledger: Ledger, entry: Entry, measured: Measured, layouts: str) -> Ledger:
    """The ledger with one version more, which must not be in it yet: `entry` without what chains it, its shapes and
    the text of its layouts.
    """
    previous = ledger.versions[-1].digest if ledger.versions else ""
    entry = msgspec.structs.replace(entry, previous=previous)
    entry = msgspec.structs.replace(entry, digest=entry_digest(entry))
    kept = {**ledger.layouts, entry.layouts: layouts} if entry.layouts else ledger.layouts
    shapes = {**ledger.shapes, **measured.shapes}
    return msgspec.structs.replace(ledger, versions=(*ledger.versions, entry), shapes=shapes, layouts=kept)


def why_not(version: str, ledger: Ledger, changes_text: str | None) -> str | None:
    """Why a version that is not in the ledger cannot be entered: what is lacking, and what to do."""
    if changes_text is None or version not in told_versions(changes_text):
        return f"CHANGES.md has no heading for {version}: write what customers are told, then seal"
    newest = ledger.versions[-1].version if ledger.versions else None
    if newest is not None and number(version) <= number(newest):
        return f"{version} is not above {newest}, which is sealed: give it a higher number in pattern.toml"
    return None


def differing(sealed_files: Mapping[str, str], files: Mapping[str, str]) -> list[str]:
    """The files that are not the same in both, by name."""
    return sorted(name for name in {*sealed_files, *files} if sealed_files.get(name) != files.get(name))


def refusal(entry: Entry, made_with: dict[str, str], files: list[str], told: list[str], file: ChangesFile) -> Finding:
    """A build of a sealed version that came out otherwise: which `files` differ, and what was `told` of it."""
    more = f" and {len(files) - _NAMED} more" if len(files) > _NAMED else ""
    other = [
        f"{name} {entry.made_with.get(name, 'none')} → {made_with.get(name, 'none')}"
        for name in sorted({*entry.made_with, *made_with})
        if entry.made_with.get(name) != made_with.get(name)
    ]
    shown = [line.strip() for line in told[:_NAMED]]
    why = "; ".join([*shown, *(["and more"] if len(told) > _NAMED else [])]) or "no piece, table, text or page differs"
    libraries = f"; made with other libraries: {', '.join(other)}" if other else ""
    return Finding(
        check=STAGE.id,
        code="other-bytes",
        severity="block",
        pattern=file.pattern,
        file="pattern.toml",
        object="version",
        found=f"{', '.join(files[:_NAMED])}{more} differ: {why}{libraries}",
        allowed=f"the bytes that were sealed on {entry.date}",
        message=f"version {entry.version} is sealed, and this source gives other bytes",
        remedy=f'set version = "{file.next_version}" in pattern.toml and write its heading in CHANGES.md, or take the'
        f" source of {entry.version} from your repository",
    )
