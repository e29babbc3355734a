"""Reading `pattern.toml`: the pattern, or everything that is wrong with it. Imports little: the workflow calls it."""

import os
import re
import tomllib
from pathlib import Path
from typing import Any

from pipeline.masters.convert import convert
from pipeline.masters.document import NEWEST_FORMAT
from pipeline.masters.faults import Faults, shown
from pipeline.masters.names import folder_fault
from pipeline.masters.source_file import LARGEST_TEXT, FileFault, plain_name, read_source
from pipeline.masters.stages import OF_PATTERN_FILE
from pipeline.masters.walk import read_document
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern

PATTERN_FILE = "pattern.toml"
_PLACE = re.compile(r"(?P<what>.*?)\s*\(at (?P<place>.*)\)", re.DOTALL)
_MOST_PARTS = 20
_KEY = r"(?:[A-Za-z0-9_-]++|\"[^\"\n]*+\"|'[^'\n]*+')"
_LONG_KEY = re.compile(rf"(?<![A-Za-z0-9_-])(?:{_KEY}[ \t]*+\.[ \t]*+){{{_MOST_PARTS}}}")
"""More parts than any key of the format: reading a key takes time by the square of its parts."""
_NAME = re.compile(r"[A-Za-z0-9_-]{1,40}")


def load_pattern(folder: Path) -> tuple[Pattern | None, tuple[Finding, ...]]:
    """The pattern of a folder; None, and all that is wrong, where anything blocks. Never raises for what is in it."""
    name = plain_name(os.path.basename(os.path.abspath(folder)))
    values, refused = _read_toml(name, folder / PATTERN_FILE)
    if refused is not None:
        return None, (refused,)
    number = values.get("format")
    if isinstance(number, int) and not isinstance(number, bool) and number > NEWEST_FORMAT:
        message = f"The file is written in format {shown(number)}, which is newer than this pipeline reads."
        newest = str(NEWEST_FORMAT)
        remedy = "Use a newer pipeline."
        return None, (_refusal(name, "newer-format", message, remedy, "format", newest, shown(number)),)
    faults = Faults(name)
    pattern = convert(name, read_document(values, faults), faults)
    findings = faults.findings
    if _NAME.fullmatch(name) is None:
        message = f"The folder is called {shown(name)}, and so is the pattern."
        remedy = "Rename the folder: 1 to 40 ASCII letters, digits, - and _."
        allowed = "ASCII letters, digits, - and _"
        findings = (_refusal(name, "bad-name", message, remedy, None, allowed, shown(name)), *findings)
    elif fault := folder_fault(name):
        message = f"The folder is called {shown(name)}, and so is the pattern: it {fault}."
        findings = (_refusal(name, "bad-name", message, "Rename the folder.", None, "another name", name), *findings)
    return (None if findings else pattern), findings


def _read_toml(name: str, file: Path) -> tuple[dict[str, Any], Finding | None]:
    data = read_source(file, LARGEST_TEXT)
    if isinstance(data, FileFault):
        message = f"{PATTERN_FILE} {data.message}"
        return {}, _refusal(name, data.code, message, data.remedy, None, data.allowed, data.found)
    try:
        text = data.decode("utf-8-sig")
        if match := _LONG_KEY.search(text):
            place, found = f"line {text.count(chr(10), 0, match.start()) + 1}", f"{match[0][:20]}…"
            message = f"The key on {place} has {_MOST_PARTS} parts or more."
            return {}, _refusal(name, "long-key", message, "Take it out.", place, "a key of the format", found)
        return tomllib.loads(text), None
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"byte 0x{data[error.start]:02x}"
        message = f"Line {line} is not UTF-8: {found}."
        return {}, _refusal(name, "not-utf8", message, "Save the file as UTF-8.", f"line {line}", "UTF-8", found)
    except tomllib.TOMLDecodeError as error:
        match = _PLACE.fullmatch(str(error))
        what, place = (match["what"], match["place"]) if match else (str(error), "end of document")
        message = f"The file is not TOML, {place}: {what[:200]}."
        remedy = "Mend it there: texts stand in quotes, and a key stands once in its table."
        return {}, _refusal(name, "not-toml", message, remedy, place, "TOML 1.0", what[:200])
    except (ValueError, RecursionError) as error:
        deep = isinstance(error, RecursionError)
        found = "lists in lists without end" if deep else "a number that is too long to read"
        return {}, _refusal(name, "not-toml", f"The file holds {found}.", "Take it out.", None, "TOML 1.0", found)


def _refusal(name: str, code: str, message: str, remedy: str, place: str | None, allowed: str, found: str) -> Finding:
    return Finding(
        check=OF_PATTERN_FILE.id,
        code=code,
        severity="block",
        pattern=name,
        file=PATTERN_FILE,
        object=place,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )
