"""The registry: what a check is, and the runner, which knows no trade.

A check is a generator function over a subject. It yields an Outcome for each thing to tell; what it yields none of,
passed. A check whose needs are not provided is skipped, and one that fails by itself blocks: neither is a pass.
"""

from collections.abc import Callable, Iterable, Iterator
from typing import Any

import msgspec

from pipeline.checks.attempts import attempted
from pipeline.model.findings import Finding, Severity

NOT_DECLARED = "not-declared"
"""The code of a check that was skipped, since nothing is declared to hold the pattern against."""


class Outcome(msgspec.Struct, frozen=True, kw_only=True):
    """One thing to tell. Severity and remedy are the check's own where they are not given."""

    code: str
    message: str
    found: str = ""
    allowed: str = ""
    severity: Severity | None = None
    remedy: str | None = None
    size: str | None = None
    piece: str | None = None
    where: str | None = None
    file: str | None = None
    object: str | None = None


class Check(msgspec.Struct, frozen=True, kw_only=True):
    """A registered check. `needs` names what the subject must provide; `source` where its tolerances come from."""

    id: str
    title: str
    rationale: str
    remedy: str
    severity: Severity
    source: str
    needs: frozenset[str]
    function: Callable[[Any], Iterable[Outcome]]


class Registry:
    """Checks by id, in the order of their registration."""

    def __init__(self) -> None:
        self._checks: dict[str, Check] = {}

    def register(
        self,
        *,
        id: str,
        title: str,
        rationale: str,
        remedy: str,
        severity: Severity,
        source: str,
        needs: tuple[str, ...] = (),
    ) -> Callable[[Callable[[Any], Iterable[Outcome]]], Callable[[Any], Iterable[Outcome]]]:
        """Decorator that enters a check. Raises ValueError for an id that is taken."""

        def enter(function: Callable[[Any], Iterable[Outcome]]) -> Callable[[Any], Iterable[Outcome]]:
            if id in self._checks:
                raise ValueError(f"two checks are called {id}")
            self._checks[id] = Check(
                id=id,
                title=title,
                rationale=rationale,
                remedy=remedy,
                severity=severity,
                source=source,
                needs=frozenset(needs),
                function=function,
            )
            return function

        return enter

    def __iter__(self) -> Iterator[Check]:
        return iter(self._checks.values())

    def run(self, pattern: str, subject: Any, provides: frozenset[str]) -> tuple[Finding, ...]:
        """Every check on one subject, in order."""
        return tuple(finding for check in self for finding in _run(check, pattern, subject, provides))


def _run(check: Check, pattern: str, subject: Any, provides: frozenset[str]) -> list[Finding]:
    if missing := sorted(check.needs - provides):
        text = f"{check.title}: not checked, there is no {', '.join(missing)}"
        return [_finding(check, pattern, Outcome(code=NOT_DECLARED, severity="skip", message=text))]
    return list(attempted(check.id, pattern, lambda: (_finding(check, pattern, o) for o in check.function(subject))))


def _finding(check: Check, pattern: str, outcome: Outcome) -> Finding:
    return Finding(
        check=check.id,
        code=outcome.code,
        severity=outcome.severity or check.severity,
        pattern=pattern,
        size=outcome.size,
        piece=outcome.piece,
        where=outcome.where,
        file=outcome.file,
        object=outcome.object,
        found=outcome.found,
        allowed=outcome.allowed,
        message=outcome.message,
        remedy=outcome.remedy or check.remedy,
    )
