"""Garments of one size, made of a few outlines and seams."""

from pipeline.checks.garment import Garment
from pipeline.geometry.curves import Path
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import Notch
from tests.checks.skirt import PATTERN, cut, drawn, lines, notch, replace, spec

PLAIN: dict[str, EdgeSpec] = {}
NO_NOTCHES: dict[str, tuple[Notch, ...]] = {}


def sewn(shapes: dict[str, dict[str, Path]], *seams, edges=PLAIN, grain=(40, 90, 10), notches=NO_NOTCHES) -> Garment:
    """A garment of one size: pieces of named paths, and seams; `edges` says something of `piece.edge`, `notches` are
    those of a piece."""
    specs = {}
    for number, name in enumerate(shapes, 1):
        own = {key.split(".")[1]: said for key, said in edges.items() if key.split(".")[0] == name}
        specs[name] = replace(spec(name, number, 2, 1, edges=own), sizes=("M",))
    pattern = replace(PATTERN, sizes=("M",), pieces=specs, seams={one.name: one for one in seams})
    pieces = {
        name: {"M": cut(pattern, drawn(name, "M", shape, grain, notches=notches.get(name, ())))}
        for name, shape in shapes.items()
    }
    return Garment(pattern, pieces)


def ring(**corners: tuple[float, float]) -> dict[str, Path]:
    """Straight edges by the corners at which they begin, clockwise on the page."""
    places = list(corners.values())
    return {name: lines(places[i], places[(i + 1) % len(places)]) for i, name in enumerate(corners)}


def notched(garment: Garment, **marks: tuple[str, float]) -> Garment:
    """The garment with a notch of some name on edges, `piece__edge=(name, at_mm)`."""
    for key, (name, at_mm) in marks.items():
        piece, edge = key.split("__")
        made = garment.cuts[piece]["M"]
        mark = notch({edge: made.drawn.edge(edge).path}, edge, name, at_mm)
        more = replace(made.drawn, notches=(*made.drawn.notches, mark))
        garment.cuts[piece]["M"] = replace(made, drawn=more)
    return garment
