"""Pictures of lays: to scale, every piece named, inside their page."""

import itertools
from xml.etree import ElementTree

import msgspec
import pytest

from pipeline.drawing.cloth.lay_pages import lay_pages, pages_of_pictures
from pipeline.drawing.cloth.lay_picture import GREY, PICTURE_WIDTH_MM, lay_picture
from pipeline.drawing.lay_names import cloth_width, lay_file_name, lay_title
from pipeline.drawing.svg import document
from pipeline.lays.kept import Chosen
from pipeline.lays.lay import Lay, Placed
from pipeline.model.pattern import Material, View
from pipeline.tables.cloth import cloth_lines
from pipeline.tables.cloth_page import HEIGHT_MM, cloth_page
from tests.drawing.seen import contents, line_of, paths, written
from tests.lays.samples import cut, pattern, piece_spec, rectangle, request, strip, triangle

SHELL = Material(title={"en": "main cloth", "de": "Oberstoff"}, widths_mm=(1020.0,), selvedge_mm=10.0, fold=True)
PATTERN = pattern(
    [piece_spec("back", cut(1)), piece_spec("front", cut(2, 1)), piece_spec("tab", cut(1))],
    strips=[strip("loop", 135, cut=(cut(1),))],
    shell=SHELL,
    languages=("en", "de"),
)
ASKED = request(
    [
        rectangle("back", 600, 400, 1, on_fold=True),
        triangle("front", 600, 280, 2, 1),
        triangle("tab", 80, 60, 1, 0),
        rectangle("strips.loop", 135, 20, 1),
    ],
    1000,
    folded=True,
    width_mm=1020.0,
)
LAY = Lay(
    folded=True,
    length_mm=900.0,
    placed=(
        Placed(item="back", x_mm=0, y_mm=0, angle_deg=0, layers="fold"),
        Placed(item="front", x_mm=0, y_mm=205, angle_deg=0, layers="pair"),
        Placed(item="tab", x_mm=700, y_mm=100, angle_deg=0, mirrored=True, layers="upper"),
        Placed(item="strips.loop", x_mm=700, y_mm=200, angle_deg=0, layers="lower"),
    ),
    seed=1,
    seconds=1,
)
CHOSEN = Chosen(request=ASKED, lay=LAY, kept=True)


def test_every_piece_is_named_and_the_cloth_is_told():
    told = " | ".join(contents(lay_picture(PATTERN, CHOSEN, "en", "1 m / 1 1/8 yd").body))
    for name in ("1 Back", "1 Front", "1 Tab", "S1 Loop", "fold", "both selvedges", "main cloth, size 40"):
        assert name in told
    assert "cloth 102 cm (40 in)" in told
    assert "buy 1 m / 1 1/8 yd" in told


def test_an_odd_piece_on_the_upper_layer_says_that_it_lies_mirrored():
    told = " ".join(contents(lay_picture(PATTERN, CHOSEN, "en", "1 m").body))
    assert "Tab: 1 ×, from the upper layer, mirrored, printed side down" in told


def test_layers_are_told_apart_by_tone_and_hatching():
    drawn = paths(lay_picture(PATTERN, CHOSEN, "en", "1 m").body)
    assert len([path for path in drawn if path.fill == GREY]) >= 2
    hatched = [path for path in drawn if path.stroke and path.stroke.width_mm == 0.1]
    assert len(hatched) == 2  # the tab and the loop


def test_the_picture_is_to_scale():
    drawn = paths(lay_picture(PATTERN, CHOSEN, "en", "1 m").body)
    back = next(path for path in drawn if path.fill == GREY)
    cloth = next(path for path in drawn if path.stroke and path.stroke.width_mm == 0.35)
    left, top, right, bottom = line_of(back.runs[0]).bounds
    assert (right - left) / (bottom - top) == pytest.approx(600 / 200, rel=1e-3)
    start, _, end, _ = line_of(cloth.runs[0]).bounds
    assert (right - left) / (end - start) == pytest.approx(600 / 900, rel=1e-3)
    assert end <= PICTURE_WIDTH_MM


def test_a_german_picture_has_german_words():
    told = " ".join(contents(lay_picture(PATTERN, CHOSEN, "de", "1 m").body))
    assert "Oberstoff, Größe 40" in told
    assert "Bruch" in told


def test_files_are_named_by_material_width_size_nap_and_view():
    assert lay_file_name(ASKED) == "shell-1020-40"
    assert lay_file_name(msgspec.structs.replace(ASKED, one_way=True, view="long")) == "shell-1020-40-one-way-long"


@pytest.mark.parametrize(
    ("width_mm", "units", "told"),
    [(1400, "metric", "140 cm (55 in)"), (1143, "imperial", "45 in (114 cm)"), (1524, "imperial", "60 in (152 cm)")],
)
def test_widths_as_shops_tell_them(width_mm, units, told):
    assert cloth_width(width_mm, units) == told


def test_pages_hold_every_picture_once():
    pictures = [lay_picture(PATTERN, CHOSEN, "en", "1 m")] * 5
    pages = lay_pages(pictures)
    assert len(pages) == 3
    assert sum("main cloth, size 40" in content for page in pages for content in contents(page)) == 5
    assert pages_of_pictures(pictures) == (0, 0, 1, 1, 2)


def test_a_lay_is_called_in_words_and_its_svg_says_so():
    views = {"long": View("long", {"en": "Long & <wide>", "de": "Lang"})}
    made = msgspec.structs.replace(PATTERN, views=views)
    asked = msgspec.structs.replace(ASKED, one_way=True, view="long")
    title = lay_title(made, asked, "en")
    assert title == "Made up: main cloth, 102 cm (40 in), one way, Long & <wide>, Size 40"
    root = ElementTree.fromstring(document(lay_picture(PATTERN, CHOSEN, "en", "1 m").scene, title, "en"))
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
    page = cloth_page(made, cloth_lines(made, chosen), "en")
    frame = page.left_mm, page.top_mm, page.width_mm, page.height_mm
    assert frame == (-10, -10, 210, 297)  # A4 (ISO 216), the table inside what Letter shares with it
    assert contents(page).count("90 cm") == contents(page).count("1 yd") == 2 * 11
    assert max(text.place.y for text in written(page)) < HEIGHT_MM


def test_the_table_of_lengths_is_still_one_page_for_many_sizes():
    many = tuple(str(size) for size in range(60))
    made = msgspec.structs.replace(PATTERN, sizes=many)
    chosen = [msgspec.structs.replace(CHOSEN, request=msgspec.structs.replace(ASKED, size=size)) for size in many]
    page = cloth_page(made, cloth_lines(made, chosen), "en")
    assert contents(page).count("90 cm") == 60
    rows = sorted({text.place.y for text in written(page) if text.content == "90 cm"})
    assert max(text.place.y for text in written(page)) < HEIGHT_MM
    assert min(b - a for a, b in itertools.pairwise(rows)) > 2.0  # and no row stands in another
