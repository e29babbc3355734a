"""Elastic in a casing: room for its width, its share of what it goes round, and what must pass."""

import pytest

from pipeline.checks.notion_casings import casing_mm
from pipeline.masters.toml.sums import parse_sum
from pipeline.model.pattern import Casing, Range
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import InsideLine
from tests.checks import apron
from tests.cutting.shapes import straight

replace = apron.replace
HEM = Casing("skirt", "hem")


def hemmed(*, width_mm: float | None = None, casing: Casing = HEM, drawn=None, **hem):
    """The apron with a hem 40 mm deep, and elastic drawn into it."""
    edges = {
        **apron.pattern().pieces["skirt"].edges,
        "hem": EdgeSpec(allowance_mm=40, hem=True, corner="turned", **hem),
    }
    elastic = apron.notion(parse_sum("70 cm"), width_mm=width_mm, casings=(casing,))
    return apron.garment(pieces=apron.piece("skirt", edges=edges), notions=elastic, drawn=drawn)


@pytest.mark.parametrize(
    ("hem", "room_mm"),
    [
        ({}, 40),
        # 10 mm are turned in
        ({"folds_mm": (30.0,)}, 30),
        # stitched 2 mm from the edge and 28 mm above it
        ({"folds_mm": (30.0,), "topstitch_mm": (2.0, 28.0)}, 26),
        ({"topstitch_mm": (35.0,)}, 35),
    ],
)
def test_a_hem_has_room_for_what_is_turned_up_between_its_rows(hem, room_mm):
    garment = hemmed(**hem)
    assert casing_mm(garment, HEM, "S") == pytest.approx(room_mm)
    for width_mm, told in ((room_mm - 3, []), (room_mm - 2, [("casing-too-narrow", "block", size) for size in "SM"])):
        assert apron.codes("casing-fits", hemmed(width_mm=width_mm, **hem)) == told


def test_a_strip_has_room_for_its_finished_width():
    garment = apron.garment(strips=apron.strip("80 cm", width_mm=30.0))
    assert casing_mm(garment, Casing("loop"), "S") == 30


@pytest.mark.parametrize(("width_mm", "told"), [(27.0, []), (28.0, ["S", "M"])])
def test_a_drawstring_that_is_a_strip_needs_room_in_its_hem_and_in_a_strip_that_is_sewn_on(width_mm, told):
    """The hem is 40 mm deep and has a row 30 mm from its edge; the tunnel is finished 30 mm wide."""
    hem = EdgeSpec(allowance_mm=40, hem=True, corner="turned", topstitch_mm=(30.0,))
    skirt = apron.piece("skirt", edges={**apron.pattern().pieces["skirt"].edges, "hem": hem})
    for casing in (HEM, Casing("tunnel")):
        strips = apron.strip("80 cm", width_mm=width_mm, casings=(casing,))
        tunnel = replace(strips["loop"], name="tunnel", width_mm=30.0, casings=())
        garment = apron.garment(pieces=skirt, strips={**strips, "tunnel": tunnel})
        assert [size for code, _, size in apron.codes("casing-fits", garment)] == told


@pytest.mark.parametrize(("low", "high", "room_mm"), [(40, 30, 30), (25, 45, 25)])
def test_a_band_that_is_folded_has_room_on_its_narrower_side(low, high, room_mm):
    """A piece of 400 mm, its fold line so far from both long edges."""
    band = apron.cuts()["band"]["S"]
    seam = ((0.0, 0.0), (400.0, 0.0), (400.0, low + high), (0.0, low + high))
    line = InsideLine("fold", straight((0, low), (400, low)), False, "fold")
    cut = replace(band, seam_drawn=seam, drawn=replace(band.drawn, inside=(line,)))
    assert casing_mm(apron.garment(drawn={"band": {"S": cut}}), Casing("band", "fold"), "S") == pytest.approx(room_mm)


def test_on_the_fold_of_the_cloth_a_band_has_room_as_far_as_it_is_drawn():
    """The apron's band is drawn from its fold at `end` on: into that fold elastic would run across it."""
    for size, cut in apron.cuts()["band"].items():
        width = abs(cut.drawn.edge("lower").path[0].start.x - cut.drawn.edge("lower").path[-1].end.x)
        assert casing_mm(apron.garment(), Casing("band", "end"), size) == pytest.approx(width, abs=0.5)


def round_waist(length: str, stretch: float | None = None, **said):
    materials = {"shell": replace(apron.pattern().materials["shell"], stretch_width=stretch)}
    said = {key: parse_sum(value) if isinstance(value, str) else value for key, value in said.items()}
    return apron.garment(materials=materials, notions=apron.notion(parse_sum(length), **said))


WAIST = "2 x skirt.waist"


@pytest.mark.parametrize(
    ("length", "said", "code"),
    [
        ("1.7 x skirt.waist", {"stretched": Range(0.8, 0.9, percent=True)}, None),
        ("1.5 x skirt.waist", {"stretched": Range(0.8, 0.9, percent=True)}, "other-share"),
        ("1.9 x skirt.waist", {"stretched": Range(0.8, 0.9, percent=True)}, "other-share"),
        ("2 x skirt.waist", {}, None),
        ("2 x skirt.waist + 5 mm", {}, "slack"),
        ("1.7 x skirt.waist", {"opens_to": "2 x skirt.waist"}, None),
        ("1.7 x skirt.waist", {"opens_to": "2.2 x skirt.waist"}, "does-not-open"),
        # a knit gives a fifth more
        ("1.7 x skirt.waist", {"opens_to": "2.2 x skirt.waist", "stretch": 0.2}, None),
        ("1.7 x skirt.waist", {"opens_to": "2.5 x skirt.waist", "stretch": 0.2}, "does-not-open"),
    ],
)
def test_elastic_is_as_long_as_it_says_and_lets_the_wearer_in(length, said, code):
    told = apron.codes("elastic-lengths", round_waist(length, goes_round=WAIST, **said))
    assert told == ([] if code is None else [(code, "block", size) for size in "SM"])
