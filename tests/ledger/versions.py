"""Versions made of few values: a skirt of four edges in four sizes, and what may be changed of it."""

from pipeline.ledger.changes import ChangesFile, next_version
from pipeline.ledger.compare import compare
from pipeline.ledger.facts import Facts, PieceFacts
from pipeline.ledger.measure import thinned
from pipeline.ledger.packed import Shape, packed, shape_digest
from pipeline.ledger.telling import tell_changes

SIZES = ("40", "42", "44", "46")
SHAPES: dict[str, str] = {}
"""Every packed shape that a test made, by digest."""


def skirt(size: str, side: float = 0.0, left: float = 0.0, notch: float = 200.0, mark: float = 50.0) -> Shape:
    """A slanted panel, wider by size; its side out by `side`, all of it moved by `left`, notch and point as told."""
    width = 300.0 + 10 * SIZES.index(size) + side
    a, b, c, d = ((left, 0.0), (left + width, 0.0), (left + width + 40, 600.0), (left, 600.0))
    on_side = (left + width + 40 * notch / 600, notch)
    return Shape(
        edges={
            name: thinned((line,))
            for name, line in zip(("waist", "side", "hem", "fold"), ((a, b), (b, c), (c, d), (d, a)), strict=True)
        },
        notches={"side": {"hip": thinned(((on_side,),))}},
        marks={
            "pocket": thinned((((left + mark, 80.0),),)),
            "grain": thinned((((left + 90, 500.0), (left + 90, 90.0)),)),
        },
    )


def facts(shapes: dict[str, Shape] | None = None, said=None, rows=None, texts=None, pages=None, pieces=None) -> Facts:
    """A version of the skirt; `shapes` by size where they are not the plain ones."""
    found = {}
    for size in SIZES:
        text = packed((shapes or {}).get(size) or skirt(size))
        SHAPES[shape_digest(text)] = text
        found[size] = PieceFacts(
            shape_digest(text), {"count in shell": "2", "grain": "warp", **(said or {}).get(size, {})}
        )
    return Facts(
        sizes=SIZES,
        pieces={"front": found, **(pieces or {})},
        rows=rows or {"cloth": {"shell 1400 mm wide": dict.fromkeys(SIZES, "1.5 m (1 5/8 yd)")}},
        texts=texts or {"pattern.title": {"en": "Skirt"}},
        pages=pages or {"print/a4.pdf": (("1", "aa"), ("2A", "bb"))},
    )


def changes(new: Facts, old: Facts | None = None) -> ChangesFile:
    found = compare(old or facts(), new, SHAPES)
    return ChangesFile(
        pattern="skirt", since="1.2.3", version="1.2.4", next_version=next_version("1.2.3", found), changes=found
    )


def told(new: Facts, old: Facts | None = None) -> list[str]:
    """What is told of a version against the plain skirt, without the heading."""
    return [line.strip() for line in tell_changes(changes(new, old), new.sizes)][1:]
