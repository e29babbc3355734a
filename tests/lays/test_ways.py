"""Cloth on two folds, and cloth with one selvedge folded in: what the proof holds, what is found, and what is told."""

import math

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pipeline.lays.lay import Lay
from pipeline.lays.mend import mended
from pipeline.lays.plain import plain_lay
from pipeline.lays.proof import faults
from pipeline.lays.saved import choose, lay_key
from pipeline.lays.search import search_lays
from pipeline.lays.sharing import can_be_laid, shares
from pipeline.lays.ways import least_to_buy, would_save
from pipeline.lays.zones import joined, parts, unfolded, zones
from pipeline.model.pattern import Material
from tests.lays.in_zones import BACK, FRONT, ON_TWO, SLEEVES, TWO, at, lay
from tests.lays.samples import pattern, rectangle, request, triangle


def test_both_selvedges_in_the_middle_take_their_place_there():
    upper, lower = zones(TWO)
    assert (upper.top_mm, upper.bottom_mm, upper.fold_mm) == (0, 240, 0)
    assert (lower.top_mm, lower.bottom_mm, lower.fold_mm) == (260, 500, 500)


def test_two_folds_hold_a_half_each():
    assert not faults(TWO, lay(ON_TWO, 950, "two-folds"))


@pytest.mark.parametrize(
    ("instead", "told"),
    [
        ({1: at("back", 600, 499.9, 180, layers="fold", mirrored=True)}, "middle on the fold"),
        ({1: at("back", 600, 500, 180, layers="fold")}, "leaves the width"),
        ({1: at("back", 0, 0, layers="fold")}, "overlap"),
        ({1: at("back", 600, 500, 90, layers="fold", mirrored=True)}, "askew"),
        ({1: at("back", 700, 250, layers="one")}, "layers that are not there"),
        ({1: at("back", 1000, 250, layers="lower")}, "back lies beside the fold"),
        ({2: at("sleeve", 650, 60, layers="pair")}, "leaves the width by 20.000 mm"),
        ({2: at("sleeve", 650, 0, 180, layers="pair")}, "leaves the width"),
        ({2: at("sleeve", 650, 0, layers="lower")}, "sleeve is to be cut 2 times"),
        ({2: at("sleeve", 400, 0, layers="pair")}, "overlap"),
        ({0: at("front", 0, 0, 180, layers="fold"), 2: at("sleeve", 660, 0, layers="pair")}, "leaves the length"),
    ],
)
def test_a_fault_on_two_folds_is_found(instead, told):
    placed = [instead.get(number, place) for number, place in enumerate(ON_TWO)]
    assert any(told in fault for fault in faults(TWO, lay(placed, 950, "two-folds")))


def test_one_way_holds_on_both_folds():
    one_way = msgspec.structs.replace(TWO, one_way=True)
    assert any("180 degrees" in fault for fault in faults(one_way, lay(ON_TWO, 950, "two-folds")))
    up = (ON_TWO[0], at("back", 0, 500, layers="fold", mirrored=True), ON_TWO[2])
    assert not faults(one_way, lay(up, 950, "two-folds"))


PARTIAL = request([FRONT, SLEEVES, triangle("tab", 300, 200, 1, 0)], 980, way="partial-fold", selvedge_mm=10.0)
ON_PART = (
    at("front", 0, 0, layers="fold"),
    at("sleeve", 0, 210),
    at("sleeve", 300, 420, mirrored=True),
    at("tab", 300, 430),
)


def test_one_selvedge_is_folded_in_as_far_as_the_half_needs():
    doubled, single = zones(PARTIAL, 200.0)
    assert (doubled.top_mm, doubled.bottom_mm) == (0, 200)
    assert (single.top_mm, single.bottom_mm) == (210, 780)
    assert not faults(PARTIAL, lay(ON_PART, 600, "partial-fold", doubled_mm=200.0))


@pytest.mark.parametrize(
    ("instead", "doubled_mm", "told"),
    [
        ({}, 199.9, "front leaves the width by 0.100 mm"),
        ({}, 200.1, "sleeve leaves the width by 0.100 mm"),
        ({}, 486.0, "are folded in, of at most 485"),
        ({}, math.nan, "are folded in"),
        ({1: at("sleeve", 0, 209.9)}, 200.0, "leaves the width by 0.100 mm"),
        ({1: at("sleeve", 0, 210, layers="pair")}, 200.0, "sleeve is to be cut 2 times"),
        ({0: at("front", 0, 410)}, 200.0, "front lies beside the fold"),
        ({3: at("tab", 300, 430, mirrored=True)}, 200.0, "tab is to be cut 1 times"),
        ({3: at("tab", 300, 600)}, 200.0, "leaves the width by 20.000 mm"),
    ],
)
def test_a_fault_on_a_partial_fold_is_found(instead, doubled_mm, told):
    placed = [instead.get(number, place) for number, place in enumerate(ON_PART)]
    assert any(told in fault for fault in faults(PARTIAL, lay(placed, 600, "partial-fold", doubled_mm=doubled_mm)))


@pytest.mark.parametrize(
    ("asked", "held"),
    [(TWO, lay(ON_TWO, 950, "two-folds")), (PARTIAL, lay(ON_PART, 600, "partial-fold", doubled_mm=200.0))],
)
def test_a_lay_opened_out_is_an_open_lay_and_one_taken_apart_is_the_same_put_together(asked, held):
    opened = unfolded(held, asked)
    assert not faults(msgspec.structs.replace(asked, way="open"), opened)
    assert len(opened.placed) == sum(item.count for item in asked.items)
    again = joined(asked, parts(asked, held), held.length_mm, held.seed, held.seconds)
    assert sorted(again.placed, key=repr) == sorted(held.placed, key=repr)
    assert again.doubled_mm == held.doubled_mm


KNOWN = {
    "two halves, each on its own fold": (
        request([FRONT, BACK], 980, way="two-folds", selvedge_mm=10.0),
        600,
    ),
    "four halves, two on each fold": (
        request([rectangle("half", 600, 400, 4, on_fold=True)], 980, way="two-folds", selvedge_mm=10.0),
        1200,
    ),
    "a half on the fold, a single piece in one layer": (
        request([FRONT, rectangle("lining", 600, 560, 1)], 980, way="partial-fold", selvedge_mm=10.0),
        600,
    ),
    "a half on the fold, a pair side by side in one layer": (
        request([FRONT, rectangle("side", 300, 500, 2)], 980, way="partial-fold", selvedge_mm=10.0),
        600,
    ),
    "a fold deep enough for the half and a pair under it": (
        request([FRONT, rectangle("side", 600, 150, 2)], 800, way="partial-fold", selvedge_mm=10.0, gap_mm=2.0),
        600,
    ),
}


@pytest.fixture(scope="module")
def found():
    return dict(zip(KNOWN, search_lays([asked for asked, _ in KNOWN.values()], 4), strict=True))


@pytest.mark.parametrize("name", KNOWN)
def test_the_best_lay_in_two_zones_is_found(name, found):
    asked, best = KNOWN[name]
    held = found[name].lay
    assert held is not None, found[name].troubles
    assert not faults(asked, held)
    assert held.length_mm == pytest.approx(best, abs=0.05)


def test_what_does_not_fit_beside_the_selvedges_cannot_be_laid_on_two_folds():
    wide = msgspec.structs.replace(FRONT, name="wide", outline=rectangle("wide", 600, 484, 1).outline)
    assert not can_be_laid(msgspec.structs.replace(TWO, items=(wide,)))
    assert can_be_laid(msgspec.structs.replace(TWO, items=(wide,), selvedge_mm=4.0, usable_mm=992.0))
    assert shares(msgspec.structs.replace(TWO, items=(wide,)), 1, 5) == []


sizes = st.floats(40, 400)


@st.composite
def asked_in_two_zones(draw):
    items = []
    for number in range(draw(st.integers(1, 4))):
        count = draw(st.integers(1, 4))
        if draw(st.booleans()):
            items.append(rectangle(f"r{number}", draw(sizes), draw(sizes), count, on_fold=draw(st.booleans())))
        else:
            items.append(triangle(f"t{number}", draw(sizes), draw(sizes), count, draw(st.integers(0, count))))
    return request(
        items,
        draw(st.floats(500, 1600)),
        way=draw(st.sampled_from(["two-folds", "partial-fold"])),
        one_way=draw(st.booleans()),
        gap_mm=draw(st.sampled_from([0.0, 2.0])),
        selvedge_mm=draw(st.sampled_from([0.0, 0.5, 12.0])),
    )


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(asked_in_two_zones())
def test_any_pieces_that_fit_have_a_proven_plain_lay_which_holds_opened_out_and_taken_apart(asked):
    if not can_be_laid(asked):
        return
    held = plain_lay(asked)
    assert held is not None
    assert not faults(asked, held)
    opened = msgspec.structs.replace(asked, way="open", gap_mm=0.0)  # the fold lies between what was not yet apart
    assert not faults(opened, unfolded(held, asked))
    again = joined(asked, parts(asked, held), held.length_mm, held.seed, held.seconds)
    assert not faults(asked, again)


def test_a_kept_lay_says_its_way_and_older_ones_are_as_they_were():
    two = msgspec.json.encode(lay((), 1, "two-folds"))
    assert two == b'{"folded":"two-folds","length_mm":1,"placed":[],"seed":1,"seconds":1}'
    part = lay((), 1, "partial-fold", doubled_mm=12.5)
    assert msgspec.json.decode(msgspec.json.encode(part), type=Lay) == part
    assert msgspec.json.decode(two.replace(b'"two-folds"', b"true"), type=Lay).way == "fold"


def test_a_lay_in_two_zones_depends_on_the_selvedge():
    wider = msgspec.structs.replace(TWO, selvedge_mm=12.0)
    assert lay_key(TWO) != lay_key(wider)
    one = msgspec.structs.replace(TWO, way="fold")
    assert lay_key(one) == lay_key(msgspec.structs.replace(one, selvedge_mm=12.0))


def test_two_folds_also_hold_on_wider_cloth():
    wider = msgspec.structs.replace(TWO, usable_mm=1180.0, width_mm=1200.0)
    chosen = choose([TWO, wider], {lay_key(TWO): lay(ON_TWO, 950, "two-folds")}, {})
    assert [each.lay.length_mm for each in chosen] == [950, 950]
    assert not faults(wider, chosen[1].lay)


def test_a_kept_lay_on_two_folds_is_mended_where_a_piece_has_grown():
    grown = rectangle("back", 604, 402, 1, on_fold=True)
    asked = msgspec.structs.replace(TWO, items=(FRONT, grown, SLEEVES))
    new = mended(asked, [lay(ON_TWO, 950, "two-folds")])
    assert new is not None
    assert not faults(asked, new)
    assert new.length_mm == pytest.approx(900, abs=1)


FOLDED = request([FRONT, BACK], 980, way="fold", selvedge_mm=10.0, width_mm=1000.0, size="38")
SHELL = Material(title={"en": "main cloth"}, widths_mm=(1000.0,), selvedge_mm=10.0, ways=("fold", "two-folds"))


def chosen(*lengths):
    asked = [FOLDED, msgspec.structs.replace(FOLDED, way="two-folds")]
    after = [at("front", 0, 0, layers="fold"), at("back", 600, 0, layers="fold")]
    lays = [lay(after, lengths[0], True), lay(ON_TWO[:2], lengths[1], "two-folds")]
    return choose(asked, {lay_key(one): each for one, each in zip(asked, lays, strict=True)}, {})


@pytest.mark.parametrize(("lengths", "told"), [((1240, 950), "two-folds"), ((1240, 1201), "fold")])
def test_the_way_of_which_the_least_is_bought_is_told_and_of_equal_ones_the_first(lengths, told):
    made = pattern(shell=SHELL)
    assert [each.request.way for each in least_to_buy(made, chosen(*lengths))] == [told]


def test_cloth_that_would_take_about_a_fifth_less_in_one_layer_is_told_for_the_base_size():
    only = msgspec.structs.replace(SHELL, ways=("fold",))
    told = would_save(pattern(shell=only), chosen(1200, 950)[:1])
    assert [(finding.code, finding.severity, finding.size) for finding in told] == [("other-way", "info", "38")]
    assert told[0].allowed == "about 700 mm in one layer"
    assert "about 42% less" in told[0].message
    assert '"two-folds" or "partial-fold" or "open"' in told[0].remedy


@pytest.mark.parametrize("ways", [("fold", "open"), ("open",)])
def test_nothing_is_told_where_cloth_may_be_laid_open(ways):
    allowed = msgspec.structs.replace(SHELL, ways=ways)
    assert would_save(pattern(shell=allowed), chosen(1200, 950)[:1]) == ()


FLY = msgspec.structs.replace(triangle("fly", 300, 200, 1, 0), face="up")
LINING = msgspec.structs.replace(triangle("lining", 300, 200, 1, 1), face="up")
LEFT_ON_FOLD = request([FLY, LINING], 1000, way="fold")


@pytest.mark.parametrize(
    ("fly", "lining", "told"),
    [
        ({"layers": "lower"}, {"layers": "upper"}, None),
        ({"layers": "upper", "mirrored": True}, {"layers": "upper"}, "fly lies with its printed side down"),
        ({"layers": "lower"}, {"layers": "lower", "mirrored": True}, "lining lies with its printed side down"),
    ],
)
def test_what_one_side_has_lies_printed_side_up_on_the_fold(fly, lining, told):
    """As drawn it is cut from the lower layer, which is right side up; a mirror image from the upper one."""
    y = {True: 200.0, False: 0.0}
    placed = (
        at("fly", 0, y[fly.get("mirrored", False)], **fly),
        at("lining", 400, y[lining.get("mirrored", False)], **lining),
    )
    found = faults(LEFT_ON_FOLD, lay(placed, 700, True))
    assert (told in found) if told else not found


def test_its_mirror_image_lies_so_in_a_turned_zone():
    zone = zones(msgspec.structs.replace(TWO, items=(FLY,)))[1]
    (item,) = zone.request(TWO, [FLY]).items
    assert (zone.turned, item.face) == (True, "down")


@pytest.mark.parametrize("way", ["fold", "two-folds"])
def test_so_it_is_found_too(way):
    asked = request([FLY, LINING, triangle("sleeve", 300, 200, 2, 1)], 980, way=way, selvedge_mm=10.0, width_mm=1000.0)
    found = plain_lay(asked)
    assert not faults(asked, found)
    layers = {place.item: (place.layers, place.mirrored) for place in found.placed}
    assert (layers["fly"], layers["lining"]) == (("lower", False), ("upper", False))


def test_which_side_is_up_is_part_of_what_a_lay_is_kept_for():
    free = msgspec.structs.replace(LEFT_ON_FOLD, items=(msgspec.structs.replace(FLY, face=None), LINING))
    assert lay_key(free) != lay_key(LEFT_ON_FOLD)
