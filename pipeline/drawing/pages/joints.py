"""Joints between pages: which pages meet, and the row of ticks that tells one joint from every other.

A row is a frame of two outer ticks with gaps between, each short or long: the joint's number in binary, and one more
gap that makes the count of long ones even. So any two rows of a file differ in two gaps or more.
"""

from typing import Literal, NamedTuple

from pipeline.sheets.layout import Page, PagePlan

SHORT_MM = 2.8
LONG_MM = 5.2
_REACH_MM = 250.0
"""Rows of ticks on a long side are about so far apart."""
_FEWEST_BITS = 5

Side = Literal["left", "right", "top", "bottom"]


class Joint(NamedTuple):
    """Two pages that meet: `first` is the left or upper one. `gaps_mm` are the gaps of its row of ticks."""

    first: str
    second: str
    upright: bool
    gaps_mm: tuple[float, ...]

    @property
    def name(self) -> str:
        """What is printed beside the ticks."""
        return f"{self.first} + {self.second}"

    def ticks_mm(self, middle_mm: float = 0.0) -> tuple[float, ...]:
        """Places of a row's ticks along the joint, from the middle of the joint; the row's own middle lies there."""
        at = middle_mm - sum(self.gaps_mm) / 2
        places = [at]
        for gap in self.gaps_mm:
            at += gap
            places.append(at)
        return tuple(places)


def row_middles_mm(length_mm: float) -> tuple[float, ...]:
    """Where rows of ticks stand on a side, from its middle: two or more, evenly."""
    count = max(2, round(length_mm / _REACH_MM))
    return tuple((n + 0.5) * length_mm / count - length_mm / 2 for n in range(count))


def joints_of(plan: PagePlan) -> dict[str, dict[Side, Joint]]:
    """The joints of every page, by its label and the side of the page. Neighbours that lie apart
    have none, nor has a left-out page.
    """
    by_place = {(page.row, page.column): page for page in plan.pages if page.window is not None}
    pairs: list[tuple[Page, Page, bool]] = []
    for (row, column), page in by_place.items():
        for step_row, step_column in ((0, 1), (1, 0)):
            neighbour = by_place.get((row + step_row, column + step_column))
            if neighbour is not None and (page.label, neighbour.label) not in plan.apart:
                pairs.append((page, neighbour, step_column == 1))
    bits = max(_FEWEST_BITS, len(pairs).bit_length())
    found: dict[str, dict[Side, Joint]] = {page.label: {} for page in by_place.values()}
    for number, (page, neighbour, upright) in enumerate(pairs, start=1):
        joint = Joint(page.label, neighbour.label, upright, _gaps(number, bits))
        found[page.label]["right" if upright else "bottom"] = joint
        found[neighbour.label]["left" if upright else "top"] = joint
    return found


def _gaps(number: int, bits: int) -> tuple[float, ...]:
    code = [number >> bit & 1 for bit in reversed(range(bits))]
    code.append(sum(code) % 2)
    return tuple(LONG_MM if bit else SHORT_MM for bit in code)
