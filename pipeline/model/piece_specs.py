"""What `pattern.toml` says of a piece, its edges and its marks, typed. Lengths in mm."""

from typing import Literal

import msgspec

Corner = Literal["mitre", "turned", "square"]
Grain = Literal["warp", "weft", "bias"]
LineKind = Literal["cut", "fold", "stitch", "place", "level", "adjust", "match"]
NotchStyle = Literal["single", "double", "triple"]
TakeKind = Literal["dart", "pleat", "tuck"]
Side = Literal["left", "right"]
Texts = dict[str, str]
"""A text customers read, by language; every language of the pattern has an entry unless the designer forgot it."""


class Cut(msgspec.Struct, frozen=True):
    """How many whole pieces are cut of one material, by size; `mirrored` of them are mirror images.

    `side` is the one side of the wearer that has them; `layers` of them lie on each other as one.
    """

    material: str
    count: dict[str, int]
    mirrored: dict[str, int]
    side: Side | None = None
    layers: int = 1


class EdgePart(msgspec.Struct, frozen=True):
    """A part of an edge from one named place to another: notches of that edge, or the neighbours that its ends meet."""

    start: str
    end: str

    @property
    def text(self) -> str:
        """As `pattern.toml` writes it behind an edge."""
        return f"[{self.start}..{self.end}]"


class Take(msgspec.Struct, frozen=True):
    """What lies between two notches of an edge is taken up and counts in no seam and no sum."""

    start_notch: str
    end_notch: str
    kind: TakeKind

    @property
    def of(self) -> EdgePart:
        """What it takes up, as the part of an edge."""
        return EdgePart(self.start_notch, self.end_notch)


class AllowancePart(msgspec.Struct, frozen=True, kw_only=True):
    """The allowance along a part of an edge: it changes evenly from `start_mm` to `end_mm`.

    `taper_mm`: over which length it runs into a narrower allowance beside it; None where nothing is said.
    """

    of: EdgePart
    start_mm: float
    end_mm: float
    taper_mm: float | None = None


class GrownOn(msgspec.Struct, frozen=True, kw_only=True):
    """What is cut in one with a piece along a part of an edge and folded back there, as a fly or a placket is.

    Folded, it lies `width_mm` deep on the piece, and `end_width_mm` at its second place where it changes to that (None
    where it does not); `turn_in_mm` more is turned in along its raw edge. `radius_mm`: of its
    rounded end within the edge; None where it ends square.
    """

    of: EdgePart
    width_mm: float
    turn_in_mm: float = 0.0
    radius_mm: float | None = None
    end_width_mm: float | None = None

    @property
    def widths_mm(self) -> tuple[float, float]:
        """How deep it lies at the first and the second of its places."""
        return self.width_mm, self.width_mm if self.end_width_mm is None else self.end_width_mm

    @property
    def fold_count(self) -> int:
        """How many lines it is folded on: the edge itself, and where its raw edge is turned in."""
        return 2 if self.turn_in_mm > 0 else 1


class EdgeSpec(msgspec.Struct, frozen=True, kw_only=True):
    """What is said of one edge. `corner` is the rule at both ends, `corner_beside` the rule beside one neighbour.

    `allowance_end_mm`: the allowance at the edge's last point, where it tapers to it from `allowance_mm` at its first;
    None where it is the same all along. `along`: the parts that have an allowance of their own, the rest has
    `allowance_mm`. `clips` of None: as its piece says. `half`: of a fold, whose half of the wearer is drawn, left or
    right. `folds_mm`: how far from the seam line a turned hem is folded back again, in order; `turn_up`: to the right
    side, as a trouser's turn-up is. `grown_on`: what is cut in one with the piece along parts of it. `topstitch_mm`:
    how far inside the seam line rows of stitching lie. `blend`: whether guides lead from each size's line to its
    neighbours', along the edge or a part of it.
    """

    allowance_mm: float | None = None
    allowance_end_mm: float | None = None
    along: tuple[AllowancePart, ...] = ()
    corner: Corner | None = None
    corner_beside: dict[str, Corner] = {}
    hem: bool = False
    fold: bool = False
    half: Side | None = None
    clips: bool | None = None
    takes: tuple[Take, ...] = ()
    folds_mm: tuple[float, ...] = ()
    turn_up: bool = False
    grown_on: tuple[GrownOn, ...] = ()
    topstitch_mm: tuple[float, ...] = ()
    blend: EdgePart | bool = False

    @property
    def says_allowance(self) -> bool:
        """Whether it has an allowance of its own, and not its piece's, all along or in parts."""
        return self.allowance_mm is not None or bool(self.along)


class MarkSpec(msgspec.Struct, frozen=True, kw_only=True):
    """What an inside line or point is called (no text: its usual name), and the one side of the wearer that has it.

    `sizes`: those that alone have it; none: all.
    """

    title: Texts = {}
    side: Side | None = None
    sizes: tuple[str, ...] = ()


class PiecePart(msgspec.Struct, frozen=True):
    """The part of its source that a derived piece takes: on the side of an inside line that has the whole edge `keep`;
    between two lines where there is none. The new edges are called as the lines are."""

    lines: tuple[str, ...]
    keep: str | None = None


class PieceSpec(msgspec.Struct, frozen=True, kw_only=True):
    """What is said of one piece in all its sizes. `source` is the piece whose outline a derived piece takes, `part` the
    part of that which it is; its `edges` are then those along lines alone.

    `around`: what the edges of a closed outline are called, clockwise on the page from the mark `start`, or from the
    corner that lies nearest to the outline's top left. `corners`: notches at which it has a corner, too.
    """

    name: str
    title: Texts
    number: int
    sizes: tuple[str, ...]
    views: tuple[str, ...] = ()
    cut: tuple[Cut, ...] = ()
    allowance_mm: float | None = None
    edges: dict[str, EdgeSpec] = {}
    lines: dict[str, LineKind] = {}
    line_marks: dict[str, MarkSpec] = {}
    point_marks: dict[str, MarkSpec] = {}
    notches: dict[str, NotchStyle] = {}
    grain: Grain = "warp"
    cord: bool | None = None
    clips: bool | None = None
    source: str | None = None
    trim_mm: float | None = None
    past_seam_mm: float | None = None
    part: PiecePart | None = None
    around: tuple[str, ...] = ()
    start: str | None = None
    corners: tuple[str, ...] = ()
