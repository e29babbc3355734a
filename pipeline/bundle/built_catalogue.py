"""The registry of the checks that need built files, and how they tell of a place in one."""

from pipeline.checks.registry import Outcome, Registry
from pipeline.model.findings import Severity

BUILT = Registry()


def at_file(
    path: str,
    code: str,
    message: str,
    found: str,
    allowed: str,
    *,
    page: int | None = None,
    label: str | None = None,
    size: str | None = None,
    severity: Severity | None = None,
) -> Outcome:
    """An outcome at a file of the bundle, and at a page of it. A waiver names it by the place `pattern`."""
    place = None if page is None else f"page {page}{f' ({label})' if label else ''}"
    return Outcome(
        code=code,
        severity=severity,
        size=size,
        where="pattern",
        file=path,
        object=place,
        found=found,
        allowed=allowed,
        message=f"{path}{f', {place}' if place else ''}: {message}",
    )
