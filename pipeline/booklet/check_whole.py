"""Is everything that is cut, bought and sewn told of, and does every language tell the same?"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from pipeline.booklet.check_text import owners_named
from pipeline.booklet.subject import BOOKLET, Subject, at_line
from pipeline.booklet.text import Block, Booklet, Box, Inserted, Item, Picture, Steps, Value
from pipeline.booklet.walk import blocks_within, plain_text, references_within, runs_of, steps_of
from pipeline.checks.registry import Outcome
from pipeline.model.pattern import Pattern, in_language

_NONE_NAMED = "no-references"


def _told(subject: Subject, kind: str, names: Iterable[str], what: str) -> Iterator[Outcome]:
    """One outcome for each that the first text names nowhere; one for all where it uses no such references at all."""
    first = subject.first()
    if first is None:
        return
    text, _ = first
    named = _named(text, subject.pattern, kind)
    lacking = [name for name in names if name not in named]
    if not named and lacking:
        said = f"no {kind} is named by reference, so nobody can tell whether {what}"
        allowed = f"{{{{ {kind} NAME }}}}"
        yield at_line(text.file, None, _NONE_NAMED, said, f"no {allowed}", allowed, severity="info")
        return
    for name in lacking:
        piece = name if kind == "piece" else None
        said = f"the {kind} {name} is named nowhere"
        allowed = f"{{{{ {kind} {name} }}}} in a step"
        where = None if piece else f"{kind}s.{name}"
        yield at_line(text.file, None, "not-named", said, "nothing", allowed, piece=piece, where=where)


def _named(text: Booklet, pattern: Pattern, kind: str) -> set[str]:
    found = owners_named(references_within(text.blocks))
    if kind == "piece":  # what seams name is printed with their pieces
        for seam in (pattern.seams[name] for of, name in found if of == "seam" and name in pattern.seams):
            found = found | {("piece", place.piece) for place in (*seam.a, *seam.b)}
        words = " ".join(plain_text(run) for block in blocks_within(text.blocks) for run, _ in runs_of(block)).lower()
        titles = {name: in_language(piece.title, text.language).lower() for name, piece in pattern.pieces.items()}
        if any(of == "piece" for of, _ in found):
            found = found | {("piece", name) for name, title in titles.items() if title and title in words}
    return {name for of, name in found if of == kind}


@BOOKLET.register(
    id="booklet-pieces",
    title="Every piece that is cut is named in the booklet",
    rationale="Whoever has a piece left over looks for the step that was forgotten.",
    remedy="name it where it is sewn, as {{ piece NAME }}; a waiver says that it needs no step",
    severity="warn",
    source="common practice",
)
def booklet_pieces(subject: Subject) -> Iterator[Outcome]:
    """Pieces that are cut of any material."""
    cut = [name for name, piece in subject.pattern.pieces.items() if any(any(c.count.values()) for c in piece.cut)]
    yield from _told(subject, "piece", cut, "each is told of")


@BOOKLET.register(
    id="booklet-strips",
    title="Every strip that is cut is named in the booklet",
    rationale="Whoever has a strip left over looks for the step that was forgotten.",
    remedy="name it where it is sewn, as {{ strip NAME }}; a waiver says that it needs no step",
    severity="warn",
    source="common practice",
)
def booklet_strips(subject: Subject) -> Iterator[Outcome]:
    """All strips."""
    yield from _told(subject, "strip", subject.pattern.strips, "each is told of")


@BOOKLET.register(
    id="booklet-notions",
    title="Every notion is used in the booklet",
    rationale="Something that was bought and is never sewn in is a step that was forgotten, or money that was wasted.",
    remedy="name it where it is used, as {{ notion NAME }}; a waiver says that it needs no step",
    severity="warn",
    source="common practice",
)
def booklet_notions(subject: Subject) -> Iterator[Outcome]:
    """All notions."""
    yield from _told(subject, "notion", subject.pattern.notions, "each is used")


@BOOKLET.register(
    id="booklet-seams",
    title="Every seam is sewn by a step of the booklet",
    rationale="A seam that no step sews is found when the garment falls apart.",
    remedy="name it where it is sewn, as {{ seam NAME }}; a waiver says that it needs no step",
    severity="warn",
    source="common practice",
)
def booklet_seams(subject: Subject) -> Iterator[Outcome]:
    """Seams that are sewn; a lining only hangs."""
    yield from _told(subject, "seam", [n for n, seam in subject.pattern.seams.items() if seam.is_sewn], "all are")


@BOOKLET.register(
    id="booklet-languages",
    title="Every language has the same steps, figures, cautions and references",
    rationale="A step that one language lacks is missing in the garments of all who read it.",
    remedy="write in this language what the first one says",
    severity="block",
    source="common practice",
)
def booklet_languages(subject: Subject) -> Iterator[Outcome]:
    """Each further text against the first one: how many steps, then step by step, then what stands outside of them."""
    texts = list(subject.folder.texts.values())
    for other in texts[1:]:
        yield from _differences(texts[0], other)


def _differences(first: Booklet, other: Booklet) -> Iterator[Outcome]:
    mine, theirs = list(steps_of(first.blocks)), list(steps_of(other.blocks))
    if len(mine) != len(theirs):
        yield _steps(first, other, mine, theirs)
        return
    for number, (step, same) in enumerate(zip(mine, theirs, strict=True), start=1):
        yield from _compare(first, other, step.blocks, same.blocks, f"step {number}", step.line, same.line)
    outside = [tuple(b for b in text.blocks if not isinstance(b, Steps)) for text in (first, other)]
    yield from _compare(first, other, outside[0], outside[1], "the text beside the steps", None, None)


def _steps(first: Booklet, other: Booklet, mine: Sequence[Item], theirs: Sequence[Item]) -> Outcome:
    """That steps are missing, and where both texts first part."""
    shapes = [[_shape(step.blocks) for step in steps] for steps in (mine, theirs)]
    apart = next((at for at, (a, b) in enumerate(zip(*shapes, strict=False)) if a != b), min(len(mine), len(theirs)))
    (short, few), (long, many) = sorted(((first, mine), (other, theirs)), key=lambda each: len(each[1]))
    line = few[min(apart, len(few) - 1)].line if few else None
    text = (
        f"has {len(few)} steps where {long.file} has {len(many)}; they part at step {apart + 1}"
        f" ({long.file}, line {many[apart].line})"
    )
    return at_line(short.file, line, "steps", text, f"{len(few)} steps", f"{len(many)} steps")


def _compare(
    first: Booklet,
    other: Booklet,
    mine: Sequence[Block],
    theirs: Sequence[Block],
    what: str,
    line: int | None,
    other_line: int | None,
) -> Iterator[Outcome]:
    ours, others = _shape(mine), _shape(theirs)
    for kind, severity in (("figure", None), ("caution", None), ("view", None), ("reference", "warn")):
        for name in dict.fromkeys((*ours, *others)):
            if name[0] != kind or ((ours[name] > 0) == (others[name] > 0) and kind == "reference"):
                continue
            if ours[name] == others[name]:
                continue
            lacking, full = (other, first) if ours[name] > others[name] else (first, other)
            at, there = (other_line, line) if lacking is other else (line, other_line)
            said = f"{what} lacks the {kind}{f' {name[1]}' if name[1] else ''} that {full.file}{_line(there)} has"
            counts = f"{max(ours[name], others[name])}", f"{min(ours[name], others[name])}"
            yield at_line(lacking.file, at, kind, said, counts[1], counts[0], severity=severity)  # type: ignore[arg-type]


def _line(line: int | None) -> str:
    return f", line {line}," if line else ""


def _shape(blocks: Sequence[Block]) -> Counter[tuple[str, str]]:
    """How often each figure, caution, view and reference stands there."""
    found: Counter[tuple[str, str]] = Counter()
    for block in blocks_within(blocks):
        if isinstance(block, Picture):
            found["figure", block.file] += 1
        elif isinstance(block, Box) and block.kind != "note":
            found[block.kind, block.view or ""] += 1
    for value in references_within(blocks):
        kind = "figure" if isinstance(value, Inserted) else "reference"
        found[kind, f"{{{{ {_spaced(value)} }}}}"] += 1
    return found


def _spaced(value: Value | Inserted) -> str:
    return " ".join(value.written.split())
