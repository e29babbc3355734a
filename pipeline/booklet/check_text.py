"""Can the text be read, does all that it names exist, and are its figures there?"""

import re
from collections.abc import Iterator

from pipeline.booklet.drawn import figure_fault
from pipeline.booklet.folder import FIGURES, FOLDER
from pipeline.booklet.references import known_names, wanted_names
from pipeline.booklet.subject import BOOKLET, Subject, at_line
from pipeline.booklet.text import AllowanceOf, Booklet, Box, FigureOf, GrownOnOf, Inserted, Picture, SumOf, Value
from pipeline.booklet.values import sums_mm
from pipeline.booklet.walk import blocks_within, plain_text, references_within, runs_of
from pipeline.checks.registry import Outcome
from pipeline.drawing.fonts import FAMILY, missing_glyphs
from pipeline.masters.toml.faults import did_you_mean, shown

_PLACE_HOLDER = re.compile(r"[.…][\s.…]*|todo|tbd|fixme", re.IGNORECASE)
_CLOSEST = "name what pattern.toml or the glossary has: the nearest name is offered with each finding"


@BOOKLET.register(
    id="booklet-text",
    title="The booklet's text is CommonMark, tables, references and boxes, and nothing else",
    rationale="What is not understood would be dropped without a word, and buyers would sew without it.",
    remedy="write it as CommonMark without HTML",
    severity="block",
    source="CommonMark 0.31; common practice",
)
def booklet_text(subject: Subject) -> Iterator[Outcome]:
    """Every fault of reading; texts in languages that the pattern does not have, and files that nothing reads."""
    for language, faults in subject.folder.faults.items():
        file = subject.folder.texts[language].file
        for fault in faults:
            yield at_line(file, fault.line, fault.code, fault.message, fault.found, fault.allowed, fault.remedy)
    for text, _ in subject.texts():
        yield from _letters(text)
        yield from _place_holders(text)
    for language in subject.pattern.languages if subject.folder.texts else ():
        if language not in subject.folder.texts:
            file = f"{FOLDER}/{language}.md"
            said = "is not there: buyers who read this language get all but the instructions"
            remedy = f"write {file}, or leave it if that is meant"
            yield at_line(file, None, "no-file", said, "no file", "a text a language", remedy, severity="warn")
    for file in subject.folder.unread:
        parked = file.endswith(".md") and "/" not in file.removeprefix(f"{FOLDER}/")
        said = "is kept and printed nowhere"
        remedy = "name its language in pattern.languages" if parked else "leave it, or take it out"
        allowed = f"<language>.md, cover.svg, logo.svg and {FIGURES.removeprefix(f'{FOLDER}/')}NAME.svg"
        yield at_line(file, None, "not-read", said, file, allowed, remedy, severity="info")


def _place_holders(text: Booklet) -> Iterator[Outcome]:
    """Paragraphs and steps that are still to be written, as the first booklet has one."""
    for block in blocks_within(text.blocks):
        for run, line in runs_of(block):
            written = plain_text(run).strip()
            if _PLACE_HOLDER.fullmatch(written):
                said = f"still has a place holder, {shown(written)}"
                yield at_line(
                    text.file, line, "placeholder", said, written, "the text itself", "write it, or take it out"
                )


def _letters(text: Booklet) -> Iterator[Outcome]:
    """Letters that the font lacks, each once, where it is first used."""
    told: set[str] = set()
    for block in blocks_within(text.blocks):
        for run, line in runs_of(block):
            written = plain_text(run, "")
            for letter in sorted(missing_glyphs(written) - told):
                told.add(letter)
                said = f"the font {FAMILY} has no letter for {shown(letter)} (U+{ord(letter):04X})"
                allowed, remedy = f"letters of {FAMILY}", "write it without this letter"
                yield at_line(text.file, line, "no-letter", said, f"U+{ord(letter):04X}", allowed, remedy)


@BOOKLET.register(
    id="booklet-references",
    title="Everything that the booklet refers to is in the pattern or the glossary",
    rationale="A piece that was renamed, or an edge that is no longer drawn, would leave a gap in a sentence.",
    remedy=_CLOSEST,
    severity="block",
    source="common practice",
)
def booklet_references(subject: Subject) -> Iterator[Outcome]:
    """Names of pieces, seams, strips, notions, materials, edges, lines, tables, terms and views."""
    drawn: set[FigureOf] = set()  # whether a figure can be drawn is no matter of language
    for text, model in subject.texts():
        known = known_names(model.pattern, model.edges, model.lines, model.places)
        for value in references_within(text.blocks):
            unknown = [name for name in wanted_names(value.reference) if name.name not in known[name.kind]]
            lost = tuple(f"{name.name}[" for name in unknown if name.kind == "edge")
            for kind, name in (one for one in unknown if not one.name.startswith(lost)):
                said = f"{{{{ {value.written} }}}} names the {kind} {shown(name)}, which there is not"
                remedy = did_you_mean(name, known[kind])
                allowed = ", ".join(known[kind]) if kind == "term" else _listed(known[kind])
                yield at_line(text.file, value.line, f"unknown-{kind}", said, name, allowed, remedy)
            if isinstance(value.reference, FigureOf) and not unknown and value.reference not in drawn:
                drawn.add(value.reference)
                fault = figure_fault(value.reference.words, model)
                if fault is not None:
                    place = text.file, value.line
                    yield at_line(*place, fault.code, fault.message, fault.found, fault.allowed, fault.remedy)
            if isinstance(value.reference, SumOf) and not unknown and not sums_mm(model, value.reference.total):
                said = f"{{{{ {value.written} }}}} has a length in no size"
                yield at_line(text.file, value.line, "no-length", said, "no length", "a length in some size")
        views = tuple(model.pattern.views)
        for block in blocks_within(text.blocks):
            if isinstance(block, Box) and block.view is not None and block.view not in views:
                said = f"holds for the view {shown(block.view)}, which there is not"
                remedy = did_you_mean(block.view, views)
                yield at_line(text.file, block.line, "unknown-view", said, block.view, _listed(views), remedy)


def _listed(names: tuple[str, ...]) -> str:
    more = f" and {len(names) - 12} more" if len(names) > 12 else ""
    return f"{', '.join(names[:12])}{more}" or "none is declared"


@BOOKLET.register(
    id="booklet-alternatives",
    title="Every figure is there and says what it shows",
    rationale="Who cannot see a figure hears its text alternative; a figure that is missing is a step not shown.",
    remedy="write what the figure shows between the brackets: ![what it shows](figures/name.svg)",
    severity="block",
    source="text alternatives: ISO 14289-1 (PDF/UA-1), 7.3",
)
def booklet_figures(subject: Subject) -> Iterator[Outcome]:
    """Figures without a file, without a text alternative or with that of another, and files that no text shows."""
    shown_files = set()
    for text, _ in subject.texts():
        told: dict[str, str] = {}
        for block in blocks_within(text.blocks):
            if isinstance(block, Picture):
                file = f"{FOLDER}/{block.file}"
                shown_files.add(file)
                if file not in subject.folder.drawings:
                    there = tuple(name.removeprefix(f"{FOLDER}/") for name in subject.folder.drawings)
                    remedy = did_you_mean(block.file, there)
                    said = f"shows {shown(block.file)}, which is not there"
                    yield at_line(text.file, block.line, "no-figure", said, block.file, _listed(there), remedy)
                if block.alt in ("", block.file, block.file.rpartition("/")[2]):
                    said = f"the figure {shown(block.file)} has no text alternative"
                    found = "its file's name" if block.alt else "no text"
                    yield at_line(text.file, block.line, "no-alternative", said, found, "what the figure shows")
                elif (other := told.setdefault(block.alt, block.file)) != block.file:
                    said = f"the figure {shown(block.file)} is told in the same words as {shown(other)}"
                    allowed, remedy = "words of its own", "say what this one shows and the other does not"
                    place = text.file, block.line
                    yield at_line(*place, "same-alternative", said, block.alt, allowed, remedy, severity="warn")
    for file in sorted(subject.folder.drawings):
        if file.startswith(FIGURES) and file not in shown_files:
            said, remedy = "no text shows it", "show it, or take it out"
            yield at_line(file, None, "not-shown", said, file, "a text that shows it", remedy, severity="info")


def owners_named(references: Iterator[Value | Inserted]) -> set[tuple[str, str]]:
    """(kind, name) of all that references name; a piece also where one of its edges is."""
    found = set()
    for value in references:
        for kind, name in wanted_names(value.reference):
            found.add((kind, name))
            if kind in ("edge", "line"):
                found.add(("piece", name.partition(".")[0]))
        if isinstance(value.reference, AllowanceOf | GrownOnOf):
            found.add(("piece", value.reference.piece))
    return found
