"""The figure of a seam: edges to scale, what meets facing each other, sides of the cloth told apart."""

import itertools

import msgspec
import pytest
import shapely

from pipeline.booklet.figures.figure import USUAL
from pipeline.booklet.figures.ink import SEAM_DASH_MM, SEAM_MM, text_area
from pipeline.booklet.figures.seam import seam_figure, seam_scale, side_place
from pipeline.booklet.figures.seam_sides import joined, seam_sides
from pipeline.checks.garment import Garment
from pipeline.checks.notch_match import ease_mm
from pipeline.checks.seam_walk import is_complete
from pipeline.checks.seam_way import decided_direction
from pipeline.drawing.scene import Path, Text
from pipeline.drawing.styles import BLACK
from tests.booklet.figures.demo_garments import DEMOS, GARMENTS, figure, garment, seams_of
from tests.drawing.seen import written

SEAMS = seams_of(*DEMOS)
MORE = seams_of(*GARMENTS)


def sides_of(name: str, seam: str):
    made = garment(name)
    found = made.pattern.seams[seam]
    return seam_sides(made, found, decided_direction(made, found), made.pattern.base, 0.09)


def lines_in(shapes, width_mm, dash_mm):
    return [
        shapely.LineString(run.points)
        for shape in shapes
        if isinstance(shape, Path) and shape.stroke and shape.stroke[1:] == (width_mm, dash_mm)
        for run in shape.runs
    ]


@pytest.mark.parametrize(("name", "seam"), SEAMS + MORE)
def test_the_seam_line_of_each_side_is_drawn_as_long_as_its_edges_in_one_scale(name, seam):
    made, sides = garment(name), sides_of(name, seam)
    base = made.pattern.base
    if not is_complete(made, made.pattern.seams[seam], base):
        pytest.skip("the base size lacks an edge")
    dashed = lines_in(figure(name, f"seam {seam}").scene.shapes, SEAM_MM, SEAM_DASH_MM)
    drawn = [line.length for line in dashed]
    assert len(drawn) == len(sides.a) + len(sides.b)
    scale = seam_scale(sides, USUAL)
    found = made.pattern.seams[seam]
    for side, lengths in ((found.a, drawn[: len(sides.a)]), (found.b, drawn[len(sides.a) :])):
        edges_mm = sum(made.cuts[step.piece][base].edge(step.edge).gross_length_mm for step in side)
        assert sum(lengths) == pytest.approx(edges_mm * scale, rel=1e-3)


@pytest.mark.parametrize(("name", "seam"), SEAMS)
def test_what_meets_lies_as_far_along_both_sides_but_for_the_ease(name, seam):
    made, sides = garment(name), sides_of(name, seam)
    declared = made.pattern.seams[seam]
    taken = any(made.takes(step.piece, step.edge) for step in (*declared.a, *declared.b))
    if taken:
        pytest.skip("what a dart takes up is open in the picture")
    one, other = (shapely.LineString([p for shown in side for p in shown.line.coords]) for side in (sides.a, sides.b))
    allowed = max(abs(end) for end in ease_mm(declared.ease, other.length)) + declared.tolerance_mm + 0.1
    for meeting in sides.meetings:
        at_a = one.project(shapely.Point(side_place(sides.a, meeting.a)))
        at_b = other.project(shapely.Point(side_place(sides.b, meeting.b)))
        assert abs(at_a - at_b) <= allowed


@pytest.mark.parametrize(("name", "seam"), SEAMS + MORE)
def test_sides_do_not_hide_each_other_unless_one_is_turned_onto_the_other(name, seam):
    sides = sides_of(name, seam)
    upper, lower = (joined(shown.area for shown in side) for side in (sides.a, sides.b))
    if sides.turned:
        assert all(shown.right for shown in sides.a)
        assert not any(shown.right for shown in sides.b)
    else:
        assert upper.distance(lower) > 0
        assert all(shown.right for shown in (*sides.a, *sides.b))


@pytest.mark.parametrize(("name", "seam"), SEAMS + MORE)
def test_a_figure_fits_its_column_and_its_texts_stand_free(name, seam):
    drawn = figure(name, f"seam {seam}")
    texts = [shape for shape in drawn.scene.shapes if isinstance(shape, Text)]
    assert drawn.scene.width_mm <= USUAL.width_mm
    assert drawn.scene.height_mm <= USUAL.compact_mm
    assert texts
    assert min(text.size_mm for text in texts) >= USUAL.least_mm - 1e-3
    boxes = [text_area(text).buffer(-0.2) for text in texts]
    assert not any(a.intersects(b) for a, b in itertools.combinations(boxes, 2))
    if not sides_of(name, seam).turned:  # of two pieces on each other, the lower one's lines are covered
        strokes = [
            shapely.LineString(run.points)
            for shape in drawn.scene.shapes
            if isinstance(shape, Path) and shape.stroke and shape.stroke.colour == BLACK
            for run in shape.runs
        ]
        assert not any(box.intersects(stroke) for box in boxes for stroke in strokes)


def test_a_seam_of_a_piece_with_its_own_mirror_image_has_the_piece_twice():
    sides = sides_of("half-circle-skirt", "front-long")
    assert [shown.piece for shown in (*sides.a, *sides.b)] == ["panel-long", "panel-long"]
    assert [shown.move.determinant < 0 for shown in (*sides.a, *sides.b)] in ([True, False], [False, True])


def test_a_ring_is_opened_where_its_sides_lie_well():
    """The coat's armhole is said from the back yoke on; it is shown from underarm to underarm."""
    sides = sides_of("winter-coat", "armhole")
    assert [shown.piece for shown in sides.a] == ["sleeve-under", "sleeve-upper", "sleeve-under"]
    assert {sides.b[0].piece, sides.b[-1].piece} == {"front", "back"}


def test_edges_of_one_piece_that_follow_each_other_keep_their_corner():
    sides = sides_of("work-jacket", "inside-pocket-bag")
    assert [shown.edges for shown in sides.a] in ([("right", "foot", "left")], [("left", "foot", "right")])
    assert sides.turned


def test_what_is_longer_is_told_to_be_eased_or_gathered():
    assert "ease it in: 8 Under sleeve and 7 Upper sleeve" in figure("work-jacket", "seam armhole").alt
    assert "gedehnt: 3 Rock vorn" in figure("child-pinafore", "seam front-waist", "de").alt
    assert "ease" not in figure("work-jacket", "seam side").alt


def test_a_seam_that_is_said_to_be_faced_is_shown_turned():
    name, seam = "half-circle-skirt", next(seam for made, seam in SEAMS if made == "half-circle-skirt")
    made = garment(name)
    plain = made.pattern.seams[seam]
    way = decided_direction(made, plain)
    faced = msgspec.structs.replace(plain, facing=True)
    turned = [seam_sides(made, one, way, made.pattern.base, 0.09).turned for one in (plain, faced)]
    assert turned == [False, True]


@pytest.mark.parametrize(("language", "called"), [("en", "side seam"), ("de", "Seitennaht")])
def test_a_seam_with_a_title_is_called_by_it_below_the_figure_and_in_its_words(language: str, called: str) -> None:
    made = garment("work-jacket")
    titled = msgspec.structs.replace(made.pattern.seams["side"], title={"en": "side seam", "de": "Seitennaht"})
    seams = {**made.pattern.seams, "side": titled}
    drawn = seam_figure(Garment(msgspec.structs.replace(made.pattern, seams=seams), made.cuts), "side", language, USUAL)
    assert drawn.alt == f"{called}: {figure('work-jacket', 'seam side', language).alt}"
    assert called in [text.content for text in written(drawn.scene)]
