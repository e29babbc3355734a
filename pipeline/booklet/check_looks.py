"""Can the booklet be read as it is coloured?"""

from collections.abc import Iterator

from pipeline.booklet.subject import BOOKLET, Subject
from pipeline.checks.registry import Outcome
from pipeline.drawing.styles import contrast

LEAST_CONTRAST = 4.5
NOTE_GROUND = "#f4f4f1"
"""What notes stand on (`setting/booklet.typ`), darker than white: their word and numbers of steps have the accent."""


@BOOKLET.register(
    id="booklet-accent",
    title="The accent colour can be read on white and on the ground of notes",
    rationale="Headings and numbers of steps stand in it; who sees less, or prints in grey, loses the place.",
    remedy="take a darker colour",
    severity="block",
    source=f"contrast of text, {LEAST_CONTRAST}:1: WCAG 2.2, 1.4.3",
)
def booklet_accent(subject: Subject) -> Iterator[Outcome]:
    """The contrast of `[booklet] accent` against the darkest ground that it stands on."""
    accent = subject.pattern.booklet.accent
    found = contrast(accent, NOTE_GROUND)
    if found < LEAST_CONTRAST:
        yield Outcome(
            code="too-pale",
            where="pattern",
            file="pattern.toml",
            object="booklet.accent",
            found=f"{accent}, {found:.1f}:1",
            allowed=f"at least {LEAST_CONTRAST}:1 against {NOTE_GROUND}, the ground of notes",
            message=f"booklet.accent is {accent}, which has a contrast of {found:.1f}:1 against the ground of notes",
        )
