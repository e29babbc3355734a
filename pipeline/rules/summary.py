"""How a run ends: what was built and where, what was found, what to do next."""

from pathlib import Path
from typing import TextIO

import msgspec

from pipeline.bundle.stamp import read_stamp
from pipeline.checks.telling import tell, to_mend
from pipeline.model.findings import Finding, FindingsFile
from pipeline.model.texts import counted
from pipeline.rules.first_screen import ALL_FINDINGS, first_screen, is_new, order_of
from pipeline.rules.place import VERIFIED
from pipeline.rules.sources import Source, refused
from pipeline.work.files import read_json, write, write_json
from pipeline.work.receipts import FAILED, OF_RUN

BUILD, CHECK, SEAL = "all", "check", "seal"
"""Targets of the Snakefile."""


class Outcome(msgspec.Struct, frozen=True):
    """What a run came to for one pattern. `failures` are what its failed jobs left in their logs, a text a job,
    `told` what its version was told when it was sealed or compared.
    """

    source: Source
    findings: tuple[Finding, ...]
    checked: bool
    place: Path | None
    failures: tuple[str, ...]
    told: tuple[str, ...] = ()

    @property
    def blocking(self) -> int:
        """How many things stop the release, those of several sizes counted once with what follows from them."""
        return to_mend(self.findings, *order_of(self.source.pattern))


def end_run(
    sources: dict[str, Source], work: Path, release: Path, asked: set[str], well: bool, shown: TextIO | None
) -> bool:
    """Print a paragraph a pattern and the verdict. Whether all that was asked for ran, be it with findings that block.

    `asked` are the targets: a run that was to check says nothing of building. Each pattern's findings, as far as they
    are known by now, are left in `<work>/<pattern>/findings.json`, and as lines beside it.
    """
    outcomes = [_outcome(source, work) for source in sources.values()]
    failures = [text for outcome in outcomes for text in outcome.failures] + _failures(work / OF_RUN / "log")
    verified = work / VERIFIED
    if verified.is_file():
        print("", *read_json(verified, list[str]), sep="\n", file=shown, flush=True)
        return True
    blocked = [outcome for outcome in outcomes if outcome.blocking]
    lines = [line for outcome in outcomes for line in _paragraph(outcome, work, release, asked)]
    print("", *lines, *_verdict(outcomes, asked, blocked, failures, well), sep="\n", file=shown, flush=True)
    return well or (bool(blocked) and not failures)


def _outcome(source: Source, work: Path) -> Outcome:
    folder = work / source.name
    checked, built = _read(folder / "checked.json"), _read(folder / "built.json")
    stamp = read_stamp(folder / "bundle.json")
    latest = built or checked
    findings = latest.findings if latest else (*source.findings, *_on_reading(source, folder))
    write_json(folder / "findings.json", FindingsFile(findings=findings))
    place = Path(stamp.place) if stamp and stamp.checksums and built else None
    return Outcome(source, findings, checked is not None, place, tuple(_failures(folder / "log")), _told(folder))


def _told(folder: Path) -> tuple[str, ...]:
    """What sealing and comparing had to say in this run."""
    return tuple(line for file in sorted((folder / "log").glob("*.told")) for line in read_json(file, list[str]))


def _on_reading(source: Source, folder: Path) -> tuple[Finding, ...]:
    """What reading found, size by size, where a job failed on the way to the checks."""
    sizes = source.pattern.sizes if source.pattern else ()
    files = (_read(folder / "read" / f"{size}.json") for size in sizes)
    return tuple(finding for file in files if file for finding in file.findings)


def _read(path: Path) -> FindingsFile | None:
    return read_json(path, FindingsFile) if path.is_file() else None


def _failures(folder: Path) -> list[str]:
    """What failed jobs said of themselves."""
    return [file.read_text(encoding="utf-8") for file in sorted(folder.glob(f"*{FAILED}"))]


def _paragraph(outcome: Outcome, work: Path, release: Path, asked: set[str]) -> list[str]:
    """The headline, what its version was told, and what was found; all of that is left as lines in the work folder."""
    source = outcome.source
    folder = work / source.name
    told = tell(outcome.findings, *order_of(source.pattern))
    write(folder / ALL_FINDINGS, "".join(f"{line}\n" for line in told).encode())
    if _on_first_screen(outcome, asked):
        shown = first_screen(source, outcome.findings, folder, outcome.checked)
    else:
        shown = [*(source.told if CHECK in asked or refused(source) else ()), *told]
    return [_headline(outcome, release, asked), *outcome.told, *(f"  {line}" for line in shown)]


def _on_first_screen(outcome: Outcome, asked: set[str]) -> bool:
    return is_new(outcome.source) and not outcome.failures and (CHECK in asked or refused(outcome.source))


def _headline(outcome: Outcome, release: Path, asked: set[str]) -> str:
    source = outcome.source
    if source.pattern is None:
        refused = next((finding.file for finding in source.findings if finding.file), "pattern.toml")
        return f"{source.name}: {refused} was refused, nothing was built"
    name, place = f"{source.name} {source.pattern.version}", release / source.name / source.pattern.version
    as_it_was = f"; the bundle in {place} is as it was" if place.is_dir() and outcome.place is None else ""
    if outcome.blocking:
        return f"{name}: nothing was built, {counted(outcome.blocking, 'finding')} to mend first{as_it_was}"
    if outcome.failures:
        return f"{name}: not built, a job failed{as_it_was}"
    if outcome.place and asked & {BUILD, SEAL}:
        return f"{name}: built, {outcome.place}"
    if outcome.place:
        as_it_was = f"; the bundle in {outcome.place} is of this source"
    return f"{name}: {'nothing that was checked blocks' if outcome.checked else 'not checked'}{as_it_was}"


def _verdict(
    outcomes: list[Outcome], asked: set[str], blocked: list[Outcome], failures: list[str], well: bool
) -> list[str]:
    """The last words of a run; that nothing blocks is said only where every check has run."""
    lines = []
    if not all(_on_first_screen(outcome, asked) for outcome in blocked):
        lines.append(
            "Mend what blocks in the source, then give the same command again; only what depends on it is rebuilt."
        )
    lines += dict.fromkeys(failures)
    if well:
        built = BUILD in asked and all(outcome.place for outcome in outcomes)
        checked = bool(asked & {BUILD, CHECK}) and all(outcome.checked for outcome in outcomes)
        sealed = SEAL in asked and all(outcome.told for outcome in outcomes)
        done = "sealed" if sealed else "built" if built else "checked: nothing blocks a release" if checked else "done"
        lines.append(f"{counted(len(outcomes), 'pattern')} {done}.")
    elif blocked and not failures:
        names = ", ".join(outcome.source.name for outcome in blocked)
        lines.append(f"{counted(len(blocked), 'pattern')} of {len(outcomes)} not released: {names}.")
    else:
        lines.append("The run did not come to its end: give the same command again once that is mended.")
    return lines
