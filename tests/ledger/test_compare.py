"""What is told between two versions: all that changed, each once, and nothing else."""

import msgspec
import pytest

from pipeline.ledger.changes import ChangesFile, next_version
from pipeline.ledger.compare import compare
from pipeline.ledger.facts import PieceFacts
from pipeline.ledger.packed import packed, shape_digest
from pipeline.ledger.telling import change_lines
from tests.ledger.versions import SHAPES, SIZES, changes, facts, skirt, told

MINOR = "the next version is 1.3.0"
PATCH = "the next version is 1.2.4"
MAJOR = "the next version is 2.0.0"


def test_equal_versions_have_no_changes():
    assert changes(facts()).changes == ()


def test_a_side_moved_by_3_mm_in_three_sizes_is_told_as_just_that():
    """Waist and hem grow with it, and the notch goes with it: none of these is a change of its own."""
    moved = facts({size: skirt(size, side=3.0) for size in SIZES[1:]})
    found = changes(moved).changes
    assert [(each.what, each.piece, each.name, each.size) for each in found] == [
        ("edge", "front", "side", size) for size in SIZES[1:]
    ]
    assert [each.mm for each in found] == [pytest.approx(3.0 * 600 / (600**2 + 40**2) ** 0.5, abs=0.02)] * 3
    line, call = told(moved)
    assert line == "front: side, sizes 42 to 46, up to 3.0 mm along its whole length"
    assert call == MINOR


def test_a_bulge_is_told_where_it_is():
    shape = skirt("42")
    bowed = tuple((x + 4.0 * (y == 0), y) for x, y in ((310.0, 0.0), (350.0, 600.0)))
    bent = msgspec.structs.replace(shape, edges={**shape.edges, "side": ((bowed[0], (311.0, 15.0), (350.0, 600.0)),)})
    (found,) = changes(facts({"42": bent})).changes
    assert (found.name, found.near, found.place) == ("side", "at its end beside waist", (314.0, 0.0))
    assert found.mm == pytest.approx(4.0, abs=0.02)


def test_a_piece_drawn_elsewhere_on_the_page_is_the_same_piece():
    assert changes(facts({size: skirt(size, left=120.5) for size in SIZES})).changes == ()


def test_a_piece_drawn_elsewhere_and_changed_is_told_by_the_change_alone():
    found = changes(facts({"40": skirt("40", side=2.0, left=70.0)})).changes
    assert [(each.what, each.name) for each in found] == [("edge", "side")]
    assert found[0].mm == pytest.approx(2.0, abs=0.02)


def test_a_notch_and_a_mark_that_moved():
    lines = told(facts({"44": skirt("44", notch=205.0, mark=53.0)}))
    assert lines == [
        "front: notch hip on side, size 44, up to 5.0 mm at (333.7, 205.0)",
        "front: mark pocket, size 44, up to 3.0 mm at (53.0, 80.0)",
        MINOR,
    ]


def test_a_notch_that_went():
    without = msgspec.structs.replace(skirt("44"), notches={})
    assert told(facts({"44": without})) == ["front: notch hip on side, size 44, taken away", MINOR]


def test_an_edge_with_another_name():
    shape = skirt("44")
    edges = {"flank" if name == "side" else name: lines for name, lines in shape.edges.items()}
    assert told(facts({"44": msgspec.structs.replace(shape, edges=edges, notches={})}))[:2] == [
        "front: edge side, size 44, taken away",
        "front: notch hip on side, size 44, taken away",
    ]


def test_a_corner_that_moved_along_two_straight_edges_is_never_silent():
    """The outline is the same, yet 10 mm of the waist are sewn as side: which of the two grew is told."""
    shape = skirt("40")
    (waist,), (side,) = shape.edges["waist"], shape.edges["side"]
    kink = (290.0, 0.0)
    edges = {**shape.edges, "waist": ((waist[0], kink),), "side": ((kink, *side),)}
    assert told(facts({"40": msgspec.structs.replace(shape, edges=edges)})) == [
        "front: side, size 40, up to 10.0 mm at its end beside waist (290.0, 0.0)",
        MINOR,
    ]


def test_a_count():
    assert told(facts(said={size: {"count in shell": "4"} for size in SIZES})) == [
        "front: count in shell, sizes 40 to 46: 2 → 4",
        MINOR,
    ]


def test_cloth_in_some_sizes():
    lengths = {**dict.fromkeys(SIZES, "1.5 m (1 5/8 yd)"), "46": "1.6 m (1 3/4 yd)"}
    assert told(facts(rows={"cloth": {"shell 1400 mm wide": lengths}})) == [
        "cloth to buy shell 1400 mm wide, size 46: 1.5 m (1 5/8 yd) → 1.6 m (1 3/4 yd)",
        MINOR,
    ]


def test_a_text_alone_is_a_patch():
    assert told(facts(texts={"pattern.title": {"en": "The skirt"}})) == [
        "text pattern.title, en: Skirt → The skirt",
        PATCH,
    ]


def test_what_pages_show_besides_is_named_in_a_line():
    old = msgspec.structs.replace(
        facts(), shown={"booklet/logo.svg": "aaa", "pieces.front.edges.side.blend": "all of it"}
    )
    new = msgspec.structs.replace(facts(), shown={"booklet/logo.svg": "bbb"})
    found = compare(old, new, SHAPES)
    file = ChangesFile(pattern="skirt", since="1.2.3", version="1.2.4", next_version="1.2.4", changes=found)
    assert change_lines(file, SIZES) == [
        "shown on pages: booklet/logo.svg: aaa → bbb",
        "shown on pages: pieces.front.edges.side.blend: taken away, was all of it",
    ]


def test_pages_by_their_content():
    pages = {"print/a4.pdf": (("1", "aa"), ("2A", "cc"), ("3A", "dd"))}
    assert told(facts(pages=pages)) == ["print file print/a4.pdf: pages 2A, 3A", PATCH]


def test_a_piece_more_and_a_size_less_are_major():
    text = packed(skirt("40"))
    SHAPES[shape_digest(text)] = text
    more = facts(pieces={"pocket": {"40": PieceFacts(shape_digest(text), {})}})
    assert told(more) == ["piece pocket, added", MAJOR]
    less = msgspec.structs.replace(facts(), sizes=SIZES[:3])
    assert told(less)[0] == "size 46, taken away"
    assert told(less)[-1] == MAJOR


def test_the_gravest_change_says_the_number():
    both = facts(said={"40": {"count in shell": "1"}}, texts={"pattern.title": {"en": "Other"}})
    assert next_version("9.9.9", changes(both).changes) == "9.10.0"
    assert next_version("0.1.0", ()) == "0.1.1"
