"""`pattern.toml` as it is read: what the good file says, and what is told of each fault that is put into it."""

from pathlib import Path

import pytest

from pipeline.masters.toml.load import load_pattern
from pipeline.model.pattern import Casing, Pattern, Range, Reference, SideEdge, Term
from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec, MarkSpec, PiecePart, Take
from tests.masters.pattern_files import GOOD, write


@pytest.fixture(scope="module")
def good(tmp_path_factory: pytest.TempPathFactory) -> Pattern:
    pattern, findings = load_pattern(write(tmp_path_factory.mktemp("good"), GOOD))
    assert findings == ()
    assert pattern is not None
    return pattern


def test_the_good_file_says_what_the_pattern_is(good: Pattern) -> None:
    assert (good.name, good.version, good.sizes, good.base, good.bands) == (
        "coat",
        "1.2.3",
        ("34", "36", "38"),
        "36",
        ("36",),
    )
    assert good.title == {"en": "Test coat", "de": "Probemantel"}
    assert good.contact == {"en": "help@workroom.example", "de": "help@workroom.example"}
    assert good.size_sets == {"small": ("34", "36"), "large": ("38",)}
    assert (good.units, good.wearer, good.sleepwear, good.pixels_per_inch) == ("imperial", "child", True, 96.0)
    assert (good.print.margin_mm, good.print.overlap_mm, good.print.by_size) == (8, 15, False)
    assert good.print.black
    assert not good.print.languages_together
    assert (good.projector.unfold, good.projector.width_mm, good.renew_layout, good.lay_seconds) == (
        False,
        1400,
        True,
        10,
    )
    assert (good.channels["shop"].archives, good.channels["shop"].archive_mb) == (5, 20)


def test_ways_of_laying_are_as_they_are_said_and_fold_is_one_of_them(good: Pattern) -> None:
    assert good.materials["shell"].ways == ("fold",)
    assert good.materials["fusing"].ways == ("partial-fold", "open")
    assert (good.materials["shell"].least_mm, good.materials["fusing"].least_mm) == (0, 250)


def test_what_marks_are_called_and_what_is_clipped_is_read(good: Pattern) -> None:
    piece = next(piece for piece in good.pieces.values() if piece.point_marks)
    assert piece.point_marks == {"eye": MarkSpec(title={"en": "eyelet", "de": "eyelet"}, side="left", sizes=("38",))}
    assert piece.line_marks == {"bust": MarkSpec(title={"en": "bust", "de": "Brust"}, side="right", sizes=("36", "38"))}
    assert (good.clips, piece.clips, piece.edges["hem"].clips, piece.edges["cb"].clips) == (False, False, True, None)


def test_lengths_and_percentages_are_read_in_every_unit(good: Pattern) -> None:
    shell = good.materials["shell"]
    assert shell.widths_mm == (1100, 1400, 1524)
    assert (shell.selvedge_mm, shell.gap_mm, shell.spare) == (10, 3, 0.02)
    assert (shell.shrinkage_length, shell.shrinkage_width) == (0.03, 0.025)
    assert good.materials["fusing"].shrinkage_length == good.materials["fusing"].shrinkage_width == 0.01
    assert (shell.stretch_width, shell.stretch_length, shell.recovery) == (0.5, 0.2, 0.9)
    assert good.materials["fusing"].stretch_width is None
    assert (shell.repeat_length_mm, shell.repeat_width_mm) == (320, 200)
    assert (good.materials["fusing"].repeat_length_mm, good.materials["fusing"].repeat_width_mm) == (25.4, None)
    assert good.strips["loop"].stretched == Range(0.8, 0.9, percent=True)
    assert good.pieces["front"].allowance_mm == 15.875


def test_edges_say_allowance_corner_fold_and_takes(good: Pattern) -> None:
    edges = good.pieces["back"].edges
    assert edges["hem"] == EdgeSpec(allowance_mm=40, corner="turned", hem=True, clips=True, topstitch_mm=(2, 38))
    assert edges["cb"] == EdgeSpec(fold=True, half="left")
    assert edges["side"] == EdgeSpec(corner_beside={"hem": "mitre", "armhole": "square"}, blend=True)
    assert edges["slit"] == EdgeSpec(
        allowance_mm=100, corner_beside={"side": "turned"}, hem=True, folds_mm=(45.0, 90.0), turn_up=True
    )
    assert edges["waist"] == EdgeSpec(topstitch_mm=(2,), takes=(Take("dart-a", "dart-b", "dart"),))
    assert good.pieces["back"].lines == {"slit": "cut", "plain": "place", "stripe": "match", "bust": "level"}
    assert good.pieces["back"].notches == {"cap-back": "double"}


@pytest.mark.parametrize(
    ("text", "start_mm", "end_mm"),
    [("2.5 cm .. 1 cm", 25, 10), ("0 mm..1/2 in", 0, 12.7), ("1 cm .. 10 mm", 10, None), ("1 cm", 10, None)],
)
def test_an_allowance_may_taper_along_an_edge(tmp_path: Path, text: str, start_mm: float, end_mm: float | None) -> None:
    old = "edges.waist = { takes"
    assert GOOD.count(old) == 1
    new = f'edges.waist = {{ allowance = "{text}", takes'
    pattern, findings = load_pattern(write(tmp_path, GOOD.replace(old, new)))
    assert findings == ()
    assert pattern is not None
    waist = pattern.pieces["back"].edges["waist"]
    assert (waist.allowance_mm, waist.allowance_end_mm) == (start_mm, end_mm)


def test_parts_of_an_edge_have_an_allowance_of_their_own(good: Pattern) -> None:
    low = good.pieces["back"].edges["cb-low"]
    assert low.allowance_mm == 10
    assert low.along == (AllowancePart(of=EdgePart("cb", "hip"), start_mm=25.0, end_mm=15.0, taper_mm=80.0),)


def test_a_derived_piece_may_be_a_part_of_its_source(good: Pattern) -> None:
    assert good.pieces["back-top"].part == PiecePart(("bust",), "neck")
    assert good.pieces["back-top"].edges == {"bust": EdgeSpec(allowance_mm=10)}
    assert good.pieces["back-middle"].part == PiecePart(("bust", "plain"))
    assert good.pieces["back-cover"].part is None


def test_a_seam_is_sewn_hung_or_faced(good: Pattern) -> None:
    assert [(seam.kind, seam.facing) for seam in good.seams.values()] == [
        ("lining", False),
        ("sewn", True),
        ("bagged", False),
    ]
    assert [seam.turn_through_mm for seam in good.seams.values()] == [None, None, 120]


def test_a_seam_says_its_rows_and_the_side_that_has_them(good: Pattern) -> None:
    assert (good.seams["cap"].topstitch_mm, good.seams["cap"].pressed) == ((2, 6.35), "b")
    assert (good.seams["side"].topstitch_mm, good.seams["side"].pressed) == ((), None)


@pytest.mark.parametrize(("side", "said"), [("front", "a"), ("back", "b"), ("open", "open")])
def test_allowances_are_pressed_to_a_piece_or_apart(tmp_path: Path, side: str, said: str) -> None:
    assert other(tmp_path, ('pressed   = "back"', f'pressed = "{side}"')).seams["cap"].pressed == said


def test_where_a_piece_is_on_both_sides_its_edge_or_the_wearers_side_is_said(tmp_path: Path) -> None:
    edges = other(
        tmp_path, ('a         = ["front.cap"]', 'a = ["back.side"]'), ('pressed   = "back"', 'pressed = "back.side"')
    )
    assert edges.seams["cap"].pressed == "a"


@pytest.mark.parametrize(("side", "said"), [("left", "left"), ("open", "open"), ("back", "a")])
def test_of_one_edge_of_two_copies_the_wearers_side_may_be_said(tmp_path: Path, side: str, said: str) -> None:
    a = ('a         = ["front.cap"]', 'a = ["back.armhole", "back.armhole"]')
    assert other(tmp_path, a, ('pressed   = "back"', f'pressed = "{side}"')).seams["cap"].pressed == said


def test_elastic_says_its_width_and_what_it_is_drawn_into(good: Pattern) -> None:
    elastic = good.notions["elastic"]
    assert elastic.width_mm == 25
    assert elastic.casings == (Casing("back", "hem"), Casing("back", "cb"), Casing("loop"))
    assert elastic.stretched == Range(0.7, 0.95, percent=True)
    assert elastic.goes_round is not None
    assert elastic.opens_to is not None
    assert (elastic.goes_round.text, elastic.opens_to.text) == ("4 x back.waist", "body.bust + 1 cm")


def test_sizes_are_blended_along_an_edge_or_a_part_of_it(good: Pattern) -> None:
    edges = good.pieces["back"].edges
    assert edges["side"].blend is True
    assert edges["cb-low"].blend == EdgePart("hip", "cb")
    assert edges["hem"].blend is False


def test_mirror_images_by_default(good: Pattern) -> None:
    """None of one, half of an even count; an odd count says it itself."""
    assert good.pieces["back"].cut[0].mirrored == {"34": 0, "36": 0, "38": 0}
    assert good.pieces["front-fusing"].cut[0].mirrored == {"34": 1, "36": 1}
    assert good.pieces["front"].cut[0].count == {"34": 2, "36": 3}
    assert good.pieces["front"].cut[0].mirrored == {"34": 1, "36": 1}
    assert good.pieces["front"].cut[1].mirrored == {"34": 0, "36": 0}


def other(tmp_path: Path, *changes: tuple[str, str]) -> Pattern:
    """The good file with other words in it."""
    text = GOOD
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    pattern, findings = load_pattern(write(tmp_path, text))
    assert findings == ()
    assert pattern is not None
    return pattern


def test_sides_layers_and_halves(good: Pattern) -> None:
    assert (good.pieces["front"].cut[1].side, good.pieces["front"].cut[1].layers) == ("right", 3)
    assert (good.pieces["back-cover"].cut[0].side, good.pieces["back-cover"].cut[0].layers) == ("right", 1)
    assert good.pieces["back"].edges["cb"].half == "left"


@pytest.mark.parametrize(("layers", "mirrored"), [("", 0), (", layers = 2", 1)])
def test_what_one_side_has_is_mirrored_in_its_second_layer_alone(tmp_path: Path, layers: str, mirrored: int) -> None:
    two = '{ material = "fusing", count = 2 }'
    said = other(tmp_path, (two, two.replace(" }", f', side = "left"{layers} }}')))
    assert said.pieces["front-fusing"].cut[0].mirrored == {"34": mirrored, "36": mirrored}


def test_a_derived_piece_is_for_the_side_of_its_source(tmp_path: Path) -> None:
    marks = (', side = "right" }\npoints', " }\npoints")
    said = other(tmp_path, ("[pieces.back]", '[pieces.back]\nside = "left"'), ('side       = "right"\n', ""), marks)
    assert said.pieces["back-cover"].cut[0].side == "left"


def test_a_piece_on_the_fold_has_no_mirror_images(tmp_path: Path) -> None:
    text = GOOD.replace(
        'cut       = [{ material = "shell", count = 1 }]', 'cut       = [{ material = "shell", count = 3 }]'
    )
    pattern, findings = load_pattern(write(tmp_path, text))
    assert findings == ()
    assert pattern is not None
    assert pattern.pieces["back"].cut[0].mirrored == {"34": 0, "36": 0, "38": 0}


def test_a_derived_piece_is_made_where_its_source_is(good: Pattern) -> None:
    fusing, cover = good.pieces["front-fusing"], good.pieces["back-cover"]
    assert (fusing.source, fusing.trim_mm, fusing.past_seam_mm) == ("front", 3, None)
    assert (fusing.sizes, fusing.views, fusing.grain) == (("34", "36"), ("long",), "bias")
    assert (cover.source, cover.trim_mm, cover.past_seam_mm) == ("back", None, 2)
    assert (cover.sizes, cover.views, cover.number) == (("38",), ("short",), 9)


def test_seams_have_sides_in_sewing_order(good: Pattern) -> None:
    side, cap = good.seams["side"], good.seams["cap"]
    assert (side.title, cap.title) == ({"en": "side seam", "de": "Seitennaht"}, {})
    assert side.a == (SideEdge("front", "side"), SideEdge("front", "hem", turned=True))
    assert side.ease == Range(-2, 6.35)
    assert (side.tolerance_mm, side.notches, side.angles, side.kind) == (0.5, False, False, "lining")
    assert cap.b == (SideEdge("back", "armhole"), SideEdge("back", "armhole"))
    assert cap.ease == Range(0.2, 0.5, percent=True)
    assert (cap.tolerance_mm, cap.notches, cap.angles, cap.kind) == (1, True, True, "sewn")


def test_sums_keep_their_text_and_their_terms(good: Pattern) -> None:
    length = good.strips["loop"].length
    assert length.text == "40 mm + 10 mm + 2 x 10 mm - 0.5 x back.waist gross + body.bust"
    assert length.terms == (
        Term(1, 40),
        Term(1, 10),
        Term(2, 10),
        Term(-0.5, Reference("back", "waist", gross=True)),
        Term(1, Reference("body", "bust")),
    )
    assert good.finished["bust"].ease == Range(80, 140)
    assert good.finished["length"].allowed == Range(600, 700)
    assert good.body["bust"].sizes_mm == {"34": 800, "36": 840, "38": 880}
    assert good.notions["button"].count == {"34": 5, "36": 6, "38": 6}
    assert good.notions["elastic"].sold_mm == (650, 700, 762), "shortest first, in mm"
