"""Every subject's checks, entered in the catalogue, and run on one garment."""

from pipeline.checks import (
    allowances,
    bodies,
    counts,
    darts,
    folds,
    grading,
    grain,
    hands,
    hems,
    interfacing,
    joins,
    kinks,
    measures,
    notions,
    outline,
    safety,
    seams,
    size_set,
    strips,
    symmetry,
    texts,
    unsewn,
    uses,
)
from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.model.findings import Finding

SUBJECTS = (
    outline,
    kinks,
    symmetry,
    size_set,
    seams,
    hands,
    joins,
    darts,
    folds,
    grain,
    allowances,
    hems,
    grading,
    counts,
    bodies,
    measures,
    interfacing,
    strips,
    notions,
    safety,
    texts,
    unsewn,
    uses,
)


def check_garment(garment: Garment) -> tuple[Finding, ...]:
    """All findings of all checks that need no built file."""
    return CHECKS.run(garment.pattern.name, garment, garment.provides)
