"""The one font of everything that is printed: its metrics, its coverage, and how cairo is made to find it alone."""

import functools
import os
import unicodedata
from html import escape
from pathlib import Path

import msgspec

from pipeline.model.findings import PatternFaultError

FAMILY = "Noto Sans"
FONT_FOLDER = Path(__file__).parent / "font"
FONT_FILES = {False: FONT_FOLDER / "NotoSans-Regular.ttf", True: FONT_FOLDER / "NotoSans-Bold.ttf"}
"""The font files, by whether they are bold."""
ADVANCES_FILE = FONT_FOLDER / "advances.json"

CAP_HEIGHT = 0.714
"""Height of a capital, as a share of the text size (OS/2 sCapHeight of both files)."""
ASCENT = 0.76
"""What an ascender (b, d, l) or a digit reaches above the baseline, as a share of the text size."""
ACCENTED = 0.96
"""What an accented capital reaches above the baseline, as a share of the text size."""
DESCENT = 0.24
"""What a letter reaches below the baseline, as a share of the text size."""


class Advances(msgspec.Struct, frozen=True):
    """Advance widths in font units by character; `font/advances.json`, which a test holds against the font files."""

    units_per_em: int
    regular: dict[str, int]
    bold: dict[str, int]


@functools.cache
def advances() -> Advances:
    """The table of advance widths, read once."""
    return msgspec.json.decode(ADVANCES_FILE.read_bytes(), type=Advances)


def printable(text: str) -> str:
    """The text with accents composed (NFC): the form in which it is measured, checked and drawn."""
    return unicodedata.normalize("NFC", text)


def text_width_mm(text: str, size_mm: float, bold: bool = False) -> float:
    """Width of a line of text: the sum of its advances, as it is printed (no kerning). Raises PatternFaultError."""
    return _width_em(text, bold) * size_mm


@functools.lru_cache(maxsize=4096)
def _width_em(text: str, bold: bool) -> float:
    table = advances()
    widths = table.bold if bold else table.regular
    try:
        return sum(widths[character] for character in printable(text)) / table.units_per_em
    except KeyError:
        raise PatternFaultError(glyph_message(text)) from None


def missing_glyphs(text: str) -> set[str]:
    """Characters of the text that the font cannot print, in either weight.

    The table holds no control and no combining characters: what would need shaping, or shows as nothing, is missing.
    """
    table = advances()
    return {character for character in printable(text) if character not in table.regular or character not in table.bold}


@functools.lru_cache(maxsize=4096)
def check_glyphs(text: str) -> str:
    """The text in its printable form. Raises PatternFaultError naming the text and what the font lacks of it."""
    if missing_glyphs(text):
        raise PatternFaultError(glyph_message(text))
    return printable(text)


def glyph_message(text: str) -> str:
    """What to tell of a text that cannot be printed."""
    names = ", ".join(
        f"{character!r} (U+{ord(character):04X} {unicodedata.name(character, 'unnamed')})"
        for character in sorted(missing_glyphs(text))
    )
    return f"the font {FAMILY} has no letter for {names} in the text {text!r}: write the text without it"


def use_own_fonts(work_folder: Path) -> Path:
    """Make cairo see the shipped fonts alone; to be called before a process draws its first text.

    Writes `fonts.conf` and keeps fontconfig's cache in the work folder, both safe among jobs that run side by side.
    Returns the configuration's path.
    """
    folder = work_folder.resolve() / "fonts"
    folder.mkdir(parents=True, exist_ok=True)
    target = folder / "fonts.conf"
    written = folder / f"fonts.conf.{os.getpid()}"
    written.write_text(
        '<?xml version="1.0"?>\n<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">\n<fontconfig>\n'
        f"  <dir>{escape(str(FONT_FOLDER))}</dir>\n  <cachedir>{escape(str(folder / 'cache'))}</cachedir>\n"
        "</fontconfig>\n",
        encoding="utf-8",
    )
    written.replace(target)
    os.environ["FONTCONFIG_FILE"] = str(target)
    os.environ.pop("FONTCONFIG_PATH", None)
    return target
