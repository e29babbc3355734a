"""What cloth with a repeat takes more: never less than it takes when lines are really matched."""

import itertools

import numpy as np
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.geometry.points import Point
from pipeline.lays.items import LayItem
from pipeline.lays.lay import Lay, Placed
from pipeline.lays.repeats import behind_each_other, extra_mm
from tests.lays.samples import rectangle, request

REPEAT = 320.0


def laid(*places, pieces=None, repeat=REPEAT, across=False, matched=("big",)):
    items = pieces or (rectangle("big", 400, 300, count=9), rectangle("small", 100, 100, count=9))
    placed = tuple(Placed(item=item, x_mm=x, y_mm=y, angle_deg=0) for item, x, y in places)
    asked = request(items, 1400)
    lay = Lay(folded=False, length_mm=5000, placed=placed, seed=0, seconds=0)
    return extra_mm(asked, lay, set(matched), repeat, across)


def test_pieces_beside_each_other_are_one_row_and_behind_each_other_two():
    assert laid(("big", 0, 200), ("big", 0, 600)) == REPEAT
    assert laid(("big", 0, 200), ("big", 450, 200)) == 2 * REPEAT
    assert laid(("big", 0, 200), ("big", 450, 600)) == REPEAT  # none lies behind the other


def test_what_has_no_matching_line_costs_nothing_but_joins_rows():
    assert laid(("small", 0, 200), ("small", 150, 200)) == 0
    bridge = rectangle("bridge", 100, 900, count=1)
    pieces = (rectangle("big", 400, 300, count=9), bridge)
    places = ("big", 0, 200), ("bridge", 420, 450), ("big", 540, 700)
    assert laid(*places, pieces=pieces) == 2 * REPEAT


def test_cloth_that_repeats_across_too_has_each_piece_behind_all_others():
    assert laid(("big", 0, 200), ("big", 0, 600), across=True) == 2 * (400 + REPEAT)


MOUTH = (
    Point(0, -50),
    Point(20, -50),
    Point(20, 30),
    Point(80, 30),
    Point(80, -50),
    Point(100, -50),
    Point(100, 50),
    Point(0, 50),
)


def test_a_piece_in_the_mouth_of_another_moves_with_it():
    mouth, tongue = np.array(MOUTH), np.array([(40, -150), (60, -150), (60, 20), (40, 20)], dtype=float)
    reach = behind_each_other([mouth, tongue, tongue + np.array((300, 0))])
    assert reach.tolist() == [[True, True, True], [True, True, True], [False, False, True]]


def test_of_two_to_be_matched_that_move_together_one_is_laid_behind_all_others():
    pieces = LayItem(name="mouth", outline=MOUTH, grain="warp", count=1), rectangle("tongue", 20, 100, count=1)
    places = ("mouth", 0, 200), ("tongue", 40, 160)
    assert laid(*places, pieces=pieces, matched=("mouth",)) == REPEAT
    assert laid(*places, pieces=pieces, matched=("mouth", "tongue")) == REPEAT + 20 + REPEAT


@st.composite
def rows(draw):
    """Rectangles that do not overlap: columns across the cloth, in each of them one behind another."""
    places, names = [], []
    y = 0.0
    for _ in range(draw(st.integers(1, 4))):
        wide, x = draw(st.floats(50, 300)), 0.0
        for _ in range(draw(st.integers(1, 4))):
            x += draw(st.floats(0, 80))
            long = draw(st.floats(50, 500))
            places.append((x, y + draw(st.floats(0, 20)), long, wide))
            names.append(draw(st.booleans()))
            x += long
        y += wide + 25
    return places, names


@settings(deadline=None, max_examples=60)
@given(rows(), st.floats(40, 400), st.data())
def test_the_extra_is_never_short_of_what_moving_the_pieces_takes(made, repeat, data):
    places, marked = made
    outlines = [np.array([(x, y), (x + a, y), (x + a, y + b), (x, y + b)]) for x, y, a, b in places]
    phases = [data.draw(st.floats(0, 1)) * repeat for _ in places]
    order = sorted(range(len(places)), key=lambda k: places[k][0])
    shifts = dict.fromkeys(order, 0.0)
    for k in order:
        _, y, _, b = places[k]
        ahead = [j for j in order if places[j][0] < places[k][0]]
        ahead = [j for j in ahead if places[j][1] < y + b and y < places[j][1] + places[j][3]]
        shifts[k] = max((shifts[j] for j in ahead), default=0.0)
        if marked[k]:  # on to where its line lies right
            shifts[k] += -(places[k][0] + phases[k] + shifts[k]) % repeat
    moved = [outline + np.array((shifts[k], 0.0)) for k, outline in enumerate(outlines)]
    polygons = [shapely.Polygon(outline) for outline in moved]
    assert all(one.intersection(other).area < 1e-6 for one, other in itertools.combinations(polygons, 2))
    long = max(outline[:, 0].max() for outline in outlines)
    needed = max(outline[:, 0].max() for outline in moved) - long
    reach = behind_each_other(outlines)
    longest = [0] * len(places)
    for k in order:
        longest[k] = max((longest[j] for j in order if j != k and reach[j, k]), default=0) + marked[k]
    assert needed <= max(longest) * repeat + 1e-6
    items = [rectangle(f"piece-{k}", a, b, count=1) for k, (_, _, a, b) in enumerate(places)]
    lay = [(item.name, x, y + b / 2) for item, (x, y, _, b) in zip(items, places, strict=True)]
    matched = {item.name for item, own in zip(items, marked, strict=True) if own}
    assert needed <= laid(*lay, pieces=items, repeat=repeat, matched=matched) + 1e-6
