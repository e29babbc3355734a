"""The objects of one drawing, each put where the names on its way say: size, piece and role."""

from collections import Counter
from collections.abc import Callable, Sequence

import msgspec

from pipeline.masters.drawings.by_shape import Loose, by_shape
from pipeline.masters.drawings.files import listed
from pipeline.masters.drawings.layers import (
    NAMES,
    ROLES,
    AmbiguousNameError,
    Said,
    Vocabulary,
    by_person,
    layer_name,
    object_name,
)
from pipeline.masters.drawings.result import Unplaced
from pipeline.masters.lookup import EVERY_SIZE
from pipeline.masters.source_file import LARGEST_DRAWING
from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.known_groups import KnownGroups
from pipeline.masters.svg.reading import FileUnusableError, Reading
from pipeline.masters.svg.tree import Limits, Node, parse_svg
from pipeline.masters.svg.walk import Shape, drawn_objects
from pipeline.masters.svg.words import Words
from pipeline.model.pattern import Pattern
from pipeline.model.sizes import common_size

OF_DRAWING = Limits(
    characters=LARGEST_DRAWING,
    elements=100_000,
    segments=250_000,
    rest="Take out what is no part of the pattern, or keep a drawing a size: all pieces of a size are a few thousand"
    " elements.",
)
"""Five times a master's: twenty pieces in forty sizes."""
_NOTHING_SAID = frozenset(("text", "ungrouped"))
"""What masters tell of as not read, and drawings are full of."""


class Drawn(msgspec.Struct, kw_only=True):
    """What a drawing shows of one piece in one size, or set of sizes: its objects by role. `way` names its layers."""

    size: str
    piece: str
    file: str
    way: str
    shapes: dict[str, list[Shape]]


class Sorted(msgspec.Struct, frozen=True, kw_only=True):
    """One drawing, sorted. `words` name edges, each with the piece that its layers say; `hidden` are hidden layers."""

    file: str
    drawn: dict[tuple[str, str], Drawn]
    words: tuple[tuple[str | None, Words], ...]
    unplaced: dict[Unplaced, int]
    hidden: tuple[str, ...]


class DrawingReading(Reading):
    """The findings of one drawing, or of a piece in it; objects are told with the layers on their way."""

    def __init__(self, pattern: str, size: str | None, piece: str | None, file: str) -> None:
        super().__init__(pattern, size, piece, file)
        self.hidden: dict[str, None] = {}

    def ignored(self, kind: str, node: Node) -> None:
        if kind == "hidden":
            self.hidden.setdefault(layer_name(node) or node.described)
        if kind not in _NOTHING_SAID:
            super().ignored(kind, node)

    @property
    def silent(self) -> bool:
        """Whether nothing was told so far, and nothing left out."""
        return not (self._findings or self._ignored)

    def described(self, node: Node) -> str:
        way = way_text(ancestors(node))
        return f"{node.described}, in {way}" if way else node.described


def ancestors(node: Node) -> tuple[Node, ...]:
    """From the root down to the element above."""
    above: list[Node] = []
    while node.parent is not None:
        node = node.parent
        above.append(node)
    return tuple(reversed(above))


def way_text(within: tuple[Node, ...]) -> str:
    """The names of the groups on the way to an object."""
    return " / ".join(excerpt(name, 40) for node in within[1:] if (name := layer_name(node)))


def sort_objects(
    pattern: Pattern, vocabulary: Vocabulary, file: str, data: bytes, reading: DrawingReading, known: KnownGroups
) -> Sorted | None:
    """The objects of a drawing by size and piece; None where the file cannot be used (told)."""
    try:
        shapes, words = _objects(pattern, file, data, reading, known)
    except SvgFault as fault:
        reading.tell_fault(fault)
        return None
    except FileUnusableError:
        return None
    if reading.incomplete:
        return None
    sorting = _Sorting(pattern, vocabulary, file, reading)
    for shape in shapes:
        sorting.put(shape)
    sorting.put_loose()
    for text in words:
        sorting.put_words(text)
    hidden = tuple(reading.hidden)
    return Sorted(
        file=file, drawn=sorting.drawn, words=tuple(sorting.words), unplaced=dict(sorting.unplaced), hidden=hidden
    )


def _objects(
    pattern: Pattern, file: str, data: bytes, reading: DrawingReading, known: KnownGroups
) -> tuple[Sequence[Shape], Sequence[Words]]:
    if not file.endswith(".dxf"):
        return drawn_objects(parse_svg(data, OF_DRAWING), reading, pattern.pixels_per_inch, OF_DRAWING, known)
    from pipeline.masters.drawings.dxf import dxf_objects  # and its libraries: few drawings are DXF

    derived = (name for name, piece in pattern.pieces.items() if piece.source)
    return dxf_objects(data, reading, OF_DRAWING, {*derived, *pattern.strips})


class _Sorting:
    def __init__(self, pattern: Pattern, vocabulary: Vocabulary, file: str, reading: DrawingReading) -> None:
        self.pattern, self.vocabulary, self.file, self.reading = pattern, vocabulary, file, reading
        self.drawn: dict[tuple[str, str], Drawn] = {}
        self.words: list[tuple[str | None, Words]] = []
        self.unplaced: Counter[Unplaced] = Counter()
        self.loose: list[Loose] = []
        self._ways: dict[tuple[Node, ...], Said | None] = {}
        self._layers: dict[Node, Said] = {}
        parts = file.removesuffix(".svg").removesuffix(".dxf").split("/")
        self._of_file = [self._said(part, vocabulary.said_of_file) for part in parts]
        pieces = [piece.name for piece in pattern.pieces.values() if piece.source is None]
        self._sets_of_base = [name for name, sizes in pattern.size_sets.items() if pattern.base in sizes]
        self._only_size = pattern.sizes[0] if len(pattern.sizes) == 1 else None
        self._only_piece = pieces[0] if len(pieces) == 1 else None

    def put(self, shape: Shape) -> None:
        """One object into its place."""
        said = self._way(shape.within, shape.node)
        if said is None:
            return
        name = clean_name(shape)
        if said.piece is None and name and (own := self._said(name).piece) is not None:
            said, name = msgspec.structs.replace(said, piece=own), ""  # its name says which piece it is, not which edge
        size, piece = said.size or self._only_size, said.piece or self._only_piece
        lacks = [what for what, there in (("size", size), ("piece", piece), ("role", said.role)) if not there]
        if said.role == NAMES:
            lacks = ["text"]
        named = msgspec.structs.replace(shape, name=name or None)
        if self.pattern.by_shape and said.role is None and size is not None and not self._in_unknown(shape.within):
            self.loose.append(Loose(size, piece, named))
        elif lacks or size is None or piece is None or said.role is None:
            self._leave(shape, lacks, said.role)
        else:
            self._put(size, piece, said.role, named)

    def _put(self, size: str, piece: str, role: str, shape: Shape) -> None:
        drawn = self.drawn.get((size, piece))
        if drawn is None:
            way = way_text(self._to_piece(shape.within))
            drawn = self.drawn[size, piece] = Drawn(size=size, piece=piece, file=self.file, way=way, shapes={})
        drawn.shapes.setdefault(role, []).append(shape)

    def _leave(self, shape: Shape, lacks: Sequence[str], role: str | None) -> None:
        self.unplaced[Unplaced(self._unknown(shape.within), tuple(lacks), role)] += 1

    def put_loose(self) -> None:
        """The objects without a role, by their shape, where no group of that piece and size says what is its seam."""
        said = {key for key, drawn in self.drawn.items() if "seam" in drawn.shapes}
        placed, left = by_shape([each for each in self.loose if (each.size, each.piece) not in said])
        for each in placed:
            self._put(each.size, each.piece, each.role, each.shape)
        for loose in (*left, *(each for each in self.loose if (each.size, each.piece) in said)):
            lacks = [what for what, there in (("size", loose.size), ("piece", loose.piece)) if not there]
            self._leave(loose.shape, [*lacks, "role"], None)

    def put_words(self, text: Words) -> None:
        """A text, where it lies in a group of names and in the base size, or in none."""
        said = self._way(text.within, text.node)
        if said is None or said.role != NAMES:
            return
        if said.size in (None, self.pattern.base, EVERY_SIZE, *self._sets_of_base):
            self.words.append((said.piece, text))
            return
        self.reading.tell(
            "names-of-another-size",
            f"Texts that name edges are read of the base size, {self.pattern.base}; those of other sizes are not.",
            "Nothing: the other sizes take the names over.",
            severity="info",
            found=said.size or "",
            allowed=self.pattern.base,
        )

    def _unknown(self, within: tuple[Node, ...]) -> str:
        """The names that say nothing, or all where each says something."""
        unknown = [node for node in within[1:] if object_name(node) and self._of_layer(node) == Said()]
        return way_text((within[0], *unknown)) if unknown else way_text(within)

    def _in_unknown(self, within: tuple[Node, ...]) -> bool:
        """Whether a group on the way has a name that says nothing: what lies there is something else."""
        return any(object_name(node) and self._of_layer(node) == Said() for node in within[1:])

    def _to_piece(self, within: tuple[Node, ...]) -> tuple[Node, ...]:
        """The way without the group that says the role alone."""
        said = {node: self._of_layer(node) for node in within}
        return tuple(node for node in within if said[node].role is None or said[node].size or said[node].piece)

    def _way(self, within: tuple[Node, ...], node: Node) -> Said | None:
        """What the names on the way say together; None where two of them contradict each other (told)."""
        if within not in self._ways:
            self._ways[within] = self._together(within, node)
        return self._ways[within]

    def _together(self, within: tuple[Node, ...], node: Node) -> Said | None:
        all_said = [*self._of_file, *map(self._of_layer, within)]
        role = next((said.role for said in reversed(all_said) if said.role), None)
        found: dict[str, str | None] = {}
        for kind in ("size", "piece"):
            values = list(dict.fromkeys(value for said in all_said if (value := getattr(said, kind)) is not None))
            if kind == "size" and len(values) > 1 and (common := common_size(self.pattern, values)):
                values = [common]
            if len(values) > 1:
                self.reading.tell(
                    "names-contradict",
                    f"The names on the way to an object say the {kind}s {listed(values)}: {way_text(within)}"
                    f" in {self.file}.",
                    f"Let one {kind} be said on the way: move the layer, or rename it.",
                    node=node,
                    found=", ".join(values),
                    allowed=f"one {kind}",
                )
                return None
            found[kind] = values[0] if values else None
        return Said(role=role, size=found["size"], piece=found["piece"])

    def _of_layer(self, node: Node) -> Said:
        """What the name of a layer or group says, read once however much lies in it."""
        if node not in self._layers:
            self._layers[node] = self._said(layer_name(node))
        return self._layers[node]

    def _said(self, name: str, read: Callable[[str], Said] | None = None) -> Said:
        try:
            return (read or self.vocabulary.said)(name)
        except AmbiguousNameError as ambiguous:
            ways = [" ".join(filter(None, (said.size, said.piece, said.role))) for said in ambiguous.readings]
            self.reading.tell(
                "name-ambiguous",
                f"The name {excerpt(name, 40)!r} can mean {listed(ways)}.",
                "Name the layer as pattern.toml does, or give the pieces titles that differ.",
                found=name,
                allowed="a name that means one thing",
            )
            return Said()


def clean_name(shape: Shape) -> str:
    """The name that a person gave an object; "" for none, for an editor's own, and for a <use> that is a group."""
    name = object_name(shape.node)
    if not name and shape.node.tag == "use":
        name = by_person(shape.name or "")
    if any(node is shape.node for node in shape.within) and name.lower() in ROLES:
        return ""
    return name
