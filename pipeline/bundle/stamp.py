"""The stamp of a bundle, which is no output of a rule itself: which bytes were put where."""

from pathlib import Path

import msgspec

from pipeline.bundle.manifest import CHECKSUMS, verify


class Stamp(msgspec.Struct, frozen=True):
    """A bundle's folder and its SHA256SUMS; no sums where something blocked and nothing was put there."""

    place: str
    checksums: str


def read_stamp(file: Path) -> Stamp | None:
    """A stamp; None where there is none that can be read."""
    try:
        return msgspec.json.decode(file.read_bytes(), type=Stamp)
    except (OSError, msgspec.MsgspecError):
        return None


def is_whole(pattern: str, stamp: Stamp, place: Path) -> bool:
    """Whether the bundle that lies in a place is, to the byte, the one of the stamp."""
    sums = place / CHECKSUMS
    if stamp.place != str(place) or not sums.is_file() or sums.read_text(encoding="utf-8") != stamp.checksums:
        return False
    return not verify(pattern, place)
