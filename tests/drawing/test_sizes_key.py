"""The key of sizes: names of every length in letters of one size, each beside its line."""

import msgspec

from pipeline.drawing.panels.column import Column
from pipeline.drawing.panels.sizes_key import samples
from pipeline.drawing.scene import Text
from tests.checks.apron import pattern


def test_long_and_short_names_of_sizes_are_written_alike():
    sizes = ("36-petite", "36-regular", "44-tall", "m")
    column = Column(0.0, 0.0, 95.0, 2.8)
    samples(column, msgspec.structs.replace(pattern(), sizes=sizes), sizes)
    names = [shape for shape in column.body if isinstance(shape, Text)]
    assert [shape.content for shape in names] == list(sizes)
    assert len({shape.size_mm for shape in names}) == 1
    assert names[0].size_mm < 2.8, "the longest has no room in letters of the column"
