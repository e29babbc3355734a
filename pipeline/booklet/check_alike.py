"""Do two sentences read alike that mean two seams?"""

from collections.abc import Iterator, Sequence

from pipeline.booklet.model import Model
from pipeline.booklet.subject import BOOKLET, Subject, at_line
from pipeline.booklet.text import FigureOf, Inline, Named, TableOf, Value
from pipeline.booklet.values import value_text
from pipeline.booklet.walk import blocks_within, runs_of, text_of, values_of
from pipeline.checks.registry import Outcome
from pipeline.masters.toml.faults import shown


@BOOKLET.register(
    id="booklet-alike",
    title="No two steps read alike that sew two seams",
    rationale="A seam is called by its pieces: of two between the same pieces nobody can tell which one is meant.",
    remedy='say in words which one it is, as "the shoulders, {{ seam shoulder }}"',
    severity="warn",
    source="common practice",
)
def booklet_alike(subject: Subject) -> Iterator[Outcome]:
    """Sentences that name seams, as buyers read them, beside the seams that they are about."""
    for text, model in subject.texts():
        before: dict[str, tuple[tuple[str, ...], int]] = {}
        for block in blocks_within(text.blocks):
            for run, line in runs_of(block):
                seams = _seams(run)
                if not seams or any(seam not in model.pattern.seams for seam in seams):
                    continue
                read = _read(model, run)
                others, first = before.setdefault(read, (seams, line))
                if others != seams:
                    said = f"reads as line {first} does, {shown(read)}, and is about {', '.join(seams)}"
                    allowed = f"another sentence than that about {', '.join(others)}"
                    yield at_line(text.file, line, "alike", said, ", ".join(seams), allowed)


def _seams(run: Sequence[Inline]) -> tuple[str, ...]:
    references = (value.reference for value in values_of(run))
    return tuple(each.name for each in references if isinstance(each, Named) and each.kind == "seam")


def _read(model: Model, run: Sequence[Inline]) -> str:
    """A sentence as it is printed; what has no text is told by another check, and stands as it is written."""

    def told(value: Value) -> str:
        if isinstance(value.reference, TableOf | FigureOf):
            return value.written
        try:
            return value_text(model, value.reference)
        except KeyError:
            return value.written

    return " ".join(text_of(run, told).split())
