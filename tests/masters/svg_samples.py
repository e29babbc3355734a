"""A pattern and a piece for tests of the SVG reader, and the good file that the bad ones were made from."""

from pathlib import Path

import msgspec

from pipeline.geometry.curves import path_area_mm2
from pipeline.masters.read_piece import read_piece
from pipeline.model.findings import Finding
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import EdgeSpec, PieceSpec
from pipeline.model.pieces import DrawnPiece

CASES = Path(__file__).parent / "svg_cases"
PATTERN = Pattern(
    name="invented",
    title={"en": "Invented"},
    version="1.0.0",
    maker={"en": "Invented Workroom"},
    contact={"en": "post@example.org"},
    sizes=("36",),
    base="36",
    bands=("36",),
    languages=("en",),
    units="metric",
    wearer="adult",
    sleepwear=False,
    licence={"en": "for tests"},
)
FRONT = PieceSpec(
    name="front",
    title={"en": "Front"},
    number=1,
    sizes=("36",),
    edges={"cf": EdgeSpec(fold=True)},
    lines={"bust": "level"},
    notches={"hip": "double"},
)
PLAIN = PieceSpec(name="plain", title={"en": "Plain"}, number=1, sizes=("36",))
SQUARE = {"a": "M0 0H100", "b": "M100 0V100", "c": "M100 100H0", "d": "M0 100V0"}
FILE = "sizes/36/front.svg"


def read(
    data: bytes | str, piece: PieceSpec = PLAIN, pixels_per_inch: float | None = None
) -> tuple[DrawnPiece | None, tuple[Finding, ...]]:
    pattern = msgspec.structs.replace(PATTERN, pixels_per_inch=pixels_per_inch)
    return read_piece(pattern, piece, "36", FILE, data.encode() if isinstance(data, str) else data)


def good(data: bytes | str, piece: PieceSpec = PLAIN, pixels_per_inch: float | None = None) -> DrawnPiece:
    drawn, findings = read(data, piece, pixels_per_inch)
    assert drawn is not None, findings
    return drawn


def svg(inside: str, root: str = 'width="300mm" height="300mm" viewBox="0 0 300 300"') -> str:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"<svg {names} {root}>{inside}</svg>"


def seam(inside: str, root: str = 'width="300mm" height="300mm" viewBox="0 0 300 300"') -> str:
    return svg(f'<g id="seam">{inside}</g>', root)


def square(marks: str = "", **paths: str) -> str:
    """A square of 100 mm of four edges, some of them drawn otherwise, and what lies in it."""
    edges = "".join(f'<path id="{name}" d="{data}"/>' for name, data in {**SQUARE, **paths}.items())
    return svg(f'<g id="seam">{edges}</g>{marks}')


def codes(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.code for finding in findings]


def outline_of(drawn):
    """The segments of all edges."""
    return tuple(segment for edge in drawn.edges for segment in edge.path)


def area(drawn):
    """In mm², of the seam line."""
    return path_area_mm2(outline_of(drawn))
