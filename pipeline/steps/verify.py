"""Hold every bundle under release/ against its manifest."""

from pathlib import Path

from pipeline.bundle.manifest import verify
from pipeline.bundle.swap import recover
from pipeline.steps.run import run


def main(release: Path, only: list[str]) -> None:
    """Print what differs; status 1 where anything does, or where there is nothing to hold."""
    count, faults = 0, 0
    for name in only:
        for interrupted in sorted((release / name).glob(".*.old")):
            recover(release / name / interrupted.name[1 : -len(".old")])
        for place in sorted(path for path in (release / name).glob("*") if path.is_dir() and path.name[0] != "."):
            findings = verify(name, place)
            count, faults = count + 1, faults + len(findings)
            for finding in findings:
                print(f"{finding.message}: found {finding.found}, expected {finding.allowed}; {finding.remedy}")
            if not findings:
                print(f"{name} {place.name}: every file is as its manifest says")
    if not count:
        print(f"There is no bundle under {release} yet; build first")
    if faults or not count:
        raise SystemExit(1)


if __name__ == "__main__":
    run(main)
