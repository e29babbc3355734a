"""Pieces made up for the tests of lays."""

from collections.abc import Sequence
from typing import Any

from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.lays.items import LayItem, LayRequest
from pipeline.model.pattern import Material, Pattern, Strip, Sum, Term
from pipeline.model.piece_specs import Cut, PieceSpec
from pipeline.model.pieces import CutPiece, DrawnPiece, Edge, GrainLine

SIZES = ("38", "40")


def rectangle(name: str, length_mm: float, width_mm: float, count: int, **more: Any) -> LayItem:
    """`length_mm` along the grain."""
    half = width_mm / 2
    outline = (Point(0, -half), Point(length_mm, -half), Point(length_mm, half), Point(0, half))
    more = {"grain": "warp", "symmetric": True, **more}
    return LayItem(name=name, outline=outline, count=count, **more)


def triangle(name: str, length_mm: float, width_mm: float, count: int, mirrored: int) -> LayItem:
    """Right-angled: along the grain at y = 0, so that its mirror image is another piece."""
    outline = (Point(0, 0), Point(length_mm, 0), Point(0, width_mm))
    return LayItem(name=name, outline=outline, grain="warp", count=count, mirrored=mirrored)


def request(items: Sequence[LayItem], usable_mm: float, **more: Any) -> LayRequest:
    asked = {
        "size": "40",
        "material": "shell",
        "width_mm": usable_mm,
        "way": "open",
        "one_way": False,
        "free_turn": False,
        "gap_mm": 0.0,
        **more,
    }
    return LayRequest(usable_mm=usable_mm, items=tuple(items), **asked)


def cut_piece(
    name: str,
    outline: Sequence[tuple[float, float]],
    grain: GrainLine | None = None,
    fold: tuple[Point, Point] | None = None,
) -> CutPiece:
    """`outline` is the whole piece as cut; its grain points up the page unless it is said."""
    corners = tuple(Point(*place) for place in outline)
    edges = tuple(
        Edge(f"side-{n}", (Line(a, b),))
        for n, (a, b) in enumerate(zip(corners, corners[1:] + corners[:1], strict=True))
    )
    drawn = DrawnPiece(
        piece=name,
        size="40",
        file=f"sizes/40/{name}.svg",
        edges=edges,
        grain=grain or GrainLine(Point(10, 50), Point(10, 10)),
        anchor=Point(0, 0),
    )
    return CutPiece(
        drawn=drawn,
        edges=(),
        seam_drawn=corners,
        cut_drawn=corners,
        seam_outline=corners,
        cut_outline=corners,
        seam_area_mm2=0.0,
        cut_area_mm2=0.0,
        fold=fold,
    )


def cut(count: int, mirrored: int = 0, material: str = "shell") -> Cut:
    return Cut(material, dict.fromkeys(SIZES, count), dict.fromkeys(SIZES, mirrored))


def piece_spec(name: str, *cuts: Cut, **more: Any) -> PieceSpec:
    return PieceSpec(name=name, title={"en": name.title()}, number=1, sizes=SIZES, cut=cuts, **more)


def strip(name: str, length_mm: float, **more: Any) -> Strip:
    told = {
        "title": {"en": name.title()},
        "cut": (cut(1),),
        "width_mm": 10.0,
        "make": "edges-to-centre",
        **more,
    }
    return Strip(name=name, length=Sum(f"{length_mm:g} mm", (Term(1.0, length_mm),)), **told)


def pattern(
    pieces: Sequence[PieceSpec] = (), strips: Sequence[Strip] = (), shell: Material | None = None, **more: Any
) -> Pattern:
    told = {
        "materials": {"shell": shell or Material(title={"en": "main cloth"}, widths_mm=(1400.0, 1500.0))},
        "sizes": SIZES,
        "units": "metric",
        "languages": ("en",),
        **more,
    }
    return Pattern(
        name="made-up",
        title={"en": "Made up"},
        version="1.0.0",
        maker={"en": "Invented Workroom"},
        contact={"en": "-"},
        base="38",
        bands=(),
        wearer="adult",
        sleepwear=False,
        licence={"en": "-"},
        pieces={piece.name: piece for piece in pieces},
        strips={each.name: each for each in strips},
        **told,
    )
