"""The walk through a guarded tree: every shape that is drawn, in mm, and every fault of the whole file.

What is not drawn (definitions, hidden layers) is walked too, for its faults only.
"""

from collections.abc import Iterator

import msgspec

from pipeline.geometry.points import Affine
from pipeline.masters.svg.counts import Counts
from pipeline.masters.svg.fault import SvgFault
from pipeline.masters.svg.kinds import CLIPS, CONTAINERS, IMAGES, MOVING, NOT_DRAWN, TEXT, TRANSFORMS
from pipeline.masters.svg.known_groups import QUIET, KnownGroups, Strokes, plain_groups
from pipeline.masters.svg.limits import check_placed, check_reach
from pipeline.masters.svg.numbers import PIXELS_PER_INCH
from pipeline.masters.svg.placing import Placing, check_digits, placing
from pipeline.masters.svg.reading import Reading
from pipeline.masters.svg.references import circular_targets, href_of, nodes_by_id
from pipeline.masters.svg.shapes import SHAPES, Measure, shape_of
from pipeline.masters.svg.style import Styles
from pipeline.masters.svg.transform import parse_transform
from pipeline.masters.svg.tree import MOST_DEPTH, OF_MASTER, Limits, Node
from pipeline.masters.svg.viewport import Viewport, fitted, root_viewport
from pipeline.masters.svg.words import Words, words_of

_AS_IT_IS = Placing()


class Shape(msgspec.Struct, frozen=True):
    """A shape that is drawn. `node` is what to tell of it: the shape, or the first `use` that repeats it.

    `strokes` are in mm; `within` are its ancestors, every `use` included. `own` is the shape itself, `to_mm`
    the map of its user units.
    """

    node: Node
    tag: str
    name: str | None
    strokes: Strokes
    within: tuple[Node, ...]
    own: Node | None = None
    to_mm: Affine = Affine()


class _Place(msgspec.Struct, frozen=True):
    """Where the walk stands: the map to mm, the viewport, what is drawn, and the trail of ancestors."""

    to_mm: Placing
    viewport: Viewport
    drawn: bool = True
    visible: bool = True
    within: tuple[Node, ...] = ()
    use_name: str | None = None


def drawn_objects(
    root: Node,
    reading: Reading,
    pixels_per_inch: float | None,
    limits: Limits = OF_MASTER,
    known: KnownGroups | None = None,
) -> tuple[tuple[Shape, ...], tuple[Words, ...]]:
    """Every shape and text that is drawn, in the order of the file, within `limits`. Raises FileUnusableError."""
    walk = _Walk(root, reading, pixels_per_inch, limits, known)
    walk.from_root(root)
    return tuple(walk.shapes), tuple(walk.words)


class _Walk:
    def __init__(
        self, root: Node, reading: Reading, pixels_per_inch: float | None, limits: Limits, known: KnownGroups | None
    ) -> None:
        self.reading, self.pixels_per_inch, self.known = reading, pixels_per_inch, known
        self.shapes: list[Shape] = []
        self.words: list[Words] = []
        nodes = tuple(root.walk())
        self._by_id = nodes_by_id(nodes, reading)
        self._circular = circular_targets(nodes, self._by_id, reading)
        self.counts = Counts(limits, reading)
        self._maps: dict[tuple[Node, bool], Placing] = {}
        self._styles = Styles()
        self._plain = plain_groups(nodes) if known is not None else {}
        self._sheets = [node.text for node in nodes if node.tag == "style"]
        for node in nodes:
            if node.tag == "style":
                reading.attempt(node, lambda text=node.text: self._styles.add(text))  # type: ignore[misc]

    def from_root(self, root: Node) -> None:
        try:
            to_mm, viewport = root_viewport(root, self.pixels_per_inch)
        except SvgFault as fault:
            self.reading.tell_fault(fault, root)
            self.reading.incomplete = True
            # A page without a size is still read, at 1 mm a unit, so that the rest of its faults are told.
            to_mm, viewport = Placing(), Viewport(1.0, 1.0)
        if self._transform(root) != _AS_IT_IS:
            self.reading.tell(
                "transform-on-root",
                "The root <svg> carries a transform, which programs apply differently.",
                "Put the drawing into a group and move the transform there.",
                node=root,
                found=root.attributes.get("transform", ""),
                allowed="no transform on the root",
            )
        place = self._hiding(root, _Place(to_mm, viewport))
        self._children(root, msgspec.structs.replace(place, within=(root,)))

    def _visit(self, node: Node, place: _Place) -> None:
        self.counts.element(node)
        if len(place.within) >= MOST_DEPTH:
            self.reading.tell(
                "too-deep",
                f"Elements and what they repeat by <use> are nested more than {MOST_DEPTH} deep.",
                "Resolve the <use> elements: replace copies by what they show.",
                node=node,
                found=f"{MOST_DEPTH + 1} or more",
                allowed=str(MOST_DEPTH),
            )
            return
        if not node.tag:
            return
        place = self._hiding(node, place)
        own = self._transform(node, place.drawn)
        if own != _AS_IT_IS:
            place = msgspec.structs.replace(place, to_mm=place.to_mm.after(own))
        tag = node.tag
        if tag in SHAPES:
            self._shape(node, place)
        elif tag == "use":
            self._use(node, place)
        elif tag == "svg":
            inner = self.reading.attempt(node, lambda: self._nested(node, place), place.drawn)
            self._children(node, msgspec.structs.replace(place, **(inner or {}), within=(*place.within, node)))
        elif tag in CONTAINERS:
            self._group(node, msgspec.structs.replace(place, within=(*place.within, node)))
        else:
            self._ignore(node, place)

    def _group(self, node: Node, inside: _Place) -> None:
        """What a group holds: as it is known, where nothing that it comes of has changed."""
        plain = self._plain.get(node)
        repeated = any(above.tag == "use" for above in inside.within)
        if self.known is None or plain is None or repeated or not (inside.drawn and inside.visible):
            self._children(node, inside)
            return
        made_from = (plain.digest, inside.to_mm, inside.viewport, self.pixels_per_inch, self._sheets)
        strokes = self.known.group(made_from)
        if strokes is not None and self.counts.known(plain, strokes):
            self._take(node, inside.within, iter(strokes))
            return
        noticed, before = self.reading.noticed, len(self.shapes)
        self._children(node, inside)
        found = tuple(shape.strokes for shape in self.shapes[before:])
        if self.reading.noticed == noticed and len(found) == plain.shapes:
            self.known.keep_group(made_from, found)

    def _take(self, node: Node, within: tuple[Node, ...], strokes: Iterator[Strokes]) -> None:
        for child in node.children:
            if child.tag in SHAPES:
                self.shapes.append(Shape(child, child.tag, child.name, next(strokes), within))
            elif child.tag == "g":
                self._take(child, (*within, child), strokes)

    def _children(self, node: Node, place: _Place) -> None:
        chosen = False
        for child in node.children:
            drawn = place.drawn
            if node.tag == "switch" and child.tag in SHAPES.keys() | CONTAINERS | {"use"}:
                if chosen or {"requiredExtensions", "systemLanguage"} & child.attributes.keys():
                    drawn = False
                    self.reading.ignored("alternative", child)
                else:
                    chosen = True
            self._visit(child, place if drawn == place.drawn else msgspec.structs.replace(place, drawn=drawn))

    def _ignore(self, node: Node, place: _Place) -> None:
        """What is not geometry: told once a kind, its content walked for faults."""
        tag = node.tag
        kinds = (("text", TEXT), ("image", IMAGES), ("clip", CLIPS), ("animation", MOVING))
        kind = next((kind for kind, tags in kinds if tag in tags), None)
        if kind and place.drawn:
            self.reading.ignored(kind, node)
        if tag in TEXT | IMAGES:
            self.reading.attempt(node, lambda: check_placed(node), False)
        if tag == "text" and place.drawn and place.visible:
            words = self.reading.attempt(node, lambda: words_of(node, place.to_mm, place.within), False)
            self.words += [words] if words else []
        if tag not in QUIET:
            inside = msgspec.structs.replace(place, drawn=False, within=(*place.within, node))
            self._children(node, inside)

    def _hiding(self, node: Node, place: _Place) -> _Place:
        """The place with what the element's style says of hiding. A hidden object is told by its topmost ancestor."""
        declared = self.reading.attempt(node, lambda: self._styles.hiding(node), place.drawn) or {}
        if "style" in node.attributes and (node.tag in SHAPES or node.tag in ("use", "svg", "image")):
            self.reading.attempt(node, lambda: self._styles.declarations(node.attributes["style"]), place.drawn)
        if "transform-origin" in node.attributes:
            self.reading.attempt(
                node, lambda: self._styles.declarations(f"transform-origin:{node.attributes['transform-origin']}")
            )
        if not declared:
            return place
        own = declared.get("visibility")
        visible = place.visible if own is None else own
        drawn = place.drawn and declared.get("display") is not False
        if place.drawn and not drawn and node.tag not in NOT_DRAWN | CLIPS:
            self.reading.ignored("hidden", node)
        return msgspec.structs.replace(place, visible=visible, drawn=drawn)

    def _transform(self, node: Node, drawn: bool = True) -> Placing:
        """An element's own map, read once however often the element is repeated."""
        if (node, drawn) not in self._maps:
            self._maps[node, drawn] = self._read_transform(node, drawn)
        return self._maps[node, drawn]

    def _read_transform(self, node: Node, drawn: bool) -> Placing:
        own = _AS_IT_IS
        for key in TRANSFORMS:
            text = node.attributes.get(key)
            if text is not None and text.strip() not in ("", "none"):
                found = self.reading.attempt(node, lambda text=text: parse_transform(text), drawn)  # type: ignore[misc]
                own = found if found is not None and key == "transform" else own
        return own

    def _nested(self, node: Node, place: _Place) -> dict[str, object]:
        measure = self._measure(node, place)
        x, y = measure.across("x"), measure.down("y")
        return self._into(node, place, x, y, measure.across("width", "100%"), measure.down("height", "100%"))

    def _into(self, node: Node, place: _Place, x: float, y: float, width: float, height: float) -> dict[str, object]:
        if width <= 0 or height <= 0:
            raise SvgFault(
                "negative-size",
                f"The <{node.tag}> is {width:g} wide and {height:g} high: nothing can be shown in it.",
                "Give it a size above 0, or delete it.",
                f"{width:g} x {height:g}",
                "above 0",
            )
        inside, viewport = fitted(node, x, y, width, height)
        return {"to_mm": place.to_mm.after(inside), "viewport": viewport}

    def _measure(self, node: Node, place: _Place) -> Measure:
        return Measure(node, place.viewport, self.pixels_per_inch or PIXELS_PER_INCH)

    def _use(self, node: Node, place: _Place) -> None:
        placed = self.reading.attempt(node, lambda: self._use_place(node, place), place.drawn)
        href = href_of(node)
        target = self._by_id.get(href[1:]) if href.startswith("#") else None
        if placed is None or not place.drawn:
            return
        if target is None or target in self._circular:
            self.reading.incomplete = True
            return
        name = node.name if place.use_name is None else place.use_name
        within = (*placed.within, node)
        inside = msgspec.structs.replace(placed, use_name=name, within=within)
        if target.tag in ("symbol", "svg"):
            sized = self.reading.attempt(target, lambda: self._use_viewport(node, target, inside))
            if sized is not None:
                hidden = self._hiding(target, msgspec.structs.replace(inside, **sized))
                self._children(target, msgspec.structs.replace(hidden, within=(*within, target)))
        elif target.tag in SHAPES or target.tag in CONTAINERS or target.tag == "use":
            self._visit(target, inside)

    def _use_place(self, node: Node, place: _Place) -> _Place:
        measure = self._measure(node, place)
        shift = placing(Affine(e=measure.across("x"), f=measure.down("y")))
        return msgspec.structs.replace(place, to_mm=place.to_mm.after(shift))

    def _use_viewport(self, node: Node, target: Node, place: _Place) -> dict[str, object]:
        """The viewport of a symbol or nested svg that is used: the size of the <use> counts before its own."""
        use, own = self._measure(node, place), self._measure(target, place)
        width = use.across("width") if "width" in node.attributes else own.across("width", "100%")
        height = use.down("height") if "height" in node.attributes else own.down("height", "100%")
        moved = msgspec.structs.replace(place, to_mm=place.to_mm.after(self._transform(target)))
        return self._into(target, moved, own.across("x"), own.down("y"), width, height)

    def _shape(self, node: Node, place: _Place) -> None:
        strokes = self.reading.attempt(node, lambda: self._strokes(node, place), place.drawn)
        if not place.drawn:
            return
        if not place.visible:
            self.reading.ignored("hidden", node)
        elif strokes is not None:
            name = node.name if place.use_name is None else place.use_name
            told = next((above for above in place.within if above.tag == "use"), node)
            self.shapes.append(Shape(told, node.tag, name, strokes, place.within, node, place.to_mm.map))

    def _strokes(self, node: Node, place: _Place) -> Strokes:
        own = shape_of(node, self._measure(node, place))
        strokes = tuple(stroke.mapped(place.to_mm.map) for stroke in own)
        self.counts.segments(strokes)
        check_reach(strokes)
        check_digits(own, place.to_mm)
        return strokes
