"""All checks of a booklet, entered in their registry, and run on one."""

from collections.abc import Mapping

from pipeline.booklet import check_alike, check_looks, check_numbers, check_text, check_whole
from pipeline.booklet.folder import read_folder
from pipeline.booklet.model import Model
from pipeline.booklet.subject import BOOKLET, Subject
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import Cuts
from pipeline.words import languages

SUBJECTS = (check_looks, check_text, check_numbers, check_whole, check_alike)
"""Every subject's checks, entered in `BOOKLET` when they are imported."""


def check_booklet(pattern: Pattern, cuts: Cuts, files: Mapping[str, bytes]) -> tuple[Finding, ...]:
    """All findings on the files under `booklet/`, which are named by their places in the pattern's folder."""
    models = {language: Model(pattern, cuts, language) for language in pattern.languages if language in languages()}
    if not models:
        return ()  # that no language can be said is told of the pattern
    return BOOKLET.run(pattern.name, Subject(read_folder(pattern, files), models), frozenset())
