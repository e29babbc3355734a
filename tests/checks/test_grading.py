"""How lengths and places change from size to size."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.geometry.curves import mapped_path
from pipeline.geometry.points import Affine, Point
from pipeline.model.pieces import InsideLine, MarkPoint
from tests.checks.skirt import PATTERN, SIZES, codes, garment, geometry, lines, replace, told
from tests.checks.skirt_faults import drawn_as, longer, notch_moved, turned_over, with_edges, without_notch


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("by_mm", [5, -5])
def test_a_notch_that_has_moved_in_both_pieces_leaves_its_path(size, by_mm):
    faults = {(piece, size): notch_moved("knee", by_mm) for piece in ("front", "back")}
    found = [f for f in told(faults) if f.check == "grading-paths"]
    assert {(f.code, f.size, f.piece) for f in found} == {("off", size, "front"), ("off", size, "back")}
    assert codes(told(faults)) == set()


@pytest.mark.parametrize("size", SIZES)
def test_a_length_that_is_off_in_both_pieces_breaks_the_steps(size):
    faults = {(piece, size): longer(6) for piece in ("front", "back")}
    found = [f for f in told(faults) if f.check == "grading-steps"]
    assert {(f.size, f.piece, f.where) for f in found} == {
        (size, piece, edge) for piece, fold in (("front", "cf"), ("back", "cb")) for edge in ("side", fold)
    }


def test_where_a_size_lies_on_its_page_is_no_matter():
    away = Affine(1, 0, 0, 1, 333, -71)

    def moved(piece):
        edges = tuple(replace(edge, path=mapped_path(edge.path, away)) for edge in piece.edges)
        notches = tuple(replace(n, place=away.point(n.place)) for n in piece.notches)
        inside = tuple(replace(line, path=mapped_path(line.path, away)) for line in piece.inside)
        grain = replace(piece.grain, bottom=away.point(piece.grain.bottom), top=away.point(piece.grain.top))
        return replace(piece, edges=edges, notches=notches, inside=inside, grain=grain)

    assert told({("front", "L"): moved}) == []


def test_a_mark_may_jump_where_a_size_set_ends_and_nowhere_else():
    def marked(place):
        return lambda piece: replace(piece, points=(MarkPoint("pocket", Point(*place)),))

    faults = {("front", size): marked((60 if size in ("S", "M") else 80, 200)) for size in SIZES}
    assert {f.check for f in told(faults)} == {"grading-paths"}
    sets = {"small": ("S", "M"), "large": ("L", "XL", "XXL")}
    assert told(faults, replace(PATTERN, size_sets=sets)) == []


def test_an_edge_that_falls_in_one_size_warns_there():
    found = [f for f in told({(p, "L"): longer(-4) for p in ("front", "back")}) if f.check == "grading-lengths"]
    assert {(f.code, f.size, f.severity) for f in found} == {("not-constant", "L", "warn")}


def test_an_edge_that_becomes_shorter_in_every_size_is_noted_only():
    faults = {(p, size): longer(-5 * i) for p in ("front", "back") for i, size in enumerate(SIZES)}
    subject = garment(faults)
    assert geometry(subject) == []
    notes = {(f.piece, f.where) for f in check_garment(subject) if f.code == "shrinks"}
    assert notes == {("front", "side"), ("front", "cf"), ("back", "side"), ("back", "cb")}


def test_a_girth_that_stands_still_warns():
    found = told({(p, "M"): drawn_as("S") for p in ("front", "back", "band")})
    assert ("grading-lengths", "stands-still") in codes(found, "warn")
    assert ("size-copies", "copied") in codes(found)


def test_two_sizes_are_not_compared_and_that_is_told():
    pattern = replace(PATTERN, sizes=("S", "M"))
    skipped = {f.check for f in check_garment(garment(pattern=pattern)) if f.code == "too-few-sizes"}
    assert skipped == {"grading-steps", "grading-paths"}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("other", ["S", "L"])
def test_a_size_drawn_with_another_size_s_piece_blocks(size, other):
    if size != other:
        found = [f for f in told({("front", size): drawn_as(other)}) if f.check == "size-copies"]
        assert [(f.code, f.piece, f.size) for f in found] == [("copied", "front", size)]


def test_a_piece_that_is_the_same_in_all_sizes_may_have_a_file_for_each():
    same = {("band", size): drawn_as("M") for size in SIZES}
    assert not [f for f in told(same) if f.check == "size-copies"]


def test_both_sets_of_sizes_drawn_alike():
    sets = {"small": ("S", "M"), "large": ("L", "XL", "XXL")}

    def of_set(piece):
        name = next(name for name, sizes in sets.items() if piece.size in sizes)
        return replace(piece, file=f"sizes/{name}/pocket.svg")

    faults = {("pocket", size): of_set for size in SIZES}
    found = told(faults, replace(PATTERN, size_sets=sets))
    assert [(f.check, f.code, f.size) for f in found] == [("size-copies", "alike", "L")]


@pytest.mark.parametrize("size", SIZES)
def test_an_asymmetric_piece_turned_over_in_one_size_blocks(size):
    found = [f for f in told({("front", size): turned_over}) if f.check == "size-set"]
    assert [(f.code, f.piece, f.size) for f in found] == [("flipped", "front", size)]


@pytest.mark.parametrize(
    ("change", "code", "lacks"),
    [
        (without_notch("hip"), "notches", "lacks the notch hip on side"),
        (lambda d: replace(d, inside=d.inside[1:]), "lines", "lacks the inside line hip-line"),
        (
            lambda d: replace(
                d, edges=tuple(replace(e, name={"side": "sides"}.get(e.name, e.name)) for e in d.edges), notches=()
            ),
            "edges",
            "lacks the edge side and has one more edge, sides",
        ),
    ],
)
def test_what_one_size_lacks_blocks(change, code, lacks):
    pattern = replace(PATTERN, seams={})
    found = [f for f in told({("front", "L"): change}, pattern) if f.check == "size-set" and f.code == code]
    assert {(f.piece, f.size) for f in found} == {("front", "L")}
    assert any(lacks in f.message for f in found)


def test_notches_in_another_order_in_one_size():
    def exchanged(piece):
        names = {"hip": "knee", "knee": "hip"}
        return replace(piece, notches=tuple(replace(n, name=names.get(n.name, n.name)) for n in piece.notches))

    found = [f for f in told({("front", "L"): exchanged}) if f.check == "size-set"]
    assert [(f.code, f.size, f.where) for f in found] == [("notch-order", "L", "side")]


def test_of_two_points_of_one_name_the_one_that_slipped_is_told():
    def bars(slipped):
        return lambda piece: replace(
            piece, points=tuple(MarkPoint("bar", Point(40, y + (6 if slipped and y == 100 else 0))) for y in (100, 300))
        )

    found = told({("front", size): bars(size == "L") for size in SIZES})
    assert [(f.check, f.size, f.object) for f in found] == [("grading-paths", "L", "bar, point")]


def placed(lengths, pocket=False):
    """Fronts with a line that shows where the pocket is sewn on, `lengths` long by size."""

    def marked(length_mm):
        line = InsideLine("pocket", lines((20, 300), (20 + length_mm, 300)), False)
        return lambda piece: replace(piece, inside=(*piece.inside, line))

    def wide(length_mm):
        edges = {"top": lines((0, 0), (length_mm, 0)), "right": lines((length_mm, 0), (130, 180))}
        return lambda piece: with_edges(piece, {**{e.name: e.path for e in piece.edges}, **edges})

    faults = {("front", size): marked(length) for size, length in zip(SIZES, lengths, strict=True)}
    return faults | {("pocket", size): wide(length) for size, length in zip(SIZES, lengths, strict=True) if pocket}


def steps_told(faults, pattern=PATTERN):
    return {(f.piece, f.where) for f in told(faults, pattern) if f.check == "grading-steps" and f.where == "pocket"}


def test_a_placement_line_may_step_with_the_piece_that_is_sewn_on_there():
    stepping = (90, 90, 105, 105, 105)
    assert steps_told(placed(stepping)) == {("front", "pocket")}
    assert steps_told(placed(stepping, pocket=True)) == set()
    astray = placed(stepping, pocket=True) | {k: v for k, v in placed((90, 90, 105, 112, 105)).items() if k[1] == "XL"}
    assert steps_told(astray) == {("front", "pocket")}


def test_a_placement_line_may_be_a_little_longer_than_what_is_sewn_on_and_steps_where_a_size_set_ends():
    front = replace(PATTERN.pieces["front"], lines={"pocket": "place"})
    sets = replace(
        PATTERN, pieces={**PATTERN.pieces, "front": front}, size_sets={"small": SIZES[:2], "large": SIZES[2:]}
    )
    stepping = placed((94, 95, 109, 110, 111))
    assert steps_told(stepping, sets) == set()
    assert steps_told(stepping, replace(sets, size_sets={"small": SIZES[:3], "large": SIZES[3:]})) == {
        ("front", "pocket")
    }
    assert steps_told(stepping, replace(sets, pieces=PATTERN.pieces)) == {("front", "pocket")}, "no placement line"


def test_a_level_of_the_body_moves_evenly_also_where_a_size_set_ends():
    """Marks where something is sewn on may jump there; a bust line may not."""

    def levelled(low_mm: float):
        return lambda piece: replace(
            piece, inside=(*piece.inside, InsideLine("bust", lines((20, 200 + low_mm), (90, 200 + low_mm)), False))
        )

    faults = {("front", size): levelled(5.0 if size == SIZES[-1] else 0.0) for size in SIZES}
    sets = {"small": SIZES[:3], "large": SIZES[3:]}
    for kind, places in (("level", {"bust"}), ("place", set())):
        front = replace(PATTERN.pieces["front"], lines={"bust": kind})
        pattern = replace(PATTERN, pieces={**PATTERN.pieces, "front": front}, size_sets=sets)
        found = [f for f in told(faults, pattern) if f.check == "grading-paths"]
        assert {f.where for f in found} == places, kind


def buttoned(slip_mm: float) -> list[tuple[str, str | None, str | None]]:
    """Buttonholes spread over the middle front, one more in the last size; one of them slips in the second."""

    def marked(count: int, off_mm: float):
        def change(piece):
            at = [40 + 240 * i / (count - 1) for i in range(count)]
            marks = [MarkPoint(f"buttonhole-{i}", Point(10, y)) for i, y in enumerate(at, 1)]
            marks[2] = replace(marks[2], place=Point(10, at[2] + off_mm))
            return replace(piece, points=tuple(marks))

        return change

    faults = {("front", size): marked(4 if i < 4 else 5, slip_mm if i == 1 else 0) for i, size in enumerate(SIZES)}
    return [(f.code, f.size, f.where) for f in told(faults) if f.check == "grading-paths"]


def test_numbered_marks_are_held_against_sizes_that_have_as_many():
    assert buttoned(0) == []
    assert [(size, where) for _, size, where in buttoned(8)] == [("M", "buttonhole-3")]


@pytest.mark.parametrize("others", [{"L": 2.5}, {"L": 1.0, "XL": 3.0}, {"XXL": 6.0}])
def test_of_two_sizes_with_one_outline_the_one_that_is_not_its_own_is_named(others):
    """Though steps are a little uneven elsewhere in the row."""
    faults = {("front", "S"): drawn_as("M")} | {("front", size): longer(by_mm) for size, by_mm in others.items()}
    copies = [f for f in told(faults) if f.check == "size-copies"]
    assert [(f.size, f.message) for f in copies] == [("S", "front: size S is drawn as size M")]


def lined(line):
    return lambda piece: replace(piece, inside=(*piece.inside, line))


def test_a_line_may_be_drawn_from_either_end():
    ends = {size: [(20, 300), (110, 310)] for size in SIZES} | {"L": [(110, 310), (20, 300)]}
    assert told({("front", size): lined(InsideLine("mouth", lines(*of), False)) for size, of in ends.items()}) == []


def test_a_closed_line_may_begin_anywhere_and_is_turned_over_in_one_size_or_moved():
    """The outline of a pocket with one corner cut off."""
    pocket = [(20, 300), (100, 300), (100, 380), (80, 400), (20, 400)]

    def drawn(places):
        return lined(InsideLine("patch", lines(*places, places[0]), True))

    def found(places):
        faults = {("front", size): drawn(places if size == "L" else pocket) for size in SIZES}
        return {(f.check, f.size, f.where) for f in told(faults)}

    assert found([*pocket[2:], *pocket[:2]]) == set()
    assert found(pocket[::-1]) == set()
    slipped = {("grading-paths", "L", "patch")}
    assert found([(120 - x, y) for x, y in pocket]) == slipped
    assert found([(x, y + 6) for x, y in pocket]) == slipped


@pytest.mark.parametrize("slipped", ["S", "M", "L"])
def test_of_a_set_of_three_sizes_the_one_whose_mark_slipped_is_named(slipped):
    def marked(x):
        return lambda piece: replace(piece, points=(MarkPoint("tab", Point(x, 200)),))

    sets = {"small": SIZES[:3], "large": SIZES[3:]}
    at = {size: 60.0 + 4 * place + (8 if size == slipped else 0) for place, size in enumerate(SIZES)}
    found = told({("front", size): marked(x) for size, x in at.items()}, replace(PATTERN, size_sets=sets))
    assert [f.size for f in found] == [slipped]
