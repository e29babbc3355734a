"""Drawings whose layers say size and piece and nothing else: read by what is drawn where the designer says so."""

import pytest

from pipeline.masters.read_size import read_size
from tests.masters.drawings.small import GROWN, HEAD, drawing, taken, told

BY_SHAPE = HEAD + "by_shape = true\n"


def front(size: str, more: str = "") -> str:
    """The front of the small pattern, straight in its layer: outline, notches as strokes and dots, grain, a level."""
    g = GROWN[size]
    return (
        f'<path d="M{120 + g},20 L{200 + g},220 L20,{230 + g} V20 Z"/><circle cx="{140 + g}" cy="70" r="1"/>'
        f'<path d="M{160 + g},120 l-5,2"/><circle cx="20" cy="100" r="1"/><path d="M60,200 V60"/>'
        f'<path d="M20,150 H{172 + g}"/><rect x="60" y="100" width="40" height="40"/>{more}'
    )


def flap(size: str) -> str:
    g = GROWN[size]
    mark = '<g data-name="corners"><circle data-name="first" cx="400" cy="30" r="1"/></g>' if size == "m" else ""
    return f'<polygon points="400,30 {520 + g},50 430,{150 + g}"/>{mark}<path d="M440,100 V60"/>'


def bare(**changed: str) -> str:
    layers = {f"front_{size}": front(size) for size in GROWN} | {f"flap_{size}": flap(size) for size in GROWN}
    return drawing(**(layers | changed))


def test_bare_layers_give_the_pieces_of_grouped_ones(tmp_path):
    grouped, plain = taken(tmp_path / "a", drawing()), taken(tmp_path / "b", bare(), head=BY_SHAPE)
    assert told(plain) == []
    for size in GROWN:
        wanted, _ = read_size(grouped.pattern, tmp_path / "a/work/bag", size)
        pieces, _ = read_size(plain.pattern, tmp_path / "b/work/bag", size)
        for piece, other in zip(pieces, wanted, strict=True):
            assert piece.edges == other.edges
            assert piece.grain == other.grain
            assert [(n.edge, round(n.at_mm, 3)) for n in piece.notches] == [
                (n.edge, round(n.at_mm, 3)) for n in other.notches
            ]


def test_what_is_neither_outline_nor_grain_nor_notch_is_told_as_not_read(tmp_path):
    found = taken(tmp_path, bare(), head=BY_SHAPE)
    (finding,) = [each for each in found.findings if each.code == "ignored-ungrouped"]
    assert finding.message.startswith("6 objects beside outlines, grain and notches lie there unread")
    assert finding.severity == "warn"
    assert 'called "inside"' in finding.remedy


def test_without_the_designers_word_nothing_is_read_by_its_shape_and_she_is_told_the_word(tmp_path):
    found = taken(tmp_path, bare())
    (finding,) = [each for each in found.findings if each.code == "not-matched"]
    assert finding.remedy.endswith("say so in pattern.toml: [masters] by_shape = true.")


@pytest.mark.parametrize(
    "second",
    [
        '<path d="M130,10 L212,230 L10,240 V10 Z"/>',  # the cut line round it
        '<path d="M600,20 H690 V220 H600 Z"/>',  # another piece
    ],
)
def test_two_outlines_that_may_be_the_seam_line_are_told_and_neither_is_taken(tmp_path, second):
    found = taken(tmp_path, bare(front_m=front("m", second)), head=BY_SHAPE)
    assert told(found) == [("outline-unclear", "front", "m")]
    assert not [name for name in found.hashes if name == "sizes/m/front.svg"]


def test_pieces_by_the_names_of_their_outlines_have_the_marks_that_lie_on_and_in_them(tmp_path):
    layers = ""
    for size in GROWN:
        outline = front(size).replace("<path", '<path data-name="Front panel"', 1)
        triangle = flap(size).replace("<polygon", '<polygon data-name="Klappe"', 1)
        layers += f'<g data-name="Size {size.upper()}">{outline}{triangle}</g>'
    text = (
        drawing().split("<g", 1)[0]
        + layers.replace('<g data-name="corners">', '<g data-name="flap corners">')
        + "</svg>"
    )
    found = taken(tmp_path, text, head=BY_SHAPE)
    assert told(found) == []
    assert found.told[1:] == (
        "edges of each piece: front 4, flap 3; 9 notches in all",
        "grain drawn in 6 of 6",
    )


def test_of_two_upright_lines_none_is_the_grain_nor_is_a_level_one_among_others(tmp_path):
    two = bare(front_m=front("m", '<path d="M100,200 V90"/>'))
    assert taken(tmp_path / "a", two, head=BY_SHAPE).told[2] == "grain drawn in 5 of 6, not in front m"
    level = bare(front_m=front("m").replace('<path d="M60,200 V60"/>', '<path d="M40,180 H150"/>'))
    assert taken(tmp_path / "b", level, head=BY_SHAPE).told[2] == "grain drawn in 5 of 6, not in front m"


def cuff(size: str, line: str, more: str = "") -> str:
    """A piece that is wider than high, with a mark of a corner and this line in it."""
    g = GROWN[size]
    mark = '<g data-name="corners"><circle data-name="first" cx="400" cy="30" r="1"/></g>' if size == "m" else ""
    return f'<polygon points="400,30 {620 + g},30 430,{90 + g}"/>{mark}{line}{more}'


@pytest.mark.parametrize(
    ("line", "more", "drawn"),
    [
        ('<path d="M430,50 H540"/>', "", True),  # the only line, along a piece that is wider than high
        ('<path d="M430,50 H540"/>', '<circle cx="470" cy="60" r="2"/>', False),  # or where something is set on
        ('<path d="M430,50 H540"/>', '<path d="M430,45 H550"/>', False),
        ('<path data-name="Grain" d="M430,50 H540"/>', '<path d="M430,45 H550"/>', True),
        ('<path data-name="grain line" d="M430,50 l60,10"/>', '<path d="M450,45 V60"/>', True),
    ],
)
def test_a_level_line_is_the_grain_where_it_is_called_so_or_alone_in_a_wide_piece(tmp_path, line, more, drawn):
    cuffs = {f"flap_{size}": cuff(size, line, more) for size in GROWN}
    grain = taken(tmp_path, bare(**cuffs), head=BY_SHAPE).told[2]
    assert grain == ("grain drawn in 6 of 6" if drawn else "grain drawn in 3 of 6, not in flap s, flap m, flap l")


def test_a_group_that_says_seam_comes_before_what_is_drawn_beside_it(tmp_path):
    grouped = '<g data-name="seam"><path d="M124,20 L204,220 L20,234 V20 Z"/></g>'
    cut = '<path d="M130,10 L212,230 L10,240 V10 Z"/>'
    found = taken(tmp_path, bare(front_m=grouped + cut), head=BY_SHAPE)
    assert told(found) == []


def test_an_outline_that_is_not_closed_is_told_with_what_to_do(tmp_path):
    opened = front("m").replace(" V20 Z", " V30")
    found = taken(tmp_path / "with a pocket's place", bare(front_m=opened), head=BY_SHAPE)
    assert told(found) == [("outline-unclear", "front", "m")]
    opened = opened.replace('<rect x="60" y="100" width="40" height="40"/>', "")
    found = taken(tmp_path / "alone", bare(front_m=opened), head=BY_SHAPE)
    (finding,) = [each for each in found.findings if each.severity == "block"]
    assert finding.message.startswith("The drawings show nothing of front in size m.")
    assert finding.remedy.startswith("Close the seam line of each piece, so that its ends meet")


def test_a_layer_of_another_name_inside_is_left_alone(tmp_path):
    more = '<g data-name="construction"><path d="M0,0 H650 V390 H0 Z"/></g>'
    found = taken(tmp_path, bare(front_m=front("m", more)), head=BY_SHAPE)
    assert told(found) == []
