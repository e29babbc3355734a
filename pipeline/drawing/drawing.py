"""What the drawing room hands to the press."""

import msgspec


class Drawing(msgspec.Struct, frozen=True, kw_only=True):
    """One SVG of one piece, in nest coordinates, in mm: shown while the layer of any of `sizes` is.

    What is alike in several sizes is one drawing that stands in several layers. `left_mm` and `top_mm` are the nest
    coordinates of the SVG's top left corner.
    """

    piece: str
    sizes: tuple[str, ...]
    left_mm: float
    top_mm: float
    width_mm: float
    height_mm: float
    svg: str
