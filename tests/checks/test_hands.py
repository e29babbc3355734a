"""One-sided pieces: turned over in all sizes they still measure right."""

import pytest

from pipeline.checks.garment import Garment
from pipeline.model.piece_specs import Cut
from tests.checks.outlines import notched, ring, sewn
from tests.checks.skirt import PATTERN, SIZES, codes, geometry, one, replace, seam, told
from tests.checks.skirt_faults import in_all, turned_over


@pytest.mark.parametrize("piece", ["pocket", "pocket-lining"])
def test_a_one_sided_piece_turned_over_in_all_sizes_blocks(piece):
    finding = one("piece-hands", in_all(piece, turned_over))
    assert (finding.code, finding.severity, finding.where) == ("flipped", "block", "seams.bag")
    assert codes(told(in_all(piece, turned_over))) == {("piece-hands", "flipped")}


def test_a_lining_that_is_not_cut_mirrored_is_the_same_fault():
    lining = PATTERN.pieces["pocket-lining"]
    straight = replace(lining, cut=(Cut("shell", dict.fromkeys(SIZES, 1), dict.fromkeys(SIZES, 0)),))
    pattern = replace(PATTERN, pieces={**PATTERN.pieces, "pocket-lining": straight})
    assert one("piece-hands", pattern=pattern).code == "flipped"


def test_pairs_and_pieces_on_the_fold_fit_either_way():
    assert ("piece-hands", "flipped") not in codes(told(in_all("front", turned_over)))
    pieces = dict(PATTERN.pieces)
    for name in ("pocket", "pocket-lining"):
        pieces[name] = replace(pieces[name], cut=(Cut("shell", dict.fromkeys(SIZES, 2), dict.fromkeys(SIZES, 1)),))
    assert told(in_all("pocket", turned_over), replace(PATTERN, pieces=pieces)) == []


SIDES = {"facing": "right", "shield": "left", "right-band": "right", "left-band": "left"}


def fly(*names: str, turned: str = "") -> list[tuple[str | None, str | None]]:
    """A pair of fronts with what each of them alone has; one of these is cut turned over."""
    shapes = {
        "front": ring(waist=(0, 0), side=(150, 0), hem=(160, 200), inseam=(0, 200), cf=(0, 100)),
        "facing": ring(top=(0, 0), edge=(40, 0), foot=(40, 100), round=(15, 90)),
        "shield": ring(top=(0, 0), round=(40, 0), foot=(25, 90), edge=(0, 100)),
        "right-band": ring(top=(0, 0), end=(140, 0), bottom=(150, 40), cf=(0, 40)),
        "left-band": ring(top=(10, 0), cf=(150, 0), bottom=(150, 40), end=(0, 40)),
    }
    seams = [
        seam(
            name,
            ["front.waist" if "band" in name else "front.cf"],
            [f"{name}.{'bottom' if 'band' in name else 'edge'}"],
        )
        for name in names
    ]
    marks = {"front__cf": ("zip", 30.0), "front__waist": ("pleat", 50.0), "shield__edge": ("zip", 30.0)}
    marks |= {
        "facing__edge": ("zip", 70.0),
        "right-band__bottom": ("pleat", 100.0),
        "left-band__bottom": ("pleat", 50.0),
    }
    made = sewn({name: shapes[name] for name in ("front", *names)}, *seams, grain=(20, 30, 10))
    made = notched(made, **{edge: mark for edge, mark in marks.items() if edge.split("__")[0] in ("front", *names)})
    pieces = dict(made.pattern.pieces)
    for name in names:
        entry = Cut("shell", {"M": 1}, {"M": int(name == turned)}, side=SIDES[name])
        pieces[name] = replace(pieces[name], cut=(entry,))
    told = geometry(Garment(replace(made.pattern, pieces=pieces), made.cuts))
    return [(f.where, f.object) for f in told if f.check == "piece-hands"]


def test_what_is_for_the_left_and_for_the_right_fits_another_copy_of_a_pair():
    assert fly("facing", "shield") == []
    assert fly("facing", "shield", turned="facing") == [("seams.facing", "facing or shield")]
    assert fly("facing", "shield", turned="shield") == [("seams.facing", "facing or shield")]


@pytest.mark.parametrize("turned", ["facing", "shield", "left-band"])
def test_where_more_pieces_agree_the_one_that_does_not_is_turned_over(turned):
    assert fly(*SIDES) == []
    assert fly(*SIDES, turned=turned) == [(f"seams.{turned}", turned)]
