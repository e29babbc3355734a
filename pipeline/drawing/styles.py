"""How lines look: widths, colours and the code of each size.

**The code of a size.** Sizes are counted from the smallest, 1, 2, 3 … A line repeats its size's number: a long run,
then a dash for every three, then a point for every one that is left. So 1 is run, point; 3 is run, dash; 5 is run,
dash, two points; 11 is run, three dashes, two points. No line has more than two points in a row, so nobody has to
count them, and the table has no end. A solid line belongs to several sizes.

**Colours** are those of Okabe and Ito ("Color Universal Design", 2008), unchanged: the four of the eight that stand
out from white by 3:1 or more (WCAG 2.2, 1.4.11) and stay black where a printer cuts greys at the middle (luma of
ITU-R BT.601 below 50 %). They are ordered so that neighbouring sizes are far apart for every kind of sight, green and
vermillion never beside each other, and used again after four sizes. Colour is never the only difference. Where sizes
stand on several axes, neighbours along each have different colours, and so have two sizes of which one is a step up on
an axis and a step down on another: their lines lie nearest. On two axes green and vermillion still are never beside
each other; on three there are too few colours. What all sizes of a value share has the value's.
"""

from collections.abc import Mapping
from typing import Annotated, NamedTuple

import msgspec

from pipeline.model.outputs import USUAL_STYLE, StyleSpec

Colour = Annotated[str, msgspec.Meta(pattern="^#[0-9a-f]{6}$")]

HAIRLINE_MM = 0.0882
"""0.25 pt: nothing is thinner."""
CUT_MM = 0.4
ALIKE_MM = 0.1
"""What is drawn for a size lies within this of the size's own line, and that line within this of what is drawn: a
quarter of a cut line's width, so that they are one line on paper."""
MARK_MM = 0.3

BLACK = "#000000"
WHITE = "#ffffff"
OKABE_ITO = {
    "black": "#000000",
    "orange": "#e69f00",
    "sky blue": "#56b4e9",
    "bluish green": "#009e73",
    "yellow": "#f0e442",
    "blue": "#0072b2",
    "vermillion": "#d55e00",
    "reddish purple": "#cc79a7",
}
SIZE_COLOURS = tuple(OKABE_ITO[name] for name in ("vermillion", "blue", "bluish green", "black"))

RUN_MM = 8.0
DASH_MM = 2.6
POINT_MM = 0.7
GAP_MM = 0.8

SEAM_DASH_MM = (0.5, 2.0)
"""Seam lines in a nest: light dots, so that they do not fill the gaps of a neighbour's cut line that they lie on."""
FOLD_EDGE_DASH_MM = (12.0, 1.5)
INSIDE_DASH_MM: dict[str, tuple[float, ...]] = {
    "cut": (),
    "fold": (6.0, 2.0),
    "stitch": (2.0, 1.2),
    "place": (4.0, 1.0),
    "level": (10.0, 1.2, 2.0, 1.2),
    "adjust": (14.0, 1.2, 0.7, 1.2, 0.7, 1.2),
    "match": (5.0, 1.0, 5.0, 1.0, 0.7, 1.0, 0.7, 1.0, 0.7, 1.0),
}
"""Dashes of inside lines by kind."""


BLEND_DASH_MM = (1.2, 0.8, 1.2, 3.0)
"""Of guides between sizes: dashes in pairs, as no other line has them."""
_MEASURED = frozenset({"level", "adjust"})

LEAST_TEXT_MM = 2.12
"""Six points and a little more: no text on paper is smaller."""


class SizeCodes(NamedTuple):
    """Which code each size has: `numbers` count them from 1 for their dashes, `colours` for colours what one size has,
    or what exactly these sizes share."""

    numbers: Mapping[str, int]
    colours: Mapping[tuple[str, ...], int]


class LineStyle(NamedTuple):
    """How one line is stroked."""

    colour: Colour
    width_mm: float
    dash_mm: tuple[float, ...] = ()


class Look(NamedTuple):
    """How a whole nest of sizes looks. Widths in mm; `seam_mm` is None where seam lines are left out.

    `marks` is how much larger marks and dashes are than on paper, `clear_mm` how much farther texts keep from the
    middle of lines, which are thicker; text sizes are tried from the largest down. `terse`: what is read from afar
    says only what is needed. Lines leave gaps for texts; where there is a `ground`, they do not: a text stands on a
    patch of that colour, which goes with the text's own layers. Inside
    marks of several sizes that lie within `alike_mm` of each other are drawn once.

    What may be coloured is 0.25 mm wide or more, but for seam lines: a raster of 300 dpi in black and white leaves gaps
    of up to 0.5 mm in thinner lines, of 0.2 mm in these (measured).
    """

    ink: str = BLACK
    ground: Colour | None = None
    cut_mm: float = CUT_MM
    seam_mm: float | None = 0.18
    seam_dash_mm: tuple[float, ...] = ()
    fold_mm: float = 0.25
    inside_mm: float = 0.28
    mark_mm: float = MARK_MM
    clip_mm: float = 0.25
    marks: float = 1.0
    clear_mm: float = 0.0
    coded: bool = True
    coloured: bool = True
    terse: bool = False
    cut_label_mm: tuple[float, ...] = (3.0, 2.5, 2.15)
    inside_label_mm: tuple[float, ...] = (2.3, 2.13)
    side_text_mm: tuple[float, ...] = (2.8, 2.4, 2.14)
    tag_mm: float = LEAST_TEXT_MM
    block_mm: float = 4.2
    alike_mm: float = ALIKE_MM

    def inside_alike_mm(self, kind: str) -> float:
        """How near to each other inside lines of a kind must lie to be drawn once.

        What is only measured by may lie farther off than what is sewn or cut: from afar, a line's width.
        """
        return max(self.alike_mm, self.inside_mm) if self.terse and kind in _MEASURED else self.alike_mm

    def colour(self, sizes: tuple[str, ...], codes: SizeCodes) -> str:
        """A size's own colour, or that of what all sizes of a value share; ink for what other sizes share."""
        number = codes.colours.get(sizes)
        return size_colour(number) if self.coloured and number else self.ink

    def cut(self, sizes: tuple[str, ...], codes: SizeCodes) -> LineStyle:
        """The cut line of one size, or of several: then solid."""
        dash = size_dash_mm(codes.numbers[sizes[0]]) if self.coded and len(sizes) == 1 else ()
        return LineStyle(self.colour(sizes, codes), self.cut_mm, tuple(part * self.marks for part in dash))

    def seam(self, sizes: tuple[str, ...], codes: SizeCodes) -> LineStyle:
        """The seam line of one size or several."""
        return LineStyle(self.colour(sizes, codes), self.seam_mm or 0.0, self.seam_dash_mm)

    def inside(self, kind: str, sizes: tuple[str, ...], codes: SizeCodes) -> LineStyle:
        """An inside line of a kind."""
        dash = tuple(part * self.marks for part in INSIDE_DASH_MM[kind])
        return LineStyle(self.colour(sizes, codes), self.inside_mm, dash)


NESTED = Look(seam_mm=0.2, seam_dash_mm=SEAM_DASH_MM)
NESTED_IN_BLACK = NESTED._replace(coloured=False)
"""Sizes told apart by the code of their lines and by their labels alone."""
PLAIN = Look(coded=False, coloured=False)
PROJECTED = Look(
    ground=WHITE,
    cut_mm=2.0,
    seam_mm=None,
    fold_mm=1.5,
    inside_mm=1.5,
    mark_mm=1.5,
    clip_mm=1.5,
    marks=5.0,
    clear_mm=1.2,
    coded=False,
    coloured=False,
    terse=True,
    cut_label_mm=(18.0, 14.0, 11.0, 9.0),
    inside_label_mm=(12.0, 10.0),
    side_text_mm=(12.0, 10.0, 8.0),
    tag_mm=9.0,
    block_mm=14.0,
    alike_mm=0.75,
)
"""For a projector: lines of 1.5 to 2.5 mm (2 to 3 pixels of 0.625 mm; 1200 mm over 1920 pixels), nothing finer.

Cut lines are solid: one size is shown at a time, and a code's gaps would take corners away. What is drawn once for
several sizes covers the place of each: it lies within half of a line's width, but for level and adjust lines, by
which nothing is sewn or cut: within a width.
"""


def nested(black: bool, style: StyleSpec = USUAL_STYLE) -> Look:
    """How several sizes look in one drawing."""
    return _styled(NESTED_IN_BLACK if black else NESTED, style)


def plain(style: StyleSpec = USUAL_STYLE) -> Look:
    """How one size looks alone."""
    return _styled(PLAIN, style)


def _styled(look: Look, style: StyleSpec) -> Look:
    """A look on paper with a designer's width of cut lines and size of texts; the usual sizes are tried after hers."""
    if style.line_width_mm is not None:
        wider_mm = max(0.0, style.line_width_mm - look.cut_mm) / 2
        look = look._replace(cut_mm=style.line_width_mm, clear_mm=look.clear_mm + wider_mm)
    if style.text_size is not None:
        look = look._replace(
            cut_label_mm=_resized(look.cut_label_mm, style.text_size),
            inside_label_mm=_resized(look.inside_label_mm, style.text_size),
            side_text_mm=_resized(look.side_text_mm, style.text_size),
            tag_mm=max(LEAST_TEXT_MM, look.tag_mm * style.text_size),
            block_mm=max(LEAST_TEXT_MM, look.block_mm * style.text_size),
        )
    return look


def _resized(sizes_mm: tuple[float, ...], share: float) -> tuple[float, ...]:
    """Text sizes from the largest down: those wanted, then what was tried before below them; none under six points."""
    wanted = [max(LEAST_TEXT_MM, size * share) for size in sizes_mm]
    usual = [size for size in sizes_mm if size < min(wanted)]
    return tuple(dict.fromkeys((*wanted, *usual)))


def size_dash_mm(number: int) -> tuple[float, ...]:
    """Strokes and gaps of the line of the size that is counted `number`, from 1. Raises ValueError below 1."""
    if number < 1:
        raise ValueError(f"sizes are counted from 1, not {number}")
    dashes, points = divmod(number, 3)
    strokes = (RUN_MM, *(DASH_MM,) * dashes, *(POINT_MM,) * points)
    return tuple(part for stroke in strokes for part in (stroke, GAP_MM))


def size_colour(number: int) -> str:
    """Colour of the size that is counted `number`, from 1."""
    return SIZE_COLOURS[(number - 1) % len(SIZE_COLOURS)]


def contrast(colour: str, ground: str = WHITE) -> float:
    """Contrast ratio of two colours "#rrggbb", 1 to 21 (WCAG 2.2, relative luminance)."""
    light, dark = sorted((_luminance(colour), _luminance(ground)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _luminance(colour: str) -> float:
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue
