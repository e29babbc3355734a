"""What the drawing room hands to the press."""

from collections.abc import Iterable

import msgspec

from pipeline.drawing import scene
from pipeline.drawing.scene import Scene, Shape
from pipeline.sheets.layout import Placement


class Frame(msgspec.Struct, frozen=True, kw_only=True):
    """Where a drawing of a piece lies, in nest coordinates in mm: all that is needed to place it on a page.

    It is shown while the layer of any of `sizes` is: what is alike in several sizes is one drawing that stands in
    several layers; what is of them `together`, as a guide between two, while the layers of all are. `left_mm` and
    `top_mm` are the coordinates of its top left corner. What is `above` hides what is not, of whatever sizes. A piece
    that lies in several turns has drawings of each, since its texts stand upright. `signs` are those of the key that it
    shows.
    """

    piece: str
    sizes: tuple[str, ...]
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    above: bool = False
    together: bool = False
    quarter_turns: int = 0
    signs: tuple[str, ...] = ()

    def lies_as(self, place: Placement) -> bool:
        """Whether a place on the sheet shows this drawing: its piece, in its turn."""
        return self.piece == place.piece and (self.quarter_turns - place.quarter_turns) % 4 == 0


class Drawing(Frame, frozen=True, kw_only=True):
    """A drawing with its shapes, in nest coordinates."""

    shapes: tuple[Shape, ...]

    @property
    def scene(self) -> Scene:
        """The drawing as a picture of its own."""
        return scene.of(self.left_mm, self.top_mm, self.width_mm, self.height_mm, self.shapes)


def shown_signs(drawings: Iterable[Frame]) -> frozenset[str]:
    """The signs of the key that drawings show together."""
    return frozenset(sign for drawing in drawings for sign in drawing.signs)
