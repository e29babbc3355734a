"""`python -m pipeline.checks` prints the catalogue of all checks as Markdown; source/checks.md is what it prints.

An entry point like a step, so it may name what lies further on the way: what is told there, the checks of built files.
"""

import sys
from collections.abc import Iterable, Sequence
from types import ModuleType

from pipeline.booklet import checks as booklet_checks
from pipeline.booklet.subject import BOOKLET
from pipeline.bundle import archives, built_files, manifest
from pipeline.bundle.built_catalogue import BUILT
from pipeline.checks import all as all_checks
from pipeline.checks import waivers
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.catalogue_text import catalogue_markdown, stages_markdown
from pipeline.checks.registry import Check, Registry
from pipeline.correction import number
from pipeline.cutting import telling
from pipeline.drawing import doubts
from pipeline.lays import fit
from pipeline.ledger import seal
from pipeline.masters import stages
from pipeline.rules import saved_files
from pipeline.tables import cloth

STAGES = (
    *stages.STAGES,
    saved_files.STAGE,
    telling.STAGE,
    doubts.STAGE,
    fit.STAGE,
    waivers.STAGE,
    cloth.STAGE,
    archives.STAGE,
    manifest.STAGE,
    number.STAGE,
    seal.STAGE,
)
"""In the order of the way."""


def catalogue() -> str:
    """The whole catalogue."""
    parts: dict[str, Iterable[Check]] = {
        "Before anything is built": _by_subject(CHECKS, all_checks.SUBJECTS),
        "In the booklet": _by_subject(BOOKLET, booklet_checks.SUBJECTS),
        "In the built files": _by_subject(BUILT, built_files.SUBJECTS),
    }
    checks = catalogue_markdown(parts)
    return checks + stages_markdown(STAGES)


def _by_subject(registry: Registry, subjects: Sequence[ModuleType]) -> list[Check]:
    """The order of registration is that of imports, which differs where a check was imported before."""
    places = {subject.__name__: place for place, subject in enumerate(subjects)}
    return sorted(registry, key=lambda check: places[check.function.__module__])


if __name__ == "__main__":
    sys.stdout.write(catalogue())
