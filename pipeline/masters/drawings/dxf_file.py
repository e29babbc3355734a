"""Bytes of a DXF file to a document, with limits before anything is made of them; and how long its units are."""

import io
import re
from typing import Any

from pipeline.masters.source_file import LARGEST_DRAWING
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.model.d6673 import ENGLISH, METRIC, UNITS
from pipeline.model.lengths import MM_PER_INCH

MOST_LINES = 2_500_000
"""Three times a jacket of twenty pieces in eleven sizes. Each two lines are a value, and cost 200 bytes of memory."""
_BINARY = b"AutoCAD Binary DXF"
_OF_HEADER = {1: MM_PER_INCH, 2: 12 * MM_PER_INCH, 4: 1.0, 5: 10.0, 6: 1000.0}
"""$INSUNITS: inch, foot, mm, cm, m (from ezdxf); 0 says none."""
_METRIC = (4, 5, 6)
_NESTED = re.compile(rb"\n\s*0\s*\r?\n\s*BLOCK\s*\r?\n")
MOST_BLOCKS = 5_000


def read_document(data: bytes) -> Any:
    """The document as ezdxf reads it. Raises SvgFault for what is no DXF, and for what is too much."""
    remedy = "Write the file again as DXF in text, of version R12 or 2000, with the blocks of one pattern in it."
    if data.startswith(_BINARY):
        raise SvgFault("dxf-binary", "It is a binary DXF, which is not read.", remedy, "binary", "text")
    lines, blocks = data.count(b"\n"), len(_NESTED.findall(data))
    if len(data) > LARGEST_DRAWING or lines > MOST_LINES:
        raise SvgFault("dxf-too-large", "It holds too much to be read.", remedy, f"{lines:,} lines", f"{MOST_LINES:,}")
    if blocks > MOST_BLOCKS:
        raise SvgFault("dxf-too-large", "It has too many blocks.", remedy, f"{blocks:,} blocks", f"{MOST_BLOCKS:,}")
    if b"\x00" in data or not data.strip().upper().endswith(b"EOF"):
        raise SvgFault("dxf-incomplete", "It does not end as a DXF in text does, with EOF.", remedy, "no EOF", "EOF")
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError:
        text = data.decode("cp1252", "replace")
    import ezdxf  # 0.3 s, which only who reads DXF needs

    try:
        return ezdxf.read(io.StringIO(text.replace("\r\n", "\n")))
    except Exception as fault:  # foreign bytes in a foreign parser: whatever it stumbles on is the file's fault
        said = excerpt(str(fault) or type(fault).__name__)
        raise SvgFault("not-dxf", f"It cannot be read as DXF: {said}.", remedy, said, "DXF") from None


def unit_mm(document: Any, texts: list[str]) -> float:
    """How long a unit is, by the header and the text UNITS. Raises SvgFault where neither says it, or they differ."""
    code = int(document.header.get("$INSUNITS", 0) or 0)
    said = {value.strip().upper() for text in texts for key, _, value in [text.partition(":")] if key.upper() == UNITS}
    remedy = f'Write the units into the file: "{UNITS}: {METRIC}" for mm or "{UNITS}: {ENGLISH}" for inches.'
    found = f"$INSUNITS {code}, {', '.join(sorted(said)) or 'no text'}"
    if (code and code not in _OF_HEADER) or said - {METRIC, ENGLISH} or len(said) > 1:
        raise SvgFault("dxf-units", "Its units are none that patterns are drawn in.", remedy, found, "mm or inches")
    word = next(iter(said), None)
    if not code and word is None:
        raise SvgFault("dxf-units", "It does not say what its units are.", remedy, found, "mm or inches")
    if code and word is not None and (code in _METRIC) != (word == METRIC):
        raise SvgFault("dxf-units", "Its header and its text say different units.", remedy, found, "one of them")
    return _OF_HEADER[code] if code else 1.0 if word == METRIC else MM_PER_INCH
