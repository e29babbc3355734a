"""Variants of the demos without a fault: drawn and written otherwise, so that nothing may block or warn."""

import re
from itertools import pairwise
from random import Random

from pipeline.geometry.curves import Cubic, Line, Path, Segment, reversed_path
from pipeline.geometry.points import Affine, Point
from pipeline.model.pieces import DrawnPiece, Edge
from tests.bench.kinds_said import with_taper
from tests.bench.masters import as_cubics, mapped, master_text, replace, split, turned_about
from tests.bench.seeding import Changes, Demo

_GRADED = 0.0004
"""Everything larger or smaller by up to this share: 0.3 mm of a skirt's length, within every declared limit."""


def variant(demo: Demo, lot: Random) -> tuple[str, Changes]:
    """What was done, and the texts: every master drawn anew, and pattern.toml with other names."""
    scale = 1 + lot.choice((0.0, lot.uniform(-_GRADED, _GRADED)))
    taper = lot.uniform(5, 20) if lot.random() < 0.2 else 0.0
    texts: dict[str, str] = {}
    for drawn in {cut.drawn.file: cut.drawn for there in demo.cuts.values() for cut in there.values()}.values():
        spec = demo.pattern.pieces[drawn.piece]
        source = drawn if spec.source is None else replace(drawn, piece=spec.source)
        texts[drawn.file] = _redrawn(demo, source, scale, taper, lot)
    texts["pattern.toml"] = demo.texts["pattern.toml"]
    done = [f"redrawn, scale {scale:.5f}"] + ([f"hems of pockets tapered by {taper:.0f} mm"] if taper else [])
    if lot.random() < 0.5:
        changes, told = _renamed(demo, texts, lot)
        return f"{demo.name}: {', '.join([*done, told])}", changes
    return f"{demo.name}: {', '.join(done)}", texts


def _redrawn(demo: Demo, drawn: DrawnPiece, scale: float, taper: float, lot: Random) -> str:
    """Another origin, order, direction and segmentation, another attribute for names, a transform around it all."""
    hems = [e for e, said in demo.pattern.pieces[drawn.piece].edges.items() if said.corner == "turned"]
    for hem in hems if taper else ():
        drawn = with_taper(demo, drawn, hem, taper) or drawn
    moved = mapped(drawn, Affine(scale, 0, 0, scale, lot.uniform(-500, 500), lot.uniform(-500, 500)))
    edges = [Edge(edge.name, _segmented(edge.path, lot)) for edge in moved.edges]
    edges = [Edge(e.name, reversed_path(e.path)) if lot.random() < 0.5 else e for e in edges]
    lot.shuffle(edges)
    moved = replace(moved, edges=tuple(edges))
    wrapped = turned_about(lot.choice((0, 90, 180, 270)), Point(100, 100))
    inverse = Affine(wrapped.a, wrapped.c, wrapped.b, wrapped.d, 0, 0)
    origin = inverse.point(Point(wrapped.e, wrapped.f))
    undone = Affine(inverse.a, inverse.b, inverse.c, inverse.d, -origin.x, -origin.y)
    return master_text(mapped(moved, undone), wrapped, lot.choice(("data-name", "label")))


def _segmented(path: Path, lot: Random) -> Path:
    """Lines and curves in more parts; arcs as curves."""
    parts: list[Segment] = []
    for segment in path:
        if isinstance(segment, Line):
            places = [segment.start, segment.at(lot.uniform(0.3, 0.7)), segment.end]
            long = segment.start.distance(segment.end) > 20 and lot.random() < 0.3
            parts += [Line(a, b) for a, b in pairwise(places)] if long else [segment]
        elif not isinstance(segment, Cubic) and lot.random() < 0.5:
            parts.append(segment)
        else:
            for cubic in as_cubics((segment,)):
                halves = lot.random() < 0.5 and cubic.start.distance(cubic.end) > 5
                parts += split(cubic, lot.uniform(0.3, 0.7)) if halves else [cubic]
    return tuple(parts)


def _renamed(demo: Demo, texts: dict[str, str], lot: Random) -> tuple[Changes, str]:
    """Another name for one piece or one edge, everywhere."""
    piece = lot.choice([name for name, spec in demo.pattern.pieces.items() if spec.source is None])
    said = texts["pattern.toml"]
    if lot.random() < 0.5:
        said = re.sub(rf"(?<![\w-]){piece}(?=[\].])", f"{piece}-x", said)
        said = said.replace(f'outline_of = "{piece}"', f'outline_of = "{piece}-x"')
        files = {re.sub(rf"/{piece}\.svg$", f"/{piece}-x.svg", file): text for file, text in texts.items()}
        gone = dict.fromkeys(file for file in texts if file not in files)
        return {**files, "pattern.toml": said, **gone}, f"{piece} is called {piece}-x"
    edge = lot.choice(demo.cuts[demo.pattern.pieces[piece].sizes[0]][piece].edges).name
    said = said.replace(f"{piece}.{edge} ", f"{piece}.{edge}-x ")
    said = re.sub(rf'(?<![\w-]){piece}\.{edge}(?=["\s])', f"{piece}.{edge}-x", said)
    start = said.index(f"[pieces.{piece}]\n")
    end = said.find("\n[", start)
    part = re.sub(rf"(edges\.|corner = {{[^}}]*?(?<![\w-])){edge}(?= = )", rf"\g<1>{edge}-x", said[start:end])
    said = said[:start] + part + said[end:]
    renamed = {
        file: re.sub(rf'(<path (?:data-name|label)="){edge}"', rf'\g<1>{edge}-x"', text)
        if file.endswith(f"/{piece}.svg")
        else text
        for file, text in texts.items()
    }
    return {**renamed, "pattern.toml": said}, f"{piece}.{edge} is called {edge}-x"
