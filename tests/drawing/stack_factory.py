"""Stacks of sizes built by hand: straight and curved edges, one allowance, marks where a test wants them."""

import math
from collections.abc import Callable, Mapping, Sequence

import shapely
import shapely.affinity

from pipeline.geometry.curves import Cubic, Line, Path, Segment, flattened
from pipeline.geometry.points import Point
from pipeline.model.pattern import Material, Nap, Pattern
from pipeline.model.piece_specs import Cut, EdgeSpec, LineKind, PieceSpec
from pipeline.model.pieces import CutEdge, CutPiece, DrawnPiece, Edge, GrainLine, InsideLine, MarkPoint, Slit

SIZES = ("34", "36", "38", "40", "42", "44", "46", "48", "50", "52", "54")
P = Point


def pattern_of(
    *pieces: str,
    sizes: Sequence[str] = SIZES,
    languages: Sequence[str] = ("en", "de"),
    on_fold: bool = False,
    mirrored: int = 1,
    nap: Nap = "none",
    title: str = "Work jacket",
) -> Pattern:
    """A pattern of the invented workroom whose pieces are all cut twice from the main cloth."""
    specs = {
        name: PieceSpec(
            name=name,
            title={"en": name.capitalize(), "de": "Vorderteil"},
            number=number,
            sizes=tuple(sizes),
            cut=(Cut("shell", dict.fromkeys(sizes, 2), dict.fromkeys(sizes, 0 if on_fold else mirrored)),),
            edges={"hem": EdgeSpec(hem=True)},
        )
        for number, name in enumerate(pieces, start=1)
    }
    return Pattern(
        name="demo",
        title={"en": title, "de": "Arbeitsjacke"},
        version="1.0.0",
        maker={"en": "Invented Workroom", "de": "Erfundene Werkstatt"},
        contact={"en": "nobody@example.org"},
        sizes=tuple(sizes),
        base=sizes[len(sizes) // 2],
        bands=(),
        languages=tuple(languages),
        units="metric",
        wearer="adult",
        sleepwear=False,
        licence={"en": "Invented", "de": "Erfunden"},
        materials={"shell": Material(title={"en": "main cloth", "de": "Oberstoff"}, widths_mm=(1400.0,), nap=nap)},
        pieces=specs,
    )


def chain(*corners: Point | tuple[Point, Point, Point]) -> tuple[Segment, ...]:
    """A closed outline: a point is a straight edge to it, three points are a curve (two controls, end)."""
    first = corners[0]
    assert isinstance(first, Point)
    here, segments = first, list[Segment]()
    for corner in (*corners[1:], first):
        if isinstance(corner, Point):
            segments.append(Line(here, corner))
            here = corner
        else:
            segments.append(Cubic(here, *corner))
            here = corner[2]
    return tuple(segments)


def cut_piece(
    name: str,
    size: str,
    outline: Sequence[Segment],
    allowance_mm: float = 10.0,
    fold_edge: int | None = None,
    grain: tuple[Point, Point] | None = None,
    anchor: Point | None = None,
    inside: Sequence[tuple[str, LineKind, Path]] = (),
    points: Sequence[MarkPoint] = (),
    notch_edges: Sequence[int] = (),
    label: tuple[Point, Point, Point, Point] | None = None,
) -> CutPiece:
    """A cut piece with one allowance all around but at the fold. The outline walks clockwise on the page."""
    seam = _ring(outline)
    polygon = shapely.Polygon(seam)
    grown = polygon.buffer(allowance_mm, join_style="mitre", mitre_limit=3)
    fold = None
    seam_whole, cut_whole = polygon, grown
    if fold_edge is not None:
        fold = (outline[fold_edge].start, outline[fold_edge].end)
        run = fold[0].to(fold[1]).unit()
        far = 5000.0
        a, b = fold[0].plus(run.scaled(-far)), fold[1].plus(run.scaled(far))
        out = run.left().scaled(far)
        grown = grown.difference(shapely.Polygon((a, b, b.plus(out), a.plus(out))))
        seam_whole, cut_whole = _opened(polygon, fold), _opened(grown, fold)
    cut = _outline(grown)
    left, top, right, bottom = polygon.bounds
    grain = grain or (P((left + right) / 2, bottom - 40), P((left + right) / 2, top + 40))
    edges = tuple(Edge(f"edge-{k}", (segment,)) for k, segment in enumerate(outline))
    drawn = DrawnPiece(
        piece=name,
        size=size,
        file=f"sizes/{size}/{name}.svg",
        edges=edges,
        grain=GrainLine(*grain),
        inside=tuple(InsideLine(key, path, False, kind) for key, kind, path in inside),
        points=tuple(points),
        label=label,
        anchor=anchor or (P((fold[0].x + fold[1].x) / 2, (fold[0].y + fold[1].y) / 2) if fold else grain[1]),
    )
    cut_edges = tuple(
        CutEdge(
            name=edge.name,
            length_mm=1.0,
            gross_length_mm=1.0,
            allowance_mm=0.0 if k == fold_edge else allowance_mm,
            fold=k == fold_edge,
            hem=False,
        )
        for k, edge in enumerate(edges)
    )
    return CutPiece(
        drawn=drawn,
        edges=cut_edges,
        seam_drawn=seam,
        cut_drawn=cut,
        seam_outline=_outline(seam_whole),
        cut_outline=_outline(cut_whole),
        seam_area_mm2=polygon.area,
        cut_area_mm2=grown.area,
        fold=fold,
        slits=tuple(_slit(outline[k], allowance_mm) for k in notch_edges),
    )


def _outline(polygon: shapely.Polygon) -> tuple[Point, ...]:
    return tuple(P(*place) for place in shapely.geometry.polygon.orient(polygon, 1.0).exterior.coords[:-1])


def _opened(half: shapely.Polygon, fold: tuple[Point, Point]) -> shapely.Polygon:
    """A half and its mirror image across a vertical fold."""
    assert fold[0].x == fold[1].x
    other = shapely.affinity.scale(half, -1, 1, origin=(fold[0].x, 0))
    return shapely.union_all([half, other], grid_size=1e-6)


def _ring(outline: Sequence[Segment]) -> tuple[Point, ...]:
    return flattened(tuple(outline))[:-1]


def _slit(segment: Segment, allowance_mm: float) -> Slit:
    middle, out = segment.at(0.5), segment.derivative(0.5).unit().left()
    outer = middle.plus(out.scaled(allowance_mm))
    return Slit(None, "edge", outer, outer.plus(out.scaled(-0.45 * allowance_mm)))


def front(size: str, step: int, sizes_differ: bool = True) -> CutPiece:
    """A jacket front: straight centre and hem that sizes share in part, curved neck and armhole."""
    w, h = (240 + 10 * step, 640 + 6 * step) if sizes_differ else (240, 640)
    outline = chain(
        P(0, 90),
        (P(40, 88), P(68, 50), P(72, 0)),
        P(72 + w * 0.4, 28),
        (P(w * 0.68, 120), P(w * 0.75, 210), P(w, 250)),
        P(w + 6, h),
        P(0, h),
    )
    return cut_piece(
        "front",
        size,
        outline,
        grain=(P(110, h - 80), P(110, 190)),
        anchor=P(0, 90),
        inside=[
            ("bust", "level", (Line(P(0, 262), P(w, 262)),)),
            ("pocket", "place", (Line(P(60, 420 + step), P(60 + w / 2, 420 + step)),)),
            ("longer", "adjust", (Line(P(0, 380), P(w, 380)),)),
        ],
        points=[MarkPoint("a", P(60, 420 + step)), MarkPoint("b", P(15, 120), (P(10, 120), P(33, 120)))],
        notch_edges=(2, 3),
    )


def back(size: str, step: int) -> CutPiece:
    """Half a back on the fold, the fold at the left."""
    w, h = 230 + 10 * step, 660 + 6 * step
    outline = chain(
        P(0, h),
        P(0, 25),
        (P(40, 25), P(70, 15), P(80, 0)),
        P(80 + w * 0.42, 35),
        (P(w * 0.72, 140), P(w * 0.8, 210), P(w, 250)),
        P(w + 4, h),
    )
    return cut_piece("back", size, outline, fold_edge=0, grain=(P(100, h - 60), P(100, 120)), notch_edges=(3,))


def collar(size: str, step: int) -> CutPiece:
    """A narrow curved collar, half on the fold."""
    w = 180 + 6 * step
    outline = chain(
        P(0, 50),
        P(0, 0),
        (P(w / 2, 0), P(w * 0.8, -10), P(w, -25)),
        P(w + 8, 22),
        (P(w * 0.8, 40), P(w / 2, 50), P(0, 50)),
    )
    return cut_piece("collar", size, outline[:-1], fold_edge=0, grain=(P(60, 42), P(60, 8)), notch_edges=(1,))


def pocket(size: str, step: int) -> CutPiece:
    """A patch pocket in two size sets."""
    w = 140 if step < 6 else 155
    outline = chain(
        P(0, 0),
        P(w, 0),
        P(w, 150),
        (P(w, 170), P(w - 10, 170), P(w - 25, 170)),
        P(25, 170),
        (P(10, 170), P(0, 170), P(0, 150)),
    )
    return cut_piece("pocket", size, outline, anchor=P(0, 0), notch_edges=(0,), grain=(P(30, 140), P(30, 30)))


def tab(size: str, step: int) -> CutPiece:
    """A very small piece, alike in all sizes."""
    return cut_piece(
        "tab", size, chain(P(0, 0), P(70, 0), P(85, 15), P(70, 30), P(0, 30)), 6.0, grain=(P(10, 26), P(10, 4))
    )


def stack(make: Callable[[str, int], CutPiece], sizes: Sequence[str] = SIZES) -> Mapping[str, CutPiece]:
    """All sizes of one piece, in order."""
    return {size: make(size, SIZES.index(size)) for size in sizes}


def turned(place: Point, quarters: int) -> Point:
    """A point turned clockwise about the origin."""
    angle = math.pi / 2 * quarters
    return P(
        place.x * math.cos(angle) - place.y * math.sin(angle), place.x * math.sin(angle) + place.y * math.cos(angle)
    )
