"""Lays whose best length is known, whatever the engine did to find them."""

import math
import random
import threading
import time
from itertools import pairwise

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from pipeline.geometry.points import Point
from pipeline.lays.compact import compacted
from pipeline.lays.engine import Engine, EngineError
from pipeline.lays.fit import fits, too_wide
from pipeline.lays.folded_lay import folded_members
from pipeline.lays.items import LayItem
from pipeline.lays.lay import Lay, Shapes, folded_as
from pipeline.lays.open_lay import open_members
from pipeline.lays.proof import faults
from pipeline.lays.search import rounds, search_lay, search_lays
from pipeline.lays.sharing import can_be_laid
from pipeline.lays.shelves import shelved
from pipeline.lays.worker import EngineItem
from tests.lays.samples import pattern, rectangle, request, triangle

NEAR_MM = 0.05
"""What the proof allows."""


@pytest.fixture(scope="module")
def engine():
    with Engine() as running:
        yield running


KNOWN = {
    "four squares fill the width exactly": (request([rectangle("a", 500, 500, 4)], 1000), 1000),
    "the gap lies between pieces and not at the selvedge": (
        request([rectangle("a", 500, 499, 4)], 1000, gap_mm=2.0),
        1002,
    ),
    "bias: (900 + 100) / √2 long, three across": (
        request([rectangle("a", 900, 100, 3, grain="bias")], 1000),
        1000 / math.sqrt(2),
    ),
    "across the cloth": (request([rectangle("a", 800, 100, 3, grain="weft")], 900), 300),
    "a half on the fold beside a pair": (
        request([rectangle("back", 600, 400, 1, on_fold=True), rectangle("front", 600, 300, 2)], 1000, way="fold"),
        600,
    ),
    "two on the fold, one after the other": (
        request([rectangle("back", 600, 400, 2, on_fold=True), rectangle("front", 300, 200, 2)], 480, way="fold"),
        1500,
    ),
    "an odd piece takes both layers": (request([rectangle("a", 400, 500, 3)], 1000, way="fold"), 800),
    "one way: two triangles cannot make a square": (request([triangle("t", 500, 500, 2, 0)], 500, one_way=True), 1000),
    "either way: two triangles make a square": (request([triangle("t", 500, 500, 2, 0)], 500), 500),
}


@pytest.fixture(scope="module")
def found():
    return dict(zip(KNOWN, search_lays([asked for asked, _ in KNOWN.values()], 1), strict=True))


@pytest.mark.parametrize("name", KNOWN)
def test_the_best_lay_is_found(name, found):
    asked, best = KNOWN[name]
    lay = found[name].lay
    assert lay is not None, found[name].troubles
    assert not faults(asked, lay)
    assert lay.length_mm == pytest.approx(best, abs=NEAR_MM)


def test_without_grain_a_strip_may_lie_at_any_angle(engine):
    """Too long for the width along any grain that the cloth has, but not askew."""
    asked = request([rectangle("a", 800, 50, 1, grain="weft")], 600, free_turn=True)
    assert not fits(msgspec.structs.replace(asked, free_turn=False), asked.items[0])
    lay = search_lay(asked, 1, engine).lay
    assert lay is not None
    assert not faults(asked, lay)


def test_a_lay_that_the_engine_breaks_on_is_still_laid(engine):
    """One small piece with a gap: the engine's first strip is shorter than the gap."""
    asked = request([triangle("t", 16, 17, 1, 0)], 300, gap_mm=2.0)
    found = search_lay(asked, 1, engine)
    assert found.lay is not None, found.troubles
    assert not faults(asked, found.lay)


def test_a_round_piece_that_just_fits_is_laid(engine):
    circle = [Point(250 + 250 * math.cos(i * math.pi / 400), 250 * math.sin(i * math.pi / 400)) for i in range(800)]
    asked = request([LayItem(name="round", outline=tuple(circle), grain="bias", count=1)], 500, gap_mm=2.0)
    found = search_lay(asked, 1, engine)
    assert found.lay is not None, found.troubles
    assert found.lay.length_mm == pytest.approx(500, abs=NEAR_MM)


def test_the_engine_refuses_by_an_error_and_goes_on(engine):
    """Its panics are no Exception; the next job is answered all the same."""
    square = EngineItem(shape=((0, 0), (100, 0), (100, 100), (0, 100)), demand=1, angles=(0.0,))
    with pytest.raises(EngineError, match="PanicException"):
        engine.solve(50.0, 0.0, (square,), 1, 1)
    assert len(engine.solve(200.0, 0.0, (square,), 1, 1)) == 1


def test_an_engine_that_is_killed_leaves_nothing_and_starts_again(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    asked = request([rectangle("a", 300, 200, 5)], 1000)
    with Engine() as engine:
        outcome = []
        running = threading.Thread(target=lambda: outcome.append(search_lay(asked, 5, engine)))
        running.start()
        while engine.process is None:
            time.sleep(0.01)
        engine.process.kill()
        running.join()
        assert outcome[0].lay is None
        assert outcome[0].troubles == ("the engine's process ended before it answered",)
        assert search_lay(asked, 1, engine).lay is not None
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("seconds", range(1, 70))
def test_seconds_are_the_total_over_all_tries(seconds):
    shared = rounds(seconds, choices=True)
    assert sum(each.tries * each.seconds for each in shared) == seconds
    assert all(earlier.tries >= later.tries for earlier, later in pairwise(shared))


def test_the_long_search_of_folded_lays_is_the_measured_one():
    assert [(each.tries, each.seconds) for each in rounds(60, choices=True)][:2] == [(16, 1), (4, 4)]


radii = st.lists(st.floats(0.3, 1.0), min_size=3, max_size=20)


@st.composite
def items(draw, number):
    size_mm, count = draw(st.floats(20, 500)), draw(st.integers(1, 3))
    if draw(st.booleans()):
        return rectangle(f"r{number}", size_mm, draw(st.floats(20, 500)), count, on_fold=draw(st.booleans()))
    corners = draw(radii)
    turn = 2 * math.pi / len(corners)
    places = [Point(size_mm * r * math.cos(i * turn), size_mm * r * math.sin(i * turn)) for i, r in enumerate(corners)]
    left = min(place.x for place in places)
    return LayItem(
        name=f"p{number}",
        outline=tuple(Point(x - left, y) for x, y in places),
        grain=draw(st.sampled_from(["warp", "weft", "bias"])),
        count=count,
        mirrored=draw(st.integers(0, count)),
    )


@st.composite
def requests(draw):
    return request(
        [draw(items(number)) for number in range(draw(st.integers(1, 4)))],
        draw(st.floats(300, 1500)),
        way=draw(st.sampled_from(["fold", "two-folds", "partial-fold", "open"])),
        selvedge_mm=draw(st.sampled_from([0.0, 10.0])),
        one_way=draw(st.booleans()),
        free_turn=draw(st.booleans()),
        gap_mm=draw(st.sampled_from([0.0, 2.0])),
    )


@settings(max_examples=6, deadline=None, suppress_health_check=list(HealthCheck))
@given(requests())
def test_any_pieces_on_any_width_have_a_proven_lay_or_a_finding(engine, asked):
    if not can_be_laid(asked):
        opened = msgspec.structs.replace(asked, way="open")
        if not all(fits(opened, item) for item in asked.items):
            assert {finding.code for finding in too_wide(pattern(), opened)} == {"too-wide"}
            return
        asked = opened
    found = search_lay(asked, 1, engine)
    assert found.lay is not None, found.troubles
    assert not faults(asked, found.lay)


@pytest.mark.parametrize("name", KNOWN)
def test_the_plain_lay_is_proven_too(name):
    asked, best = KNOWN[name]
    coarse = Shapes(asked, coarse=True)
    members = folded_members(asked, random.Random(1)) if asked.way == "fold" else open_members(asked)
    length, placed = compacted(asked, coarse, shelved(asked, coarse, members))
    lay = Lay(folded=folded_as(asked.way), length_mm=length, placed=placed, seed=1, seconds=0)
    assert not faults(asked, lay)
    assert length >= best - NEAR_MM
