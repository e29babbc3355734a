"""How a new bundle takes the place of the old one: complete or not at all, in one step where the system has one."""

import ctypes
import os
import shutil
import sys
from pathlib import Path

_SWAP = 2
"""RENAME_EXCHANGE of Linux (renameat2(2), file systems willing), RENAME_SWAP of macOS (renamex_np(2))."""
_AT_FDCWD = -100


def beside(place: Path) -> Path:
    """An empty folder beside a bundle's place, to build in."""
    folder = place.with_name(f".{place.name}.new")
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    return folder


def swap(new: Path, place: Path) -> None:
    """The old bundle out, the new one in, the old one deleted. Raises OSError.

    Where names cannot be exchanged there is an instant with neither name; `recover` mends what stops just then.
    """
    _flush(new)
    if not place.exists():
        new.rename(place)
    elif not _exchange(new, place):
        old = _aside(place)
        shutil.rmtree(old, ignore_errors=True)
        place.rename(old)
        new.rename(place)
        shutil.rmtree(old, ignore_errors=True)
    _flush_folder(place.parent)
    shutil.rmtree(new, ignore_errors=True)


def recover(release: Path) -> None:
    """Put back every old bundle, of any pattern and version, whose new one is not in; clear what is half built."""
    for old in sorted(release.glob("*/.*.old")):
        place = old.with_name(old.name[1 : -len(".old")])
        if place.exists():
            shutil.rmtree(old, ignore_errors=True)
        else:
            old.rename(place)
    for new in sorted(release.glob("*/.*.new")):
        shutil.rmtree(new, ignore_errors=True)


def _exchange(one: Path, other: Path) -> bool:
    """Exchange two names in one step; False where the system or the file system cannot."""
    system = ctypes.CDLL(None, use_errno=True)
    first, second = os.fsencode(one), os.fsencode(other)
    if sys.platform == "darwin" and hasattr(system, "renamex_np"):
        return system.renamex_np(first, second, _SWAP) == 0
    if hasattr(system, "renameat2"):
        return system.renameat2(_AT_FDCWD, first, _AT_FDCWD, second, _SWAP) == 0
    return False


def _flush(folder: Path) -> None:
    """Have the system write a folder to the disk: a name must not outlive a power cut without its content."""
    for place, _, files in os.walk(folder):
        for file in files:
            descriptor = os.open(Path(place, file), os.O_RDONLY)
            os.fsync(descriptor)
            os.close(descriptor)
        _flush_folder(Path(place))


def _flush_folder(folder: Path) -> None:
    descriptor = os.open(folder, os.O_RDONLY)
    os.fsync(descriptor)
    os.close(descriptor)


def _aside(place: Path) -> Path:
    return place.with_name(f".{place.name}.old")
