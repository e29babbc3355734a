"""Strips and hems: folded in the steps of their make, with the layers that they then have."""

import pytest
import shapely

from pipeline.booklet.figures.folding import hem_states, section, strip_states
from pipeline.cutting.strips import FACTOR, SEAMED, strip_cut_size
from tests.booklet.figures.demo_garments import figure, garment

LAYERS = {"flat": [1], "edges-to-centre": [1, 2], "doubled": [1, 2], "thirds": [1, 2, 3], "quarters": [1, 2, 4]}
W = 20.0


@pytest.mark.parametrize("make", LAYERS)
def test_each_step_has_its_layers(make):
    states = strip_states(make, W, 0.0)
    middles = [(state.low + state.high) / 2 for state in states]
    if make == "thirds":
        middles[1] = states[1].low + W / 2  # one third lies on the second, the last third still alone
    # beside the line where two raw edges meet
    assert [state.layers_at(middle + 0.1) for state, middle in zip(states, middles, strict=True)] == LAYERS[make]


@pytest.mark.parametrize("make", LAYERS)
def test_a_strip_is_as_wide_as_it_is_cut_and_then_as_it_is_finished(make):
    states = strip_states(make, W, 0.0)
    assert states[0].high == FACTOR[make] * W
    assert states[-1].high - states[-1].low == pytest.approx(W)


@pytest.mark.parametrize("make", sorted(SEAMED))
def test_allowances_are_those_of_the_cut_strip(make):
    strip = next(s for s in garment("work-jacket").pattern.strips.values() if s.make == "doubled")
    assert strip_states("doubled", strip.width_mm, strip.allowance_mm)[0].high == strip_cut_size(strip, 100.0).width_mm
    states = strip_states(make, W, 6.0)
    assert states[0].high == FACTOR[make] * W + 12.0
    assert 6.0 in states[-1].seams


@pytest.mark.parametrize("make", LAYERS)
def test_folding_takes_no_cloth_away_and_no_layer_lies_in_another(make):
    for state in strip_states(make, W, 0.0):
        widths = [layer.end - layer.start for layer in state.layers]
        heights = [abs(layer.bottom - layer.top) for layer in state.layers]
        assert widths == pytest.approx(heights)
        assert sum(widths) == pytest.approx(FACTOR[make] * W)
        spans = [(layer.level, *sorted((layer.top, layer.bottom))) for layer in state.layers]
        for k, (level, low, high) in enumerate(spans):
            assert all(level != other or high <= b or d <= low for other, b, d in spans[:k])


@pytest.mark.parametrize("make", LAYERS)
def test_the_cloth_seen_from_its_end_is_one_line_that_never_crosses_itself(make):
    for state in strip_states(make, W, 0.0):
        assert shapely.LineString(section(state, 0.0, 0.0, 1.0)).is_simple


def test_a_hem_is_turned_up_as_far_as_its_allowance():
    flat, up = hem_states(60.0, 40.0)
    assert flat.high == 100.0
    assert (up.layers_at(50.0), up.layers_at(10.0)) == (2, 1)
    assert up.high == 60.0


@pytest.mark.parametrize(
    ("folds", "turn_up", "last"),
    [
        ((30.0,), False, {5.0: 2, 25.0: 3}),  # turned in at its raw edge, which lies inside
        ((40.0, 80.0), False, {30.0: 3, 10.0: 4}),
        ((40.0, 80.0), True, {30.0: 3, 10.0: 4}),
    ],
)
def test_a_hem_that_is_folded_more_than_once_has_its_layers_and_loses_no_cloth(folds, turn_up, last):
    depth = 40.0 if len(folds) == 1 else 100.0
    states = hem_states(60.0, depth, folds, turn_up)
    assert len(states) == (3 if turn_up else len(folds) + 2)
    assert {height: states[-1].layers_at(60.0 - height) for height in last} == last
    for state in states:
        assert sum(abs(layer.bottom - layer.top) for layer in state.layers) == pytest.approx(60.0 + depth)
        assert state.high <= 60.0 + depth
        assert shapely.LineString(section(state, 0.0, 0.0, 1.0)).is_simple
    assert states[-1].high == pytest.approx(60.0)


def test_a_turn_up_lies_on_the_right_side_and_the_raw_edge_on_the_wrong_side():
    body, upper, outer, inside = hem_states(60.0, 100.0, (40.0, 80.0), True)[-1].layers
    assert outer.level < upper.level < body.level < inside.level


def test_measures_are_told_in_the_readers_language():
    alt = figure("work-jacket", "strip cuff-tab", "de").alt
    assert "zugeschnitten 9 cm (3 9/16 in) breit; fertig 3,5 cm (1 3/8 in) breit." in alt
    assert "4 cm" in figure("work-jacket", "hem front.hem").alt
    assert "1/2 in" in figure("half-circle-skirt", "hem panel-long.hem").alt
