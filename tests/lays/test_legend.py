"""What stands with a cloth: in columns, beside it or under it, so that it stays on the cloth's page."""

import itertools

import msgspec
import pytest

from pipeline.drawing.cloth.lay_pages import lay_pages
from pipeline.drawing.cloth.lay_picture import PICTURE_HEIGHT_MM, PICTURE_WIDTH_MM, Picture, lay_picture
from pipeline.drawing.cloth.legend import legend_in_column, legends
from pipeline.drawing.fonts import text_width_mm
from pipeline.drawing.scene import Group
from pipeline.lays.lay import Placed
from pipeline.lays.saved import Chosen
from tests.drawing.seen import line_of, paths, written
from tests.lays.pictured import ASKED, LAY, SHELL
from tests.lays.samples import cut, pattern, piece_spec, triangle

SENTENCES = tuple(f"{number} Piece {'with a long name ' * (number % 4)}: cut" for number in range(1, 15))


@pytest.mark.parametrize(("languages", "settings"), [(1, 3), (2, 2), (3, 3), (6, 3)])
def test_no_line_of_a_column_reaches_into_the_next_and_every_word_is_there(languages, settings):
    told = [SENTENCES] * languages
    made = legends(told, PICTURE_WIDTH_MM)
    assert len(made) == settings
    for legend in (*made, legend_in_column(told, 60.0)):
        rows = {}
        for line in legend.lines:
            rows.setdefault(round(line.place.y, 3), []).append(line)
        for row in rows.values():
            lines = sorted(row, key=lambda line: line.place.x)
            ends = [line.place.x + text_width_mm(line.content, line.size_mm) for line in lines]
            assert all(end < after.place.x for end, after in zip(ends, lines[1:], strict=False))
            assert ends[-1] <= PICTURE_WIDTH_MM + 0.01
        words = sorted(word for line in legend.lines for word in line.content.split())
        assert words == sorted(" ".join(SENTENCES).split() * languages)
        assert max(rows) <= legend.height_mm


def test_a_language_alone_runs_on_from_column_to_column_and_parts_no_piece():
    (one, two, three) = legends([SENTENCES], PICTURE_WIDTH_MM)
    assert one.height_mm > two.height_mm > three.height_mm
    begun = [line for line in three.lines if line.content[0].isdigit()]
    tops = [line.content for line in three.lines if line.place.y == min(each.place.y for each in three.lines)]
    assert len(begun) == len(SENTENCES)
    assert all(content in [line.content for line in begun] for content in tops)


def short_lay(*languages: str, long_mm: float = 480.0, pieces: int = 9) -> Picture:
    """A lay that is much shorter than its cloth is wide: its height is what the page has little of."""
    items = [triangle(f"p{number}", 300, 200, 2, 1) for number in range(pieces)]
    placed = tuple(
        Placed(item=item.name, x_mm=0, y_mm=50.0 * number, angle_deg=0, layers="pair")
        for number, item in enumerate(items)
    )
    asked = msgspec.structs.replace(ASKED, items=tuple(items), way="open")
    lay = msgspec.structs.replace(LAY, folded=False, length_mm=long_mm, placed=placed)
    specs = [piece_spec(item.name, cut(2, 1)) for item in items]
    made = pattern(specs, shell=msgspec.structs.replace(SHELL, ways=("open",)), languages=languages)
    return lay_picture(made, Chosen(request=asked, lay=lay, kept=True), "1 m")


@pytest.mark.parametrize("languages", [("en",), ("en", "de"), ("en", "de", "fr")])
def test_the_legend_of_a_short_lay_stands_beside_its_cloth_on_one_page(languages):
    picture = short_lay(*languages)
    assert len(lay_pages([picture])[0]) == 1
    assert picture.below == ()
    assert picture.height_mm <= PICTURE_HEIGHT_MM
    legend = picture.body[-1]
    assert isinstance(legend, Group)
    assert legend.affine.e > PICTURE_WIDTH_MM / 3
    ends = [line_of(run).bounds[2] for path in paths(picture.body) for run in path.runs]
    assert max(ends) < legend.affine.e


def test_the_same_pieces_are_told_the_same_on_any_length_of_cloth():
    told = [
        sorted(word for text in written(short_lay("en", "de", long_mm=long_mm).body) for word in text.content.split())
        for long_mm in (480.0, 900.0)
    ]
    only = [set(one) - set(other) for one, other in itertools.permutations(told)]
    assert not any("P8" in words or "mirrored" in words for words in only)
