"""The file for who cuts by machine, read again by ezdxf and held against the cut lines of `data/pieces.json`."""

import hashlib
from collections.abc import Iterator, Mapping
from functools import cached_property, partial
from pathlib import Path

import msgspec
import numpy as np
import shapely

from pipeline.bundle.built import Built
from pipeline.bundle.built_catalogue import BUILT, at_file
from pipeline.bundle.promised import exchange_file
from pipeline.checks.registry import Outcome
from pipeline.exchange.read_again import BlockRead, UnreadableError, read_blocks
from pipeline.model.d6673 import CHORD_MM

Offs = dict[str, dict[str, float | None]]
"""How far each cut line is off in mm, by size and piece; None where no block shows it."""


class Compared(msgspec.Struct, frozen=True):
    """What was found of a file: how far lines are off, blocks of no piece, and why it could not be read."""

    offs: Offs = {}
    others: tuple[str, ...] = ()
    fault: str = ""


class _File:
    def __init__(self, folder: Path, path: str) -> None:
        self.folder, self.path = folder, path

    @cached_property
    def data(self) -> bytes:
        return (self.folder / self.path).read_bytes()

    @cached_property
    def digest(self) -> str:
        return hashlib.sha256(self.data).hexdigest()


@BUILT.register(
    id="built-exchange",
    title="What a machine cuts is the cut line of every size",
    rationale="Who cuts by machine sees no paper: a line that is off, or a size that is missing, is found in cloth.",
    remedy="build the pattern again; where it is told again, the fault is the pipeline's: report it with this line",
    severity="block",
    source=f"data/pieces.json within {CHORD_MM:g} mm, halves opened at their mirror line (a judgement)",
)
def built_exchange(built: Built) -> Iterator[Outcome]:
    """A block for each piece and size, and its boundary."""
    path = exchange_file(built.pattern)
    if not (built.folder / path).is_file():
        yield at_file(path, "lost", "it is not there", "nothing", "one file")
        return
    file = _File(built.folder, path)
    outlines = {
        size: {name: piece.cut_outline for name, piece in data.pieces.items()}
        for size, data in built.pieces.sizes.items()
    }
    compared: Compared = built.known(file, partial(_compared, file, outlines), Compared, _compared, outlines)
    if compared.fault:
        yield at_file(path, "unreadable", f"it cannot be read: {compared.fault}", "", "DXF")
        return
    for name in compared.others:
        yield at_file(path, "extra", f"block {name} is no piece in any size", name, "pieces and sizes of the pattern")
    for size, pieces in compared.offs.items():
        for piece, off_mm in pieces.items():
            what = f"the cut line of {piece} in size {size}"
            if off_mm is None:
                yield at_file(path, "piece-lost", f"{what} is not there", "nothing", "one block", size=size)
            elif off_mm > CHORD_MM:
                yield at_file(
                    path, "off", f"{what} is drawn elsewhere", f"{off_mm:.2f} mm off", f"{CHORD_MM:g} mm", size=size
                )


def _compared(file: _File, outlines: Mapping[str, Mapping[str, list[tuple[float, float]]]]) -> Compared:
    try:
        blocks = read_blocks(file.data.decode("ascii"))
    except (UnreadableError, UnicodeDecodeError) as fault:
        return Compared(fault=str(fault))
    wanted = {(piece, size) for size, pieces in outlines.items() for piece in pieces}
    found = {(block.piece, block.size): block for block in blocks if (block.piece, block.size) in wanted}
    others = tuple(block.name for block in blocks if found.get((block.piece, block.size)) is not block)
    offs: Offs = {
        size: {piece: _off_mm(found.get((piece, size)), outline) for piece, outline in pieces.items()}
        for size, pieces in outlines.items()
    }
    return Compared(offs, others)


def _off_mm(block: BlockRead | None, outline: list[tuple[float, float]]) -> float | None:
    """The farthest that either line is from the other, both ways."""
    if block is None or len(block.boundary) < 3:
        return None
    ring = shapely.linearrings(opened(np.array(block.boundary) * (1, -1), block.mirror))
    there = shapely.linearrings(np.array(outline))
    return float(max(shapely.distance(shapely.points(np.array(outline)), ring).max(), _farthest(ring, there)))


def _farthest(ring: shapely.LinearRing, there: shapely.LinearRing) -> float:
    return float(shapely.distance(shapely.points(shapely.get_coordinates(ring)), there).max())


def opened(boundary: np.ndarray, mirror: tuple[tuple[float, float], tuple[float, float]] | None) -> np.ndarray:
    """The boundary of a whole piece: a half and its image in the mirror line, without the line between them."""
    if mirror is None:
        return boundary
    ends = np.array(mirror) * (1, -1)
    first, last = (int(np.hypot(*(boundary - end).T).argmin()) for end in ends)
    along = (ends[1] - ends[0]) / np.hypot(*(ends[1] - ends[0]))
    ways = [
        np.roll(boundary, -start, axis=0)[: (stop - start) % len(boundary) + 1]
        for start, stop in ((first, last), (last, first))
    ]
    half = max(ways, key=len)
    off = half - ends[0]
    image = ends[0] + 2 * np.outer(off @ along, along) - off
    return np.concatenate((half, image[-2:0:-1]))
