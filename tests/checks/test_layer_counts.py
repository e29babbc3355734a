"""How often edges are there: in several seams, sewn to themselves, on the fold."""

from pipeline.checks.garment import Garment
from pipeline.model.findings import Finding
from pipeline.model.pattern import Seam, SideEdge, View
from pipeline.model.piece_specs import Cut, EdgePart
from tests.checks.apron import codes, found, replace
from tests.checks.outlines import notched, ring, sewn
from tests.checks.skirt import FOLD, HEM, seam

BAG = ring(mouth=(0, 0), side=(100, 0), foot=(100, 120), back=(0, 120))
ROUND = seam("round", ["bag.side", "bag.foot", "bag.back"], ["bag.side", "bag.foot", "bag.back"])


def counts(shapes: dict, seams: tuple[Seam, ...], *, edges=None, views=None, **cut: int) -> list[Finding]:
    """What is told of pieces of a garment that are cut so often, half of an even count mirrored."""
    made = sewn(shapes, *seams, edges=edges or {}, grain=(50, 110, 10))
    pieces = {
        name: replace(
            spec,
            views=(views or {}).get(name, ()),
            cut=(Cut("shell", {"M": cut[name]}, {"M": 0 if f"{name}.fold" in (edges or {}) else cut[name] // 2}),),
        )
        for name, spec in made.pattern.pieces.items()
    }
    shown = {view: View(name=view, title={"en": view}) for of in (views or {}).values() for view in of}
    return found("cut-counts", Garment(replace(made.pattern, pieces=pieces, views=shown), made.cuts))


def pockets(bags: int, views=None) -> list[tuple[str, str]]:
    """A bag in the side seams of a front and a back, in one view or in a view each."""
    skirt = ring(mouth=(0, 0), side=(100, 0), foot=(120, 150), middle=(0, 120))
    seams = (
        ROUND,
        seam("front", ["bag.mouth"], ["front.mouth"]),
        seam("back", ["bag.mouth"], ["back.mouth"]),
    )
    told = counts({"bag": BAG, "front": skirt, "back": skirt}, seams, views=views, bag=bags, front=2, back=2)
    assert {finding.piece for finding in told} <= {"bag"}
    return [(finding.code, finding.found) for finding in told]


def test_an_edge_in_two_seams_of_one_view_is_there_for_both():
    assert pockets(4) == []
    assert pockets(2) == [("does-not-pair", "2 edges at bag.mouth")]
    assert pockets(6)[0][0] == "another-layer"


def test_an_edge_in_two_seams_of_which_each_view_has_one_is_there_for_one_of_them():
    each = {"front": ("long",), "back": ("short",)}
    assert pockets(2, each) == []
    both = {"front": ("long", "short"), "back": ("long", "short")}
    assert pockets(2, both) == [("does-not-pair", "2 edges at bag.mouth")]
    assert pockets(4, both) == []


def test_what_is_laid_between_two_pieces_is_sewn_to_both_in_one_go():
    """A front's neck in a seam with its collar and in one with its facing: three layers, each as often as the others,
    also where both fronts are sewn to each other."""
    plain = ring(neck=(0, 0), side=(100, 0), foot=(120, 150), middle=(0, 120))
    seams = (
        seam("collar", ["front.neck"], ["collar.neck"]),
        seam("facing", ["front.neck"], ["facing.neck"]),
        seam("middle", ["front.middle"], ["front.middle"]),
    )
    assert counts(dict.fromkeys(("front", "collar", "facing"), plain), seams, front=2, collar=2, facing=2) == []


def test_parts_of_an_edge_take_nothing_of_each_other():
    skirt = ring(mouth=(0, 0), side=(50, 0), foot=(60, 150), middle=(0, 120))
    half = (
        SideEdge("bag", "mouth", part=EdgePart("back", "middle")),
        SideEdge("bag", "mouth", part=EdgePart("middle", "side")),
    )
    seams = (
        ROUND,
        Seam(name="front", a=(half[0],), b=(SideEdge("front", "mouth"),)),
        Seam(name="back", a=(half[1],), b=(SideEdge("back", "mouth"),)),
    )
    made = notched(sewn({"bag": BAG, "front": skirt, "back": skirt}, *seams), bag__mouth=("middle", 50))
    assert codes("cut-counts", made) == []


def cuffs(count: int, sleeves: int = 2, hem: bool = False, outer: bool = True) -> list[tuple[str, str | None]]:
    sleeve = ring(cap=(0, 0), front=(140, 0), wrist=(120, 150), back=(20, 130))
    cuff = ring(top=(0, 0), end=(100, 0), outer=(100, 60), lap=(0, 60))
    seams = (seam("wrist", ["sleeve.wrist"], ["cuff.top"]), seam("outer", ["cuff.outer"], ["cuff.outer"]))
    edges = {"cuff.end": HEM} if hem else {}
    told = counts({"sleeve": sleeve, "cuff": cuff}, seams[: 1 + outer], edges=edges, sleeve=sleeves, cuff=count)
    return [(finding.code, finding.piece) for finding in told]


def test_what_is_sewn_to_itself_has_two_layers():
    assert cuffs(4) == cuffs(2) == []
    assert [code for code, _ in cuffs(4, outer=False)] == ["another-layer"]
    assert [code for code, _ in cuffs(4, hem=True)] == ["another-layer"]
    assert [code for code, _ in cuffs(6)] == ["another-layer"]
    assert [code for code, _ in cuffs(4, sleeves=1)] == ["does-not-pair"]


def test_a_left_and_a_right_back_that_are_sewn_to_each_other_are_no_two_layers():
    plain = ring(neck=(0, 0), side=(100, 0), foot=(120, 150), middle=(0, 120))
    seams = (
        seam("middle", ["back.middle"], ["back.middle"]),
        seam("side", ["back.side"], ["front.side"]),
        seam("neck", ["back.neck"], ["collar.neck"]),
    )
    told = counts(dict.fromkeys(("back", "front", "collar"), plain), seams, back=4, front=2, collar=2)
    assert [(finding.code, finding.piece) for finding in told] == [("another-layer", "back")]


def stands(count: int, loose: bool) -> list[tuple[str, str | None]]:
    """A collar's stand on the fold, its ends sewn to each other."""
    stand = ring(neck=(0, 0), fold=(100, 0), top=(100, 40), end=(0, 30))
    neck = ring(neck=(0, 0), side=(100, 0), foot=(120, 150), middle=(0, 120))
    seams = (
        seam("neck", ["stand.neck"], ["front.neck"]),
        seam("end", ["stand.end"], ["stand.end"]),
        *(() if loose else (seam("top", ["stand.top"], ["stand.top"]),)),
    )
    told = counts({"stand": stand, "front": neck}, seams, edges={"stand.fold": FOLD}, stand=count, front=2)
    return [(finding.code, finding.piece) for finding in told]


def test_a_stand_on_the_fold_has_two_layers_where_none_of_its_edges_is_left_raw():
    assert stands(1, loose=False) == stands(2, loose=False) == stands(1, loose=True) == []
    assert stands(2, loose=True) == [("another-layer", "stand")]


def test_a_piece_that_has_lost_its_fold_is_told_itself_though_its_partner_is_in_another_view_too():
    """A bodice on the fold above a skirt of each view: the long skirt's back is no longer on its own."""
    panel = ring(waist=(0, 0), side=(100, 0), hem=(120, 150), fold=(0, 120))
    seams = (
        seam("waist-long", ["back.hem"], ["long.waist"]),
        seam("waist-short", ["back.hem"], ["short.waist"]),
        seam("side-upper", ["front.side"], ["long.side"]),
        seam("side-lower", ["front.hem"], ["long.hem"]),
    )
    edges = {"back.fold": FOLD, "short.fold": FOLD}
    views = {"long": ("long",), "front": ("long",), "short": ("short",)}
    names = ("front", "back", "long", "short")
    told = counts(dict.fromkeys(names, panel), seams, edges=edges, views=views, front=2, back=1, long=1, short=1)
    assert [(finding.code, finding.piece) for finding in told] == [("does-not-pair", "long")]


def test_two_facings_for_one_front_do_not_accuse_the_yoke_that_they_share_with_the_lining():
    """A yoke of two layers, its outer shoulder on the fronts, its inner one on facing and lining in one seam."""
    yoke = ring(fold=(0, 60), neck=(0, 0), shoulder=(60, 0), lower=(100, 60))
    front = ring(shoulder=(0, 0), armhole=(50, 10), hem=(60, 150), opening=(0, 120))
    seams = (
        seam("shoulder", ["yoke.shoulder"], ["front.shoulder"]),
        seam("inside", ["yoke.shoulder"], ["facing.shoulder", "lining.shoulder"]),
        seam("edge", ["facing.opening"], ["front.opening"]),
        seam("neck", ["facing.armhole"], ["front.armhole"]),
    )
    made = sewn(
        {"yoke": yoke, **dict.fromkeys(("front", "facing", "lining"), front)}, *seams, edges={"yoke.fold": FOLD}
    )

    def told(mirrored: int) -> list[tuple[str, str | None]]:
        pieces = {**made.pattern.pieces}
        for name, half in (("yoke", 0), ("front", 1), ("facing", mirrored), ("lining", 1)):
            pieces[name] = replace(pieces[name], cut=(Cut("shell", {"M": 2}, {"M": half}),))
        found_here = found("cut-counts", Garment(replace(made.pattern, pieces=pieces), made.cuts))
        return [(finding.code, finding.piece) for finding in found_here]

    assert told(1) == []
    assert told(0) == [("does-not-pair", "facing")]
