"""What many rooms ask of a pattern, each asked in one place."""

from types import SimpleNamespace

import msgspec
import pytest

from pipeline.model.piece_specs import Cut
from pipeline.model.pieces import SizeFile, by_piece, in_size
from pipeline.model.questions import (
    Copies,
    copies,
    copies_of,
    in_view,
    is_cut_of,
    nap_of,
    owner_of,
    share_a_view,
    shown_views,
)
from tests.checks import apron

SHELL = Cut("shell", {"s": 4, "m": 2}, {"s": 2})
LINING = Cut("lining", {"s": 1}, {})
MORE_SHELL = Cut("shell", {"s": 3, "m": 1}, {"s": 1, "m": 1})
ENTRIES = (SHELL, LINING, MORE_SHELL)


def test_a_pattern_without_views_has_one_that_has_no_name():
    assert shown_views(msgspec.structs.replace(apron.pattern(), views={})) == (None,)


def test_views_are_told_in_the_order_of_the_pattern():
    views = msgspec.structs.replace(apron.pattern(), views={"long": None, "short": None})
    assert shown_views(views) == ("long", "short")


@pytest.mark.parametrize(
    ("views", "view", "belongs"),
    [((), None, True), ((), "long", True), (("long",), None, True), (("long",), "long", True), (("long",), "x", False)],
)
def test_what_names_no_view_belongs_to_all(views, view, belongs):
    assert in_view(views, view) is belongs


@pytest.mark.parametrize(
    ("one", "other", "shared"),
    [((), ("a",), True), (("a",), (), True), (("a", "b"), ("b",), True), (("a",), ("b",), False)],
)
def test_two_things_share_a_view(one, other, shared):
    assert share_a_view(one, other) is share_a_view(other, one) is shared


def test_an_entry_is_cut_as_often_as_its_size_says_and_never_in_others():
    assert copies_of(SHELL, "s") == Copies(4, 2)
    assert copies_of(SHELL, "m") == Copies(2, 0)
    assert copies_of(SHELL, "l") == Copies(0, 0)
    assert copies_of(SHELL, "s").as_drawn == 2


def test_entries_of_one_material_add_up_and_so_do_all():
    assert copies(ENTRIES, "s", "shell") == Copies(7, 3)
    assert copies(ENTRIES, "s") == Copies(8, 3)
    assert copies(ENTRIES, "m", "lining") == copies((), "s") == Copies(0, 0)


def test_what_is_cut_of_a_material_is_told_whatever_the_size():
    assert is_cut_of(ENTRIES, "lining")
    assert not is_cut_of((SHELL,), "lining")


def test_a_piece_and_a_drawn_strip_are_owners():
    pattern = SimpleNamespace(pieces={"front": "a piece"}, strips={"belt": "a strip"})
    assert (owner_of(pattern, "front"), owner_of(pattern, "belt")) == ("a piece", "a strip")
    with pytest.raises(KeyError):
        owner_of(pattern, "sleeve")


@pytest.mark.parametrize(
    ("naps", "strictest"),
    [
        (("none", "none"), "none"),
        (("none", "either"), "either"),
        (("either", "one-way"), "one-way"),
        (("one-way", "none"), "one-way"),
    ],
)
def test_a_piece_is_laid_as_the_strictest_of_its_cloths_asks(naps, strictest):
    cloths = {name: SimpleNamespace(nap=nap) for name, nap in zip(("shell", "lining"), naps, strict=True)}
    pattern = SimpleNamespace(pieces={"front": SimpleNamespace(cut=ENTRIES)}, strips={}, materials=cloths)
    assert nap_of(pattern, "front") == strictest


def test_cut_pieces_go_by_piece_then_size_and_back():
    cuts = apron.cuts()
    files = [SizeFile(pattern="apron", size=size, pieces=tuple(in_size(cuts, size).values())) for size in apron.SIZES]
    assert by_piece(files) == cuts
    assert {cut.size for cut in in_size(cuts, apron.SIZES[0]).values()} == {apron.SIZES[0]}
    assert in_size(cuts, "none") == {}
