"""Texts that customers read: all there, in every language, and of this version."""

import re
from collections.abc import Iterator

from pipeline.checks.catalogue import CHECKS
from pipeline.checks.garment import Garment
from pipeline.checks.registry import Outcome
from pipeline.model.findings import Severity
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Texts
from pipeline.model.texts import CHANGES, SIZE_TITLES, VERSION, changes_file, customer_texts, told_versions
from pipeline.words import languages as with_words

_PLACEHOLDER = re.compile(r"\b(todo|tbd|tba|fixme|xxx+|lorem ipsum)\b|\?\?+|^\s*[.…][\s.…]*$", re.IGNORECASE)
_MARKED = re.compile(r"#\s*(proposed|to write)\b")
"""How `start` marks a line."""
_NAMES = ("pattern.maker", "pattern.contact", "style.contact_lines", SIZE_TITLES)
_MOST_SHOWN = 8


@CHECKS.register(
    id="texts",
    title="Every language has every text",
    rationale="A label that is empty or still says TODO is printed on every copy, and read first where it is missing.",
    remedy="write the text in pattern.toml, in every language of the pattern",
    severity="block",
    source="common practice",
)
def texts(garment: Garment) -> Iterator[Outcome]:
    """Missing and empty texts, one finding a language, and place holders; languages without words of ours are told so.

    The same text in two languages can be right, so it is only a note; so are texts in further languages.
    """
    pattern = garment.pattern
    for language in (language for language in pattern.languages if language in with_words()):
        for code, found in (("missing", "no text"), ("empty", "an empty text")):
            keys = [key for key, written in customer_texts(pattern).items() if _lack(written, language) == code]
            if keys:
                yield _lacking(keys, code, language, found)
    yield from _parked(pattern)
    languages = pattern.languages
    for key, written in customer_texts(pattern).items():
        for language in languages:
            text = written.get(language, "")
            if _PLACEHOLDER.search(text):
                yield _outcome(key, "placeholder", language, text, "the text itself", f"{key} still has a place holder")
        alike = [written[language].strip() for language in languages if language in written]
        if not key.startswith(_NAMES) and len(alike) > 1 and len(set(alike)) == 1 and alike[0]:
            yield Outcome(
                code="alike",
                severity="info",
                where=_place(key),
                file="pattern.toml",
                object=key,
                found=alike[0],
                allowed="a text a language, or one that is right in all",
                message=f"{key} is the same in {', '.join(languages)}",
            )


def _lack(written: Texts, language: str) -> str | None:
    text = written.get(language)
    return "missing" if text is None else None if text.strip() else "empty"


def lacking_keys(pattern: Pattern, language: str) -> list[str]:
    """The keys of all texts that are missing or empty in a language."""
    return [key for key, written in customer_texts(pattern).items() if _lack(written, language) is not None]


def _lacking(keys: list[str], code: str, language: str, found: str) -> Outcome:
    if len(keys) == 1:
        return _outcome(keys[0], code, language, found, f"a text in {language}", f"{keys[0]} has {found} in {language}")
    return Outcome(
        code=code,
        where="pattern",
        file="pattern.toml",
        object=f"{language}: {', '.join(keys)}",
        found=f"{found} at {len(keys)} keys",
        allowed=f"a text in {language} at each",
        message=f"{len(keys)} texts are {code} in {language}: {', '.join(keys)}",
    )


def _parked(pattern: Pattern) -> Iterator[Outcome]:
    """Texts in languages that the pattern does not have: nothing prints them."""
    texts = customer_texts(pattern)
    for language in sorted({language for written in texts.values() for language in written} - set(pattern.languages)):
        keys = [key for key, written in texts.items() if language in written]
        lacking = lacking_keys(pattern, language)
        more = len(lacking) - _MOST_SHOWN
        shown = ", ".join(lacking[:_MOST_SHOWN]) + (f" and {more} more" if more > 0 else "")
        ready = f"once {shown} {'are' if len(lacking) > 1 else 'is'} there in it" if lacking else "to sell in it"
        yield Outcome(
            code="parked",
            severity="info",
            where="pattern",
            file="pattern.toml",
            object=f"{language}: {', '.join(keys)}",
            found=f"{len(keys)} of {len(texts)} texts in {language}",
            allowed=f"languages of the pattern: {', '.join(pattern.languages)}",
            message=f"texts in {language} are kept and printed nowhere",
            remedy=f"name {language} in pattern.languages {ready}, or mend the name",
        )


def _outcome(key: str, code: str, language: str, found: str, allowed: str, message: str) -> Outcome:
    return Outcome(
        code=code,
        piece=key.split(".")[1] if key.startswith("pieces.") else None,
        where=_place(key),
        file="pattern.toml",
        object=f"{key}.{language}",
        found=found,
        allowed=allowed,
        message=message,
    )


def _place(key: str) -> str | None:
    """What a waiver names: a strip, notion, finished measure or material, else the pattern as a whole."""
    group, name = key.split(".")[:2]
    if group == "pieces":
        return None
    return f"{group}.{name}" if group in ("strips", "notions", "finished", "materials") else "pattern"


@CHECKS.register(
    id="proposals",
    title="No line of pattern.toml is still marked as proposed or to write",
    rationale="What `start` proposes is a guess: a fold or a seam that nobody looked at is cut and sewn by strangers.",
    remedy="look at each of these lines, keep, change or delete it, and take its mark away",
    severity="block",
    source="common practice",
)
def proposals(garment: Garment) -> Iterator[Outcome]:
    """One finding for all lines that `start` has marked."""
    lines = marked_lines(garment.said)
    if lines:
        shown = ", ".join(map(str, lines[:_MOST_SHOWN])) + ", …" * (len(lines) > _MOST_SHOWN)
        yield Outcome(
            code="left",
            where="pattern",
            file="pattern.toml",
            object=f"line {shown}",
            found=f"{len(lines)} line{'s' * (len(lines) > 1)}",
            allowed="none",
            message=f'{len(lines)} line{"s are" if len(lines) > 1 else " is"} still marked "proposed" or "to write"',
        )


def marked_lines(said: str) -> list[int]:
    """The numbers of the lines of a `pattern.toml` that `start` has marked."""
    return [number for number, line in enumerate(said.splitlines(), start=1) if _MARKED.search(line)]


@CHECKS.register(
    id="version",
    title="The version is the same everywhere, and CHANGES.md tells of it",
    rationale="Buyers and testers name what they hold by its version; one that is told nowhere is not found again.",
    remedy="write a heading with the version in CHANGES.md, and correct texts that name another one",
    severity="block",
    source="common practice",
)
def version(garment: Garment) -> Iterator[Outcome]:
    """The headings of CHANGES.md and its like, the first of which names the newest version, and versions in texts."""
    pattern, changes = garment.pattern, garment.changes
    for key, written in customer_texts(pattern).items():
        for language, text in written.items():
            for other in sorted(set(VERSION.findall(text)) - {pattern.version}):
                message = f"{key} names the version {other}"
                yield _outcome(key, "other-version", language, other, pattern.version, message)
    if changes is None:
        yield _changes("no-changes", "no file", f"a heading with {pattern.version}", "there is no CHANGES.md")
        return
    yield from _told_in(pattern, CHANGES, changes)
    newest = told_versions(changes)
    for language, text in garment.changes_in.items():
        yield from _in_another_language(pattern, language, text, newest)
    lacking = [language for language in pattern.languages[1:] if language not in garment.changes_in]
    if garment.changes_in and lacking:
        message = f"{CHANGES} is told in {', '.join(lacking)} too, which have no file of their own"
        remedy = f"write {', '.join(map(changes_file, lacking))}, or leave it where customers read both"
        yield _changes("fallback", CHANGES, changes_file(lacking[0]), message, severity="info", remedy=remedy)


def _told_in(pattern: Pattern, file: str, text: str) -> Iterator[Outcome]:
    """The version of the pattern first, and each once."""
    headings = told_versions(text)
    told = ", ".join(headings) or "no version"
    if pattern.version not in headings:
        message = f"no heading of {file} names version {pattern.version}"
        yield _changes("no-heading", told, pattern.version, message, file)
    elif headings[0] != pattern.version:
        message = f"the first heading of {file} is {headings[0]}, and pattern.toml says {pattern.version}"
        yield _changes("not-newest", told, f"{pattern.version} first", message, file)
    for twice in sorted({heading for heading in headings if headings.count(heading) > 1}):
        yield _changes("twice", told, "each version once", f"{file} tells of {twice} twice", file)


def _in_another_language(pattern: Pattern, language: str, text: str, plain: list[str]) -> Iterator[Outcome]:
    """As the first language's, of which no version may be lacking: a reader finds what others were told."""
    file, first = changes_file(language), pattern.languages[0]
    if language == first:
        message = f"{CHANGES} and {file} both tell of versions in the first language"
        yield _changes("twice", file, CHANGES, message, file, remedy=f"keep {CHANGES} and take the other out")
        return
    if language not in pattern.languages:
        message = f"{file} is read for nothing: the pattern is sold in {', '.join(pattern.languages)}"
        remedy = "nothing, while that language is only begun; else name it in `languages`, or rename the file"
        allowed = ", ".join(map(changes_file, pattern.languages[1:])) or CHANGES
        yield _changes("parked", file, allowed, message, file, severity="info", remedy=remedy)
        return
    yield from _told_in(pattern, file, text)
    own = told_versions(text)
    for one, other, lacks in ((own, plain, file), (plain, own, CHANGES)):
        older = [version for version in other if version not in one and version != pattern.version]
        if older:
            message = f"{lacks} lacks what is told of {', '.join(older)} in {file if lacks == CHANGES else CHANGES}"
            remedy = "write it there too, or take it out of both"
            yield _changes("lacks", ", ".join(one), ", ".join(other), message, lacks, severity="warn", remedy=remedy)


def _changes(
    code: str,
    found: str,
    allowed: str,
    message: str,
    file: str = CHANGES,
    severity: Severity | None = None,
    remedy: str | None = None,
) -> Outcome:
    return Outcome(
        code=code,
        severity=severity,
        remedy=remedy,
        where="pattern",
        file=file,
        object="headings",
        found=found,
        allowed=allowed,
        message=message,
    )
