"""How many of a notion a garment takes where its marks say it."""

import pytest
from msgspec.structs import replace

from pipeline.geometry.points import Point
from pipeline.masters.toml.sums import parse_marks
from pipeline.model.mark_counts import marks_worn, notion_count
from pipeline.model.pattern import Notion, View
from pipeline.model.piece_specs import Cut, MarkSpec
from pipeline.model.pieces import CutPiece, MarkPoint
from tests.lays.samples import cut_piece, pattern, piece_spec

SIZE = "40"


def entry(count: int, mirrored: int = 0, material: str = "shell", **said) -> Cut:
    return Cut(material, {SIZE: count}, {SIZE: mirrored}, **said)


def marked(*names: str, fold: bool = False, x: float = 40.0) -> CutPiece:
    """A front with points of these names; on the fold at x = 0 where it says so."""
    made = cut_piece("front", [(0, 0), (100, 0), (100, 200), (0, 200)])
    points = tuple(MarkPoint(name, Point(x, 20.0 * n)) for n, name in enumerate(names))
    ends = (Point(0, 200), Point(0, 0)) if fold else None
    return replace(made, fold=ends, drawn=replace(made.drawn, points=points))


def worn(piece: CutPiece, *cut: Cut, name: str = "button", **marks: MarkSpec) -> int:
    spec = replace(piece_spec("front", *cut), point_marks={key.replace("_", "-"): each for key, each in marks.items()})
    return marks_worn(pattern([spec]), piece, name)


def test_a_name_stands_for_the_numbered_ones_and_for_no_other():
    piece = marked("button", "button-1", "button-12", "button-belt", "buttonhole-1", "button-1-low", "")
    assert worn(piece, entry(1)) == 3
    assert worn(piece, entry(1), name="button-1") == 1
    assert worn(piece, entry(1), name="snap") == 0


@pytest.mark.parametrize(
    ("cut", "both", "left", "right"),
    [
        ((entry(1),), 1, 1, 1),
        ((entry(2, 1),), 2, 1, 1),
        # layers that lie on each other are one, and so is a lining on its shell
        ((entry(4, 2, layers=2),), 2, 1, 1),
        ((entry(2, 1), entry(2, 1, "lining")), 2, 1, 1),
        ((entry(2, 1), entry(1, material="fusing", side="left")), 2, 1, 1),
        # what one side has alone
        ((entry(1, side="left"),), 1, 1, 0),
        ((entry(1, side="left"), entry(1, 1, "contrast", side="right")), 2, 1, 1),
        ((entry(1, side="left"), entry(1, 1, side="right")), 2, 1, 1),
        ((), 0, 0, 0),
    ],
)
def test_a_mark_is_there_once_on_each_piece_or_on_the_side_that_has_it(cut, both, left, right):
    piece = marked("button")
    found = [worn(piece, *cut, **said) for said in ({}, *({"button": MarkSpec(side=s)} for s in ("left", "right")))]
    assert found == [both, left, right]


def test_on_the_fold_a_mark_is_on_both_halves_but_on_the_fold_itself_or_on_one_side():
    assert worn(marked("button", fold=True), entry(1)) == 2
    assert worn(marked("button", fold=True), entry(1), button=MarkSpec(side="left")) == 1
    assert worn(marked("button", fold=True, x=0.4), entry(1)) == 1
    assert worn(marked("button", fold=True, x=0.4), entry(2, layers=2)) == 1


VIEWS = {name: View(name, {}) for name in ("long", "short")}


def count(text: str, view: str | None = "long") -> int | None:
    front = replace(piece_spec("front", entry(2, 1)), point_marks={"button-1": MarkSpec(side="right")})
    cuff = piece_spec("cuff", entry(2, 1), views=("long",))
    notion = Notion(name="button", title={}, marks=parse_marks(text))
    cuts = {"front": marked("button-1", "snap"), "cuff": marked("button")}
    cuts["cuff"] = replace(cuts["cuff"], drawn=replace(cuts["cuff"].drawn, piece="cuff"))
    return notion_count(pattern([front, cuff], views=VIEWS), notion, view, SIZE, cuts)


@pytest.mark.parametrize(
    ("text", "long", "short"),
    [
        ("marks front.button", 1, 1),
        ("marks front.button + cuff.button", 3, 1),
        ("marks 2 x front.snap + 2 x cuff.button - front.button + 1", 8, 4),
        ("marks cuff.button", 2, 0),
    ],
)
def test_terms_add_up_over_the_pieces_of_a_view(text, long, short):
    assert (count(text), count(text, "short"), count(text, None)) == (long, short, long)


def test_a_typed_count_is_its_own_and_what_is_measured_has_none():
    button = Notion(name="button", title={}, count={"s": 6})
    assert [notion_count(pattern(), button, None, size, {}) for size in ("s", "m")] == [6, None]
    assert notion_count(pattern(), Notion(name="zip", title={}, length={}), None, "s", {}) is None
