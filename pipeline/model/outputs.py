"""What is made of a pattern and where it is sold, as `pattern.toml` says it. Lengths in mm."""

from typing import Literal

import msgspec

LINE_WIDTHS_MM = (0.3, 0.6)
"""Of cut lines, as designers may have them: never finer than any other line of a piece, and not as wide as a code's
points are long or its gaps are, so that sizes differ by their dashes still."""
TEXT_SHARES = (0.8, 1.5)
"""How large words on pieces may be against the usual."""

PrintFormat = Literal["a4", "letter", "a4-letter", "a0", "roll-24in", "roll-36in", "roll-42in", "projector"]


class PrintSpec(msgspec.Struct, frozen=True, kw_only=True):
    """Which files are printed, how tiles meet, whether sizes are told apart without colour (`black`), and
    whether a file speaks all languages or each has files of its own."""

    formats: tuple[PrintFormat, ...] = ("a4", "letter", "a0", "roll-36in", "projector")
    margin_mm: float = 10.0
    overlap_mm: float = 0.0
    by_size: bool = True
    black: bool = False
    languages_together: bool = True


class ProjectorSpec(msgspec.Struct, frozen=True, kw_only=True):
    """How projector files are made: `width_mm` is the table's."""

    unfold: bool = True
    width_mm: float = 1500.0


class BookletSpec(msgspec.Struct, frozen=True, kw_only=True):
    """How the booklet looks: the colour of headings and numbers, and the paper of the large-print edition."""

    accent: str = "#1f5a57"
    paper: Literal["a4", "letter"] = "a4"


class StyleSpec(msgspec.Struct, frozen=True):
    """What of the designer's own is seen on paper, and changes nothing that is measured.

    `line_width_mm` is that of cut lines, `text_size` how large words on pieces are against the usual; None: as usual.
    """

    contact_lines: tuple[str, ...] = ()
    line_width_mm: float | None = None
    text_size: float | None = None


USUAL_STYLE = StyleSpec()


class Channel(msgspec.Struct, frozen=True):
    """A place of sale: how many archives it takes, and how large."""

    name: str
    archives: int
    archive_mb: float
