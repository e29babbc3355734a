"""Parts of the checks that fail by themselves: told as what blocks, while the others go on."""

import logging
from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from typing import TypedDict, Unpack

from pipeline.model.findings import Finding

FAILED = "check-failed"
_LOG = logging.getLogger(__name__)
_LOOKED_AT = "looked_at"


class LookedAt(TypedDict, total=False):
    """What a check was at."""

    file: str
    size: str
    piece: str


@contextmanager
def looking_at(**where: Unpack[LookedAt]) -> Iterator[None]:
    """What fails in here is told with its file, size and piece."""
    try:
        yield
    except Exception as fault:
        setattr(fault, _LOOKED_AT, {**where, **getattr(fault, _LOOKED_AT, {})})
        raise


def attempted(check: str, pattern: str, find: Callable[[], Iterable[Finding]]) -> tuple[Finding, ...]:
    """What `find` tells up to its end, or up to where it fails, which is then told too."""
    findings: list[Finding] = []
    try:
        findings.extend(find())
    except Exception as fault:
        findings.append(could_not_run(check, pattern, fault))
    return tuple(findings)


def could_not_run(check: str, pattern: str, fault: Exception, size: str | None = None) -> Finding:
    """That a check failed by itself. Called where the exception is caught: its trace goes to the log of the step."""
    _LOG.exception("%s failed", check)
    at: LookedAt = getattr(fault, _LOOKED_AT, None) or LookedAt()
    return Finding(
        check=check,
        code=FAILED,
        severity="block",
        pattern=pattern,
        size=at.get("size", size),
        piece=at.get("piece"),
        file=at.get("file"),
        found=f"{type(fault).__name__}: {fault}",
        allowed="a check that runs to its end",
        message="this check could not run: a fault of the pipeline itself; what it looks for is not known to be right",
        remedy="report this with the trace that the run left in the log folder of the pattern's work",
    )
