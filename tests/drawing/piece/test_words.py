"""How the allowances of a piece are told, in each language's own decimals."""

import msgspec
import pytest

from pipeline.checks.mirror import is_symmetric
from pipeline.drawing.labels.block_layouts import NO_BREAK
from pipeline.drawing.piece.few_words import shorter_words
from pipeline.drawing.piece.words import (
    allowance_sentences,
    block_words,
    cut_sentences,
    terse_words,
    vital_sentences,
)
from pipeline.drawing.wording import length_words
from pipeline.model.piece_specs import Cut
from pipeline.model.pieces import CutEdge
from tests.drawing.demo_nests import demo
from tests.drawing.stack_factory import collar, pattern_of

POINTS = ("36-petite", "36-tall", "38-petite", "38-tall")
PATTERN = pattern_of("front", "collar")


@pytest.mark.parametrize(
    ("language", "units", "expected"),
    [
        ("en", "metric", "1.5 cm (9/16 in)"),
        ("de", "metric", "1,5 cm (9/16 in)"),
        ("de", "imperial", "9/16 in (1,5 cm)"),
    ],
)
def test_lengths_have_the_languages_decimal_sign(language, units, expected):
    assert length_words(language, 15.0, units) == expected


@pytest.mark.parametrize(
    ("trim_mm", "past_seam_mm", "english", "german"),
    [
        (
            8.0,
            None,
            "Cut along this line: already 8 mm (5/16 in) smaller all round than piece 1",
            "Auf dieser Linie zuschneiden: ringsum schon 8 mm (5/16 in) kleiner als Teil 1",
        ),
        (
            None,
            2.5,
            "Cut along this line: it lies 2.5 mm (1/8 in) outside the seam line of piece 1",
            "Auf dieser Linie zuschneiden: sie liegt 2,5 mm (1/8 in) außerhalb der Nahtlinie von Teil 1",
        ),
        (
            None,
            -3.0,
            "Cut along this line: it lies 3 mm (1/8 in) inside the seam line of piece 1",
            "Auf dieser Linie zuschneiden: sie liegt 3 mm (1/8 in) innerhalb der Nahtlinie von Teil 1",
        ),
        (
            None,
            0.0,
            "Cut along this line: it is the seam line of piece 1",
            "Auf dieser Linie zuschneiden: sie ist die Nahtlinie von Teil 1",
        ),
    ],
)
def test_a_derived_piece_tells_how_it_is_cut_from_its_source(trim_mm, past_seam_mm, english, german):
    spec = msgspec.structs.replace(PATTERN.pieces["collar"], source="front", trim_mm=trim_mm, past_seam_mm=past_seam_mm)
    pattern = msgspec.structs.replace(PATTERN, pieces={**PATTERN.pieces, "collar": spec})
    told = [sentence.replace(NO_BREAK, " ") for sentence in allowance_sentences(pattern, collar("34", 0))]
    assert told == [english, german]


def sided(*sides):
    entries = tuple(Cut("shell", {"34": 1}, {"34": int(side == "right")}, side=side) for side in sides)
    spec = msgspec.structs.replace(PATTERN.pieces["collar"], cut=entries)
    return msgspec.structs.replace(PATTERN, pieces={**PATTERN.pieces, "collar": spec})


def test_what_one_side_of_the_wearer_has_says_so_once_however_small_the_piece_is():
    left, own = sided("left"), {"34": msgspec.structs.replace(collar("34", 0), fold=None)}
    told = ("Wearer’s left only", "Nur links, wie getragen")
    assert vital_sentences(left, "collar") == told
    blocks = [block_words(left, own, True, True), *shorter_words(left, own, True, True)[1:3]]
    assert all(set(told) <= {line.text for line in block} for block in blocks)
    assert not any("left" in text for text in cut_sentences(left, own["34"]))
    assert vital_sentences(sided(None), "collar") == ()


def test_a_left_and_a_right_of_one_piece_say_it_entry_by_entry():
    both = sided("left", "right")
    assert vital_sentences(both, "collar") == ()
    english = [text for text in cut_sentences(both, collar("34", 0), True) if text.startswith("Cut")]
    assert [text.rsplit(", ", 1)[1] for text in english] == ["wearer’s left only", "wearer’s right only"]


def test_a_piece_of_its_own_tells_its_allowances():
    assert "Included: seam allowance" in allowance_sentences(PATTERN, collar("34", 0))[0]


@pytest.mark.parametrize(
    ("edges", "english", "german"),
    [
        (
            [("neck", 400, 0), ("armhole", 300, 0), ("side", 200, 10), ("shoulder", 60, 10)],
            "Included: seam allowance 1 cm (3/8 in); without allowance: neck, armhole",
            "Enthalten: Nahtzugabe 1 cm (3/8 in); ohne Zugabe: Halsausschnitt, Armloch",
        ),
        (
            [("neck", 400, 10), ("side", 200, 20), ("cb", 100, 20), ("hem", 300, 40)],
            "Included: seam allowance 1 cm (3/8 in), hem 4 cm (1 9/16 in); with 2 cm (13/16 in): side, centre back",
            "Enthalten: Nahtzugabe 1 cm (3/8 in), Saum 4 cm (1 9/16 in); mit 2 cm (13/16 in): Seite, hintere Mitte",
        ),
        (
            [("neck", 190, 10), ("yoke-join", 80, 0), ("side", 70, 20), ("pleat-7", 60, 20)],
            "Included: seam allowance 1 cm (3/8 in); with 2 cm (13/16 in): some edges, as drawn; "
            "without allowance: where cut line and seam line are one",
            "Enthalten: Nahtzugabe 1 cm (3/8 in); mit 2 cm (13/16 in): einige Kanten, wie gezeichnet; "
            "ohne Zugabe: wo Schnittlinie und Nahtlinie eins sind",
        ),
        (
            [("waist", 300, 10), ("seat", 200, 20), ("inseam", 400, 15), ("pocket-mouth", 100, 0)],
            "Included: seam allowance 1.5 cm (9/16 in); with 1 cm (3/8 in): waist; with 2 cm (13/16 in): seat; "
            "without allowance: pocket opening",
            "Enthalten: Nahtzugabe 1,5 cm (9/16 in); mit 1 cm (3/8 in): Taille; mit 2 cm (13/16 in): Gesäßnaht; "
            "ohne Zugabe: Tascheneingriff",
        ),
        (
            [("neck", 400, 10), ("end-1", 200, 20), ("end-2", 100, 20), ("upper", 300, 0)],
            "Included: seam allowance 1 cm (3/8 in); with 2 cm (13/16 in): end; without allowance: top edge",
            None,
        ),
        (
            [("neck", 400, 10), ("armhole-low", 200, 10), ("armhole-upper", 100, 0)],
            "Included: seam allowance 1 cm (3/8 in); without allowance: where cut line and seam line are one",
            None,
        ),
        ([("neck", 90, 0), ("side", 70, 0)], "No seam allowance", "Ohne Nahtzugabe"),
        (
            [("neck", 90, 0), ("hem", 70, 20)],
            "No seam allowance, hem 2 cm (13/16 in)",
            "Ohne Nahtzugabe, Saum 2 cm (13/16 in)",
        ),
        ([("side", 90, 10), ("hem", 70, 0)], "Included: seam allowance 1 cm (3/8 in); without allowance: hem", None),
        (
            [("waist", 90, 10), ("side", 400, 10), ("hem", 70, 40), ("cb", 400, (25, 10))],
            "Included: seam allowance 1 cm (3/8 in), hem 4 cm (1 9/16 in); "
            "with 2.5 cm (1 in) tapering to 1 cm (3/8 in) at the waist: centre back",
            "Enthalten: Nahtzugabe 1 cm (3/8 in), Saum 4 cm (1 9/16 in); "
            "mit 2,5 cm (1 in), zur Kante „Taille“ hin auf 1 cm (3/8 in) zulaufend: hintere Mitte",
        ),
        (
            [("yoke-join", 900, (10, 20)), ("pleat-7", 90, 10), ("cb", 90, (20, 10)), ("top", 90, (0, 20))],
            "Included: seam allowance 1 cm (3/8 in); with 2 cm (13/16 in) tapering to 1 cm (3/8 in) at the top edge: "
            "some edges, as drawn; with 2 cm (13/16 in) tapering to 0 mm (0 in) at the centre back: top edge",
            None,
        ),
        (
            [("yoke-join", 90, 0), ("side", 90, (20, 10)), ("pleat-7", 80, 0)],
            "Included: seam allowance 2 cm (13/16 in) tapering to 1 cm (3/8 in); "
            "without allowance: where cut line and seam line are one",
            None,
        ),
        (
            [("side", 90, 10), ("hem", 70, (20, 30))],
            "Included: seam allowance 1 cm (3/8 in), hem 3 cm (1 3/16 in) tapering to 2 cm (13/16 in) at the side",
            None,
        ),
    ],
    ids=[
        "bound edges",
        "wider edges",
        "edges without a word",
        "trousers",
        "edges of a number",
        "edges that one word does not tell apart",
        "none at all",
        "only a hem",
        "a hem without one",
        "a taper",
        "tapers beside edges without a word",
        "a taper alone",
        "a hem that tapers",
    ],
)
def test_the_general_allowance_comes_first_then_the_edges_that_differ(edges, english, german):
    cut = msgspec.structs.replace(
        collar("34", 0),
        edges=tuple(
            CutEdge(
                name=name,
                length_mm=length,
                gross_length_mm=length,
                allowance_mm=allowance[0] if isinstance(allowance, tuple) else allowance,
                allowance_end_mm=allowance[1] if isinstance(allowance, tuple) else None,
                fold=False,
                hem=name == "hem",
            )
            for name, length, allowance in edges
        ),
    )
    told = [sentence.replace(NO_BREAK, " ") for sentence in allowance_sentences(PATTERN, cut)]
    assert told[0] == english
    assert german is None or told[1] == german


def test_an_edge_with_parts_tells_its_least_and_its_largest_allowance():
    cut = collar("34", 0)
    widths = {"allowance_mm": 25.0, "allowance_end_mm": 10.0, "allowance_between": ((0.2, 25.0), (0.6, 10.0))}
    back = CutEdge(name="cb", length_mm=90, gross_length_mm=900, fold=False, hem=False, **widths)
    side = CutEdge(name="side", length_mm=90, gross_length_mm=90, allowance_mm=10.0, fold=False, hem=False)
    cut = msgspec.structs.replace(cut, edges=(back, side))
    told = [sentence.replace(NO_BREAK, " ") for sentence in allowance_sentences(PATTERN, cut)]
    assert told[0] == (
        "Included: seam allowance 1 cm (3/8 in); with 1 cm (3/8 in) to 2.5 cm (1 in), as drawn: centre back"
    )


def test_a_fold_has_no_allowance_to_tell():
    cut = collar("34", 0)
    assert any(edge.fold for edge in cut.edges)
    assert not any("without" in sentence for sentence in allowance_sentences(PATTERN, cut))


@pytest.mark.parametrize(
    ("piece", "said"),
    [
        ("inside-pocket", "Cut 1 in main cloth, right side up"),
        ("inside-pocket-lining", "Cut 1 in lining, mirrored"),
        ("back", "Cut 1 in main cloth, on the fold"),
        ("front", "Cut 2 in main cloth: 1 and 1 mirrored"),
    ],
)
def test_a_piece_that_fits_one_way_only_says_which_side_is_up(piece: str, said: str) -> None:
    pattern, cuts = demo("work-jacket")
    assert cut_sentences(pattern, cuts[piece]["40"])[0] == said


def test_a_piece_that_is_its_own_mirror_image_may_lie_either_way() -> None:
    pattern, cuts = demo("child-pinafore")
    either = [cut for by_size in cuts.values() for cut in by_size.values() if is_symmetric(cut.cut_outline)]
    assert any(cut.fold is None for cut in either)
    assert not any("right side up" in sentence for cut in either for sentence in cut_sentences(pattern, cut))


def of_two_ladders(sizes=POINTS, languages=("en",)):
    """The line of sizes of a front that is there in these points of two sizes and two heights."""
    values = {"36": POINTS[:2], "38": POINTS[2:], "petite": POINTS[::2], "tall": POINTS[1::2]}
    axes = {"size": ("36", "38"), "height": ("petite", "tall")}
    made = msgspec.structs.replace(PATTERN, sizes=POINTS, size_axes=axes, size_sets=values, languages=languages)
    cut = demo("work-jacket")[1]["front"]
    own = next(iter(cut.values()))
    (line,) = [line for line in terse_words(made, dict.fromkeys(sizes, own), whole=False) if line.slots]
    return line


@pytest.mark.parametrize(
    ("language", "word"), [("en", "Sizes"), ("de", "Größen"), ("fr", "Tailles"), ("sv", "Storlekar")]
)
def test_all_points_of_two_ladders_are_written_by_their_values_each_in_its_sizes(language, word):
    line = of_two_ladders(languages=(language,))
    assert line.text == word
    assert line.slots == (
        ("36", POINTS[:2]),
        ("38", POINTS[2:]),
        ("·", POINTS),
        ("petite", POINTS[::2]),
        ("tall", POINTS[1::2]),
    )


def test_some_points_are_written_each_for_itself():
    assert of_two_ladders(POINTS[:3]).slots == tuple((size, (size,)) for size in POINTS[:3])
