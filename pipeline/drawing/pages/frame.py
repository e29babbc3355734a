"""What stands around the pattern on a tiled page: frame, joining marks, row and column, foot.

All black ink lies outside the window, in the first 3.6 mm beyond it, which printers reach where the margin is 10 mm:
the window shows the pattern and nothing else. Two things continue into it as a tint that pattern lines are drawn over:
bars like the ticks, by which pages are matched once the margins are cut off, and the page's label.
"""

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from pipeline.drawing import scene
from pipeline.drawing.fonts import CAP_HEIGHT, text_width_mm
from pipeline.drawing.names import PAPER_NAMES
from pipeline.drawing.pages.joints import Joint, Side, joints_of, row_middles_mm
from pipeline.drawing.pages.numbering import page_words
from pipeline.drawing.panels.words import in_all, size_words, version_words
from pipeline.drawing.scene import Scene, Shape
from pipeline.drawing.styles import BLACK, LEAST_TEXT_MM
from pipeline.drawing.text_lines import fitted
from pipeline.geometry.points import Point
from pipeline.model.pattern import Pattern
from pipeline.sheets.layout import Page, PagePlan
from pipeline.sheets.windows import row_letters
from pipeline.words import say_all

TINT = "#e2e2e2"
"""Seen on paper, and far from any line of the pattern: 29 of 255 levels of grey off white, 31 beside a line outside."""
STRIP_MM = 3.6
"""How far beyond the window anything is printed."""
_LINE_MM = 0.2
_TICK_MM = 3.2
_TICK_LINE_MM = 0.3
_TINT_TICK_MM = 6.0
_TINT_LINE_MM = 1.5
_TEXT_MM = 2.3
_LABEL_CAP_MM = 11.0
_GAP_MM = 2.5


class Box(NamedTuple):
    """The window on the page, in mm from the page's top left corner."""

    left: float
    top: float
    right: float
    bottom: float

    @property
    def middle(self) -> Point:
        """Its centre."""
        return Point((self.left + self.right) / 2, (self.top + self.bottom) / 2)


def window_box(plan: PagePlan, page: Page) -> Box:
    """Where a page's window lies on it. Raises ValueError for a page without one."""
    if page.window is None:
        raise ValueError(f"page {page.number} has no window")
    left, top = plan.margin_mm, plan.margin_mm + plan.header_mm
    return Box(left, top, left + page.window.width_mm, top + page.window.height_mm)


def frame_pages(pattern: Pattern, plan: PagePlan) -> dict[int, Scene]:
    """What stands around each page that is printed and has a window, by its number."""
    joints = joints_of(plan)
    return {
        page.number: scene.of(
            0, 0, plan.page_width_mm, plan.page_height_mm, _page(pattern, plan, page, joints[page.label])
        )
        for page in plan.printed
        if page.window is not None
    }


def _page(pattern: Pattern, plan: PagePlan, page: Page, joints: Mapping[Side, Joint]) -> list[Shape]:
    box = window_box(plan, page)
    return [
        *joint_marks(box, joints, plan.overlap_mm),
        _large_label(box, page),
        *frame_lines(box, joints, plan.overlap_mm),
        *_row_and_column(pattern, box, page, joints),
        *_foot(pattern, plan, page, box, joints),
    ]


def joint_marks(box: Box, joints: Mapping[Side, Joint], overlap_mm: float) -> list[Shape]:
    """The ticks of every joint: outside the window one row in black, with the labels of both pages, and inside it as
    bars of a tint, two rows or more.
    """
    black: list[tuple[Point, Point]] = []
    tint: list[tuple[Point, Point]] = []
    names: list[Shape] = []
    for side, joint in joints.items():
        inner = overlap_mm if side in ("right", "bottom") else 0.0
        for at in joint.ticks_mm():
            black.append(_stroke(box, side, at, 0.0, _TICK_MM))
        length = box.bottom - box.top if joint.upright else box.right - box.left
        for middle in row_middles_mm(length):
            for at in joint.ticks_mm(middle):
                tint.append(_stroke(box, side, at, -inner, -inner - _TINT_TICK_MM))
        end = joint.ticks_mm()[-1] + _GAP_MM
        names.append(along(box, side, end, joint.name, _TEXT_MM))
    ticks = ((tint, TINT, _TINT_LINE_MM), (black, BLACK, _TICK_LINE_MM))
    return [*(scene.strokes(lines, colour, width) for lines, colour, width in ticks if lines), *names]


def _stroke(box: Box, side: Side, at_mm: float, start_mm: float, end_mm: float) -> tuple[Point, Point]:
    """A stroke across a side, from `start_mm` to `end_mm` outward of it."""
    return _place(box, side, at_mm, start_mm), _place(box, side, at_mm, end_mm)


def _place(box: Box, side: Side, at_mm: float, out_mm: float) -> Point:
    """A point `at_mm` from a side's middle, rightward or downward, and `out_mm` outside it."""
    middle = box.middle
    if side == "left":
        return Point(box.left - out_mm, middle.y + at_mm)
    if side == "right":
        return Point(box.right + out_mm, middle.y + at_mm)
    if side == "top":
        return Point(middle.x + at_mm, box.top - out_mm)
    return Point(middle.x + at_mm, box.bottom + out_mm)


def along(
    box: Box, side: Side, at_mm: float, content: str, size_mm: float, bold: bool = False, strip_mm: float = STRIP_MM
) -> Shape:
    """Text in the middle of a strip outside a side that begins `at_mm` from its middle; upright sides read downward."""
    centred = (strip_mm - CAP_HEIGHT * size_mm) / 2
    if side in ("left", "right"):
        # Turned clockwise, letters stand to the right of their baseline.
        out = centred if side == "right" else strip_mm - centred
        return scene.text(_place(box, side, at_mm, out), content, size_mm, turned_deg=90, bold=bold)
    out = centred if side == "top" else strip_mm - centred
    return scene.text(_place(box, side, at_mm, out), content, size_mm, bold=bold)


def _large_label(box: Box, page: Page) -> Shape:
    size = _LABEL_CAP_MM / CAP_HEIGHT
    return scene.text(Point(box.left + 3, box.top + 3 + _LABEL_CAP_MM), page.label, size, bold=True, fill=TINT)


def frame_lines(box: Box, joints: Mapping[Side, Joint], overlap_mm: float) -> list[Shape]:
    """Whole lines where the margin is cut off, dashes where a neighbour is laid on, corners at the sheet's edge."""
    out = _LINE_MM / 2
    outer = Box(box.left - out, box.top - out, box.right + out, box.bottom + out)
    ends: dict[Side, tuple[Point, Point]] = {
        "left": (Point(outer.left, outer.top), Point(outer.left, outer.bottom)),
        "right": (Point(outer.right, outer.top), Point(outer.right, outer.bottom)),
        "top": (Point(outer.left, outer.top), Point(outer.right, outer.top)),
        "bottom": (Point(outer.left, outer.bottom), Point(outer.right, outer.bottom)),
    }
    drawn: list[Shape] = []
    for side, (start, end) in ends.items():
        dash = () if side in ("left", "top") else (4.0, 2.0)
        if side in joints:
            drawn.append(scene.line(start, end, BLACK, _LINE_MM, dash))
        else:
            step = start.to(end).unit().scaled(6)
            drawn.append(scene.line(start, start.plus(step), BLACK, _LINE_MM))
            drawn.append(scene.line(end, end.plus(step.scaled(-1)), BLACK, _LINE_MM))
    if overlap_mm:
        drawn += _overlap_lines(box, joints, overlap_mm)
    return drawn


def _overlap_lines(box: Box, joints: Mapping[Side, Joint], overlap_mm: float) -> list[Shape]:
    """Where the neighbour's edge comes to lie: a tint across the page, and a black tick at each end outside it."""
    drawn: list[Shape] = []
    if "right" in joints:
        x = box.right - overlap_mm
        drawn.append(scene.line(Point(x, box.top), Point(x, box.bottom), TINT, _LINE_MM))
        for y, out in ((box.top, -1), (box.bottom, 1)):
            drawn.append(scene.line(Point(x, y), Point(x, y + out * _TICK_MM), BLACK, _LINE_MM))
    if "bottom" in joints:
        y = box.bottom - overlap_mm
        drawn.append(scene.line(Point(box.left, y), Point(box.right, y), TINT, _LINE_MM))
        for x, out in ((box.left, -1), (box.right, 1)):
            drawn.append(scene.line(Point(x, y), Point(x + out * _TICK_MM, y), BLACK, _LINE_MM))
    return drawn


def _row_and_column(pattern: Pattern, box: Box, page: Page, joints: Mapping[Side, Joint]) -> list[Shape]:
    """The row on both upright edges, the column on the upper; the lower edge carries the foot."""
    row = say_all(pattern.languages, "page.row", row=row_letters(page.row))
    column = say_all(pattern.languages, "page.column", column=page.column)
    high, wide = box.bottom - box.top, box.right - box.left
    upright: tuple[Side, Side] = ("left", "right")
    content = f"{page.label} · {row}"
    drawn: list[Shape] = [
        along(box, side, -high / 2 + 1, content, _TEXT_MM) for side in upright if _room(content, high, joints.get(side))
    ]
    content = f"{page.label} · {column}"
    if _room(content, wide, joints.get("top")):
        drawn.append(along(box, "top", -wide / 2 + 1, content, _TEXT_MM))
    return drawn


def _room(content: str, length_mm: float, joint: Joint | None) -> bool:
    taken = -joint.ticks_mm()[0] if joint is not None else 0.0
    return text_width_mm(content, _TEXT_MM) <= length_mm / 2 - taken - _GAP_MM


def _foot(pattern: Pattern, plan: PagePlan, page: Page, box: Box, joints: Mapping[Side, Joint]) -> list[Shape]:
    """Left of the joining mark what the file is, right of it which page this is."""
    half = (box.right - box.left) / 2
    joint = joints.get("bottom")
    left_room = half - _GAP_MM - (-joint.ticks_mm()[0] if joint else 0.0)
    right_room = half - _GAP_MM
    if joint is not None:
        right_room -= joint.ticks_mm()[-1] + _GAP_MM + text_width_mm(joint.name, _TEXT_MM)
    wanted = (pattern.languages, pattern.languages[:1])
    named = f"{version_words(pattern, wanted[1])} · {PAPER_NAMES[plan.format]}"
    what = [f"{in_all(pattern.title, languages)} · {named}" for languages in wanted]
    which = [
        f"{page_words(plan, page, languages)} · {page.label} · {size_words(page.sizes, pattern, languages)}"
        for languages in wanted
    ]
    left, left_size = _in_most(what, left_room)
    right, right_size = _in_most(which, right_room)
    return [
        along(box, "bottom", -half + 1, left, left_size),
        along(box, "bottom", half - 1 - text_width_mm(right, right_size), right, right_size),
    ]


def _in_most(wordings: Sequence[str], room_mm: float) -> tuple[str, float]:
    """The first wording that fits the room, in smaller letters rather than in fewer languages; the last is cut off."""
    shrunk = [fitted([wording], room_mm, _TEXT_MM, LEAST_TEXT_MM) for wording in wordings]
    return next((found for found, wording in zip(shrunk, wordings, strict=True) if found[0] == wording), shrunk[-1])
