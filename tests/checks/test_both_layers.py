"""What has an outside and an inside: all edges in two seams, or sewn to itself and laid on."""

import pytest

from pipeline.checks.garment import Garment
from pipeline.geometry.points import Point
from pipeline.model.findings import Finding
from pipeline.model.piece_specs import Cut
from pipeline.model.pieces import MarkPoint
from tests.checks.apron import found, replace
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import FOLD, seam

YOKE = ring(fold=(0, 60), neck=(0, 0), shoulder=(60, 0), lower=(100, 60))
PANEL = ring(top=(0, 0), shoulder=(100, 0), neck=(100, 120), side=(0, 120))
OUTER = (
    seam("yoke", ["yoke.lower"], ["back.top"]),
    seam("shoulder", ["yoke.shoulder"], ["front.shoulder"]),
    seam("neck", ["yoke.neck"], ["collar.top"]),
)
INNER = (
    seam("yoke-inside", ["yoke.lower"], ["back-lining.top"]),
    seam("shoulder-inside", ["yoke.shoulder"], ["front-lining.shoulder"]),
    seam("neck-inside", ["yoke.neck"], ["collar-inside.top"]),
)
PARTNERS = ("back", "front", "collar", "back-lining", "front-lining", "collar-inside")


def yoke(count: int, *seams, layers: int = 1) -> list[Finding]:
    """What is told of a yoke on the fold, cut so often, between a shell and a lining."""
    made = sewn({"yoke": YOKE, **dict.fromkeys(PARTNERS, PANEL)}, *seams, edges={"yoke.fold": FOLD}, grain=(20, 30, 10))
    cut = (Cut("shell", {"M": count}, {"M": 0}, layers=layers),)
    pieces = {**made.pattern.pieces, "yoke": replace(made.pattern.pieces["yoke"], cut=cut)}
    return found("cut-both-layers", Garment(replace(made.pattern, pieces=pieces), made.cuts))


def test_a_piece_all_of_whose_edges_are_in_two_seams_is_there_twice():
    assert yoke(2, *OUTER, *INNER, layers=2) == yoke(2, *OUTER, *INNER) == []
    (told,) = yoke(1, *OUTER, *INNER)
    assert (told.code, told.severity, told.piece, told.found, told.allowed) == ("one-layer", "warn", "yoke", "1", "2")


def test_an_edge_in_one_seam_says_nothing_of_layers():
    assert yoke(1, *OUTER, *INNER[1:]) == yoke(1, *OUTER) == []


def flap(count: int, mark: str = "flap-left", more=(), shape=None, lining: int = 0) -> list[Finding]:
    """What is told of a flap that is sewn to itself, for a mark on each of two fronts."""
    shape = shape or ring(top=(0, 0), right=(80, 0), point=(80, 40), left=(0, 40))
    own = ["flap.right", "flap.point", "flap.left"]
    made = sewn({"flap": shape, "front": PANEL, "lining": PANEL}, seam("flap", own, own), *more, grain=(50, 35, 10))
    kinds = {"shell": count, **({"lining": lining} if lining else {})}
    cut = tuple(Cut(kind, {"M": many}, {"M": many // 2}) for kind, many in kinds.items())
    pieces = {**made.pattern.pieces, "flap": replace(made.pattern.pieces["flap"], cut=cut)}
    pieces["lining"] = replace(pieces["lining"], cut=(Cut("lining", {"M": 2}, {"M": 1}),))
    front = made.cuts["front"]["M"]
    marked = replace(front, drawn=replace(front.drawn, points=(MarkPoint(mark, Point(50, 60)),)))
    return found(
        "cut-both-layers", Garment(replace(made.pattern, pieces=pieces), {**made.cuts, "front": {"M": marked}})
    )


@pytest.mark.parametrize(("count", "lining", "told"), [(2, 0, ["4"]), (4, 0, []), (2, 2, []), (1, 1, ["4"])])
def test_a_flap_that_is_sewn_to_itself_has_two_layers_for_each_mark(count, lining, told):
    assert [finding.allowed for finding in flap(count, lining=lining)] == told


def test_marks_of_other_names_and_flaps_in_another_seam_say_nothing():
    assert flap(2, mark="pocket") == []
    assert flap(2, more=(seam("top", ["flap.top"], ["front.top"]),)) == []
