"""A small skirt in five sizes that has no fault, and ways to put one in.

Front and back lie on the fold and grow by 10 mm a size; the back has a waist dart of 20 mm. The waistband is half a
band on the fold. The pocket has a sloping mouth, so it fits one side only; its lining is cut mirrored.
"""

from collections.abc import Callable, Mapping
from functools import cache
from itertools import pairwise
from types import MappingProxyType

import msgspec

from pipeline.checks.all import check_garment
from pipeline.checks.garment import Garment
from pipeline.cutting.cut import cut_pieces
from pipeline.geometry.curves import Cubic, Line, Path, point_along
from pipeline.geometry.points import Point
from pipeline.model.findings import Finding
from pipeline.model.pattern import Material, Pattern, Seam, SideEdge
from pipeline.model.piece_specs import Cut, EdgeSpec, PieceSpec, Take
from pipeline.model.pieces import CutPiece, DrawnPiece, Edge, GrainLine, InsideLine, Notch

SIZES = ("S", "M", "L", "XL", "XXL")
Change = Callable[[DrawnPiece], DrawnPiece]
Faults = Mapping[tuple[str, str], Change]
NO_FAULTS: Faults = MappingProxyType({})
replace = msgspec.structs.replace


def lines(*places: tuple[float, float]) -> Path:
    return tuple(Line(Point(*a), Point(*b)) for a, b in pairwise(places))


def notch(edges: dict[str, Path], edge: str, name: str | None, at_mm: float) -> Notch:
    return Notch(name, edge, at_mm, point_along(edges[edge], at_mm)[0])


def drawn(piece: str, size: str, edges: dict[str, Path], grain: tuple[float, float, float], **rest) -> DrawnPiece:
    x, low, high = grain
    return DrawnPiece(
        piece=piece,
        size=size,
        file=f"sizes/{size}/{piece}.svg",
        edges=tuple(Edge(name, path) for name, path in edges.items()),
        grain=GrainLine(Point(x, low), Point(x, high)),
        anchor=Point(0, 0),
        **rest,
    )


def panel(piece: str, size: str, width: float, fold: str, dart: bool) -> DrawnPiece:
    """Half a skirt panel: the side leaves waist and hem at right angles and flares by 30 mm."""
    curved = Cubic(Point(width, 0), Point(width, 170), Point(width + 30, 270), Point(width + 30, 440))
    edges: dict[str, Path] = {
        "waist": lines((0, 0), (width, 0)),
        "side": (curved, Line(curved.end, Point(width + 30, 500))),
        "hem": lines((width + 30, 500), (0, 500)),
        fold: lines((0, 500), (0, 0)),
    }
    notches = [notch(edges, "side", "hip", 180), notch(edges, "side", "knee", 400)]
    inside = [InsideLine("hip-line", lines((0, 180), (width, 180)), False)]
    if dart:
        notches += [notch(edges, "waist", "dart-a", 80), notch(edges, "waist", "dart-b", 100)]
        inside.append(InsideLine("dart", lines((80, 0), (90, 110), (100, 0)), False))
    return drawn(piece, size, edges, (50, 400, 200), notches=tuple(notches), inside=tuple(inside))


def band(size: str, length: float) -> DrawnPiece:
    edges = {
        "upper": lines((0, 0), (length, 0)),
        "end": lines((length, 0), (length, 40)),
        "lower": lines((length, 40), (0, 40)),
        "cf": lines((0, 40), (0, 0)),
    }
    return drawn("band", size, edges, (20, 35, 5), notches=(notch(edges, "lower", "side-seam", length / 2),))


def bag(piece: str, size: str) -> DrawnPiece:
    edges = {
        "top": lines((0, 0), (140, 14)),
        "right": lines((140, 14), (130, 180)),
        "foot": lines((130, 180), (14, 180)),
        "left": lines((14, 180), (0, 0)),
    }
    made = drawn(piece, size, edges, (70, 150, 60))
    return replace(made, file=f"sizes/all/{piece}.svg")


def master(piece: str, size: str) -> DrawnPiece:
    width = 160 + 10 * SIZES.index(size)
    if piece == "front":
        return panel(piece, size, width, "cf", False)
    if piece == "back":
        return panel(piece, size, width + 20, "cb", True)
    return band(size, 2 * width) if piece == "band" else bag(piece, size)


def side_edges(*texts: str) -> tuple[SideEdge, ...]:
    return tuple(SideEdge(*text.lstrip("!").split("."), text.startswith("!")) for text in texts)


def seam(name: str, a: list[str], b: list[str], **rest) -> Seam:
    return Seam(name=name, a=side_edges(*a), b=side_edges(*b), **rest)


def spec(name: str, number: int, count: int, mirrored: int = 0, **rest) -> PieceSpec:
    sizes = dict.fromkeys(SIZES, count)
    cut = (Cut("shell", sizes, dict.fromkeys(SIZES, mirrored)),)
    title = {"en": name}
    return PieceSpec(name=name, title=title, number=number, sizes=SIZES, cut=cut, allowance_mm=10.0, **rest)


HEM = EdgeSpec(allowance_mm=40.0, corner="turned", hem=True)
FOLD = EdgeSpec(fold=True)
DART = EdgeSpec(takes=(Take("dart-a", "dart-b", "dart"),))
PIECES = (
    spec("front", 1, 1, edges={"cf": FOLD, "hem": HEM}),
    spec("back", 2, 1, edges={"cb": FOLD, "hem": HEM, "waist": DART}),
    spec("band", 3, 2, 1, edges={"cf": FOLD}),
    spec("pocket", 4, 1),
    spec("pocket-lining", 5, 1, 1),
)
SEAMS = (
    seam("side", ["front.side"], ["back.side"]),
    seam("waist", ["front.waist", "!back.waist"], ["!band.lower"]),
    seam(
        "bag",
        ["pocket.right", "pocket.foot", "pocket.left"],
        ["pocket-lining.right", "pocket-lining.foot", "pocket-lining.left"],
        angles=False,
    ),
)
PATTERN = Pattern(
    name="test-skirt",
    title={"en": "Skirt"},
    version="1.0.0",
    maker={"en": "Invented"},
    contact={"en": "help@example.org"},
    sizes=SIZES,
    base="M",
    bands=(),
    languages=("en",),
    units="metric",
    wearer="adult",
    sleepwear=False,
    licence={"en": "free"},
    materials={"shell": Material(title={"en": "cloth"}, widths_mm=(1400.0,))},
    pieces={piece.name: piece for piece in PIECES},
    seams={one.name: one for one in SEAMS},
)


def pattern_with(edges: Mapping[tuple[str, str], EdgeSpec] = MappingProxyType({}), **rest) -> Pattern:
    """The pattern with edges of some pieces, or other parts, said otherwise."""
    pieces = dict(PATTERN.pieces)
    for (piece, edge), said in edges.items():
        pieces[piece] = replace(pieces[piece], edges={**pieces[piece].edges, edge: said})
    return replace(PATTERN, **{"pieces": pieces, **rest})


def garment(faults: Faults = NO_FAULTS, pattern: Pattern = PATTERN) -> Garment:
    """All sizes cut, each drawing changed by the fault named for its piece and size."""
    cuts: dict[str, dict[str, CutPiece]] = {}
    for size in pattern.sizes:
        for piece in pattern.pieces:
            fault = faults.get((piece, size))
            if fault is None and pattern.pieces is PATTERN.pieces:
                cuts.setdefault(piece, {})[size] = _faultless(piece, size)
            else:
                cuts.setdefault(piece, {})[size] = cut(pattern, (fault or _same)(master(piece, size)))
    return Garment(pattern, cuts)


def cut(pattern: Pattern, piece: DrawnPiece) -> CutPiece:
    (made,), findings = cut_pieces(pattern, piece.size, (piece,))
    assert [f.message for f in findings if f.severity == "block"] == []
    return made


@cache
def _faultless(piece: str, size: str) -> CutPiece:
    return cut(PATTERN, master(piece, size))


def told(faults: Faults = NO_FAULTS, pattern: Pattern = PATTERN) -> list[Finding]:
    """What the checks say of the geometry; the skirt has no texts and no body to be held against."""
    return geometry(garment(faults, pattern))


def geometry(subject: Garment) -> list[Finding]:
    found = check_garment(subject)
    assert [f for f in found if f.code == "check-failed"] == []
    return [f for f in found if f.check in GEOMETRY and f.severity in ("block", "warn")]


GEOMETRY = frozenset(
    (
        *("outline-spikes", "outline-crumbs", "size-set", "size-copies", "seam-lengths", "seam-notches", "seam-angles"),
        *(
            "seam-direction",
            "piece-hands",
            "joined-lines",
            "side-corners",
            "dart-legs",
            "fold-square",
            "grain-inside",
        ),
        *("grain-fold", "grain-sizes", "grain-upright", "allowance-distance", "allowance-pairs", "allowance-ends"),
        *("hem-turned", "grading-lengths", "grading-steps", "grading-paths", "allowance-bare", "curve-kinks"),
        *("body-steps", "nearly-symmetric"),
    )
)


def one(check: str, faults: Faults = NO_FAULTS, pattern: Pattern = PATTERN) -> Finding:
    """The one finding of a check."""
    found = [f for f in told(faults, pattern) if f.check == check]
    assert len(found) == 1, found
    return found[0]


def codes(findings: list[Finding], severity: str = "block") -> set[tuple[str, str]]:
    return {(f.check, f.code) for f in findings if f.severity == severity}


# Faults


def _same(piece: DrawnPiece) -> DrawnPiece:
    return piece
