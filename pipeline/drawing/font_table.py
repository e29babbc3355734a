"""Makes `font/advances.json` from the font files: `python -m pipeline.drawing.font_table` after a font is exchanged."""

import unicodedata

import msgspec

from pipeline.drawing.fonts import ADVANCES_FILE, FONT_FILES, Advances

_UNPRINTABLE = {"Cc", "Cf", "Cn", "Co", "Cs", "Me", "Mn", "Zl", "Zp"}


def read_advances() -> Advances:
    """Advance widths of every character that prints by itself, read from both font files."""
    from fontTools.ttLib import TTFont  # type: ignore[import-untyped]

    units, widths = 0, {}
    for bold, file in FONT_FILES.items():
        with TTFont(file, lazy=True) as font:
            units, metrics = font["head"].unitsPerEm, font["hmtx"]
            widths[bold] = {
                chr(code): metrics[glyph][0]
                for code, glyph in sorted(font.getBestCmap().items())
                if unicodedata.category(chr(code)) not in _UNPRINTABLE
            }
    return Advances(units, widths[False], widths[True])


def encoded(table: Advances) -> bytes:
    """The file's bytes."""
    return msgspec.json.encode(table) + b"\n"


if __name__ == "__main__":
    ADVANCES_FILE.write_bytes(encoded(read_advances()))
