"""The paper layout: values that the later rooms read.

Nest coordinates of a piece: every size moved so that its anchor lies on (0, 0), then turned by the placement's
quarter turns (clockwise on the page). Sheet coordinates: mm from the top left corner, y down.
"""

import msgspec

from pipeline.geometry.points import Affine, Point


class Placement(msgspec.Struct, frozen=True):
    """Where a piece's stack of sizes lies: its anchor at (x, y) on the sheet, turned clockwise by quarter turns."""

    piece: str
    x_mm: float
    y_mm: float
    quarter_turns: int = 0


class Layout(msgspec.Struct, frozen=True):
    """One arrangement of all stacks on one sheet whose corner is (0, 0)."""

    width_mm: float
    height_mm: float
    placements: tuple[Placement, ...]


class LargeLayout(msgspec.Struct, frozen=True):
    """An arrangement for a sheet or roll. Its pages' windows are `sheet_width_mm` by `sheet_height_mm`, below and
    beside each other from the corner (0, 0) on; no stack that one of them holds lies across two.
    """

    sheet_width_mm: float
    sheet_height_mm: float
    layout: Layout


class SavedGrid(msgspec.Struct, frozen=True):
    """The grid of a file's pages as it was sold: where it began, its windows and steps, and (row, column) of the pages
    in their order."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    step_x_mm: float
    step_y_mm: float
    places: tuple[tuple[int, int], ...]


class SavedLayout(msgspec.Struct, frozen=True, kw_only=True):
    """The file `layout.json` beside a pattern: the best layout found, and the pieces that must stay where they are.

    `alone` are the tiles' layouts of single sizes and views: "34-a4", "view long-a4". `large` are those on sheets and
    rolls: of the whole pattern by their format, of a size or view called like its others. Pins do not hold there.

    What was sold as version `sold` also has its projector files by material ("shell", "34-shell"), the grid of each
    print file, called as its layout is, and the areas in mm² that stacks took: of all sizes under "", of a size or view
    under its name, of a projector file under "thrown shell".
    """

    format: int = 1
    layout: Layout
    pinned: tuple[str, ...] = ()
    alone: dict[str, Layout] = {}
    large: dict[str, LargeLayout] = {}
    thrown: dict[str, Layout] = {}
    grids: dict[str, SavedGrid] = {}
    areas: dict[str, dict[str, float]] = {}
    sold: str = ""

    @property
    def pins(self) -> dict[str, Placement]:
        """The pinned pieces' places."""
        return {place.piece: place for place in self.layout.placements if place.piece in self.pinned}


def saved_view(view: str) -> str:
    """What the layouts of a view begin with: no size is called so, since names have no blanks."""
    return f"view {view}"


def saved_layout_json(saved: SavedLayout) -> bytes:
    """The text of `layout.json`, a placement and a single size's layout a line: a repository shows what moved."""

    def text(value: object) -> str:
        return msgspec.json.encode(value).decode()

    sheet = saved.layout
    places = ",\n".join(map(text, sheet.placements))
    alone, large = (
        ",\n".join(f"{text(name)}: {text(layout)}" for name, layout in layouts.items())
        for layouts in (saved.alone, saved.large)
    )
    return (
        f'{{"format": {saved.format}, "pinned": {text(saved.pinned)},\n'
        f'"layout": {{"width_mm": {sheet.width_mm}, "height_mm": {sheet.height_mm}, "placements": [\n{places}\n]}},\n'
        f'"alone": {{\n{alone}\n}},\n"large": {{\n{large}\n}}}}\n'
    ).encode()


def nest_affine(anchor: Point, quarter_turns: int) -> Affine:
    """The map from a master's coordinates to nest coordinates."""
    turn = (
        Affine(1, 0, 0, 1, 0, 0),
        Affine(0, 1, -1, 0, 0, 0),
        Affine(-1, 0, 0, -1, 0, 0),
        Affine(0, -1, 1, 0, 0, 0),
    )[quarter_turns % 4]
    return turn.after(Affine(e=-anchor.x, f=-anchor.y))


class Window(msgspec.Struct, frozen=True):
    """A rectangle of the sheet that one page shows."""

    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float


class Page(msgspec.Struct, frozen=True, kw_only=True):
    """One printed page. `number` counts from 1; the start page (map, squares) has row and column 0 and no window.

    `label` is the number and the row's letter ("7B"), of a large sheet its number alone. `sizes` and `views` are those
    whose pieces lie in the window.
    """

    number: int
    label: str
    row: int
    column: int
    window: Window | None
    sizes: tuple[str, ...]
    views: tuple[str, ...]


HEADER_MM = 130.0
"""Height of the strip across the top of a large sheet: a square of 4 in, the ruler, and what the sheet is."""


class PagePlan(msgspec.Struct, frozen=True, kw_only=True):
    """The pages of one file. `rows` and `columns` count the grid with its blank places, which have no page.

    A page's window lies `margin_mm` from its left edge and `margin_mm + header_mm` from its top edge. A large sheet
    keeps a strip of `header_mm` (HEADER_MM) free above the window for the squares, the ruler and the map; tiles have
    a start page instead and none. `apart` are labels of neighbours that nothing joins: nothing lies across them.
    `moved` are the pieces that lie elsewhere than in the version `since`, which was sold before. `again` are the labels
    of the pages that a file of changed pages has, in their order; all others have every page.
    """

    format: str
    page_width_mm: float
    page_height_mm: float
    margin_mm: float
    overlap_mm: float
    rows: int
    columns: int
    pages: tuple[Page, ...]
    header_mm: float = 0.0
    apart: tuple[tuple[str, str], ...] = ()
    moved: tuple[str, ...] = ()
    since: str = ""
    again: tuple[str, ...] = ()

    @property
    def printed(self) -> tuple[Page, ...]:
        """The pages that the file has."""
        return tuple(page for page in self.pages if page.label in self.again) if self.again else self.pages
