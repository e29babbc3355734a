"""Whatever is edited in a nested drawing, cutting it by what is known gives what cutting it anew does, findings too."""

import copy
import re
import tempfile
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from hypothesis import given, settings
from hypothesis import strategies as st

from pipeline.masters.drawings.cut import cut_drawings
from pipeline.masters.drawings.result import CutOut
from pipeline.masters.toml.load import load_pattern
from pipeline.work.cache import Answers
from tests.masters.drawings.small import AROUND, HEAD, drawing

SVG = "http://www.w3.org/2000/svg"
NUMBER = re.compile(r"-?\d+(\.\d+)?")
SPARE = (
    '<defs><g id="mark"><circle cx="90" cy="20" r="1"/></g></defs><g data-name="Size S"><g data-name="Front panel">'
    '<g data-name="notches" class="shy"><use href="#mark"/></g></g></g><style>.quiet { fill: none }</style>'
)
ATTRIBUTES = {
    "transform": ["translate(3 -2)", "scale(2)", "rotate(5)", "translate(1e12) translate(-1e12)", "turn(3)"],
    "style": ["display:none", "display:inline", "fill:red", "visibility:hidden", "transform:scale(2)", "display:no"],
    "display": ["none", "inline"],
    "visibility": ["hidden", "visible"],
    "class": ["shy", "quiet"],
    "id": ["mark", "seam-s", "first"],
    "data-name": ["Size S", "Size L", "Klappe", "notches", "seam", "inside", "names", "Front old", "34"],
    "viewBox": ["0 0 700 400", "0 0 350 200", "10 5 700 400", "0 0 0 0"],
    "width": ["700mm", "350mm", "700px", "700"],
    "preserveAspectRatio": ["none", "xMinYMin slice"],
    "transform-origin": ["3 4"],
}
SHEETS = [".quiet { fill: red }", ".shy { display: none }", "g { visibility: hidden }", "#mark { display: none }", "@x"]
SAID = ["", "pixels_per_inch = 96\n", "pixels_per_inch = 72\n", "by_shape = true\n"]
ELSE = ["text", "a", "switch", "svg", "symbol", "clipPath"]

attribute = st.sampled_from(sorted(ATTRIBUTES)).flatmap(
    lambda key: st.tuples(st.just("attribute"), st.just(key), st.sampled_from([None, *ATTRIBUTES[key]]))
)
number = st.tuples(st.just("number"), st.integers(0, 11), st.sampled_from(["0", "21", "-3.5", "1e9", "1e-9", "nan"]))
wrapped = st.tuples(st.just("wrapped"), st.sampled_from(["g", *ELSE]), st.sampled_from(ATTRIBUTES["transform"]))
other = st.tuples(st.sampled_from(["deleted", "twice", "first", "used"]), st.none(), st.none())
sheet = st.tuples(st.just("sheet"), st.sampled_from(SHEETS), st.none())
said = st.tuples(st.just("said"), st.sampled_from(SAID), st.none())
edits = st.tuples(st.integers(0, 200), st.one_of(number, attribute, wrapped, other, sheet, said), st.booleans())


class Editor:
    """A drawing and what is said of it, edited step by step; an edit may be taken back after it was cut."""

    def __init__(self) -> None:
        self.root, self.said = ElementTree.fromstring(drawing(more=SPARE)), ""

    def edit(self, index: int, change: tuple[str, Any, Any]) -> None:
        """One change of one element."""
        what, first, second = change
        above = {child: parent for parent in self.root.iter() for child in parent}
        nodes = list(self.root.iter())
        node = nodes[index % len(nodes)]
        if what == "said":
            self.said = first
        elif what == "sheet":
            next(each for each in nodes if each.tag.endswith("style")).text = first
        elif what == "attribute":
            node.attrib.pop(first, None)
            node.attrib |= {first: second} if second else {}
        elif what == "number":
            self._number(node, first, second)
        elif node in above:
            self._moved(node, above[node], what, first, second)

    def _number(self, node: ElementTree.Element, first: int, second: str) -> None:
        for key in ("d", "points", "cx", "cy", "r"):
            said = node.get(key, "")
            places = list(NUMBER.finditer(said))
            if places:
                at = places[first % len(places)]
                node.set(key, said[: at.start()] + second + said[at.end() :])
                return

    def _moved(
        self, node: ElementTree.Element, parent: ElementTree.Element, what: str, tag: str, transform: str
    ) -> None:
        at = list(parent).index(node)
        if what != "twice" and what != "used":
            parent.remove(node)
        if what == "wrapped":
            around = ElementTree.Element(f"{{{SVG}}}{tag}", {"transform": transform})
            around.append(node)
            parent.insert(at, around)
        elif what == "twice":
            parent.insert(at, copy.deepcopy(node))
        elif what == "first":
            parent.insert(0, node)
        elif what == "used":
            node.set("id", node.get("id", "copied"))
            parent.insert(at, ElementTree.Element(f"{{{SVG}}}use", {"href": f"#{node.get('id')}", "x": "2"}))

    def text(self) -> str:
        return ElementTree.tostring(self.root, encoding="unicode")


def cut(place: Path, editor: Editor, known: bool) -> CutOut:
    """What the drawing shows, by what was kept the last time or without."""
    folder = place / "bag"
    folder.mkdir(exist_ok=True)
    (folder / "pattern.toml").write_text(HEAD + editor.said + AROUND, encoding="utf-8")
    (folder / "nest.svg").write_text(editor.text(), encoding="utf-8")
    pattern, _ = load_pattern(folder)
    assert pattern is not None
    answers = Answers(place / "known", "pipeline.masters.drawings.cut") if known else None
    found = cut_drawings(pattern, folder, answers)
    if answers is not None:
        answers.save()
    return found


@settings(max_examples=60)
@given(st.lists(edits, min_size=1, max_size=6))
def test_what_is_kept_equals_what_is_made_anew(changes: list[tuple[int, tuple[str, str, str], bool]]) -> None:
    ElementTree.register_namespace("", SVG)
    with tempfile.TemporaryDirectory() as name:
        place, editor = Path(name), Editor()
        cut(place, editor, known=True)
        for index, change, stays in changes:
            before = copy.deepcopy(editor.root), editor.said
            editor.edit(index, change)
            assert cut(place, editor, known=True) == cut(place, editor, known=False)
            if not stays:
                editor.root, editor.said = before
        assert cut(place, editor, known=True) == cut(place, editor, known=False)
