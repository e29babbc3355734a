"""What `pattern.toml` says, typed: everything about a pattern but its outlines. Lengths in mm, shares as fractions."""

from typing import Literal

import msgspec

from pipeline.model.mark_sums import MarkSum
from pipeline.model.outputs import BookletSpec, Channel, PrintSpec, ProjectorSpec, StyleSpec
from pipeline.model.piece_specs import Cut, EdgePart, PieceSpec, Texts

StripGrain = Literal["along", "across", "bias", "any"]
StripMake = Literal["flat", "edges-to-centre", "doubled", "thirds", "quarters"]
Way = Literal["fold", "two-folds", "partial-fold", "open"]
"""How cloth is laid (common practice): folded along its length, selvedges together; both selvedges folded to the
middle; one selvedge folded in only as far as needed; in one layer."""
Nap = Literal["none", "one-way", "either"]
"""Whether pieces may lie end for end: always, never (a nap, or a print with a direction), or both are worked out."""
Wearer = Literal["adult", "child", "baby"]
Pressed = Literal["a", "b", "open", "left", "right"]
"""To where the allowances of a seam are pressed: to one of its sides, apart, or, where both sides are one edge of two
copies of a piece, to the wearer's left or right."""
Units = Literal["metric", "imperial"]


class Reference(msgspec.Struct, frozen=True):
    """`<piece>.<edge or inside line>`, or `body.<name>` (then `piece` is "body"); `gross` counts darts and pleats.
    `part`: of an edge, what lies between two of its places.
    """

    piece: str
    line: str
    gross: bool = False
    part: EdgePart | None = None


class Term(msgspec.Struct, frozen=True):
    """One term of a sum: factor x (a length in mm, or a reference). The factor carries the sign."""

    factor: float
    of: float | Reference


class Sum(msgspec.Struct, frozen=True):
    """A sum as written, and its terms."""

    text: str
    terms: tuple[Term, ...]


class Range(msgspec.Struct, frozen=True):
    """Both ends of a range: mm, or shares of what it is held against where `percent` (0.5 is 50 %)."""

    low: float
    high: float
    percent: bool = False


class Material(msgspec.Struct, frozen=True, kw_only=True):
    """A cloth, lining or fusing. Widths are full widths; shrinkage and spare are fractions.

    `ways`: how it may be laid, the designer's favourite first. `least_mm`: the shortest length that shops sell.
    `stretch_width` and `stretch_length`: by which share a knit must give across and along, None where nothing is said;
    `recovery` which share of that it must go back when it is let go. `repeat_length_mm` and `repeat_width_mm`: after
    what length a print or weave repeats, along the cloth and across.
    """

    title: Texts
    widths_mm: tuple[float, ...]
    selvedge_mm: float = 0.0
    ways: tuple[Way, ...] = ("open",)
    nap: Nap = "none"
    turn: Literal["half", "free"] = "half"
    gap_mm: float = 2.0
    shrinkage_length: float = 0.0
    shrinkage_width: float = 0.0
    spare: float = 0.0
    least_mm: float = 0.0
    stretch_width: float | None = None
    stretch_length: float | None = None
    recovery: float | None = None
    repeat_length_mm: float | None = None
    repeat_width_mm: float | None = None

    @property
    def has_repeat(self) -> bool:
        return self.repeat_length_mm is not None or self.repeat_width_mm is not None


class SideEdge(msgspec.Struct, frozen=True):
    """One edge in a side of a seam, or the part of it that is named, from the one place to the other as the seam runs;
    `turned` where the designer wrote `!`."""

    piece: str
    edge: str
    turned: bool = False
    part: EdgePart | None = None

    def is_same_cloth(self, other: "SideEdge") -> bool:
        """Whether both name the same stretch of the same edge, in whatever order."""
        parts = [part and frozenset((part.start, part.end)) for part in (self.part, other.part)]
        return (self.piece, self.edge) == (other.piece, other.edge) and parts[0] == parts[1]


class Seam(msgspec.Struct, frozen=True, kw_only=True):
    """Two sides that are sewn (or, for a lining, hang) together; bagged, side a to the raw edge of side b's hem.

    Ease is length of a minus length of b. `facing`: one piece is turned onto the other once they are sewn, to the
    inside. `topstitch_mm`: how far from the seam line rows of stitching lie, on the side to which the allowances are
    `pressed`, or on both. `turn_through_mm`: how long a gap is left in it to turn what it closes right side out.
    `title`: what booklets call it, empty where its pieces name it.
    """

    name: str
    a: tuple[SideEdge, ...]
    b: tuple[SideEdge, ...]
    ease: Range = Range(0.0, 0.0)
    tolerance_mm: float = 1.0
    notches: bool = True
    angles: bool = True
    kind: Literal["sewn", "lining", "bagged"] = "sewn"
    facing: bool = False
    title: Texts = {}
    turn_through_mm: float | None = None
    topstitch_mm: tuple[float, ...] = ()
    pressed: Pressed | None = None

    @property
    def is_sewn(self) -> bool:
        """Whether cloth is sewn to cloth, along both seam lines or along a raw edge."""
        return self.kind != "lining"


class Casing(msgspec.Struct, frozen=True):
    """What elastic or a drawstring is drawn into: a hem, or a fold, of a piece; or a strip, which has no `line`."""

    owner: str
    line: str | None = None


class Strip(msgspec.Struct, frozen=True, kw_only=True):
    """A straight piece that needs no drawing. `width_mm` is finished; `length` a sum without its allowances.

    `stretched`: its length as a share of what it goes round; `opens_to` what it must let through when it is pulled.
    """

    name: str
    title: Texts
    cut: tuple[Cut, ...]
    width_mm: float
    make: StripMake
    length: Sum
    allowance_mm: float = 0.0
    opening: Sum | None = None
    goes_round: Sum | None = None
    stretched: Range | None = None
    opens_to: Sum | None = None
    casings: tuple[Casing, ...] = ()
    grain: StripGrain = "along"
    join_mm: float | None = None
    drawn: bool = False
    cord: bool | None = None
    views: tuple[str, ...] = ()


class BodyMeasure(msgspec.Struct, frozen=True, kw_only=True):
    """A measure of the wearer, by size."""

    name: str
    title: Texts
    sizes_mm: dict[str, float]


class FinishedMeasure(msgspec.Struct, frozen=True, kw_only=True):
    """A measure of the garment: a sum, and what it is held against."""

    name: str
    title: Texts
    sum: Sum
    ease: Range | None = None
    allowed: Range | None = None
    grade: Literal["rises", "constant", "free"] | None = None


class Notion(msgspec.Struct, frozen=True, kw_only=True):
    """Buttons, zips, elastic: a count, typed by size or of marks, or a length by size; a length fits into an opening
    where one is given.

    `sold_mm` are the lengths that it is sold in, shortest first; none where any length can be bought.
    Of elastic: `width_mm`, the `casings` that it is drawn into, and as of strips what it `goes_round`, its length as a
    share of that, and what that must open to.
    """

    name: str
    title: Texts
    count: dict[str, int] | None = None
    marks: MarkSum | None = None
    length: dict[str, Sum] | None = None
    sold_mm: tuple[float, ...] = ()
    opening: Sum | None = None
    width_mm: float | None = None
    casings: tuple[Casing, ...] = ()
    goes_round: Sum | None = None
    stretched: Range | None = None
    opens_to: Sum | None = None
    small_part: bool | None = None
    cord: bool | None = None
    views: tuple[str, ...] = ()


class View(msgspec.Struct, frozen=True):
    """A version of the garment."""

    name: str
    title: Texts


class Waiver(msgspec.Struct, frozen=True, kw_only=True):
    """A finding that the designer accepts, with the reason."""

    check: str
    where: str
    why: str
    code: str | None = None
    size: str | None = None


class Pattern(msgspec.Struct, frozen=True, kw_only=True):
    """All of `pattern.toml`. `name` is the folder's; pieces stand in the order of the file.

    `size_axes` are the values of each ladder of sizes by its name, smallest first, where there is more than one ladder:
    then every size is a point, named by its values with - between, and `bands` are values. `size_sets` hold, beside
    those that the designer names, the sizes that share values of some axes, by these values. `size_titles` say what
    sizes and values are called to buyers.

    `drawings` name the files, with * and ?, that masters are cut out of. `words` are what the designer brings of the
    pipeline's own words, by language and dotted key, as they were written. `sign` are public keys without comments: the
    first one's private key signs what is sealed, the others' signed it before.
    """

    name: str
    title: Texts
    version: str
    maker: Texts
    contact: Texts
    sizes: tuple[str, ...]
    base: str
    bands: tuple[str, ...]
    languages: tuple[str, ...]
    units: Units
    wearer: Wearer
    sleepwear: bool
    licence: Texts
    clips: bool = True
    size_sets: dict[str, tuple[str, ...]] = {}
    size_axes: dict[str, tuple[str, ...]] = {}
    size_titles: dict[str, Texts] = {}
    views: dict[str, View] = {}
    materials: dict[str, Material] = {}
    pieces: dict[str, PieceSpec] = {}
    seams: dict[str, Seam] = {}
    strips: dict[str, Strip] = {}
    body: dict[str, BodyMeasure] = {}
    finished: dict[str, FinishedMeasure] = {}
    notions: dict[str, Notion] = {}
    print: PrintSpec = PrintSpec()
    projector: ProjectorSpec = ProjectorSpec()
    booklet: BookletSpec = BookletSpec()
    style: StyleSpec = StyleSpec()
    renew_layout: bool = False
    lay_seconds: int = 3
    channels: dict[str, Channel] = {}
    waivers: tuple[Waiver, ...] = ()
    pixels_per_inch: float | None = None
    drawings: tuple[str, ...] = ()
    by_shape: bool = False
    words: dict[str, dict[str, str]] = {}
    sign: tuple[str, ...] = ()


def in_language(texts: Texts, language: str) -> str:
    """The text in a language, or the first there is: a missing one is a check's business, not the printer's."""
    return texts.get(language) or next((text for text in texts.values() if text), "")
