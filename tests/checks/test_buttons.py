"""Buttons that are bought against those that are marked."""

import pytest

from pipeline.checks.all import check_garment
from pipeline.geometry.points import Point
from pipeline.masters.toml.sums import parse_marks
from pipeline.model.pattern import Notion
from pipeline.model.piece_specs import MarkSpec
from pipeline.model.pieces import MarkPoint
from tests.checks.skirt import PATTERN, SIZES, garment, replace


def marked(count: int, kind: str = "buttonhole", step_mm: float = 50.0, first: int = 1):
    points = tuple(MarkPoint(f"{kind}-{n + first}", Point(20, step_mm * (n + 1))) for n in range(count))
    return lambda piece: replace(piece, points=(*piece.points, *points))


def told(marks: dict, titles=None, pattern=PATTERN, **counts: int):
    """What is told of the number of buttons; `marks` by piece, `counts` by notion."""
    notions = {
        name.replace("_", "-"): Notion(name=name.replace("_", "-"), title={}, count=dict.fromkeys(SIZES, count))
        for name, count in counts.items()
    }
    front = replace(pattern.pieces["front"], point_marks=titles or {})
    pattern = replace(pattern, notions=notions, pieces={**pattern.pieces, "front": front})
    faults = {(piece, size): change for piece, change in marks.items() for size in SIZES}
    found = check_garment(garment(faults, pattern))
    return [(f.where, f.found, f.allowed, f.size) for f in found if f.check == "notion-buttons"]


@pytest.mark.parametrize("kind", ["button", "buttonhole"])
@pytest.mark.parametrize(("bought", "enough"), [(3, False), (5, False), (6, True), (8, True)])
def test_as_many_are_bought_as_are_marked_and_spare_ones_are_fine(kind, bought, enough):
    lacking = [("notions.button", str(bought), "6 or more", size) for size in SIZES]
    assert told({"front": marked(6, kind)}, button=bought) == ([] if enough else lacking)


def test_a_row_with_its_other_side_or_on_a_facing_counts_once():
    both = {"front": marked(6), "back": marked(6)}
    assert told(both, button=6) == []
    assert told({"front": marked(6), "back": marked(6, "button")}, button=6) == []


def test_rows_that_go_on_over_a_seam_add_up():
    assert len(told({"front": marked(5), "back": marked(4, step_mm=70)}, button=8)) == len(SIZES)
    assert len(told({"front": marked(4), "back": marked(1, first=5)}, button=4)) == len(SIZES)
    assert told({"front": marked(5), "back": marked(4, step_mm=70)}, button=9) == []


def test_other_buttons_than_those_of_the_row_do_not_make_up_for_it():
    assert len(told({"front": marked(6)}, button=5, pocket_button=2)) == len(SIZES)
    assert told({"front": marked(6)}, button=3, small_button=3) == []


@pytest.mark.parametrize(
    "said",
    [
        {"button": 1},  # it closes the waistband, and press studs the rest
        {"button": 3, "pocket_button": 6},  # who knows which are meant
        {"zip": 1},
    ],
)
def test_what_may_be_meant_otherwise_is_let_be(said):
    assert told({"front": marked(6)}, **said) == []


def test_a_strap_of_three_buttonholes_and_holes_with_a_title_of_their_own_are_let_be():
    assert told({"front": marked(3)}, button=2) == []
    cord = {f"buttonhole-{n}": MarkSpec(title={"en": "hole for the cord"}) for n in range(1, 5)}
    assert told({"front": marked(4)}, cord, button=2) == []


def told_of(marks: dict, *notions: Notion):
    """What is told where notions say more than a count."""
    pattern = replace(PATTERN, notions={each.name: each for each in notions})
    faults = {(piece, size): change for piece, change in marks.items() for size in SIZES}
    found = [each for each in check_garment(garment(faults, pattern)) if each.check == "notion-buttons"]
    assert {each.size for each in found} <= set(SIZES)
    return list(dict.fromkeys((each.where, each.found, each.allowed) for each in found))


def typed(name: str, count: int, title: str = "") -> Notion:
    return Notion(name=name, title={"en": title}, count=dict.fromkeys(SIZES, count))


FLAP = {"front": marked(5), "pocket": marked(2, "button")}
FOUR_OF_FIVE = [("notions.buttons", "4", "5 or more")]


@pytest.mark.parametrize(
    ("front", "other", "found"),
    [
        # the front's are four: those of the pocket do not make up for it
        (typed("buttons", 4, "Buttons for the front"), typed("small-buttons", 4, "Buttons for pockets"), FOUR_OF_FIVE),
        (typed("buttons", 4), typed("small-buttons", 4, "Buttons for pockets"), FOUR_OF_FIVE),
        (typed("buttons", 4), typed("pocket-buttons", 4), FOUR_OF_FIVE),
        (typed("buttons", 5, "Buttons for the front"), typed("small-buttons", 4, "Buttons for pockets"), []),
        # nothing says which are which, or one is for both
        (typed("buttons", 4), typed("small-buttons", 4), []),
        (typed("buttons", 4), typed("small-buttons", 4, "Buttons for front and pockets"), []),
    ],
)
def test_words_tell_the_buttons_of_a_row_from_those_of_other_pieces(front, other, found):
    assert told_of(FLAP, front, other) == found


def test_marks_that_a_notion_counts_are_its_own_and_the_rest_is_held_against_the_typed_ones():
    counting = Notion(name="buttons", title={}, marks=parse_marks("marks front.buttonhole"))
    both = {"front": lambda piece: marked(5, "button")(marked(5)(piece)), "pocket": marked(4, "button", 20.0)}
    assert told_of(both, counting, typed("small-buttons", 4)) == []
    assert told_of(both, counting, typed("small-buttons", 3)) == [("notions.small-buttons", "3", "4 or more")]
    assert told_of(both, counting, typed("small-buttons", 1)) == [], "a pool of less than half is something else's"
    assert told_of(both, counting) == []


def test_a_row_that_goes_on_over_a_seam_and_is_counted_in_part_is_told():
    part = Notion(name="buttons", title={}, marks=parse_marks("marks front.buttonhole"))
    assert told_of({"front": marked(5), "back": marked(1, first=6)}, part) == [("notions.buttons", "5", "6 or more")]


def test_a_row_that_a_notion_counts_by_what_lies_on_it_is_told_of_that_notion():
    """Three buttonholes are counted, and the other piece has five buttons, of which three lie on them."""
    part = Notion(name="buttons", title={}, marks=parse_marks("marks front.buttonhole"))
    rows = {"front": marked(3), "back": marked(5, "button")}
    assert told_of(rows, part) == [("notions.buttons", "3", "5 or more")]
