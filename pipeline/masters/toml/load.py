"""Reading `pattern.toml`: the pattern, or everything that is wrong with it. Imports little: the workflow calls it.

With it is read what the designer brings of words, from the folder beside the patterns.
"""

import os
import re
from pathlib import Path

import msgspec

from pipeline.masters.source_file import LARGEST_TEXT, plain_name
from pipeline.masters.toml.convert import convert
from pipeline.masters.toml.document import NEWEST_FORMAT
from pipeline.masters.toml.faults import Faults, shown
from pipeline.masters.toml.names import folder_fault
from pipeline.masters.toml.toml_file import PATTERN_FILE, read_toml, refusal
from pipeline.masters.toml.walk import read_document
from pipeline.masters.toml.words_file import read_words
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern

_NAME = re.compile(r"[A-Za-z0-9_-]{1,40}")


def load_pattern(folder: Path) -> tuple[Pattern | None, tuple[Finding, ...]]:
    """The pattern of a folder; None, and all that is wrong, where anything blocks. Never raises for what is in it."""
    name = plain_name(os.path.basename(os.path.abspath(folder)))
    values, refused = read_toml(name, PATTERN_FILE, folder / PATTERN_FILE, LARGEST_TEXT)
    if refused is not None:
        return None, (refused,)
    number = values.get("format")
    if isinstance(number, int) and not isinstance(number, bool) and number > NEWEST_FORMAT:
        message = f"The file is written in format {shown(number)}, which is newer than this pipeline reads."
        newest = str(NEWEST_FORMAT)
        remedy = "Use a newer pipeline."
        return None, (refusal(name, PATTERN_FILE, "newer-format", message, remedy, "format", newest, shown(number)),)
    faults = Faults(name)
    pattern = convert(name, read_document(values, faults), faults)
    findings = faults.findings
    if _NAME.fullmatch(name) is None:
        message = f"The folder is called {shown(name)}, and so is the pattern."
        remedy = "Rename the folder: 1 to 40 ASCII letters, digits, - and _."
        allowed = "ASCII letters, digits, - and _"
        findings = (refusal(name, PATTERN_FILE, "bad-name", message, remedy, None, allowed, shown(name)), *findings)
    elif fault := folder_fault(name):
        message = f"The folder is called {shown(name)}, and so is the pattern: it {fault}."
        findings = (
            refusal(name, PATTERN_FILE, "bad-name", message, "Rename the folder.", None, "another name", name),
            *findings,
        )
    if findings or pattern is None:
        return None, findings
    words, findings = read_words(name, folder, pattern.languages)
    return (None if findings else msgspec.structs.replace(pattern, words=words)), findings
