"""What ASTM D6673 calls things: layers, texts, units. Its own text was not at hand: here is said what is from where.

- From the documentation of ezdxf on its exporter for this standard: the file is DXF R12, its texts are 7-bit ASCII, a
  block's name may be picked apart by readers.
- Common practice, from memory: the numbers of the layers; a block for each piece and size; that turn points and curve
  points are points upon the vertices of a line; that a notch is a point on the boundary whose angle looks inward and
  whose thickness is its depth; that a piece with a mirror line is half of what is cut; the words before the colon in
  texts, of a style in the drawing and of a piece in its block, both on layer 1; and "UNITS: METRIC", which are mm.
- Ours: dates, times and authors of the file are left out, so that the same pattern gives the same bytes; several
  materials give a pair of MATERIAL and QUANTITY each; a line that is cut within a piece lies on the layer of cut-outs;
  names of marks are texts on the layer of texts that begin at their mark, as "NOTCH: waist" ("NOTCH: cap, 2" for one
  of two strokes), "POINT: button-1" and "LINE: bust-line". Others see a text there, as that layer is meant (memory).
"""

import unicodedata

BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INSIDE, CUTOUT, DRILL, SEW, TEXT = (
    *("1", "2", "3", "4", "6", "7", "8", "11", "13", "14", "15"),
)
LAYERS = (BOUNDARY, TURN, CURVE, NOTCH, MIRROR, GRAIN, INSIDE, CUTOUT, DRILL, SEW, TEXT)
NOTCHES = (NOTCH, "80", "81", "82", "83")
"""V, T, castle, check and U: whatever its shape, a notch stands where its point does."""
PIECE_NAME, SIZE, QUANTITY, MATERIAL, ANNOTATION = "PIECE NAME", "SIZE", "QUANTITY", "MATERIAL", "ANNOTATION"
MARK_NOTCH, MARK_POINT, MARK_LINE = MARKS = ("NOTCH", "POINT", "LINE")
UNITS, METRIC, ENGLISH = "UNITS", "METRIC", "ENGLISH"
CHORD_MM = 0.05
"""How far chords may lie from the lines of `data/pieces.json`."""
LONGEST_NAME = 31
"""Letters in a name of DXF R12 (ezdxf)."""
_SPELLED: dict[str, int | str | None] = {
    "ß": "ss",
    "æ": "ae",
    "Æ": "AE",
    "ø": "o",
    "Ø": "O",
    "œ": "oe",
    "Œ": "OE",
    "ł": "l",
    "Ł": "L",
}
_SPELLED |= dict(zip("–—−×’‘“”", "---x''\"\"", strict=True))


def ascii_text(text: str) -> str:
    """The text in 7-bit ASCII and one line: letters without their accents; what has no such letter is left out."""
    plain = unicodedata.normalize("NFKD", text.translate(str.maketrans(_SPELLED))).encode("ascii", "ignore").decode()
    return " ".join("".join(c if c.isprintable() else " " for c in plain).split())
