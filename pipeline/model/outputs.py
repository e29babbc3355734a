"""What is made of a pattern and where it is sold, as `pattern.toml` says it. Lengths in mm."""

from typing import Literal

import msgspec

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
    """What of the designer's own stands on start pages and in booklets, and changes nothing that is measured."""

    contact_lines: tuple[str, ...] = ()


class Channel(msgspec.Struct, frozen=True):
    """A place of sale: how many archives it takes, and how large."""

    name: str
    archives: int
    archive_mb: float
