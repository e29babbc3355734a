"""What `data/pieces.json` says of an edge whose allowance tapers, and of one whose does not."""

from pipeline.bundle.pieces_data import pieces_data
from pipeline.model.piece_specs import AllowancePart, EdgePart, EdgeSpec
from tests.cutting.shapes import SIZE, clean, notch, pattern_of, polygon, spec_of


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


def test_an_edge_with_parts_says_where_its_allowance_changes():
    box = polygon([(0, 0), (200, 0), (200, 300), (0, 300)])
    wide = AllowancePart(of=EdgePart("e0", "hip"), start_mm=25, end_mm=25)
    edges = {"e1": EdgeSpec(along=(wide,))}
    cut = clean(box, edges, notches=(notch(box, "e1", 60, name="hip"),))
    told = pieces_data(pattern_of(spec_of(edges=edges)), {"piece": {SIZE: cut}})["sizes"][SIZE]["pieces"]["piece"]
    side = told["edges"]["e1"]
    assert (side["allowance_mm"], side["allowance_end_mm"]) == (25, 10)
    assert side["allowance_between"] == [{"at_mm": 60, "allowance_mm": 25}, {"at_mm": 180, "allowance_mm": 10}]
    assert "allowance_between" not in told["edges"]["e0"]
