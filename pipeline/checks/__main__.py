"""`python -m pipeline.checks` prints the catalogue of all checks as Markdown; source/checks.md is what it prints.

An entry point like a step, so it may name what lies further on the way: what is told there, the checks of built files.
"""

import sys

from pipeline.bundle import archives, manifest
from pipeline.bundle.built_files import BUILT
from pipeline.checks import all as all_checks
from pipeline.checks import waivers
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.catalogue_text import catalogue_markdown, stages_markdown
from pipeline.correction import number
from pipeline.cutting import telling
from pipeline.drawing import doubts
from pipeline.lays import fit
from pipeline.ledger import seal
from pipeline.masters import stages
from pipeline.rules import kept_files
from pipeline.tables import cloth

STAGES = (
    *stages.STAGES,
    kept_files.STAGE,
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
    # by subject: the order of registration is that of imports, which differs where a check was imported before
    places = {subject.__name__: place for place, subject in enumerate(all_checks.SUBJECTS)}
    early = sorted(CHECKS, key=lambda check: places[check.function.__module__])
    checks = catalogue_markdown({"Before anything is built": early, "In the built files": BUILT})
    return checks + stages_markdown(STAGES)


if __name__ == "__main__":
    sys.stdout.write(catalogue())
