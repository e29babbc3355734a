"""The key of sizes: names of every length in letters of one size, each beside its line."""

import msgspec

from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.sizes_key import samples, sizes_key
from pipeline.drawing.scene import Text
from tests.checks.apron import pattern
from tests.press import synthetic


def test_long_and_short_names_of_sizes_are_written_alike():
    sizes = ("36-petite", "36-regular", "44-tall", "m")
    column = Column(0.0, 0.0, 95.0, 2.8)
    samples(column, msgspec.structs.replace(pattern(), sizes=sizes), sizes)
    names = [shape for shape in column.body if isinstance(shape, Text)]
    assert [shape.content for shape in names] == list(sizes)
    assert len({shape.size_mm for shape in names}) == 1
    assert names[0].size_mm < 2.8, "the longest has no room in letters of the column"


def test_titles_of_sizes_are_told_in_every_language():
    titles = {"34": {"en": "XS (34)", "de": "XS (34 schmal)"}}
    titled = msgspec.structs.replace(synthetic.pattern(), size_titles=titles)
    column = Column(0.0, 0.0, 95.0, 2.8)
    sizes_key(column, titled, synthetic.tiles(synthetic.sheet()[0]), synthetic.SIZES, ("en", "de"))
    told = " ".join(shape.content for shape in column.body if isinstance(shape, Text))
    assert "34: XS (34) " in f"{told} "
    assert "34: XS (34 schmal)" in told
