"""Rows of stitching: the allowance beneath them, and the hem that they hold."""

import pytest

from pipeline.checks.telling import clusters, place_text
from pipeline.model.piece_specs import EdgeSpec
from pipeline.model.pieces import GrownPart
from tests.checks import apron

replace = apron.replace


def sewn(*rows_mm: float, pressed: str = "a", skirt_mm: float = 10.0, band_mm: float = 10.0):
    """The apron's waist seam with rows, and other allowances."""
    seam = replace(apron.pattern().seams["waist"], topstitch_mm=rows_mm, pressed=pressed)
    drawn = dict(apron.cuts())
    for piece, edge, width_mm in (("skirt", "waist", skirt_mm), ("band", "lower", band_mm)):
        drawn[piece] = {
            size: replace(
                cut, edges=tuple(replace(e, allowance_mm=width_mm) if e.name == edge else e for e in cut.edges)
            )
            for size, cut in drawn[piece].items()
        }
    return apron.garment(seams={"waist": seam}, drawn=drawn)


@pytest.mark.parametrize(
    ("rows_mm", "pressed", "skirt_mm", "band_mm", "caught"),
    [
        ((3.0, 8.0), "a", 10, 10, True),
        ((3.0, 10.0), "b", 10, 10, True),
        ((3.0, 10.2), "b", 10, 10, False),
        # both lie on one side: the wider one is caught, as of a felled seam
        ((6.0,), "a", 5, 10, True),
        ((6.0,), "a", 5, 5.5, False),
        # pressed apart, each needs its own
        ((6.0,), "open", 5, 10, False),
        ((5.0,), "open", 5, 10, True),
        ((), "open", 5, 10, True),
    ],
)
def test_the_allowance_reaches_under_the_farthest_row(rows_mm, pressed, skirt_mm, band_mm, caught):
    told = apron.codes("topstitch-caught", sewn(*rows_mm, pressed=pressed, skirt_mm=skirt_mm, band_mm=band_mm))
    assert told == ([] if caught else [("beyond-allowance", "warn", size) for size in apron.SIZES])


def test_what_all_sizes_have_is_told_once_of_all_of_them():
    (cluster,) = clusters(apron.found("topstitch-caught", sewn(12.0)), (apron.SIZES,))
    assert place_text(cluster.cause, (apron.SIZES,)) == "seams.waist, sizes S to M: "


def hemmed(row_mm: float, *folds_mm: float):
    """The apron's hem, 40 mm deep, with a row."""
    hem = EdgeSpec(allowance_mm=40, corner="turned", hem=True, folds_mm=folds_mm, topstitch_mm=(row_mm,))
    edges = {**apron.pattern().pieces["skirt"].edges, "hem": hem}
    return apron.garment(pieces=apron.piece("skirt", edges=edges))


@pytest.mark.parametrize(
    ("row_mm", "folds_mm", "held"),
    [
        (38, (), True),
        (40, (), True),
        (41, (), False),
        # turned in by 10 mm it is 30 mm high
        (29, (30,), True),
        (31, (30,), False),
    ],
)
def test_a_row_holds_what_is_turned_up(row_mm, folds_mm, held):
    assert apron.codes("topstitch-hem", hemmed(row_mm, *folds_mm)) == ([] if held else [("above-hem", "block", None)])


def faced(row_mm: float, allowance_mm: float = 10.0, end: float = 1.0):
    """The apron's hem with a facing grown on, 30 mm deep and 10 mm turned in, up to a share of it; and a row."""
    hem = EdgeSpec(allowance_mm=allowance_mm, topstitch_mm=(row_mm,))
    facing = GrownPart(start=0.0, end=end, width_mm=30, cut_mm=40)
    edges = {**apron.pattern().pieces["skirt"].edges, "hem": hem}
    cut = {
        size: replace(
            cut,
            edges=tuple(
                replace(e, allowance_mm=allowance_mm, grown_on=(facing,)) if e.name == "hem" else e for e in cut.edges
            ),
        )
        for size, cut in apron.cuts()["skirt"].items()
    }
    return apron.garment(pieces=apron.piece("skirt", edges=edges), drawn={**apron.cuts(), "skirt": cut})


@pytest.mark.parametrize(
    ("row_mm", "allowance_mm", "end", "told"),
    [
        (28, 10, 1.0, None),
        (31, 10, 1.0, "up to 30 mm, what is folded back"),
        # whatever its allowance would be
        (31, 40, 1.0, "up to 30 mm, what is folded back"),
        (28, 0, 1.0, None),
        # beside it the row holds what is turned there
        (28, 10, 0.5, "up to 10 mm, what is turned up"),
        (28, 40, 0.5, None),
        (31, 40, 0.5, "up to 30 mm, what is folded back"),
        # or lies on one layer
        (28, 0, 0.5, None),
    ],
)
def test_along_a_facing_that_is_grown_on_a_row_holds_what_is_folded_back(row_mm, allowance_mm, end, told):
    found = apron.found("topstitch-hem", faced(row_mm, allowance_mm, end))
    assert [f.allowed for f in found] == ([told] if told else [])


def test_where_nothing_is_turned_a_row_is_through_one_layer():
    edges = {**apron.pattern().pieces["skirt"].edges, "hem": EdgeSpec(allowance_mm=0, topstitch_mm=(5,))}
    bare = {
        size: replace(cut, edges=tuple(replace(e, allowance_mm=0) if e.name == "hem" else e for e in cut.edges))
        for size, cut in apron.cuts()["skirt"].items()
    }
    changed = apron.garment(pieces=apron.piece("skirt", edges=edges), drawn={**apron.cuts(), "skirt": bare})
    assert apron.codes("topstitch-hem", changed) == []
