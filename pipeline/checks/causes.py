"""Findings of one fault told together: the likeliest cause first, what follows from it beneath.

A size of one piece that was drawn wrong leaves the row of its sizes, its seams do not close, measures and strips of it
miss their bands. The row names the piece and the size; a seam may as well be told of the piece that is right.
"""

from collections.abc import Mapping, Sequence

import msgspec

from pipeline.model.findings import Finding, Severity, blocks
from pipeline.model.pattern import Pattern, Reference, Sum

_CAUSES = (
    *(
        "edge-names",
        "size-swaps",
        "size-scales",
        "outline-spikes",
        "outline-crumbs",
        "size-copies",
        "size-mirrored",
        "size-groups",
        "size-set",
        "grain-sizes",
        "grading-steps",
        "grading-paths",
    ),
    *("body-steps", "grading-lengths", "dart-legs", "curve-kinks", "seam-lengths"),
)
"""Checks that name what is wrong rather than what comes of it, the surest first."""
_CERTAIN = (
    *("edge-names", "size-swaps", "size-scales", "size-copies", "size-mirrored", "size-groups"),
    "body-steps",
)
"""What comes of nothing else that is told: the cause, however much a finding beside it would explain."""
_MISNAMED = "edge-names"
"""It is so in every size, and what is told of the seams of its piece comes of it."""
_BETWEEN_SIZES = ("finished-grade",)
"""What is told of a step from one size to the next: a fault of either may make it."""
_OF_WHOLE_SIZES = ("size-swaps", "size-scales")
"""Where it is told of no piece it is so in every piece of its sizes, and what is told near them comes of it."""
_MARKED, _UNWRITTEN = ("proposals", "left"), (("texts", "placeholder"), ("booklet-text", "placeholder"))
"""What a first `pattern.toml` leaves to be written is one thing to do: lines that are marked, and what stands there."""
_WORST_FIRST: tuple[Severity, ...] = ("block", "warn", "info", "skip")
Places = Mapping[str, frozenset[str]]


class Group(msgspec.Struct, frozen=True):
    """Like findings of several sizes."""

    findings: tuple[Finding, ...]

    @property
    def first(self) -> Finding:
        return self.findings[0]

    @property
    def sizes(self) -> frozenset[str]:
        """The sizes that they tell of; none where they tell of all."""
        return frozenset(finding.size for finding in self.findings if finding.size is not None)

    def pieces(self, places: Places) -> frozenset[str]:
        """The piece, or those of the seam, strip, measure or notion."""
        return frozenset({self.first.piece}) if self.first.piece else places.get(self.first.where or "", frozenset())


class Cluster(msgspec.Struct, frozen=True):
    """A cause with what follows from it: one thing to do."""

    cause: Group
    effects: tuple[Group, ...] = ()

    @property
    def severity(self) -> Severity:
        """The worst of it: a cause that only warns is to be mended where what follows from it stops the release."""
        return min((group.first.severity for group in (self.cause, *self.effects)), key=_WORST_FIRST.index)

    @property
    def blocks(self) -> bool:
        """Whether any of it stops the release."""
        return any(blocks(group.first) for group in (self.cause, *self.effects))


def places_of(pattern: Pattern) -> dict[str, frozenset[str]]:
    """The pieces that a `where` of a seam, strip, measure or notion has to do with; a body measure is its own."""
    found = {
        f"seams.{name}": frozenset(step.piece for step in (*seam.a, *seam.b)) for name, seam in pattern.seams.items()
    }
    for name, strip in pattern.strips.items():
        found[f"strips.{name}"] = _of_sums(strip.length, strip.opening, strip.goes_round, strip.opens_to)
    found |= {f"body.{name}": frozenset({f"body.{name}"}) for name in pattern.body}
    for name, measure in pattern.finished.items():
        held = found.get(f"body.{name}", frozenset()) if measure.ease is not None else frozenset()
        found[f"finished.{name}"] = _of_sums(measure.sum) | held
    for name, notion in pattern.notions.items():
        counted = notion.marks.named if notion.marks is not None else ()
        found[f"notions.{name}"] = _of_sums(*(notion.length or {}).values()) | {piece for piece, _ in counted}
    return found


def _of_sums(*totals: Sum | None) -> frozenset[str]:
    terms = (term.of for total in totals if total is not None for term in total.terms)
    references = (of for of in terms if isinstance(of, Reference))
    return frozenset(f"body.{of.line}" if of.piece == "body" else of.piece for of in references)


def by_cause(groups: Sequence[Group], places: Places, ladders: Sequence[Sequence[str]]) -> list[Cluster]:
    """Each group with those that follow from it, in the order in which the groups come; nothing is told twice.

    `ladders` are the sizes that stand beside each other.
    """
    left, effects, count = list(groups), {}, len({size for sizes in ladders for size in sizes})
    marked = next((group for group in left if (group.first.check, group.first.code) == _MARKED), None)
    unwritten = tuple(group for group in left if marked and (group.first.check, group.first.code) in _UNWRITTEN)
    if marked is not None and unwritten:
        effects[id(marked)] = unwritten
        left = [group for group in left if group is not marked and group not in unwritten]
    while True:
        told = {id(group): _follow(group, left, places, ladders) for group in left if _may_be_a_cause(group, count)}
        cause = max(
            (group for group in left if told.get(id(group))),
            key=lambda group: (
                group.first.check in _CERTAIN,
                len(told[id(group)]),
                -_CAUSES.index(group.first.check),
            ),
            default=None,
        )
        if cause is None:
            break
        effects[id(cause)] = tuple(told[id(cause)])
        gone = {id(cause), *map(id, effects[id(cause)])}
        left = [group for group in left if id(group) not in gone]
    below = {id(group) for of in effects.values() for group in of}
    return [Cluster(group, effects.get(id(group), ())) for group in groups if id(group) not in below]


def _may_be_a_cause(group: Group, count: int) -> bool:
    """A fault in a few sizes of one piece: what is so in most of them is drawn so, and is no slip."""
    if group.first.check == _MISNAMED:
        return True
    return group.first.check in _CAUSES and 0 < 2 * len(group.sizes) <= count


def _follow(cause: Group, groups: Sequence[Group], places: Places, ladders: Sequence[Sequence[str]]) -> list[Group]:
    near = frozenset(
        sizes[place]
        for sizes in ladders
        for size in cause.sizes
        if size in sizes
        for place in (sizes.index(size) + step for step in (-1, 0, 1))
        if 0 <= place < len(sizes)
    )
    pieces = cause.pieces(places)
    if cause.first.check == _MISNAMED:
        seams = (group for group in groups if (group.first.where or "").startswith("seams."))
        return [group for group in seams if pieces & group.pieces(places)]
    if cause.first.check in _OF_WHOLE_SIZES and cause.first.piece is None:
        return [group for group in groups if group is not cause and group.sizes and group.sizes <= near]
    found = []
    for group in groups:
        same_piece = group.first.piece is not None and group.first.piece == cause.first.piece
        of_it = group.sizes <= (near if same_piece or group.first.check in _BETWEEN_SIZES else cause.sizes)
        if group is not cause and group.sizes and of_it and pieces & group.pieces(places):
            found.append(group)
    return found
