"""What the checks of a booklet look at, and how they tell of a line in it."""

from collections.abc import Iterator

from pipeline.booklet.folder import Folder
from pipeline.booklet.model import Model
from pipeline.booklet.text import Booklet
from pipeline.checks.registry import Outcome, Registry
from pipeline.model.findings import Severity

BOOKLET = Registry()
"""The registry of the checks of a booklet."""


class Subject:
    """A pattern's booklet beside the pattern, in each of its languages."""

    def __init__(self, folder: Folder, models: dict[str, Model]) -> None:
        self.folder, self.models = folder, models
        self.pattern = next(iter(models.values())).pattern

    def texts(self) -> Iterator[tuple[Booklet, Model]]:
        """Every text that is there, with the pattern in its language; those in languages that can be said."""
        for language, text in self.folder.texts.items():
            if language in self.models:
                yield text, self.models[language]

    def first(self) -> tuple[Booklet, Model] | None:
        """The text in the first language that has one."""
        return next(self.texts(), None)


def at_line(
    file: str,
    line: int | None,
    code: str,
    message: str,
    found: str,
    allowed: str,
    remedy: str | None = None,
    *,
    severity: Severity | None = None,
    piece: str | None = None,
    where: str | None = "pattern",
) -> Outcome:
    """An outcome at a line of a text."""
    place = f"{file}, line {line}" if line else file
    return Outcome(
        code=code,
        severity=severity,
        piece=piece,
        where=None if piece else where,
        file=file,
        object=f"line {line}" if line else None,
        found=found,
        allowed=allowed,
        message=f"{place}: {message}",
        remedy=remedy,
    )
