"""A repeat without a matching line, and a matching line without a repeat."""

import pytest

from pipeline.checks.garment import Garment
from pipeline.checks.repeats import repeats
from tests.checks.apron import cuts, pattern, piece, replace


def told(repeat_mm, kind):
    made = pattern()
    shell = replace(made.materials["shell"], repeat_length_mm=repeat_mm)
    pieces = {**made.pieces, **piece("skirt", lines={"hip": kind})}
    return list(repeats(Garment(replace(made, materials={"shell": shell}, pieces=pieces), cuts())))


@pytest.mark.parametrize(("repeat_mm", "kind"), [(320.0, "match"), (None, "level")])
def test_both_or_neither_pass(repeat_mm, kind):
    assert told(repeat_mm, kind) == []


def test_a_repeat_with_nothing_to_lay_on_it_is_told_of_the_material():
    (found,) = told(320.0, "level")
    assert (found.code, found.object) == ("nothing-to-match", "materials.shell.repeat")


def test_a_matching_line_on_cloth_without_a_repeat_is_told_of_the_line():
    (found,) = told(None, "match")
    assert (found.code, found.piece, found.where) == ("no-repeat", "skirt", "hip")
