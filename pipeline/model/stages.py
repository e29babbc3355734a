"""What parts of the way tell by themselves, beside the registered checks: for the catalogue that designers read."""

import msgspec

from pipeline.model.findings import Severity


class Stage(msgspec.Struct, frozen=True, kw_only=True):
    """One `check` that findings may have; `severity` is the gravest of them. What is to be done, each says itself."""

    id: str
    title: str
    rationale: str
    severity: Severity
