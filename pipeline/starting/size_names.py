"""What a name of a layer or file says of a size before there is a `pattern.toml`, and what else it says.

A word is a size where it is written as one: 34, XL, 3XL, 6-12, small.
"""

import re
import unicodedata

from pipeline.masters.drawings.layers import ROLES, SIZE_WORDS

_SIZE = re.compile(r"(?i)\d{1,3}(-\d{1,3})?|\d?x{0,5}[sml]|\d{1,2}xl|small|medium|large")
_LETTERS = {"s": -1, "m": 0, "l": 1}
_RANGE = re.compile(r"(?<![^\W_])(\d{1,3})\s?[-–/]\s?(\d{1,3})(?![^\W_])")
_PART = re.compile(r"\d+-\d+|[^\W_]+")
WORDED = ("small", "medium", "large")
ONE_SIZE = "one-size"
_SPELLED = {"ä": "ae", "ö": "oe", "ü": "ue", "ß": "ss", "å": "a", "œ": "oe", "æ": "ae", "ø": "oe"}
"""Letters that are written as others; any accent else falls away."""


def size_in(name: str) -> str | None:
    """The one size that a name says; None for none, and for several."""
    found = [part for part in parts_of(name) if is_size(part)]
    return found[0] if len(found) == 1 else None


def without_size(name: str) -> str:
    """What a name says besides its size and role."""
    parts = [part for part in parts_of(name) if not is_filler(part) and not is_size(part)]
    return " ".join(parts[:-1] if parts and parts[-1].casefold() in ROLES else parts)  # an "inside pocket" is no line


def is_size(part: str) -> bool:
    """Whether a word is written as a size is."""
    return _SIZE.fullmatch(part) is not None


def is_filler(part: str) -> bool:
    """Whether a word stands beside a size and says nothing."""
    return part.casefold() in SIZE_WORDS


def parts_of(name: str) -> list[str]:
    """Its words and numbers, a range of numbers as one."""
    return _PART.findall(_RANGE.sub(r"\1-\2", name))


def size_order(size: str) -> tuple[int, float, str]:
    """Numbers as numbers, letters from small to large."""
    if size.replace("-", "").isdigit():
        return 0, float(size.partition("-")[0]), size
    if size.casefold() in (*WORDED, ONE_SIZE):
        return 1, _LETTERS.get(size[0].casefold(), 0), size
    letter = size[-1].casefold()
    times = int(size[0]) if size[0].isdigit() else size.casefold().count("x")
    return 1, _LETTERS[letter] * (1 + times), size


def as_name(title: str) -> str:
    """A title as a name: ASCII letters and digits with hyphens."""
    spelled = title.casefold()
    for letter, ascii_ in _SPELLED.items():
        spelled = spelled.replace(letter, ascii_)
    spelled = "".join(letter for letter in unicodedata.normalize("NFKD", spelled) if not unicodedata.combining(letter))
    name = re.sub(r"[^a-z0-9]+", "-", spelled).strip("-")[:40] or "piece"
    return f"{name}-piece" if name == "body" else name
