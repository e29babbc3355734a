"""`data/pieces.json`: every piece in every size, as measured."""

from typing import Any

from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import Cut
from pipeline.model.pieces import CutEdge, CutPiece, Cuts, Polyline, in_size, inside_length_mm
from pipeline.model.questions import copies_of, owner_of


def pieces_data(pattern: Pattern, cuts: Cuts) -> dict[str, Any]:
    """The content of `data/pieces.json`; lengths to 1e-4 mm, areas to 1e-3 mm², coordinates to 1e-4 mm."""
    sizes = {
        size: {"pieces": {piece: _piece(pattern, cut) for piece, cut in in_size(cuts, size).items()}}
        for size in pattern.sizes
    }
    return {"format": 1, "pattern": pattern.name, "version": pattern.version, "sizes": sizes}


def _piece(pattern: Pattern, cut: CutPiece) -> dict[str, Any]:
    owner = owner_of(pattern, cut.piece)
    return {
        "edges": {
            edge.name: {
                "length_mm": round(edge.length_mm, 4),
                "gross_length_mm": round(edge.gross_length_mm, 4),
                "allowance_mm": round(edge.allowance_mm, 4),
                **_taper(edge),
                **_grown_on(edge),
                "cut_length_mm": round(edge.cut_length_mm, 4),
                "fold": edge.fold,
            }
            for edge in cut.edges
        },
        "inside": {
            line.name: {"length_mm": round(inside_length_mm(line), 4)}
            for line in cut.drawn.inside
            if line.name is not None
        },
        "notches": [
            {"name": notch.name, "edge": notch.edge, "at_mm": round(notch.at_mm, 4)} for notch in cut.drawn.notches
        ],
        "seam_area_mm2": round(cut.seam_area_mm2, 3),
        "cut_area_mm2": round(cut.cut_area_mm2, 3),
        "seam_outline": _coordinates(cut.seam_outline),
        "cut_outline": _coordinates(cut.cut_outline),
        "cut": [_entry(entry, cut.size) for entry in owner.cut if cut.size in entry.count],
        "on_fold": cut.fold is not None,
    }


def _taper(edge: CutEdge) -> dict[str, Any]:
    """The allowance at the edge's last point, where it changes to it evenly from `allowance_mm` at its first, or by way
    of those at the places between."""
    if edge.allowance_end_mm is None:
        return {}
    between = [
        {"at_mm": round(share * edge.gross_length_mm, 4), "allowance_mm": round(width, 4)}
        for share, width in edge.allowance_between
    ]
    said = {"allowance_between": between} if between else {}
    return {"allowance_end_mm": round(edge.allowance_end_mm, 4), **said}


def _grown_on(edge: CutEdge) -> dict[str, Any]:
    """The parts along which something is cut in one with the piece: how deep once folded back, and how far out it is
    cut."""
    parts = [
        {
            "start_mm": round(part.start * edge.gross_length_mm, 4),
            "end_mm": round(part.end * edge.gross_length_mm, 4),
            "width_mm": round(part.width_mm, 4),
            "cut_mm": round(part.cut_mm, 4),
            **({"more_mm_at_end": round(part.more_mm, 4)} if part.more_mm else {}),
        }
        for part in edge.grown_on
    ]
    return {"grown_on": parts} if parts else {}


def _entry(entry: Cut, size: str) -> dict[str, Any]:
    count, mirrored = copies_of(entry, size)
    side = {"side": entry.side} if entry.side else {}
    return {"material": entry.material, "count": count, "mirrored": mirrored, **side}


def _coordinates(outline: Polyline) -> list[list[float]]:
    return [[round(x, 4), round(y, 4)] for x, y in outline]
