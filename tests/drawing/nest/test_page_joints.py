"""Joints of pages as a piece sees them."""

import pytest

from pipeline.drawing.nest.page_joints import Joints, joint_lines, joints_in_nest
from pipeline.sheets.layout import Page, PagePlan, Placement, Window


def plan(lefts: tuple[float, ...], tops: tuple[float, ...]) -> PagePlan:
    """A grid of windows of 190 x 277 mm, after a start page."""
    windows = [None, *(Window(left, top, 190.0, 277.0) for top in tops for left in lefts)]
    return PagePlan(
        format="a4",
        page_width_mm=210.0,
        page_height_mm=297.0,
        margin_mm=10.0,
        overlap_mm=0.0,
        rows=len(tops),
        columns=len(lefts),
        pages=tuple(
            Page(number=number, label=str(number), row=0, column=0, window=window, sizes=(), views=())
            for number, window in enumerate(windows, start=1)
        ),
    )


def test_a_joint_is_where_a_page_but_the_first_begins_seen_from_the_pieces_anchor() -> None:
    found = joints_in_nest(plan((-5.0, 185.0, 375.0), (0.0, 277.0)), Placement("front", 100.0, 300.0))
    assert found == Joints((85.0, 275.0), (-23.0,))


def test_one_page_has_no_joints() -> None:
    found = joints_in_nest(plan((0.0,), (0.0,)), Placement("front", 10.0, 10.0))
    assert found == Joints((), ())
    assert joint_lines([found], (0, 0, 100, 100)).is_empty


def test_only_joints_that_pass_the_bounds_are_drawn_across_them() -> None:
    lines = joint_lines([Joints((20.0, 300.0), (50.0,)), Joints((), (-1.0,))], (0.0, 0.0, 100.0, 80.0))
    assert lines.length == pytest.approx(80 + 100)
