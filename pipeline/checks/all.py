"""Every subject's checks, entered in the catalogue, and run on one garment."""

from pipeline.checks import (
    allowance_ends,
    allowances,
    bindings,
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
    knits,
    mark_places,
    marks,
    measures,
    notions,
    outline,
    safety,
    seams,
    sides,
    size_counts,
    size_set,
    strip_uses,
    strips,
    symmetry,
    texts,
    turned,
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
    size_counts,
    size_set,
    mark_places,
    marks,
    seams,
    hands,
    joins,
    darts,
    folds,
    grain,
    allowances,
    allowance_ends,
    hems,
    turned,
    grading,
    counts,
    sides,
    bodies,
    measures,
    interfacing,
    strips,
    knits,
    bindings,
    strip_uses,
    notions,
    safety,
    texts,
    unsewn,
    uses,
)


def check_garment(garment: Garment) -> tuple[Finding, ...]:
    """All findings of all checks that need no built file."""
    return CHECKS.run(garment.pattern.name, garment, garment.provides)
