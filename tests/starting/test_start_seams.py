"""Which seams, folds and names of edges are proposed of pieces, and which are not though their lengths agree."""

import re
import tomllib
from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

import pytest

from pipeline.starting.first import start
from tests.masters.drawings.small import drawing

GROWTH = {"S": 0, "M": 10, "L": 20}
SKIRT = {
    "Skirt front": "m20,20 h{waist} l20,{long} h-{hem} z",
    "Skirt back": "m320,20 h{waist} l20,{long} h-{hem} z",
}
"""Half a skirt on the fold, twice: waists, sides and hems are as long as each other."""


def written(folder: Path, pieces: Mapping[str, str], more: Mapping[str, str] = MappingProxyType({})) -> str:
    """What is written of pieces in three sizes, each a path; `more` is put into a piece's layer."""
    layers = ""
    for size, g in GROWTH.items():
        of = {"waist": 100 + g, "hem": 120 + g, "long": 200 + g, "wide": 80 + g}
        layers += f'<g data-name="Size {size}">'
        for piece, path in pieces.items():
            seam = path.format(**of)
            left = float(seam[1:].split(",")[0])
            grain = f'<g data-name="grain"><path d="M{left + 30},45 V30"/></g>'
            layers += (
                f'<g data-name="{piece}"><g data-name="seam"><path d="{seam}"/></g>{grain}{more.get(piece, "")}</g>'
            )
        layers += "</g>"
    (folder.parents[1] / "nest.svg").write_text(drawing().split("<g", 1)[0] + layers + "</svg>", encoding="utf-8")
    start(folder, [folder.parents[1] / "nest.svg"])
    return (folder / "pattern.toml").read_text(encoding="utf-8")


def seams(said: str) -> set[tuple[str, str]]:
    """The pairs that are proposed."""
    return set(re.findall(r'^# a = \["(.+)"\]\n# b = \["(.+)"\]$', said, re.MULTILINE))


def around(said: str, piece: str) -> list[str]:
    """The names of its edges."""
    return tomllib.loads(said)["pieces"][piece]["around"]


def test_waists_and_hems_beside_a_paired_side_are_no_seams(folder):
    said = written(folder, SKIRT)
    assert seams(said) == {("skirt-back.edge-2", "skirt-front.edge-2")}


def test_folds_waists_and_hems_have_their_usual_names_marked_as_proposed(folder):
    said = written(folder, SKIRT)
    assert around(said, "skirt-front") == ["waist", "edge-2", "hem", "cf"]
    assert around(said, "skirt-back") == ["waist", "edge-2", "hem", "cb"]
    assert "# edges.cf = { fold = true }  # proposed" in said
    assert "corner; waist, hem, cf by where they lie: look whether so; give the others their names\n" in said


def test_a_piece_of_another_name_keeps_its_numbers(folder):
    said = written(folder, {"Panel": SKIRT["Skirt front"], "Blende": SKIRT["Skirt back"]})
    assert around(said, "panel") == ["edge-1", "edge-2", "edge-3", "edge-4"]


def test_what_lies_on_another_piece_may_be_sewn_to_it_all_round(folder):
    said = written(folder, {"Flap": SKIRT["Skirt front"], "Flap lining": SKIRT["Skirt back"]})
    assert {("flap-lining.edge-1", "flap.edge-1"), ("flap-lining.edge-3", "flap.edge-3")} <= seams(said)


def test_the_lower_edge_of_a_bodice_above_a_skirt_is_not_called_a_hem(folder):
    said = written(folder, {"Front": SKIRT["Skirt front"], "Skirt": "m320,20 h{wide} l40,{long} h-{wide} z"})
    assert "hem" not in around(said, "front")


def test_versions_of_a_piece_are_not_sewn_to_each_other_and_each_to_what_is_there_once(folder):
    band = "m320,20 h{waist} v41 h-{waist} z"
    pieces = {"Skirt a": SKIRT["Skirt front"], "Skirt b": "m20,20 h{waist} l40,{wide} h-{long} z", "Top": band}
    pieces["Top"] = "m320,20 h{wide} l10,61 h-{waist} z"
    said = written(folder, pieces)
    assert {pair for pair in seams(said) if "top" in pair[0] + pair[1]} == {
        ("skirt-a.waist", "top.edge-3"),
        ("skirt-b.edge-1", "top.edge-3"),
    }
    assert not {pair for pair in seams(said) if "skirt-a" in pair[0] and "skirt-b" in pair[1]}


def test_short_edges_that_do_not_grow_agree_by_chance(folder):
    said = written(folder, {"Loop": "m20,20 h{waist} v40 l-{waist},9 z", "Facing": "m320,20 h{long} v40 l-{long},19 z"})
    assert seams(said) == set()


def test_a_left_and_a_right_that_are_alike_are_not_sewn_together_all_round(folder):
    left, right = "m20,20 l{waist},40 l20,{long} l-{hem},30 z", "m320,20 l{waist},40 l20,{long} l-{wide},30 z"
    said = written(folder, {"Front left": left, "Front right": right})
    assert seams(said) == set()


def test_the_edge_along_which_a_facing_runs_is_its_seam_and_no_fold(folder):
    front, facing = "m20,20 h{waist} l20,{long} H20 z", "m320,20 h40 l30,{long} H320 z"
    said = written(folder, {"Front": front, "Front facing": facing})
    assert "fold = true" not in said
    assert ("front-facing.edge-4", "front.edge-4") in seams(said)


@pytest.mark.parametrize(
    "mark",
    [
        '<g data-name="inside"><path data-name="cf-line" d="M40,25 V60"/></g>',
        '<g data-name="inside"><path data-name="fold-1" d="M40,25 V60"/></g>',
        '<g data-name="points"><circle data-name="buttonhole-1" cx="40" cy="40" r="1"/>'
        '<circle data-name="buttonhole-2" cx="40" cy="70" r="1"/></g>',
    ],
)
def test_an_edge_beside_a_middle_that_is_marked_is_no_fold(folder, mark):
    assert "fold = true" in written(folder, SKIRT)
    (folder / "pattern.toml").unlink()
    (folder / "drawing/nest.svg").unlink()
    said = written(folder, {"Skirt front": SKIRT["Skirt front"]}, {"Skirt front": mark})
    assert "fold = true" not in said
    assert "cf" not in around(said, "skirt-front")


def test_a_hollow_edge_at_the_upper_end_of_the_fold_is_a_neck(folder):
    back = "m20,50 q40,0 50,-30 l60,20 v{long} H20 z"
    assert around(written(folder, {"Back": back, "Sleeve": "m320,20 h{wide} l30,99 h-140 z"}), "back")[-2:] == [
        "hem",
        "cb",
    ]
    assert "neck" in around((folder / "pattern.toml").read_text(), "back")


LEGS = {
    "Shorts front": "m70,20 h{waist} v{long} H20 v-100 q45,-10 50,-{wide} z",
    "Shorts back": "m370,20 h{waist} v{long} H320 v-100 q45,-10 50,-{wide} z",
}
"""A front and a back of shorts whose straight sides lie along the grain, each opposite a fork."""
TOP = {piece.removeprefix("Shorts "): path for piece, path in LEGS.items()}
"""The same outlines as a drawing of anything may have them: below a yoke an armhole looks as a fork does."""


def test_the_straight_side_of_shorts_is_their_seam_and_no_fold(folder):
    said = written(folder, LEGS)
    assert "fold = true" not in said
    assert ("shorts-back.edge-2", "shorts-front.edge-2") in seams(said)
    assert {"cf", "cb"}.isdisjoint([*around(said, "shorts-front"), *around(said, "shorts-back")])


def test_a_garment_that_is_called_trousers_has_legs_whose_names_do_not_say_so(folder):
    (folder.parent / "pull-on-trousers").mkdir()
    said = written(folder.parent / "pull-on-trousers", TOP)
    assert "fold = true" not in said
    assert ("back.edge-2", "front.edge-2") in seams(said)


def test_where_two_alike_may_be_folds_or_sides_neither_is_proposed(folder):
    said = written(folder, TOP)
    assert "fold = true" not in said
    assert ("back.edge-2", "front.edge-2") not in seams(said)


def test_one_of_them_alone_may_lie_on_the_fold(folder):
    sleeve = "m370,20 h{wide} l30,99 h-140 z"
    assert "edges.cb = { fold = true }" in written(folder, {"Back": TOP["back"], "Sleeve": sleeve})
