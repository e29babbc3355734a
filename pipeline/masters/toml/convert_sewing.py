"""What is sewn, measured and bought: seams, strips, measures, notions and waivers of `pattern.toml`."""

from collections.abc import Iterable

from msgspec import UNSET

from pipeline.masters.toml.convert_bagged import check_bagged, convert_gap
from pipeline.masters.toml.convert_casings import casings_of_notion, casings_of_strip
from pipeline.masters.toml.convert_counts import counted_marks, typed_count
from pipeline.masters.toml.convert_cuts import convert_cuts
from pipeline.masters.toml.convert_topstitch import check_rows_of_edges, convert_pressed, convert_rows
from pipeline.masters.toml.document import NotionTable, StripTable
from pipeline.masters.toml.faults import KeyPath, item, shown
from pipeline.masters.toml.leaves import Leaves, given
from pipeline.masters.toml.sums import GrammarError, parse_side
from pipeline.model.pattern import BodyMeasure, FinishedMeasure, Notion, Range, Seam, SideEdge, Strip, Sum, Waiver
from pipeline.model.piece_specs import Cut

_NOTHING = Range(0.0, 0.0)
_NO_SUM = Sum("", ())
WHOLE_PATTERN = "pattern"
"""The place that a waiver names for what concerns no single piece, as that it is sleepwear."""


def convert_seams(leaves: Leaves) -> dict[str, Seam]:
    """All seams, in the order of the file."""
    seams = {}
    for name, table in leaves.document.seams.items():
        path = ("seams", name)
        a, b = _side(leaves, (*path, "a"), table.a), _side(leaves, (*path, "b"), table.b)
        check_bagged(leaves, path, table, a, b)
        seams[name] = Seam(
            name=name,
            a=a,
            b=b,
            ease=leaves.range((*path, "ease"), table.ease, percent=True) or _NOTHING,
            tolerance_mm=leaves.length((*path, "tolerance"), table.tolerance),
            notches=table.notches,
            angles=table.angles,
            kind=table.kind if table.kind in ("lining", "bagged") else "sewn",
            facing=table.kind == "facing",
            title={} if table.title is UNSET else leaves.texts((*path, "title"), table.title),
            turn_through_mm=convert_gap(leaves, path, table),
            topstitch_mm=convert_rows(leaves, (*path, "topstitch"), table.topstitch),
            pressed=convert_pressed(leaves, path, table, a, b),
        )
    check_rows_of_edges(leaves)
    return seams


def _side(leaves: Leaves, path: KeyPath, texts: tuple[str, ...]) -> tuple[SideEdge, ...]:
    side = []
    for position, text in enumerate(texts):
        below = (*path, item(position))
        if leaves.faults.spoiled(below):
            continue
        try:
            edge = parse_side(text)
        except GrammarError as error:
            leaves.grammar_fault(below, error)
            continue
        leaves.known(below, edge.piece, leaves.document.pieces, ("pieces",), "piece")
        side.append(edge)
    return tuple(side)


def convert_strips(leaves: Leaves) -> dict[str, Strip]:
    """All strips, in the order of the file."""
    return {name: _strip(leaves, ("strips", name), name, table) for name, table in leaves.document.strips.items()}


def _strip(leaves: Leaves, path: KeyPath, name: str, table: StripTable) -> Strip:
    if name in leaves.document.pieces:
        message, remedy = "is the name of a piece too.", "Give one of the two another name."
        leaves.faults.tell(path, "name-twice", message, remedy, found=name)
    return Strip(
        name=name,
        title=leaves.texts((*path, "title"), table.title),
        cut=_strip_cuts(leaves, (*path, "cut"), table),
        width_mm=leaves.length((*path, "width"), table.width, 1.0),
        make=table.make,
        length=leaves.sum((*path, "length"), table.length) or _NO_SUM,
        allowance_mm=leaves.allowance((*path, "allowance"), table.allowance),
        opening=leaves.sum((*path, "opening"), table.opening),
        goes_round=leaves.sum((*path, "goes_round"), table.goes_round),
        stretched=_stretched(leaves, (*path, "stretched"), table),
        opens_to=leaves.sum((*path, "opens_to"), table.opens_to),
        casings=casings_of_strip(leaves, path, table),
        grain=table.grain,
        join_mm=None if table.join is UNSET else leaves.allowance((*path, "join"), table.join),
        drawn=table.drawn,
        cord=given(table.cord),
        views=leaves.views((*path, "views"), table.views),
    )


def _strip_cuts(leaves: Leaves, path: KeyPath, table: StripTable) -> tuple[Cut, ...]:
    """What is cut of a strip, which is its own mirror image: it has no left and right."""
    for position, entry in enumerate(table.cut):
        below = (*path, item(position), "side")
        if entry.side is not UNSET and leaves.faults.whole(below):
            message, remedy = "is said of a strip, which is the same on both.", "Take it out; a title may say it."
            leaves.faults.tell(below, "side-of-strip", message, remedy, found=entry.side, allowed="none")
    return convert_cuts(leaves, path, table.cut, leaves.sizes, pairs=False)


def _stretched(leaves: Leaves, path: KeyPath, table: StripTable | NotionTable) -> Range | None:
    """A share of what a strip, or elastic, goes round, which therefore must be said."""
    found = leaves.range(path, table.stretched, percent=True)
    if found is None:
        return None
    if not found.percent or found.low <= 0:
        message = f"is {shown(str(table.stretched))}, no share of what it goes round."
        allowed = 'two percentages above 0, as "80 % .. 90 %"'
        leaves.faults.tell(path, "no-share", message, f"Write {allowed}.", found=str(table.stretched), allowed=allowed)
        return None
    if table.goes_round is UNSET and not leaves.faults.spoiled((*path[:-1], "goes_round")):
        message, remedy = "says a share of nothing.", "Say with `goes_round` what it goes round."
        leaves.faults.tell(path, "goes-round-nothing", message, remedy, found="no goes_round", allowed="goes_round")
    return found


def convert_body(leaves: Leaves) -> dict[str, BodyMeasure]:
    """All body measures, each with every size of the pattern."""
    measures = {}
    for name, table in leaves.document.body.items():
        path = ("body", name)
        if leaves.faults.spoiled(path):
            continue
        below = (*path, "sizes")
        keys = {} if leaves.faults.spoiled(below) else leaves.by_size(below, table.sizes, leaves.sizes)
        lengths_mm = {key: leaves.length((*below, key), table.sizes[key], 1.0) for key in dict.fromkeys(keys.values())}
        sizes_mm = {size: lengths_mm[key] for size, key in keys.items()}
        title = leaves.texts((*path, "title"), table.title)
        measures[name] = BodyMeasure(name=name, title=title, sizes_mm=sizes_mm)
    return measures


def convert_finished(leaves: Leaves) -> dict[str, FinishedMeasure]:
    """All measures of the garment."""
    measures = {}
    for name, table in leaves.document.finished.items():
        path = ("finished", name)
        if table.ease is not UNSET:
            leaves.known((*path, "ease"), name, leaves.document.body, ("body",), "body measure")
        measures[name] = FinishedMeasure(
            name=name,
            title=leaves.texts((*path, "title"), table.title),
            sum=leaves.sum((*path, "sum"), table.sum) or _NO_SUM,
            ease=leaves.range((*path, "ease"), table.ease, percent=True),
            allowed=leaves.range((*path, "allowed"), table.allowed, percent=False),
            grade=given(table.grade),
        )
    return measures


def convert_notions(leaves: Leaves) -> dict[str, Notion]:
    """All notions: each has a count or a length."""
    notions = {}
    for name, table in leaves.document.notions.items():
        path = ("notions", name)
        counted, measured = table.count is not UNSET, table.length is not UNSET
        if counted == measured and leaves.faults.whole(path):
            found = "both" if counted else "neither"
            message, remedy = f"has {found} of count and length.", "Give it a count or a length."
            leaves.faults.tell(path, "count-or-length", message, remedy, found=found, allowed="count or length")
        notions[name] = Notion(
            name=name,
            title=leaves.texts((*path, "title"), table.title),
            count=typed_count(leaves, path, table),
            marks=counted_marks(leaves, path, table),
            length=None if table.length is UNSET else leaves.sums((*path, "length"), table.length),
            sold_mm=_sold(leaves, path, table),
            opening=leaves.sum((*path, "opening"), table.opening),
            width_mm=None if table.width is UNSET else leaves.length((*path, "width"), table.width, 1.0),
            casings=casings_of_notion(leaves, path, table),
            goes_round=leaves.sum((*path, "goes_round"), table.goes_round),
            stretched=_stretched(leaves, (*path, "stretched"), table),
            opens_to=leaves.sum((*path, "opens_to"), table.opens_to),
            small_part=given(table.small_part),
            cord=given(table.cord),
            views=leaves.views((*path, "views"), table.views),
        )
    return notions


def _sold(leaves: Leaves, path: KeyPath, table: NotionTable) -> tuple[float, ...]:
    """The lengths that a notion is sold in, shortest first."""
    if table.lengths is UNSET:
        return ()
    below = (*path, "lengths")
    if table.length is UNSET and leaves.faults.whole(path):
        message, remedy = "are said, and no length that is needed.", 'Say what a size needs, as length = "front.fly".'
        leaves.faults.tell(below, "lengths-alone", message, remedy, found="no length", allowed="length and lengths")
    sold = {leaves.length((*below, item(place)), text, 1.0) for place, text in enumerate(table.lengths)}
    return tuple(sorted(sold))


def convert_waivers(leaves: Leaves) -> tuple[Waiver, ...]:
    """All waivers, with what they name held against what is declared."""
    waivers = []
    for position, table in enumerate(leaves.document.waivers):
        path = ("waivers", item(position))
        if leaves.faults.spoiled(path):
            continue
        _check_place(leaves, (*path, "where"), table.where)
        if not table.why.strip() and not leaves.faults.spoiled((*path, "why")):
            message, remedy = "is empty.", "Say why the finding is accepted."
            leaves.faults.tell((*path, "why"), "no-reason", message, remedy, found=shown(table.why), allowed="a reason")
        if table.size is not UNSET:
            leaves.size((*path, "size"), table.size)
        waivers.append(
            Waiver(check=table.check, where=table.where, why=table.why, code=given(table.code), size=given(table.size))
        )
    return tuple(waivers)


def _check_place(leaves: Leaves, path: KeyPath, where: str) -> None:
    """A waiver's place begins with something that is declared; what lies in a piece is held against the masters."""
    document = leaves.document
    if where == WHOLE_PATTERN and where not in document.pieces:
        return
    group, _, name = where.partition(".")
    tables: dict[str, Iterable[str]] = {
        "seams": document.seams,
        "strips": document.strips,
        "notions": document.notions,
        "finished": document.finished,
        "materials": document.materials,
    }
    if group in tables and group not in document.pieces:
        leaves.known(
            path, name, tables[group], (group,), group.removesuffix("s") if group != "finished" else "finished measure"
        )
    else:
        leaves.known(path, group, document.pieces, ("pieces",), "piece")
