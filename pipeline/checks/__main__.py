"""`python -m pipeline.checks` prints the catalogue of all checks as Markdown; source/checks.md is what it prints.

An entry point like a step, so it may name what lies further on the way: the checks of built files.
"""

import sys

from pipeline.bundle.built_files import BUILT
from pipeline.checks import all as all_checks
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.catalogue_text import catalogue_markdown


def catalogue() -> str:
    """The whole catalogue."""
    assert all_checks.SUBJECTS, "its import enters every subject's checks"
    return catalogue_markdown({"Before anything is built": CHECKS, "In the built files": BUILT})


if __name__ == "__main__":
    sys.stdout.write(catalogue())
