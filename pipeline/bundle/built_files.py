"""Checks of a bundle that is built but not yet in its place: files, pages, layers, tables."""

from pathlib import Path

from pipeline.bundle import (
    built_booklets,
    built_documents,
    built_exchange,
    built_layers,
    built_outlines,
    built_pages,
    built_scale,
    built_tables,
)
from pipeline.bundle.built import Built
from pipeline.bundle.built_catalogue import BUILT
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.work.cache import Answers

SUBJECTS = (
    built_pages,
    built_scale,
    built_layers,
    built_outlines,
    built_documents,
    built_booklets,
    built_tables,
    built_exchange,
)


def check_built(pattern: Pattern, folder: Path, answers: Answers | None = None) -> tuple[Finding, ...]:
    """All findings on the bundle that lies in a folder, which was built from this pattern.

    `answers` are those on files of the same bytes, from before; what is new is written there.
    """
    found = BUILT.run(pattern.name, Built(pattern, folder, answers), frozenset())
    if answers is not None:
        answers.save()
    return found
