"""What is read from standing height: large letters, few words, nothing on lines."""

import itertools
from collections.abc import Iterable, Sequence

import msgspec
import pytest
import shapely

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.nest.one_size import in_nest
from pipeline.drawing.piece.pieces import draw_projector_nest
from pipeline.drawing.styles import PROJECTED
from pipeline.drawing.wording import size_label
from pipeline.geometry.curves import Line
from pipeline.model.piece_specs import LineKind
from pipeline.model.pieces import CutPiece
from tests.drawing.demo_nests import DEMOS, Drawn, demo, projected
from tests.drawing.legibility import lines_through_texts, texts_on_texts
from tests.drawing.seen import SeenText, lines, texts
from tests.drawing.stack_factory import SIZES, P, back, chain, cut_piece, pattern_of, stack, tab

WELL_MM, LEAST_MM = 8.0, 5.0
SMALL = {
    ("child-pinafore", "pocket"),
    ("work-jacket", "back-neck-facing-fusing"),
    ("work-jacket", "collar"),
    ("work-jacket", "collar-fusing"),
    ("work-jacket", "inside-pocket"),
    ("work-jacket", "under-collar"),
    ("work-jacket", "under-collar-fusing"),
}
"""Pieces that have no room for letters of `WELL_MM`."""
CROWDED = {("work-jacket", "back-neck-facing"), ("work-jacket", "back-neck-facing-fusing")}
"""Small pieces whose own lines have no room for the label of one size or two: their labels would cover each other."""
PATTERN = pattern_of("back", "sleeve", "tab")


@pytest.fixture(scope="module")
def demos() -> list[Drawn]:
    return [drawn for name in DEMOS for drawn in projected(name)]


def block(drawings: Iterable[Drawing]) -> list[SeenText]:
    """The texts of a block, as they are read where it is not turned."""
    found = [text for text in texts(drawings) if text.anchor == "start"]
    return sorted(found, key=lambda text: (round(text.start[1], 1), text.start[0]))


def sleeve(size: str, step: int) -> CutPiece:
    """Level and adjust lines of all sizes nearly touch, and the grain line crosses them in their middle."""
    w = 180 + 4 * step
    return cut_piece(
        "sleeve",
        size,
        chain(P(-w / 2, 0), P(w / 2, 0), P(w / 2, 500), P(-w / 2, 500)),
        grain=(P(0, 420), P(0, 80)),
        anchor=P(0, 0),
        inside=[
            ("elbow", "level", (Line(P(-w / 2, 250 + step), P(w / 2, 250 + 0.8 * step)),)),
            ("longer", "adjust", (Line(P(-w / 2, 180 + step), P(w / 2, 180 + 0.8 * step)),)),
        ],
    )


def test_every_block_is_read_from_standing_height(demos: list[Drawn]) -> None:
    least = {(drawn.pattern, drawn.piece): min(text.size_mm for text in block(drawn.drawings)) for drawn in demos}
    assert min(least.values()) >= LEAST_MM
    assert {piece for piece, size_mm in least.items() if size_mm < WELL_MM} <= SMALL


def test_both_languages_or_the_first_alone(demos: list[Drawn]) -> None:
    """The second language is the first to go: no block speaks it in letters that are not read well."""
    for drawn in demos:
        title = demo(drawn.pattern)[0].pieces[drawn.piece].title
        seen = " ".join(text.content for text in block(drawn.drawings))
        assert title["en"] in seen, drawn.piece
        if title.get("de", title["en"]) in seen and title.get("de") != title["en"]:
            assert min(text.size_mm for text in block(drawn.drawings)) >= WELL_MM, drawn.piece


def test_nothing_lies_on_a_text(demos: list[Drawn]) -> None:
    for drawn in demos:
        assert list(lines_through_texts(drawn.drawings)) == [], drawn.piece
        assert list(texts_on_texts(drawn.drawings)) == [], drawn.piece


def test_every_size_is_named_at_its_own_lines_and_where_they_crowd_in_the_block(demos: list[Drawn]) -> None:
    for drawn in demos:
        pattern = demo(drawn.pattern)[0]
        listed = {text.content for text in block(drawn.drawings)}
        named = {
            size
            for text in texts(drawn.drawings)
            if text.anchor == "middle" and text.content.endswith(size_label(text.sizes, pattern))
            for size in text.sizes
        }
        if len({cut.cut_outline for cut in drawn.cuts.values()}) == 1:
            assert not named, "one layer is shown: it is not named by all sizes"
            named = listed
        if (drawn.pattern, drawn.piece) in CROWDED:
            assert len(named) >= len(drawn.cuts) - 2, drawn.piece
            named |= listed
        assert named >= set(drawn.cuts), (drawn.pattern, drawn.piece)


def graded(size: str, step: int) -> CutPiece:
    """Sides of all sizes nearly touch, and hems have room between them."""
    wide, long = 200.0 + step, 400.0 + 7 * step
    return cut_piece("back", size, chain(P(0, 0), P(wide, 0), P(wide, long), P(0, long)), anchor=P(0, 0))


def test_a_size_is_named_beside_its_line_wherever_that_has_room_and_leaves_it_whole() -> None:
    cuts = {size: graded(size, 4 * number) for number, size in enumerate(SIZES[:5])}
    drawn = draw_projector_nest(pattern_of("back", sizes=SIZES[:5]), cuts, 0)
    hems = {size: max(place.y for place in in_nest(cut, 0).cut_ground) for size, cut in cuts.items()}
    assert min(b - a for a, b in itertools.pairwise(hems.values())) > 25
    for size, hem in hems.items():
        named = [text for text in texts(drawn) if text.content == size and text.anchor == "middle"]
        assert named, size
        for text in named:
            _, top, _, bottom = text.box.bounds
            assert not top - 1.2 < hem < bottom + 1.2, "the label stands in its own line"
            away = sorted((min(abs(top - at), abs(bottom - at)), other) for other, at in hems.items())
            assert away[0][1] == size


def test_a_block_says_title_sizes_and_how_to_cut_and_nothing_else() -> None:
    seen = block(draw_projector_nest(PATTERN, stack(back), 0))
    wanted = (
        "Back · Vorderteil",
        "Sizes · Größen",
        *SIZES,
        "Cut 2 in main cloth: 1 and 1 mirrored",
        "2 × in Oberstoff zuschneiden: 1 und 1 gespiegelt",
    )
    assert " ".join(text.content for text in seen) == " ".join(wanted)
    assert {text.size_mm for text in seen if text.content in SIZES} == {PROJECTED.block_mm}


def test_a_small_piece_says_in_one_language_what_it_is_and_how_to_cut_it() -> None:
    drawings = draw_projector_nest(PATTERN, stack(tab), 0)
    seen = block(drawings)
    assert " ".join(text.content for text in seen) == "Tab Cut 2 in main cloth: 1 and 1 mirrored"
    assert min(text.size_mm for text in seen) >= LEAST_MM
    assert list(texts_on_texts(drawings)) == []


@pytest.mark.parametrize("grain_mm", [60.0, 90.0, 120.0, 200.0])
def test_the_grain_is_told_in_every_language_or_in_none(grain_mm: float) -> None:
    outline = chain(P(0, 0), P(400, 0), P(400, 500), P(0, 500))
    cuts = {"44": cut_piece("front", "44", outline, grain=(P(60, 250 + grain_mm), P(60, 250)))}
    seen = {text.content for text in texts(draw_projector_nest(pattern_of("front", sizes=("44",)), cuts, 0))}
    assert any("Grain" in text for text in seen) is any("Fadenlauf" in text for text in seen)


def test_a_piece_off_the_grain_says_so_however_small() -> None:
    spec = msgspec.structs.replace(PATTERN.pieces["tab"], grain="bias")
    pattern = msgspec.structs.replace(PATTERN, pieces={**PATTERN.pieces, "tab": spec})
    seen = " ".join(text.content for text in block(draw_projector_nest(pattern, stack(tab), 0)))
    assert "Cut on the bias" in seen


def bundles(drawings: Sequence[Drawing]) -> list[shapely.Polygon]:
    """What the level lines of all sizes cover, and the adjust lines, without the gaps that lines leave for texts."""
    found: dict[str, list[shapely.LineString]] = {}
    for line in lines(drawings):
        if line.width_mm == PROJECTED.inside_mm and line.dash_mm:
            found.setdefault(line.dash_mm, []).append(line.shape)
    assert len(found) == 2
    return [shapely.MultiLineString(shapes).convex_hull for shapes in found.values()]


def square_with(kind: LineKind, by_size: dict[str, Line]) -> dict[str, CutPiece]:
    """A square back in several sizes, each with one inside line of its own."""
    outline = chain(P(0, 0), P(400, 0), P(400, 800), P(0, 800))
    grain = (P(200, 280), P(200, 40))
    return {
        size: cut_piece("back", size, outline, grain=grain, anchor=P(0, 0), inside=[("elbow", kind, (line,))])
        for size, line in by_size.items()
    }


@pytest.mark.parametrize(("apart_mm", "drawn"), [(0.3, 1), (0.5, 1), (2.0, 2)])
def test_marks_that_one_stroke_covers_are_drawn_once(apart_mm: float, drawn: int) -> None:
    """Lines nearer to each other than they are wide stood as a bar. A stroke of 1.5 mm covers what is 0.75 mm off."""
    sizes = ("34", "36")
    heights = {size: 500 + n * apart_mm for n, size in enumerate(sizes)}
    cuts = square_with("level", {size: Line(P(0, y), P(400, y)) for size, y in heights.items()})
    levels = [line for line in lines(draw_projector_nest(pattern_of("back", sizes=sizes), cuts, 0)) if line.dash_mm]
    assert len(levels) == drawn
    assert {size for line in levels for size in line.sizes} == set(sizes)


@pytest.mark.parametrize("kind", ["level", "adjust"])
@pytest.mark.parametrize("apart_mm", [0.42, 0.76, 1.2])
def test_a_fan_of_lines_that_are_only_measured_by_is_no_bar(apart_mm: float, kind: LineKind) -> None:
    """Eleven lines 0.76 mm apart stood as a bar of 9 mm. Each size has its line within the width of a line."""
    own = {size: 500 + n * apart_mm for n, size in enumerate(SIZES)}
    # from edge to edge of a piece that is graded in breadth
    cuts = square_with(kind, {size: Line(P(500 - y, y), P(y - 100, y)) for size, y in own.items()})
    drawn = {
        line.sizes: line.shape.bounds[1]
        for line in lines(draw_projector_nest(pattern_of("back"), cuts, 0))
        if line.width_mm == PROJECTED.inside_mm and line.dash_mm and line.shape.length > 20
    }
    assert sorted(size for sizes in drawn for size in sizes) == list(SIZES)
    touching = [b - a <= PROJECTED.inside_mm for a, b in itertools.pairwise(sorted(drawn.values()))]
    assert sum(touching) <= 1, drawn  # what is left over may lie beside the last of the others
    for sizes, y in drawn.items():
        assert all(abs(y - own[size]) <= PROJECTED.inside_mm for size in sizes), sizes


def test_no_size_stands_in_a_bundle_of_inside_lines() -> None:
    drawings = draw_projector_nest(PATTERN, stack(sleeve), 0)
    sizes = [text for text in texts(drawings) if text.anchor == "middle" and text.content in SIZES]
    assert {text.content for text in sizes} == set(SIZES)  # in the cut lines
    assert not any(area.contains(text.box.centroid) for area in bundles(drawings) for text in sizes)


@pytest.mark.parametrize("turns", range(4))
def test_a_bundle_is_named_once_beside_it_off_the_grain_line(turns: int) -> None:
    drawings = draw_projector_nest(PATTERN, stack(sleeve), turns)
    words = [text for text in texts(drawings) if text.bold and text.anchor == "middle" and text.content not in SIZES]
    said = " ".join(text.content for text in words)
    assert said.count("elbow line") == said.count("lengthen or shorten here") == 1
    assert not any(area.intersects(text.box) for area in bundles(drawings) for text in words)
    assert list(lines_through_texts(drawings)) == []


def test_the_block_stands_where_the_designer_drew_its_rectangle() -> None:
    corners = (P(20, 300), P(380, 300), P(380, 480), P(20, 480))
    outline = chain(P(0, 0), P(400, 0), P(400, 800), P(0, 800))
    cuts = {"44": cut_piece("back", "44", outline, grain=(P(200, 280), P(200, 40)), label=corners)}
    wanted = shapely.Polygon(in_nest(cuts["44"], 0).label)
    seen = block(draw_projector_nest(pattern_of("back", sizes=("44",)), cuts, 0))
    assert len(seen) == 4  # title, sizes, how to cut it in two languages
    assert all(wanted.contains(text.box) for text in seen)
