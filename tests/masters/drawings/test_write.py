"""Masters that are cut out of drawings: names as attributes, and what it takes to write them."""

import subprocess
import sys
from xml.sax.saxutils import quoteattr

from hypothesis import given
from hypothesis import strategies as st

from pipeline.masters.drawings.write import quoted

LOADED = """
import sys
from pipeline.masters.drawings.write import Origin, Written, master_svg
from pipeline.geometry.curves import Line
from pipeline.geometry.points import Point
from pipeline.masters.drawings.write import path_stroke
stroke = path_stroke((Line(Point(0, 0), Point(9, 9)),))
master_svg(Origin("nest.svg", "S / Front"), {"seam": [Written("hem", "path 1", (stroke,))]})
print(*sys.modules)
"""


@given(st.text(alphabet=st.sampled_from("ab&<>\"'\n\r\té "), max_size=12))
def test_an_attribute_is_quoted_as_the_standard_library_does(text):
    assert quoted(text) == quoteattr(text)


def test_writing_a_master_loads_nothing_that_reads_from_networks():
    """That would take a first process longer than reading the drawing."""
    done = subprocess.run([sys.executable, "-c", LOADED], capture_output=True, text=True, check=True)
    assert {"urllib.request", "ssl", "xml.sax.saxutils"}.isdisjoint(done.stdout.split())
