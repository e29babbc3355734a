"""What stands around pictures of lays: their files' names, their pages, the table of lengths."""

import itertools
from xml.etree import ElementTree

import msgspec
import pytest
import shapely

from pipeline.drawing.cloth.lay_pages import lay_pages
from pipeline.drawing.cloth.lay_picture import PICTURE_HEIGHT_MM, Picture, lay_picture
from pipeline.drawing.lay_names import lay_file_name, lay_title
from pipeline.drawing.scene import Group
from pipeline.drawing.svg import document
from pipeline.lays.lay import Placed
from pipeline.lays.saved import Chosen
from pipeline.model.lengths import cloth_width
from pipeline.model.pattern import View
from pipeline.tables.cloth import cloth_lines
from pipeline.tables.cloth_page import HEIGHT_MM, cloth_pages
from tests.drawing.seen import contents, line_of, paths, written
from tests.lays.pictured import ASKED, CHOSEN, LAY, PATTERN, SHELL
from tests.lays.samples import cut, pattern, piece_spec, triangle


def test_files_are_named_by_material_width_size_nap_and_view():
    assert lay_file_name(ASKED) == "shell-1020-40"
    assert lay_file_name(msgspec.structs.replace(ASKED, one_way=True, view="long")) == "shell-1020-40-one-way-long"


@pytest.mark.parametrize(
    ("width_mm", "units", "told"),
    [
        (1400, "metric", "140 cm (55 1/4 in)"),
        (1143, "imperial", "45 in (115 cm)"),
        (1524, "imperial", "60 in (153 cm)"),
    ],
)
def test_widths_as_shops_tell_them(width_mm, units, told):
    assert cloth_width(width_mm, units) == told


def test_pages_hold_every_picture_once():
    pictures = [lay_picture(PATTERN, CHOSEN, "1 m")] * 5
    pages = lay_pages(pictures)
    assert [len(own) for own in pages] == [1] * 5
    assert [sum("main cloth, size 40" in content for content in contents(page)) for (page,) in pages] == [1] * 5


def lay_of_many(*languages: str, pieces: int = 24) -> Picture:
    """As many pieces as make a legend long."""
    items = [triangle(f"p{number}", 300, 200, 2, 1) for number in range(pieces)]
    placed = tuple(
        Placed(item=item.name, x_mm=310.0 * (number % 3), y_mm=210.0 * (number % 2), angle_deg=0, layers="pair")
        for number, item in enumerate(items)
    )
    asked = msgspec.structs.replace(ASKED, items=tuple(items))
    chosen = Chosen(request=asked, lay=msgspec.structs.replace(LAY, length_mm=920.0, placed=placed), kept=True)
    specs = [piece_spec(item.name, cut(2, 1)) for item in items]
    return lay_picture(pattern(specs, shell=SHELL, languages=languages), chosen, "2 m")


def test_what_would_make_a_cloth_small_is_told_on_a_page_of_its_own():
    few, many = lay_of_many("en"), lay_of_many("en", "de", "fr", "sv")
    assert len(lay_pages([few])[0]) == 1
    ((cloth, *told),) = lay_pages([many])
    told_of = [content for page in told for content in contents(page) if "P23" in content]
    assert len(told_of) == 4  # a line a language
    assert not set(told_of) & set(contents(cloth))
    assert set(told_of) <= set(contents(many.scene))
    assert few.below == ()
    assert few.height_mm <= PICTURE_HEIGHT_MM
    assert many.height_mm <= PICTURE_HEIGHT_MM


def test_a_cloth_that_makes_room_for_its_legend_is_smaller_as_a_whole():
    """Cloth, pieces and marks are of one scale, and the legend begins beneath them."""
    alone, drawn = lay_of_many("en", pieces=26), lay_of_many("en", "de", pieces=26)
    assert drawn.below == ()
    assert drawn.height_mm <= PICTURE_HEIGHT_MM
    whole, smaller = _cloth(alone), _cloth(drawn)
    assert smaller.area < 0.95 * whole.area
    assert _shares(alone) == _shares(drawn)
    legend = drawn.body[-1]
    assert isinstance(legend, Group)
    drawn_to = max(line_of(run).bounds[3] for path in paths(drawn.scene) for run in path.runs)
    assert smaller.bounds[3] < drawn_to < legend.affine.f


def _rings(picture: Picture) -> list[shapely.LineString]:
    lines = [line_of(run) for path in paths(picture.scene) if path.stroke for run in path.runs if len(run.points) > 2]
    return [line for line in lines if line.is_ring]


def _cloth(picture: Picture) -> shapely.Polygon:
    """What the longest closed line goes round."""
    return shapely.Polygon(max(_rings(picture), key=lambda line: line.length))


def _shares(picture: Picture) -> list[tuple[float, ...]]:
    """Where each outline of a piece begins and ends, as shares of the cloth."""
    left, top, right, bottom = _cloth(picture).bounds
    size = right - left, bottom - top
    boxes = [line.bounds for line in _rings(picture)]
    found = {
        ((x - left) / size[0], (y - top) / size[1], (u - left) / size[0], (v - top) / size[1]) for x, y, u, v in boxes
    }
    return sorted(tuple(round(share, 2) for share in each) for each in found)


def test_a_lay_is_called_in_words_and_its_svg_says_so():
    views = {"long": View("long", {"en": "Long & <wide>", "de": "Lang"})}
    made = msgspec.structs.replace(PATTERN, views=views)
    asked = msgspec.structs.replace(ASKED, one_way=True, view="long")
    title = lay_title(made, asked, "en")
    assert title == "Made up: main cloth, 102 cm (40 1/4 in), one way, Long & <wide>, Size 40"
    root = ElementTree.fromstring(document(lay_picture(PATTERN, CHOSEN, "1 m").scene, title, "en"))
    assert [each.text for each in root.findall("{http://www.w3.org/2000/svg}title")] == [title]
    assert root.get("{http://www.w3.org/XML/1998/namespace}lang") == "en"


def test_the_table_of_lengths_is_one_page_in_both_units():
    views = {"long": View("long", {"en": "Long"}), "short": View("short", {"en": "Short"})}
    many = tuple(str(size) for size in range(34, 56, 2))
    made = msgspec.structs.replace(PATTERN, sizes=many, views=views)
    chosen = [
        msgspec.structs.replace(CHOSEN, request=msgspec.structs.replace(ASKED, size=size, view=view))
        for view in views
        for size in many
    ]
    page = cloth_pages(made, cloth_lines(made, chosen), "en")[0]
    frame = page.left_mm, page.top_mm, page.width_mm, page.height_mm
    assert frame == (-10, -10, 210, 297)  # A4 (ISO 216), the table inside what Letter shares with it
    assert contents(page).count("90 cm") == contents(page).count("1 yd") == 2 * 11
    assert max(text.place.y for text in written(page)) < HEIGHT_MM


SIX_POINTS_MM = 6 * 25.4 / 72


@pytest.mark.parametrize(("views", "sizes", "pages"), [(0, 60, 3), (2, 21, 2), (2, 8, 1), (3, 8, 2)])
def test_many_sizes_and_views_have_pages_of_their_own_before_a_letter_is_under_six_points(views, sizes, pages):
    titles = {f"v{number}": View(f"v{number}", {"en": f"View {number}"}) for number in range(views)}
    many = tuple(str(size) for size in range(sizes))
    made = msgspec.structs.replace(PATTERN, sizes=many, views=titles)
    chosen = [
        msgspec.structs.replace(CHOSEN, request=msgspec.structs.replace(ASKED, size=size, view=view))
        for view in titles or (None,)
        for size in many
    ]
    drawn = cloth_pages(made, cloth_lines(made, chosen), "en")
    assert len(drawn) == pages
    assert sum(contents(page).count("90 cm") for page in drawn) == len(chosen)
    for page in drawn:
        assert min(text.size_mm for text in written(page)) >= SIX_POINTS_MM
        assert max(text.place.y for text in written(page)) < HEIGHT_MM
        rows = sorted({text.place.y for text in written(page) if text.content == "90 cm"})
        assert min(b - a for a, b in itertools.pairwise(rows)) > 2 * SIX_POINTS_MM
