"""What the shapes of a drawing are painted with, where all of it can be told: plain colours, whole strokes.

Of CSS that is: attributes, then rules of style sheets by specificity, then an element's own style; what is inherited is
taken from what an element lies in (CSS Cascading 3; SVG 1.1, 6.2 and 11). All else, as gradients, filters and what is
seen through, is refused.
"""

from collections.abc import Sequence
from itertools import chain
from typing import NamedTuple

import tinycss2
from tinycss2.ast import Declaration, QualifiedRule
from tinycss2.color3 import RGBA, parse_color

from pipeline.masters.svg.fault import SvgFault, excerpt
from pipeline.masters.svg.numbers import PIXELS_PER_INCH, user_length
from pipeline.masters.svg.style import Rule, rule_of
from pipeline.masters.svg.tree import Node

_INHERITED = {
    "fill": "black",
    "fill-rule": "nonzero",
    "fill-opacity": "1",
    "stroke": "none",
    "stroke-opacity": "1",
    "stroke-width": "1",
    "stroke-linecap": "butt",
    "stroke-linejoin": "miter",
    "stroke-miterlimit": "4",
    "stroke-dasharray": "none",
    "color": "black",
    "paint-order": "normal",
    **dict.fromkeys(("marker", "marker-start", "marker-mid", "marker-end"), "none"),
}
"""Properties that an element takes from what it lies in, with what they are at first."""
_OWN = {
    "opacity": ("1", "see-through"),
    "filter": ("none", "filter"),
    "mask": ("none", "clip"),
    "clip-path": ("none", "clip"),
    "mix-blend-mode": ("normal", "see-through"),
    "vector-effect": ("none", "stroke"),
}
"""Properties that count for all within an element: the value that changes nothing, and the fault of any other."""
_TOLD = {
    "gradient": ("is painted with a gradient or a pattern", "Give it one plain colour."),
    "colour": ("is painted in a colour that is not read", "Give it one plain colour, as #1f5a57."),
    "see-through": ("is seen through", "Make it opaque, in the colour that it comes out in."),
    "filter": ("has a filter", "Take the filter out."),
    "clip": ("is clipped or masked", "Cut the shapes themselves, so that nothing needs to be hidden."),
    "stroke": ("has a stroke that is not drawn so here", "Turn the stroke into a path."),
}


class Stroke(NamedTuple):
    """A stroke in user units."""

    colour: str
    width: float
    cap: str
    join: str
    mitre_limit: float


class Paint(NamedTuple):
    """Fill, the rule by which it is filled, and stroke; None where there is none."""

    fill: str | None
    even_odd: bool
    stroke: Stroke | None


class Paints:
    """The paints of a file, whose style sheets are read once. Raises SvgFault for a sheet that is not read."""

    def __init__(self, root: Node) -> None:
        self._rules: list[tuple[Rule, dict[str, str]]] = []
        for node in root.walk():
            if node.tag == "style":
                self._add(node.text)

    def of(self, node: Node, within: Sequence[Node]) -> Paint:
        """What a shape is painted with; `within` are its ancestors. Raises SvgFault where it cannot be drawn true."""
        found = dict(_INHERITED)
        for each in (*within, node):
            declared = self._declared(each)
            for name, (nothing, code) in _OWN.items():
                if not _same(declared.get(name, nothing), nothing):
                    raise _refused(code, f"{name}: {declared[name]}")
            found |= {name: value for name, value in declared.items() if name in _INHERITED and value != "inherit"}
        return Paint(_colour(found, "fill"), found["fill-rule"] == "evenodd", _stroke(found))

    def _add(self, text: str) -> None:
        for rule in tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True):
            if isinstance(rule, QualifiedRule) and (declared := _declarations(rule.content)):
                for selector in tinycss2.serialize(rule.prelude).split(","):
                    self._rules.append((rule_of(selector.strip(), {}, len(self._rules)), declared))

    def _declared(self, node: Node) -> dict[str, str]:
        classes = frozenset(node.attributes.get("class", "").split())
        found = {name: node.attributes[name].strip() for name in chain(_INHERITED, _OWN) if name in node.attributes}
        fitting = [each for each in self._rules if each[0].fits(node, classes)]
        for _, declared in sorted(fitting, key=lambda each: each[0].weight):
            found |= declared
        return found | _declarations(node.attributes.get("style", ""))


def _declarations(text: object) -> dict[str, str]:
    found = {}
    for token in tinycss2.parse_blocks_contents(text, skip_comments=True, skip_whitespace=True):
        if isinstance(token, Declaration) and (token.lower_name in _INHERITED or token.lower_name in _OWN):
            value = tinycss2.serialize(token.value).strip()
            if token.important:
                raise SvgFault(
                    "important",
                    f"A style says {excerpt(token.name, 20)}: {excerpt(value, 30)} !important, which is not read.",
                    "Save the file again as plain SVG with its style in presentation attributes.",
                    value,
                    "no !important",
                )
            found[token.lower_name] = value
    return found


def _same(value: str, nothing: str) -> bool:
    try:
        return float(value) == float(nothing)
    except ValueError:
        return value in (nothing, "auto", "initial", "inherit", "100%")


def _colour(found: dict[str, str], name: str) -> str | None:
    """ "#rrggbb"; None where nothing is painted."""
    value = found[name]
    if value in ("none", "transparent"):
        return None
    if "url(" in value.lower():
        raise _refused("gradient", f"{name}: {value}")
    colour = parse_color(found["color"] if value.lower() == "currentcolor" else value)
    if not isinstance(colour, RGBA):
        raise _refused("colour", f"{name}: {value}")
    if colour.alpha != 1 or not _same(found[f"{name}-opacity"], "1"):
        raise _refused("see-through", f"{name}: {value}")
    return "#" + "".join(f"{round(255 * part):02x}" for part in colour[:3])


def _stroke(found: dict[str, str]) -> Stroke | None:
    colour = _colour(found, "stroke")
    width_text = found["stroke-width"]
    width = user_length(width_text, "stroke-width", 0.0, PIXELS_PER_INCH)
    if colour is None or (width == 0 and "%" not in width_text):
        return None
    for name, plain in (
        ("stroke-dasharray", ("none", "0")),
        ("stroke-linejoin", ("miter", "round", "bevel")),
        ("stroke-linecap", ("butt", "round", "square")),
        ("paint-order", ("normal", "fill", "fill stroke", "fill stroke markers")),
        *((name, ("none",)) for name in ("marker", "marker-start", "marker-mid", "marker-end")),
    ):
        if found[name] not in plain:
            raise _refused("stroke", f"{name}: {found[name]}")
    if "%" in width_text or width < 0:
        raise _refused("stroke", f"stroke-width: {width_text}")
    limit = user_length(found["stroke-miterlimit"], "stroke-miterlimit", 0.0, PIXELS_PER_INCH)
    return Stroke(colour, width, found["stroke-linecap"], found["stroke-linejoin"], limit)


def _refused(code: str, found: str) -> SvgFault:
    message, remedy = _TOLD[code]
    return SvgFault(code, f"The object {message}: {excerpt(found, 50)}.", remedy, found, "plain colours, whole strokes")
