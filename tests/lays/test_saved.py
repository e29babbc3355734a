"""Kept lays: found again by what they depend on, proven again, and the shortest chosen."""

import msgspec
import pytest

from pipeline.lays.lay import Lay, Placed
from pipeline.lays.saved import LaysFile, choose, lay_key, missing, next_seed, with_better
from pipeline.lays.tell import not_kept
from tests.lays.samples import pattern, rectangle, request

ITEMS = (rectangle("back", 600, 400, 1, on_fold=True), rectangle("front", 600, 300, 2))
FOLDED = request(ITEMS, 1000.0, way="fold")
WIDER = request(ITEMS, 1200, way="fold")
OPEN = request(ITEMS, 1000.0)
ONE_WAY = request(ITEMS, 1000.0, way="fold", one_way=True)
SIDE_BY_SIDE = Lay(
    folded=True,
    length_mm=600,
    placed=(
        Placed(item="back", x_mm=0, y_mm=0, angle_deg=0, layers="fold"),
        Placed(item="front", x_mm=0, y_mm=350, angle_deg=0, layers="pair"),
    ),
    seed=1,
    seconds=20,
)
ONE_AFTER_THE_OTHER = Lay(
    folded=True,
    length_mm=1200,
    placed=(
        Placed(item="back", x_mm=600, y_mm=0, angle_deg=180, layers="fold"),
        Placed(item="front", x_mm=600, y_mm=150, angle_deg=0, layers="pair"),
    ),
    seed=4,
    seconds=3,
)


@pytest.mark.parametrize(
    "change",
    [
        {"usable_mm": 1001.0},
        {"gap_mm": 1.0},
        {"way": "open"},
        {"one_way": True},
        {"items": (ITEMS[0], rectangle("front", 600.1, 300, 2))},
        {"items": (ITEMS[0], rectangle("front", 600, 300, 3))},
        {"items": (ITEMS[0], rectangle("front", 600, 300, 2, grain="weft"))},
    ],
)
def test_a_lay_is_kept_under_all_that_it_depends_on(change):
    assert lay_key(FOLDED) != lay_key(msgspec.structs.replace(FOLDED, **change))


@pytest.mark.parametrize(
    "same",
    [
        {"size": "42"},
        {"material": "lining"},
        {"view": "long"},
        {"width_mm": 1040.0},
        {"tried_open": True},
        {"usable_mm": 1000.0004},
        {"items": (ITEMS[0], rectangle("front", 600.0004, 300, 2))},
    ],
)
def test_what_a_lay_does_not_depend_on_does_not_count(same):
    assert msgspec.structs.replace(FOLDED, **same) != FOLDED
    assert lay_key(FOLDED) == lay_key(msgspec.structs.replace(FOLDED, **same))


def test_only_what_has_no_proven_lay_is_searched():
    lays = {lay_key(FOLDED): SIDE_BY_SIDE, lay_key(OPEN): SIDE_BY_SIDE}
    assert missing([FOLDED, WIDER, OPEN, WIDER], lays) == (WIDER, OPEN)


@pytest.mark.parametrize("asked", [FOLDED, WIDER, OPEN])
def test_a_one_way_folded_lay_also_holds_without_nap_on_wider_cloth_and_opened_out(asked):
    family = [asked, ONE_WAY]
    kept = {lay_key(ONE_WAY): SIDE_BY_SIDE, lay_key(asked): ONE_AFTER_THE_OTHER}
    assert {each.request.one_way: each.lay.length_mm for each in choose(family, kept, {})} == {False: 600, True: 600}


def test_a_lay_without_nap_is_not_taken_for_one_way_cloth():
    chosen = choose([FOLDED, ONE_WAY], {lay_key(FOLDED): ONE_AFTER_THE_OTHER}, {})
    assert [each.request for each in chosen] == [FOLDED]


def test_a_lay_on_wider_cloth_is_not_taken_for_narrower():
    assert [each.request for each in choose([FOLDED, WIDER], {lay_key(WIDER): SIDE_BY_SIDE}, {})] == [WIDER]


def test_a_damaged_kept_lay_is_never_chosen():
    damaged = msgspec.structs.replace(SIDE_BY_SIDE, placed=SIDE_BY_SIDE.placed[:1])
    assert choose([FOLDED], {lay_key(FOLDED): damaged}, {}) == ()


def test_the_shorter_lay_is_kept_and_stale_ones_go():
    key = lay_key(FOLDED)
    kept = {key: ONE_AFTER_THE_OTHER, "0" * 32: SIDE_BY_SIDE}
    assert with_better(kept, [FOLDED], {key: SIDE_BY_SIDE}).lays == {key: SIDE_BY_SIDE}
    assert with_better({key: SIDE_BY_SIDE}, [FOLDED], {key: ONE_AFTER_THE_OTHER}).lays == {key: SIDE_BY_SIDE}


def test_a_longer_search_makes_other_tries():
    assert next_seed(FOLDED, {}) == 1
    assert next_seed(FOLDED, {lay_key(FOLDED): ONE_AFTER_THE_OTHER}) == 5


def test_a_lay_is_kept_at_full_precision():
    odd = msgspec.structs.replace(SIDE_BY_SIDE, length_mm=600.1234567890123)
    file = LaysFile(lays={lay_key(FOLDED): odd})
    assert msgspec.json.decode(msgspec.json.encode(file), type=LaysFile) == file


def test_a_lay_that_is_not_kept_is_told():
    searched = choose([FOLDED], {}, {lay_key(FOLDED): SIDE_BY_SIDE})
    kept = choose([FOLDED], {lay_key(FOLDED): SIDE_BY_SIDE}, {})
    assert [(finding.code, finding.severity) for finding in not_kept(pattern(), searched)] == [("not-kept", "info")]
    assert not_kept(pattern(), kept) == ()
