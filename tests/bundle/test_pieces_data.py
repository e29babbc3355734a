"""What `data/pieces.json` says of an edge whose allowance tapers, and of one whose does not."""

from pipeline.bundle.pieces_data import pieces_data
from pipeline.model.pattern import EdgeSpec
from tests.cutting.shapes import SIZE, clean, pattern_of, polygon, spec_of


def test_only_an_edge_that_tapers_says_how_wide_it_ends():
    edges = {"e1": EdgeSpec(allowance_mm=25, allowance_end_mm=10)}
    cut = clean(polygon([(0, 0), (200, 0), (200, 300), (0, 300)]), edges)
    told = pieces_data(pattern_of(spec_of(edges=edges)), {"piece": {SIZE: cut}})["sizes"][SIZE]["pieces"]["piece"]
    assert {name: (edge["allowance_mm"], edge.get("allowance_end_mm")) for name, edge in told["edges"].items()} == {
        "e0": (10, None),
        "e1": (25, 10),
        "e2": (10, None),
        "e3": (10, None),
    }
    assert "allowance_end_mm" not in told["edges"]["e0"]
