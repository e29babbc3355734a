"""Our own file read again: of each block the texts that name it, its boundary and its mirror line.

ezdxf takes the file apart into tags; no entities are made of them, which would take five times as long.
"""

import io
from collections.abc import Iterable
from typing import Any

import msgspec

from pipeline.model import d6673 as standard

Place = tuple[float, float]


class UnreadableError(Exception):
    """ezdxf cannot read the file."""


class BlockRead(msgspec.Struct):
    """A block: coordinates as they stand in the file, y up."""

    name: str
    piece: str = ""
    size: str = ""
    boundary: list[Place] = []
    mirror: tuple[Place, Place] | None = None


def read_blocks(text: str) -> list[BlockRead]:
    """Every block of a file. Raises UnreadableError."""
    from ezdxf.lldxf.const import DXFError  # 0.3 s, which only who reads DXF needs
    from ezdxf.lldxf.loader import load_dxf_structure
    from ezdxf.lldxf.tagger import ascii_tags_loader, tag_compiler

    try:
        sections = load_dxf_structure(tag_compiler(ascii_tags_loader(io.StringIO(text))))
        return _blocks(sections.get("BLOCKS", [])[1:])
    except (DXFError, IndexError, KeyError, ValueError, TypeError, StopIteration) as fault:
        raise UnreadableError(str(fault) or type(fault).__name__) from None


def _blocks(entities: Iterable[Any]) -> list[BlockRead]:
    blocks: list[BlockRead] = []
    within = ""
    for tags in entities:
        kind = tags[0].value
        if kind == "BLOCK":
            blocks.append(BlockRead(tags.get_first_value(2)))
        if kind != "VERTEX":
            within = tags.get_first_value(8, "") if kind == "POLYLINE" else ""
        elif within == standard.BOUNDARY:
            blocks[-1].boundary.append(tuple(tags.get_first_value(10))[:2])
        if kind == "TEXT":
            key, _, value = tags.get_first_value(1).partition(": ")
            if key == standard.PIECE_NAME:
                blocks[-1].piece = value
            elif key == standard.SIZE:
                blocks[-1].size = value
        if kind == "LINE" and tags.get_first_value(8) == standard.MIRROR:
            start, end = tags.get_first_value(10), tags.get_first_value(11)
            blocks[-1].mirror = tuple(start)[:2], tuple(end)[:2]
    return blocks
