"""Pictures of lays: to scale, every piece named, inside their page."""

import msgspec
import pytest

from pipeline.drawing.cloth.laid_cloth import GREY
from pipeline.drawing.cloth.lay_pages import lay_pages
from pipeline.drawing.cloth.lay_picture import PICTURE_WIDTH_MM, lay_picture
from pipeline.drawing.cloth.lay_words import LayWords
from pipeline.drawing.piece.own_image import is_own_image
from pipeline.drawing.scene import Group
from pipeline.drawing.styles import BLACK
from pipeline.drawing.wording import told_apart, told_of
from pipeline.geometry.points import Point
from pipeline.lays.lay import Lay, Placed, folded_as
from pipeline.lays.saved import Chosen
from pipeline.model.pattern import Pattern
from pipeline.model.piece_specs import EdgeSpec, MarkSpec
from pipeline.model.pieces import GrainLine, Notch
from pipeline.words import say
from tests.drawing.seen import contents, line_of, paths, written
from tests.lays.pictured import ASKED, CHOSEN, LAY, PATTERN, SHELL
from tests.lays.samples import cut, cut_piece, pattern, piece_spec, rectangle, request, strip


def test_every_piece_is_named_and_the_cloth_is_told():
    told = " | ".join(contents(lay_picture(PATTERN, CHOSEN, "1 m / 1 1/8 yd").body))
    for name in ("1 Back", "1 Front", "1 Tab", "S1 Loop", "fold", "both selvedges", "main cloth, size 40"):
        assert name in told
    assert "cloth 102 cm (40 1/4 in)" in told
    assert "buy 1 m / 1 1/8 yd" in told


def test_an_odd_piece_on_the_upper_layer_says_that_it_lies_mirrored():
    told = " ".join(contents(lay_picture(PATTERN, CHOSEN, "1 m").body))
    assert "Tab: Cut 1 in main cloth, right side up, from the upper layer, laid with the printed side down" in told


def test_layers_are_told_apart_by_tone_and_hatching():
    drawn = paths(lay_picture(PATTERN, CHOSEN, "1 m").body)
    assert len([path for path in drawn if path.fill == GREY]) >= 2
    hatched = [path for path in drawn if path.stroke and path.stroke.width_mm == 0.1]
    assert len(hatched) == 2  # the tab and the loop


def test_the_picture_is_to_scale():
    drawn = paths(lay_picture(PATTERN, CHOSEN, "1 m").body)
    back = next(path for path in drawn if path.fill == GREY)
    cloth = next(path for path in drawn if path.stroke and path.stroke.width_mm == 0.35)
    left, top, right, bottom = line_of(back.runs[0]).bounds
    assert (right - left) / (bottom - top) == pytest.approx(600 / 200, rel=1e-3)
    start, _, end, _ = line_of(cloth.runs[0]).bounds
    assert (right - left) / (end - start) == pytest.approx(600 / 900, rel=1e-3)
    assert end <= PICTURE_WIDTH_MM


def test_a_german_picture_has_german_words():
    told = " ".join(contents(lay_picture(PATTERN, CHOSEN, "1 m").body))
    assert "Oberstoff, Größe 40" in told
    assert "Bruch" in told


def test_every_language_of_the_pattern_is_there_with_the_garment_and_its_version():
    told = contents(lay_picture(PATTERN, CHOSEN, "1.05 m").body)
    assert told[0] == "Made up · Version 1.0.0"
    assert {"main cloth, size 40", "Oberstoff, Größe 40", "fold · Bruch"} <= set(told)
    assert any("buy 1.05 m" in text for text in told)
    assert any("kaufen: 1,05 m" in text for text in told)


def test_counts_read_as_on_the_label_of_the_piece():
    told = contents(lay_picture(PATTERN, CHOSEN, "1 m").body)
    assert "1 Front: Cut 2 in main cloth: 1 and 1 mirrored" in told
    assert "1 Front: 2 × in Oberstoff zuschneiden: 1 und 1 gespiegelt" in told


@pytest.mark.parametrize(
    ("count", "laid", "english", "german"),
    [
        (1, 2, "Cut 1 in main cloth, of 2 parts", "1 × in Oberstoff zuschneiden, aus 2 Stücken"),
        (2, 6, "Cut 2 in main cloth, each of 3 parts", "2 × in Oberstoff zuschneiden, jeder aus 3 Stücken"),
    ],
)
def test_a_strip_that_is_sewn_together_is_counted_whole_and_its_parts_are_told(count, laid, english, german):
    made = msgspec.structs.replace(PATTERN, strips={"loop": strip("loop", 135, cut=(cut(count),))})
    items = [*ASKED.items[:-1], rectangle("strips.loop", 135, 20, laid)]
    chosen = msgspec.structs.replace(CHOSEN, request=msgspec.structs.replace(ASKED, items=tuple(items)))
    told = contents(lay_picture(made, chosen, "1 m").body)
    assert any(text.startswith(f"S1 Loop: {english}") for text in told)
    assert any(german in text for text in told)


@pytest.mark.parametrize(
    ("join_mm", "long_mm", "told"), [(6.0, 800.0, True), (None, 800.0, False), (6.0, 640.0, False)]
)
def test_a_strip_that_may_be_joined_and_alone_makes_the_lay_long_says_so(join_mm, long_mm, told):
    """The back ends at 600 mm; the length of the lay is that with the strip in one, and is left as it is."""
    made = msgspec.structs.replace(
        PATTERN,
        pieces={"back": PATTERN.pieces["back"]},
        strips={"loop": strip("loop", long_mm, cut=(cut(1),), join_mm=join_mm)},
    )
    items = (rectangle("back", 600, 400, 1), rectangle("strips.loop", long_mm, 20, 1))
    placed = (
        Placed(item="back", x_mm=0, y_mm=200, angle_deg=0),
        Placed(item="strips.loop", x_mm=0, y_mm=500, angle_deg=0),
    )
    asked = request(items, 1000, width_mm=1020.0)
    lay = msgspec.structs.replace(LAY, folded=False, length_mm=long_mm, placed=placed)
    texts = contents(lay_picture(made, Chosen(request=asked, lay=lay, kept=True), "1 m").body)
    assert ("less cloth" in " ".join(texts)) is told


def test_all_texts_but_the_names_in_small_pieces_can_be_read_on_a_phone():
    """An A4 page on a hand's width of screen is shown at about a third: 3.4 mm become more than 1 mm."""
    head_and_legend = [text for text in written(lay_picture(PATTERN, CHOSEN, "1 m").scene) if text.place.x == 0]
    assert min(text.size_mm for text in head_and_legend) >= 3.4


SIX_POINTS_MM = 6 / 72 * 25.4


def slip(angle_deg: float) -> tuple[Pattern, Chosen]:
    """A narrow piece beside a wide one on open cloth."""
    items = [rectangle("back", 600, 400, 1), rectangle("tab", 140, 22, 1, grain="warp" if angle_deg == 0 else "weft")]
    made = msgspec.structs.replace(
        PATTERN, pieces={name: piece_spec(name, cut(1)) for name in ("back", "tab")}, strips={}
    )
    placed = (
        Placed(item="back", x_mm=0, y_mm=200, angle_deg=0),
        Placed(item="tab", x_mm=650, y_mm=300, angle_deg=angle_deg),
    )
    asked = request(items, 1000, width_mm=1020.0, selvedge_mm=10.0)
    return made, Chosen(
        request=asked, lay=Lay(folded=False, length_mm=1500, placed=placed, seed=1, seconds=1), kept=True
    )


@pytest.mark.parametrize("angle_deg", [0, 90])
def test_a_narrow_piece_has_a_name_in_six_points_and_its_grain_line(angle_deg):
    made, laid = slip(angle_deg)
    picture = lay_picture(made, laid, "1 m")
    (name,) = [text for text in written(picture.body) if text.content == "1" or text.content == "1 Tab"]
    assert name.size_mm >= SIX_POINTS_MM
    heads = [path for path in paths(picture.body) if len(path.runs) == 1 and len(path.runs[0].points) == 3]
    assert len(heads) == 4  # two a piece


@pytest.mark.parametrize(
    "chosen", [CHOSEN, msgspec.structs.replace(CHOSEN, request=msgspec.structs.replace(ASKED, items=ASKED.items * 6))]
)
def test_no_text_of_a_page_is_smaller_than_six_points(chosen):
    """Where a list is so long that the picture is made smaller on its page, too."""
    (pages,) = lay_pages([lay_picture(PATTERN, chosen, "1 m")])
    for page in pages:
        (group,) = [shape for shape in page.shapes if isinstance(shape, Group)]
        assert min(text.size_mm for text in written(page)) * group.affine.a >= SIX_POINTS_MM


def test_a_one_sided_piece_says_which_side_is_up_as_on_its_label_and_a_one_sided_mark_whose_it_is():
    marks = {"buttonhole-1": MarkSpec(side="right"), "button": MarkSpec()}
    made = msgspec.structs.replace(
        PATTERN, pieces={**PATTERN.pieces, "front": msgspec.structs.replace(PATTERN.pieces["front"], point_marks=marks)}
    )
    told = contents(lay_picture(made, CHOSEN, "1 m").body)
    assert any(text.startswith("1 Tab: Cut 1 in main cloth, right side up, from the upper layer") for text in told)
    assert "1 Front: Cut 2 in main cloth: 1 and 1 mirrored; wearer’s right only: buttonhole" in told


@pytest.mark.parametrize("language", ["en", "de", "fr", "es", "nl", "sv"])
def test_what_one_side_has_alone_is_told_apart_from_how_a_piece_is_cut_and_lies(language):
    marks = {"buttonhole-1": MarkSpec(side="right"), "button": MarkSpec(side="left")}
    pocket = {"place": MarkSpec(title={language: "Nest, small"}, side="left")}
    front = msgspec.structs.replace(PATTERN.pieces["front"], point_marks=marks, line_marks=pocket)
    made = pattern(
        [*(PATTERN.pieces[name] for name in ("back", "tab")), front],
        strips=list(PATTERN.strips.values()),
        shell=SHELL,
        languages=(language,),
    )
    told = next(text for text in LayWords(pattern=made, chosen=CHOSEN).counts(language) if "Nest" in text)
    sentence, left, right = told.split(told_apart(language, ("", "")))
    assert "Nest" not in sentence
    left_only, right_only = (say(language, f"mark-side.{side}") for side in ("left", "right"))
    assert left == told_of(language, left_only, f"Nest, small, {say(language, 'mark.button')}")
    assert right == told_of(language, right_only, say(language, "mark.buttonhole"))


FOLD = {"cb": EdgeSpec(fold=True)}


def opened(*placed, one_way=False, **more):
    """The back, whose label says that it is cut on the fold, and two tabs that are their own mirror image, open."""
    made = msgspec.structs.replace(
        PATTERN, pieces={"back": piece_spec("back", cut(1), edges=FOLD), "tab": piece_spec("tab", cut(2, 1))}
    )
    items = [rectangle("back", 600, 400, 1, on_fold=True), rectangle("tab", 80, 60, 2, symmetric=False, mirrored=1)]
    asked = request(items, 1000, width_mm=1020.0, selvedge_mm=10.0, one_way=one_way, **more)
    lay = Lay(folded=folded_as(asked.way), length_mm=700, placed=placed, seed=1, seconds=1, doubled_mm=200.0)
    return made, Chosen(request=asked, lay=lay, kept=True)


WHOLE = (
    Placed(item="back", x_mm=0, y_mm=200, angle_deg=0),
    Placed(item="tab", x_mm=610, y_mm=100, angle_deg=0),
    Placed(item="tab", x_mm=610, y_mm=200, angle_deg=0, mirrored=True),
)


def test_a_piece_on_the_fold_that_lies_whole_is_explained_where_it_lies():
    told = contents(lay_picture(*opened(*WHOLE), "1 m").body)
    assert "1 Back: Cut 1 in main cloth, on the fold, here whole" in told
    assert "What lies whole here and is on the fold on its label: trace the half" in " ".join(told)
    assert not any("whole" in text for text in contents(lay_picture(PATTERN, CHOSEN, "1 m").body))


def test_a_piece_that_is_its_own_mirror_image_is_never_called_printed_side_down():
    made, laid = opened(*WHOLE)
    assert "printed side down" in " ".join(contents(lay_picture(made, laid, "1 m").body))
    own = contents(lay_picture(made, laid, "1 m", own_image=["tab"]).body)
    assert "printed side down" not in " ".join(own)
    assert "1 Tab: Cut 2 in main cloth" in own


UP = GrainLine(Point(50, 150), Point(50, 50))


@pytest.mark.parametrize(
    ("outline", "notches", "own"),
    [
        ([(0, 0), (100, 0), (100, 200), (0, 200)], [], True),
        ([(0, 0), (100, 0), (100, 200), (0, 200)], [(0, 50), (100, 50)], True),
        ([(0, 0), (100, 0), (100, 200), (0, 200)], [(0, 50)], False),
        ([(0, 0), (100, 0), (60, 200), (0, 200)], [], False),
        (
            [(0, 0), (100, 50), (100, 150), (0, 200)],
            [],
            False,
        ),  # about an axis across the grain it is turned, not mirrored
    ],
)
def test_its_own_mirror_image_about_the_grain_with_its_notches(outline, notches, own):
    piece = cut_piece("pocket", outline, grain=UP)
    marked = tuple(Notch(None, "side", 0.0, Point(*place)) for place in notches)
    drawn = msgspec.structs.replace(piece.drawn, notches=marked)
    assert is_own_image(msgspec.structs.replace(piece, drawn=drawn)) == own


def test_one_selvedge_folded_in_is_told_with_its_depth_and_layers():
    half = Placed(item="back", x_mm=0, y_mm=0, angle_deg=0, layers="fold")
    tabs = (Placed(item="tab", x_mm=0, y_mm=300, angle_deg=0), Placed(item="tab", x_mm=0, y_mm=400, angle_deg=0))
    told = contents(lay_picture(*opened(half, *tabs, way="partial-fold"), "1 m").body)
    assert any("one selvedge folded in by 21 cm" in text for text in told)
    assert {"two layers · zwei Lagen", "one layer · eine Lage"} <= set(told)


def test_two_folds_show_both_folds_over_the_pieces():
    half = Placed(item="back", x_mm=0, y_mm=510, angle_deg=0, layers="fold", mirrored=True)
    body = lay_picture(*opened(half, way="two-folds"), "1 m").body
    assert contents(body).count("fold · Bruch") == 2
    folds = [path for path in paths(body) if path.stroke and path.stroke.width_mm == 0.9]
    assert len(folds) == 2
    grey = max(number for number, path in enumerate(paths(body)) if path.fill == GREY)
    assert min(paths(body).index(fold) for fold in folds) > grey


@pytest.mark.parametrize(("nap", "black", "open_heads"), [("one-way", 1, 0), ("none", 2, 0), ("either", 1, 1)])
def test_grain_lines_have_the_heads_that_they_have_on_paper(nap, black, open_heads):
    made, laid = opened(WHOLE[0])
    shell = msgspec.structs.replace(SHELL, nap=nap)
    heads = [
        path
        for path in paths(lay_picture(msgspec.structs.replace(made, materials={"shell": shell}), laid, "1 m").body)
        if len(path.runs) == 1 and len(path.runs[0].points) == 3
    ]
    assert [path.fill == BLACK for path in heads].count(True) == black
    assert len(heads) == black + open_heads
