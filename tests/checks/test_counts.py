"""How often pieces are cut: against their seams, their sources and their shapes."""

import pytest

from pipeline.checks.garment import Garment
from pipeline.checks.mirror import is_symmetric
from pipeline.geometry.points import Point
from pipeline.model.pattern import Seam, SideEdge
from pipeline.model.piece_specs import Cut
from tests.checks.apron import codes, counted, cuts, found, garment, pattern, piece, replace, strip
from tests.checks.outlines import ring, sewn
from tests.checks.skirt import FOLD, seam


def test_a_piece_without_material_blocks():
    assert found("cut-material", garment()) == []
    none = found("cut-material", garment(pieces=piece("band", cut=())))
    assert [(f.code, f.severity, f.piece) for f in none] == [("no-material", "block", "band")]


def test_a_count_of_0_blocks_in_its_size():
    none = found("cut-material", garment(pieces=piece("band", cut=counted("shell", {"S": 2, "M": 0}))))
    assert [(f.code, f.severity, f.piece, f.size) for f in none] == [("count-zero", "block", "band", "M")]


def test_a_strip_without_material_blocks():
    none = found("cut-material", garment(strips=strip("30 mm", cut=())))
    assert [(f.code, f.where) for f in none] == [("no-material", "strips.loop")]


def test_a_piece_that_is_not_among_the_cut_ones_blocks():
    assert found("cut-whole", garment()) == []
    drawn = {**cuts(), "band": {"S": cuts()["band"]["S"]}}
    assert [(f.code, f.severity, f.piece, f.size) for f in found("cut-whole", garment(drawn=drawn))] == [
        ("lost", "block", "band", "M")
    ]
    drawn.pop("band")
    assert [f.size for f in found("cut-whole", garment(drawn=drawn))] == ["S", "M"]


def test_a_material_that_nothing_is_cut_of_warns():
    materials = {**pattern().materials, "fusing": pattern().materials["shell"]}
    unused = found("cut-material", garment(materials=materials))
    assert [(f.code, f.severity, f.where) for f in unused] == [("unused-material", "warn", "materials.fusing")]


def test_as_many_bands_as_skirts_pass_and_a_second_layer_warns():
    assert found("cut-counts", garment(pieces=piece("band", cut=counted("shell", 1)))) == []
    layers = found("cut-counts", garment(pieces=piece("band", cut=counted("shell", 2))))
    assert [(f.code, f.severity, f.size) for f in layers] == [
        ("another-layer", "warn", "S"),
        ("another-layer", "warn", "M"),
    ]
    assert "seams waist" in layers[0].message


def test_counts_that_are_no_multiple_of_each_other_block():
    pieces = piece("band", cut=counted("shell", 3)) | {"skirt": piece("skirt", cut=counted("shell", 2))["skirt"]}
    assert {(f.code, f.severity) for f in found("cut-counts", garment(pieces=pieces))} == {("does-not-pair", "block")}


def test_a_lining_cut_from_the_same_outline_agrees_material_by_material():
    both = (*counted("shell", 1), *counted("lining", 1))
    assert found("cut-counts", garment(pieces=piece("band", cut=both))) == []


def _handed(cut) -> list[tuple[str, str, str | None]]:
    """Codes where the skirt is no longer on the fold: its drawn half is then a whole, one-sided piece."""
    whole = {size: replace(drawn, fold=None, cut_outline=drawn.cut_drawn) for size, drawn in cuts()["skirt"].items()}
    pieces = piece("skirt", cut=cut) | {"band": piece("band", cut=counted("shell", 1))["band"]}
    return codes("cut-counts", garment(drawn={**cuts(), "skirt": whole}, pieces=pieces))


def test_a_pair_is_a_pair_where_its_partner_has_both_hands():
    assert _handed(counted("shell", 2, mirrored=1)) == []
    assert _handed(counted("shell", 2)) == [("does-not-pair", "block", "S"), ("does-not-pair", "block", "M")]
    assert _handed(counted("shell", 1)) == [("does-not-pair", "block", "S"), ("does-not-pair", "block", "M")]


@pytest.mark.parametrize(
    ("shell", "lining", "found_codes"),
    [
        ((2, 1), (2, 1), []),
        ((1, 0), (2, 1), ["half-a-pair"] * 2),
        ((2, 1), (1, 1), ["half-a-pair"] * 2),
        ((1, 0), (1, 0), []),
    ],
)
def test_a_piece_is_a_pair_in_all_of_its_materials_or_in_none(shell, lining, found_codes):
    """Its seams fit the material that is a pair, and would hide the other."""
    whole = {size: replace(drawn, fold=None, cut_outline=drawn.cut_drawn) for size, drawn in cuts()["skirt"].items()}
    entries = counted("shell", shell[0], shell[1]) + counted("lining", lining[0], lining[1])
    made = garment(drawn={**cuts(), "skirt": whole}, pieces=piece("skirt", cut=entries))
    assert [code for code, severity, _ in codes("cut-pairs", made) if severity == "warn"] == found_codes


def test_a_piece_that_is_sewn_to_itself_is_used_up_twice_at_once():
    seams = {"ends": Seam(name="ends", a=(SideEdge("band", "tip"),), b=(SideEdge("band", "tip"),))}
    assert found("cut-counts", garment(seams=seams)) == []


def test_an_odd_number_of_edges_that_are_sewn_to_each_other_blocks():
    whole = {size: replace(cut, fold=None) for size, cut in cuts()["band"].items()}
    seams = {"ends": Seam(name="ends", a=(SideEdge("band", "tip"),), b=(SideEdge("band", "tip"),))}

    def told(count: int):
        pieces = piece("band", cut=counted("shell", count))
        return codes("cut-counts", garment(drawn={**cuts(), "band": whole}, pieces=pieces, seams=seams))

    assert told(2) == []
    assert told(3) == [("does-not-pair", "block", "S"), ("does-not-pair", "block", "M")]


@pytest.mark.parametrize(
    ("shell", "other", "lined", "told"),
    [(1, 1, True, False), (2, 2, True, False), (1, 2, True, True), (3, 2, True, True), (2, 1, False, False)],
)
def test_layers_of_two_materials_that_are_sewn_to_each_other_are_even(shell, other, lined, told):
    """Of what is only ever cut beside another material, as an interfacing is, one layer may be laid on."""
    whole = {size: replace(cut, fold=None) for size, cut in cuts()["band"].items()}
    seams = {"ends": Seam(name="ends", a=(SideEdge("band", "tip"),), b=(SideEdge("band", "tip"),))}
    both = (*counted("shell", shell), *counted("lining", other))
    pieces = piece("skirt", cut=counted("lining" if lined else "shell", 1)) | {"band": piece("band", cut=both)["band"]}
    pieces |= {"yoke": replace(pieces["skirt"], name="yoke", cut=counted("shell", 1))}
    materials = {**pattern().materials, "lining": pattern().materials["shell"]}
    made = garment(drawn={**cuts(), "band": whole}, pieces=pieces, seams=seams, materials=materials)
    assert bool(codes("cut-layers", made)) is told


def test_a_size_that_is_cut_otherwise_than_both_neighbours_blocks():
    def told(*counts: int):
        by_size = dict(zip("SML", counts, strict=True))
        cut = (Cut("shell", by_size, dict.fromkeys(by_size, 0)),)
        return codes("cut-sizes", garment(sizes=("S", "M", "L"), pieces=piece("band", cut=cut)))

    assert told(2, 2, 2) == []
    assert told(2, 2, 4) == []
    assert told(2, 3, 4) == []
    assert told(2, 1, 2) == [("alone", "block", "M")]


@pytest.mark.parametrize(
    ("counts", "told"),
    [((2, 2, 2, 2, 4), "E"), ((4, 2, 2, 2, 2), "A"), ((2, 2, 2, 4, 4), None), ((2, 2, 2, 2, 2), None)],
)
def test_the_first_or_last_size_that_alone_is_cut_otherwise_warns(counts, told):
    """Two that agree at an end are a step between sizes, and with fewer sizes one is as good as another."""
    by_size = dict(zip("ABCDE", counts, strict=True))
    cut = (Cut("shell", by_size, dict.fromkeys(by_size, 0)),)
    made = garment(sizes=tuple("ABCDE"), pieces=piece("band", cut=cut))
    assert codes("cut-sizes", made) == ([("end-alone", "warn", told)] if told else [])
    few = garment(sizes=("A", "B", "E"), pieces=piece("band", cut=cut))
    assert codes("cut-sizes", few) == []


def test_a_one_sided_piece_that_is_not_mirrored_is_noted():
    whole = {size: replace(drawn, fold=None, cut_outline=drawn.cut_drawn) for size, drawn in cuts()["skirt"].items()}
    drawn = {**cuts(), "skirt": whole}
    alike = garment(drawn=drawn, pieces=piece("skirt", cut=counted("shell", 2)))
    assert codes("cut-pairs", alike) == [("not-pairs", "info", "S"), ("not-pairs", "info", "M")]
    assert codes("cut-pairs", garment(drawn=drawn, pieces=piece("skirt", cut=counted("shell", 2, mirrored=1)))) == []


def test_a_derived_piece_is_not_cut_more_often_than_its_source():
    band = pattern().pieces["band"]
    fusing = replace(band, name="fusing", number=3, source="band", trim_mm=5.0, allowance_mm=None, edges={})
    drawn = cuts() | {"fusing": {size: _named(cut, "fusing") for size, cut in cuts()["band"].items()}}

    def told(count: int):
        pieces = {**pattern().pieces, "fusing": replace(fusing, cut=counted("shell", count))}
        return codes("cut-derived", garment(drawn=drawn, pieces=pieces))

    count = sum(entry.count["S"] for entry in band.cut)
    assert told(count) == []
    assert told(count + 1) == [("more-than-source", "warn", "S"), ("more-than-source", "warn", "M")]


def _named(cut, name: str):
    return replace(cut, drawn=replace(cut.drawn, piece=name))


@pytest.mark.parametrize(
    ("ring", "symmetric"),
    [
        ([(0, 0), (40, 0), (40, 20), (0, 20)], True),
        ([(0, 0), (30, 0), (30, 30), (0, 30)], True),
        ([(0, 0), (60, 0), (40, 50), (20, 50)], True),
        ([(0, 0), (40, 30), (28, 46), (-12, 16)], True),  # a rectangle of 50 x 20, turned
        ([(0, 0), (60, 0), (45, 50), (5, 50)], False),
        ([(0, 0), (50, 0), (70, 30), (20, 30)], False),  # a parallelogram has a centre, and no axis
    ],
)
def test_symmetry_about_any_axis(ring, symmetric):
    assert is_symmetric(tuple(Point(*place) for place in ring)) is symmetric


def folded_welts(count: int, **more: Seam) -> list[tuple[str, str, str | None]]:
    """A welt folded over along its fold: both copies of its lower edge lie in the seam to a pair of bags."""
    shapes = {
        "welt": ring(fold=(0, 0), right=(100, 0), bottom=(100, 24), left=(0, 24)),
        "bag": ring(top=(0, 0), right=(100, 0), foot=(90, 120), left=(10, 120)),
    }
    seams = [seam("welt", ["welt.bottom"], ["bag.top"], notches=False), *more.values()]
    made = sewn(shapes, *seams, edges={"welt.fold": FOLD}, grain=(50, 20, 5))
    welt = replace(made.pattern.pieces["welt"], cut=(Cut("shell", {"M": count}, {"M": 0}),))
    pattern = replace(made.pattern, pieces={**made.pattern.pieces, "welt": welt})
    return codes("cut-counts", Garment(pattern, made.cuts))


def test_a_folded_welt_is_sewn_with_both_of_its_layers():
    assert folded_welts(2) == []
    assert folded_welts(3) == folded_welts(4) == [("another-layer", "warn", "M")]


def test_a_piece_on_the_fold_whose_ends_are_sewn_is_not_folded_over():
    """A panel on the fold, its upper edge sewn to a band: cut twice it is one too many."""
    upper = seam("upper", ["welt.right"], ["welt.right"])
    assert folded_welts(2, upper=upper) == [("another-layer", "warn", "M")]


def fly(facings: int, **more: Seam) -> list[tuple[str, str, str | None]]:
    """A pair of fronts whose fly has a facing on the left and a shield, folded over on its fold, on the right."""
    shapes = {
        "front": ring(waist=(0, 0), fly=(80, 0), crotch=(80, 120), leg=(0, 120)),
        "facing": ring(top=(0, 0), fly=(40, 0), foot=(40, 120), curve=(0, 100)),
        "shield": ring(top=(0, 0), fly=(40, 0), foot=(40, 120), fold=(0, 120)),
        "band": ring(lap=(0, 0), end=(40, 0), inner=(40, 30), waist=(0, 30)),
    }
    seams = (
        seam("left", ["facing.fly"], ["front.fly"], notches=False),
        seam("right", ["shield.fly"], ["front.fly"], notches=False),
        seam("lap", ["band.lap"], ["shield.top"], notches=False),
    )
    made = sewn(shapes, *more.values() or seams, edges={"shield.fold": FOLD}, grain=(20, 90, 10))
    once = {
        name: replace(made.pattern.pieces[name], cut=(Cut("shell", {"M": count}, {"M": 0}),))
        for name, count in (("facing", facings), ("shield", 1), ("band", 1))
    }
    return codes("cut-counts", Garment(replace(made.pattern, pieces={**made.pattern.pieces, **once}), made.cuts))


def test_a_fly_shares_its_fronts_out_to_a_facing_and_to_a_shield_that_is_folded_over():
    assert fly(1) == []
    assert ("does-not-pair", "block", "M") in fly(2)


def test_a_piece_on_the_fold_that_nothing_is_shared_out_to_has_two_edges():
    lap = seam("lap", ["band.lap"], ["shield.top"], notches=False)
    assert fly(1, lap=lap) == [("does-not-pair", "block", "M")]


def collars(under_on_fold: bool) -> list[tuple[str, str, str | None]]:
    """Two collars on a neck of yoke and fronts: the upper one and the yoke lie on the fold."""
    shapes = {
        "front": ring(shoulder=(0, 0), neck=(40, 0), cf=(40, 120), hem=(0, 120)),
        "yoke": ring(neck=(0, 0), shoulder=(40, 0), foot=(40, 60), cb=(0, 60)),
        "upper": ring(outer=(0, 0), end=(80, 0), neck=(80, 40), cb=(0, 40)),
        "under": ring(outer=(0, 0), end=(80, 0), neck=(80, 40), cb=(0, 40)),
    }
    seams = (
        seam("outer", ["upper.outer"], ["under.outer"], notches=False),
        seam("end", ["upper.end"], ["under.end"], notches=False),
        seam("neck", ["under.neck"], ["yoke.neck", "front.neck"], notches=False),
        seam("inside", ["upper.neck"], ["yoke.neck", "front.neck"], notches=False),
    )
    on_fold = {f"{name}.cb": FOLD for name in ("yoke", "upper", *["under"] * under_on_fold)}
    made = sewn(shapes, *seams, edges=on_fold, grain=(20, 50, 10))
    counts = {"yoke": (1, 0), "upper": (1, 0), "under": (1, 0), "front": (2, 1)}
    pieces = {
        name: replace(made.pattern.pieces[name], cut=(Cut("shell", {"M": count}, {"M": mirrored}),))
        for name, (count, mirrored) in counts.items()
    }
    return codes("cut-counts", Garment(replace(made.pattern, pieces={**made.pattern.pieces, **pieces}), made.cuts))


def test_half_a_collar_that_is_cut_once_is_told_though_another_could_be_folded_over():
    """Both halves of the neck are in one seam: nothing takes the left half alone, as the shield of a fly does."""
    assert collars(under_on_fold=True) == []
    assert collars(under_on_fold=False) == [("does-not-pair", "block", "M")]
