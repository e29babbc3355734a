"""Drawings kept under the work folder, so that a build after one changed master draws only that piece anew."""

import hashlib
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Protocol

import msgspec

from pipeline.drawing.drawing import Drawing
from pipeline.drawing.joints import Joints
from pipeline.model.pattern import Pattern
from pipeline.model.pieces import CutPiece
from pipeline.rules.plan import code_digest
from pipeline.steps.run import read_json, write_json


class Draw(Protocol):
    """Draws a stack, as `pipeline.drawing.pieces.draw_stack` does."""

    __module__: str

    def __call__(
        self, pattern: Pattern, cuts: Mapping[str, CutPiece], quarter_turns: int, *, joints: Sequence[Joints]
    ) -> tuple[Drawing, ...]: ...


class KeptDrawings:
    """The drawings in a folder, each by a digest of all that it is made from: code, pattern, cut pieces, turn, joints.

    What is read equals what would be drawn, to the byte.
    """

    def __init__(self, folder: Path, pattern: Pattern, draw: Draw) -> None:
        self.folder, self.pattern, self.draw = folder, pattern, draw
        self.ground = code_digest(draw.__module__).encode() + msgspec.json.encode(pattern)
        self.used: set[Path] = set()

    def drawn(
        self, cuts: Mapping[str, CutPiece], quarter_turns: int, joints: Sequence[Joints] = ()
    ) -> tuple[Drawing, ...]:
        """The drawings of a stack, drawn where they are not kept."""
        made_from = self.ground + msgspec.json.encode((quarter_turns, joints, cuts))
        file = self.folder / f"{hashlib.sha256(made_from).hexdigest()[:32]}.json"
        self.used.add(file)
        if file.is_file():
            found: tuple[Drawing, ...] = read_json(file, tuple[Drawing, ...])
            return found
        drawings = self.draw(self.pattern, cuts, quarter_turns, joints=joints)
        write_json(file, drawings)
        return drawings

    def forget_others(self) -> None:
        """Remove what was not asked for: drawings of what has changed since."""
        for file in self.folder.glob("*.json"):
            if file not in self.used:
                file.unlink(missing_ok=True)
