"""DXF R12 as text: entities as rows of group codes and values.

There are no dates and no handles: the same values give the same bytes.
"""

from collections.abc import Iterable, Sequence

from pipeline.geometry.points import Point

TEXT_MM = 5.0
_MILLIMETRES = 4


def number(value: float) -> str:
    """To 1e-4 mm, without the zeros that say nothing."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def line(layer: str, start: Point, end: Point) -> str:
    """A straight line."""
    return f"0\nLINE\n8\n{layer}\n{_at(start)}30\n0\n11\n{number(end.x)}\n21\n{number(end.y)}\n31\n0\n"


def point(layer: str, place: Point, thickness: float | None = None, angle_deg: float | None = None) -> str:
    """A point; `thickness` and `angle_deg` are a notch's depth and where it looks, from the right counter-clockwise."""
    rest = "" if thickness is None else f"39\n{number(thickness)}\n"
    rest += "" if angle_deg is None else f"50\n{number(angle_deg)}\n"
    return f"0\nPOINT\n8\n{layer}\n{_at(place)}30\n0\n{rest}"


def polyline(layer: str, places: Iterable[Point], closed: bool) -> str:
    """A chain of chords."""
    vertices = "".join(f"0\nVERTEX\n8\n{layer}\n{_at(place)}30\n0\n" for place in places)
    return f"0\nPOLYLINE\n8\n{layer}\n66\n1\n10\n0\n20\n0\n30\n0\n70\n{int(closed)}\n{vertices}0\nSEQEND\n8\n{layer}\n"


def text(layer: str, said: str, place: Point, height: float = TEXT_MM) -> str:
    """A line of text, its lower left end at `place`."""
    return f"0\nTEXT\n8\n{layer}\n{_at(place)}30\n0\n40\n{number(height)}\n1\n{said}\n"


def insert(layer: str, block: str, place: Point) -> str:
    """A block, its base point at `place`."""
    return f"0\nINSERT\n8\n{layer}\n2\n{block}\n{_at(place)}30\n0\n"


def block(layer: str, name: str, base: Point, entities: Iterable[str]) -> str:
    """A block of that name."""
    head = f"0\nBLOCK\n8\n{layer}\n2\n{name}\n70\n0\n{_at(base)}30\n0\n3\n{name}\n"
    return f"{head}{''.join(entities)}0\nENDBLK\n8\n{layer}\n"


def document(layers: Sequence[str], blocks: Iterable[str], entities: Iterable[str]) -> str:
    """A whole file, its lengths in mm."""
    header = f"9\n$ACADVER\n1\nAC1009\n9\n$INSUNITS\n70\n{_MILLIMETRES}\n9\n$MEASUREMENT\n70\n1\n9\n$LUNITS\n70\n2\n"
    line_type = "0\nLTYPE\n2\nCONTINUOUS\n70\n0\n3\nSolid line\n72\n65\n73\n0\n40\n0\n"
    line_types = f"0\nTABLE\n2\nLTYPE\n70\n1\n{line_type}0\nENDTAB\n"
    rows = "".join(f"0\nLAYER\n2\n{layer}\n70\n0\n62\n7\n6\nCONTINUOUS\n" for layer in layers)
    tables = f"{line_types}0\nTABLE\n2\nLAYER\n70\n{len(layers)}\n{rows}0\nENDTAB\n"
    parts = {"HEADER": header, "TABLES": tables, "BLOCKS": "".join(blocks), "ENTITIES": "".join(entities)}
    return "".join(f"0\nSECTION\n2\n{name}\n{rows}0\nENDSEC\n" for name, rows in parts.items()) + "0\nEOF\n"


def _at(place: Point) -> str:
    return f"10\n{number(place.x)}\n20\n{number(place.y)}\n"
