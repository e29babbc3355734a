"""The one way to a TOML file that a designer wrote: bounded, and every fault of it told."""

import re
import tomllib
from pathlib import Path
from typing import Any

from pipeline.masters.source_file import FileFault, read_source
from pipeline.masters.stages import OF_PATTERN_FILE
from pipeline.model.findings import Finding

PATTERN_FILE = "pattern.toml"
_PLACE = re.compile(r"(?P<what>.*?)\s*\(at (?P<place>.*)\)", re.DOTALL)
_MOST_PARTS = 20
_KEY = r"(?:[A-Za-z0-9_-]++|\"[^\"\n]*+\"|'[^'\n]*+')"
_LONG_KEY = re.compile(rf"(?<![A-Za-z0-9_-])(?:{_KEY}[ \t]*+\.[ \t]*+){{{_MOST_PARTS}}}")
"""More parts than any key of the format: reading a key takes time by the square of its parts."""


def read_toml(pattern: str, name: str, file: Path, limit: int) -> tuple[dict[str, Any], Finding | None]:
    """The tables of a file of at most `limit` bytes that findings call `name`, or why there are none. Never raises."""
    data = read_source(file, limit)
    if isinstance(data, FileFault):
        message = f"{name} {data.message}"
        return {}, refusal(pattern, name, data.code, message, data.remedy, None, data.allowed, data.found)
    try:
        text = data.decode("utf-8-sig")
        if match := _LONG_KEY.search(text):
            place, found = f"line {text.count(chr(10), 0, match.start()) + 1}", f"{match[0][:20]}…"
            message = f"The key on {place} has {_MOST_PARTS} parts or more."
            return {}, refusal(pattern, name, "long-key", message, "Take it out.", place, "a key of the format", found)
        return tomllib.loads(text), None
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        found = f"byte 0x{data[error.start]:02x}"
        message = f"Line {line} is not UTF-8: {found}."
        return {}, refusal(
            pattern, name, "not-utf8", message, "Save the file as UTF-8.", f"line {line}", "UTF-8", found
        )
    except tomllib.TOMLDecodeError as error:
        match = _PLACE.fullmatch(str(error))
        what, place = (match["what"], match["place"]) if match else (str(error), "end of document")
        message = f"The file is not TOML, {place}: {what[:200]}."
        remedy = "Mend it there: texts stand in quotes, and a key stands once in its table."
        return {}, refusal(pattern, name, "not-toml", message, remedy, place, "TOML 1.0", what[:200])
    except (ValueError, RecursionError) as error:
        deep = isinstance(error, RecursionError)
        found = "lists in lists without end" if deep else "a number that is too long to read"
        return {}, refusal(
            pattern, name, "not-toml", f"The file holds {found}.", "Take it out.", None, "TOML 1.0", found
        )


def refusal(
    pattern: str, name: str, code: str, message: str, remedy: str, place: str | None, allowed: str, found: str
) -> Finding:
    """A finding that blocks about a file, or about an object in it."""
    return Finding(
        check=OF_PATTERN_FILE.id,
        code=code,
        severity="block",
        pattern=pattern,
        file=name,
        object=place,
        found=found,
        allowed=allowed,
        message=message,
        remedy=remedy,
    )
