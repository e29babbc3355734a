"""Reading `words/<language>.toml` beside the patterns: what a designer brings of the words that pages say by rule.

Only what the file is, is told here; whether its words are all there and can be printed is told before they are.
"""

import os
from collections.abc import Iterable
from pathlib import Path

from pipeline.masters.toml.faults import key_text, shown
from pipeline.masters.toml.names import WORDS_FOLDER
from pipeline.masters.toml.toml_file import read_toml, refusal
from pipeline.model.findings import Finding

LARGEST_WORDS = 200_000
"""Ten times a catalogue of ours."""


def words_file(language: str) -> str:
    """The place of a language's words in the folder of all patterns."""
    return f"{WORDS_FOLDER}/{language}.toml"


def read_words(
    pattern: str, folder: Path, languages: Iterable[str]
) -> tuple[dict[str, dict[str, str]], tuple[Finding, ...]]:
    """What there is for these languages beside a pattern's folder, by language and dotted key; and what is wrong."""
    words: dict[str, dict[str, str]] = {}
    findings: list[Finding] = []
    for language in languages:
        name = words_file(language)
        file = folder.parent / name
        if not os.path.lexists(file):
            continue
        tables, refused = read_toml(pattern, name, file, LARGEST_WORDS)
        if refused is not None:
            findings.append(refused)
            continue
        entries = list(_entries(tables))
        words[language] = {".".join(path): value for path, value in entries if isinstance(value, str)}
        if others := [(path, value) for path, value in entries if not isinstance(value, str)]:
            findings.append(_not_texts(pattern, name, others))
    return words, tuple(findings)


def _entries(tables: dict[str, object]) -> Iterable[tuple[tuple[str, ...], object]]:
    for table, entries in tables.items():
        if isinstance(entries, dict):
            yield from (((table, key), value) for key, value in entries.items())
        else:
            yield (table,), entries


def _not_texts(pattern: str, name: str, others: list[tuple[tuple[str, ...], object]]) -> Finding:
    """Of all that are no texts in a table the first, and how many more there are."""
    path, value = others[0]
    key, found = key_text(path), shown(value)
    more = f", and so are {len(others) - 1:,} more" if len(others) > 1 else ""
    message = f"{key} is {found}, not a text in a table{more}."
    remedy = "Write it as the catalogues of the pipeline are written: texts in quotes, each in its table."
    return refusal(pattern, name, "not-a-text", message, remedy, key, 'a text, as [size] name = "Size"', found)
