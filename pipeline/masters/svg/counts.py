"""What the walk through a file counts, with every `use` written out, so that a bomb ends at its limit."""

from operator import gt

from pipeline.masters.svg.known_groups import PlainGroup, Strokes
from pipeline.masters.svg.numbers import too_many_segments
from pipeline.masters.svg.reading import FileUnusableError, Reading
from pipeline.masters.svg.tree import Limits, Node


class Counts:
    """Elements that were visited, characters of their attributes, and segments of their strokes."""

    def __init__(self, limits: Limits, reading: Reading) -> None:
        self.limits, self.reading = limits, reading
        self._elements = self._characters = self._segments = 0

    def element(self, node: Node) -> None:
        """Counts a visit. Raises FileUnusableError, as does `segments`."""
        self._elements += 1
        self._characters += sum(map(len, node.attributes.values()))
        self._hold()

    def segments(self, strokes: Strokes) -> None:
        """Counts the segments of a shape."""
        self._segments += sum(len(stroke.segments) for stroke in strokes)
        self._hold()

    def known(self, group: PlainGroup, strokes: tuple[Strokes, ...]) -> bool:
        """Counts all that a known group holds; False where a limit would be met in it, and nothing is counted."""
        counts = (
            self._elements + group.elements,
            self._characters + group.characters,
            self._segments + sum(len(stroke.segments) for each in strokes for stroke in each),
        )
        limits = self.limits
        if any(map(gt, counts, (limits.elements, limits.characters, limits.segments))):
            return False
        self._elements, self._characters, self._segments = counts
        return True

    def _hold(self) -> None:
        limits = self.limits
        if self._segments > limits.segments:
            self.reading.tell_fault(too_many_segments(self._segments, limits.segments))
            raise FileUnusableError
        if self._characters > limits.characters:
            self.reading.tell(
                "too-large",
                f"With every <use> written out the file has more than {limits.characters:,} characters.",
                "Replace the <use> elements by what they show, once for each that belongs to the piece.",
                found=f"{self._characters} or more",
                allowed=str(limits.characters),
            )
            raise FileUnusableError
        if self._elements > limits.elements:
            self.reading.tell(
                "too-many-elements",
                f"With every <use> written out the file has more than {limits.elements:,} elements.",
                limits.rest,
                found=f"{self._elements} or more",
                allowed=str(limits.elements),
            )
            raise FileUnusableError
