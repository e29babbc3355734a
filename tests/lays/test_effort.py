"""A search spends its time where neighbouring sizes disagree."""

import msgspec
import pytest

from pipeline.lays.effort import seconds_for
from pipeline.lays.lay import Lay
from pipeline.lays.saved import lay_key
from tests.lays.samples import rectangle, request

ROW = [request([rectangle("a", 500 + 20 * step, 400, 2)], 1000, size=str(34 + 2 * step)) for step in range(5)]


def kept(*times_the_bound):
    return {
        lay_key(asked): Lay(
            folded=False, length_mm=times * asked.area_mm2 / asked.usable_mm, placed=(), seed=1, seconds=1
        )
        for asked, times in zip(ROW, times_the_bound, strict=True)
    }


def shared(lays, seconds=20, row=ROW):
    told = seconds_for(row, lays, seconds)
    return [told[lay_key(asked)] for asked in row]


def test_sizes_that_agree_have_even_shares():
    assert shared(kept(1.2, 1.2, 1.2, 1.2, 1.2)) == [20] * 5


def test_a_lay_that_is_a_step_longer_than_its_neighbours_has_most_of_the_time():
    first, second, longer, fourth, last = shared(kept(1.2, 1.2, 1.4, 1.2, 1.2))
    assert longer == max(first, second, longer, fourth, last) == 56  # 100 s in 4 even shares and one of 5
    assert {first, second, fourth, last} == {11}


@pytest.mark.parametrize("seconds", [1, 3, 20, 60])
def test_the_time_in_all_is_about_the_same_and_nobody_has_none(seconds):
    told = shared(kept(1.1, 1.3, 1.15, 1.25, 1.2), seconds)
    assert min(told) >= max(1, seconds // 4)
    assert sum(told) <= 1.5 * 5 * seconds


def test_what_is_not_kept_is_searched_longest():
    lays = kept(1.2, 1.2, 1.2, 1.2, 1.2)
    del lays[lay_key(ROW[0])]
    told = shared(lays)
    assert told[0] == max(told) > 2 * told[1]


def test_another_width_is_no_neighbour():
    other = [msgspec.structs.replace(asked, width_mm=1400.0, usable_mm=1400.0) for asked in ROW[:1]]
    lays = kept(1.2, 1.2, 1.2, 1.2, 1.2)
    lays[lay_key(other[0])] = Lay(folded=False, length_mm=5000, placed=(), seed=1, seconds=1)
    assert set(shared(lays, row=[*ROW, *other])) == {20}
